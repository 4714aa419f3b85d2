package cue

// When it is said. The rules: words end at least a second before a tone begins
// or come after it, never across; while sheets are moved one by one nothing but
// the sheet's number is said unasked; what was asked for comes first. All of it
// is reckoned from a Situation, with no clock and no sound.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// Level is how much is said.
type Level string

// The levels: nothing at all; what must be said; also hands' work and minutes.
const (
	Off    Level = "off"
	Sparse Level = "sparse"
	Full   Level = "full"
)

// News is what an event told and has not been said yet.
type News struct {
	About sequence.Cue // its Kind is the event's
	Says  Phrase
}

// Spoken is words with the instant of their first sample.
type Spoken struct {
	At        sequence.Elapsed
	Says      Phrase
	About     sequence.Cue // the cue that it belongs to, or what stands for one
	After     bool         // it follows that cue
	remainder Phrase       // asked: what is still to be said after it
}

// Kinds of what is spoken that belongs to no cue.
const (
	aboutAsked    sequence.CueKind = "asked"
	aboutMinutes  sequence.CueKind = "minutes"
	aboutOver     sequence.CueKind = "over"
	aboutForecast sequence.CueKind = "early"
)

// Situation is all that the words are reckoned from.
type Situation struct {
	Plan        *sequence.Plan
	Look        engine.Snapshot
	Cues        []sequence.Cue   // in order: those just given, and those of the time until Until
	Unexplained []sequence.Cue   // given before, and not explained yet
	News        []News           // oldest first
	Asked       Phrase           // what the person asked for; goes before all else
	From        sequence.Elapsed // what begins earlier can no longer be heard in time
	Until       sequence.Elapsed // up to here all cues are known
	Busy        sequence.Elapsed // nothing can be said before; From or earlier where nothing sounds
	Said        []Spoken         // begun before; said once only
	Level       Level
	Speed       float64 // process time for each unit of real time

	Units sequence.Units // on which scale temperatures are said
}

// How far from its cue words still make sense, in real time.
const (
	saidAhead      = 8 * time.Second  // before a cue
	saidAfter      = 8 * time.Second  // after it, as confirmation
	explainWithin  = time.Minute      // what must be said, whenever there is room
	timeLeftSlack  = 4 * time.Second  // minutes left, after their instant
	minCueDistance = 10 * time.Second // process time; minutes are said this far from any cue but ticks
	sameWords      = 5 * time.Second  // process time; words about one cue that has moved by less
)

// scheduler is the work on one situation.
type scheduler struct {
	Situation
	slots
	list []Spoken
}

// Spoken is what is to be said, in order of time.
func (s Situation) Spoken() []Spoken {
	if s.Level == Off || s.Plan == nil {
		return nil
	}
	w := &scheduler{Situation: s, slots: slots{from: s.From, to: s.Until, speed: s.Speed}}
	for _, c := range s.Cues {
		w.tones = append(w.tones, w.toneSpan(c))
	}
	w.rows = transferRows(s.Plan, s.Look)
	if s.Busy > s.From {
		w.taken = append(w.taken, span{s.From, s.Busy})
	}
	w.sayAnswer()
	w.sayOver()
	w.sayActions()
	if w.Look.Overdue > 0 { // which makes it so: in the place of one "time is up, holding"
		w.sayForecast()
	}
	w.sayExplanations()
	w.sayNews()
	w.sayForecast()
	if s.Level == Full {
		w.sayHandWork()
		w.sayTimeLeft()
	}
	slices.SortStableFunc(w.list, func(a, b Spoken) int { return int(a.At - b.At) })
	return w.list
}

// alreadySaid reports whether words about a cue have begun before or are placed.
func (w *scheduler) alreadySaid(about sequence.Cue, after bool) bool {
	same := func(o Spoken) bool {
		return o.After == after && o.About.Kind == about.Kind && o.About.Sheet == about.Sheet &&
			o.About.Step == about.Step && (o.About.At-about.At).Abs() < sameWords
	}
	return slices.ContainsFunc(w.Said, same) || slices.ContainsFunc(w.list, same)
}

// place books a place.
func (w *scheduler) place(at sequence.Elapsed, says Phrase, about sequence.Cue, after bool) {
	w.take(at, at+w.toProcessTime(says.Length()))
	w.list = append(w.list, Spoken{At: at, Says: says, About: about, After: after})
}

// placeBefore says the first of these phrases that has room, as near before the cue
// as may be. It reports whether anything is, or was, said.
func (w *scheduler) placeBefore(about sequence.Cue, inRow bool, choices ...Phrase) bool {
	if w.alreadySaid(about, false) {
		return true
	}
	end := about.At - w.toProcessTime(beforeTone)
	for _, says := range choices {
		if at, ok := w.lastFree(w.toProcessTime(says.Length()), about.At-w.toProcessTime(saidAhead), end, inRow); ok {
			w.place(at, says, about, false)
			return true
		}
	}
	return false
}

// placeAfter says the first of these phrases that has room after the cue.
func (w *scheduler) placeAfter(about sequence.Cue, within time.Duration, inRow bool, choices ...Phrase) bool {
	if w.alreadySaid(about, true) {
		return true
	}
	for _, says := range choices {
		if at, ok := w.firstFree(w.toProcessTime(says.Length()), about.At, about.At+w.toProcessTime(within), inRow); ok {
			w.place(at, says, about, true)
			return true
		}
	}
	return false
}

// sayAnswer places what the person asked for from now on, around the tones: as many
// clauses as fit before the next, the others after it. A clause that fits
// nowhere is taken apart.
func (w *scheduler) sayAnswer() {
	todo, at := w.Asked, w.From
	for n := 1; len(todo) > 0; {
		place, ok := w.firstFree(w.toProcessTime(todo[:1].Length()), at, w.Until, true)
		switch {
		case ok:
			for n = 1; n < len(todo); n++ {
				if _, met := w.conflict(place, place+w.toProcessTime(todo[:n+1].Length()), true); met {
					break
				}
			}
			at = place + w.toProcessTime(todo[:n].Length()+betweenClauses*time.Millisecond)
			w.list = append(w.list, Spoken{At: place, Says: todo[:n], About: sequence.Cue{Kind: aboutAsked}, remainder: todo[n:]})
			todo = todo[n:]
		case len(todo[0]) > 1:
			apart := make(Phrase, 0, len(todo)+len(todo[0]))
			for _, word := range todo[0] {
				apart = append(apart, Clause{word})
			}
			todo = append(apart, todo[1:]...)
		default:
			todo = todo[1:]
		}
	}
	for _, o := range w.list {
		w.take(o.At, o.At+w.toProcessTime(o.Says.Length()))
	}
}

// sayOver says that the session has ended, once.
func (w *scheduler) sayOver() {
	if w.Look.Over == "" {
		return
	}
	about := sequence.Cue{Kind: aboutOver}
	if !w.alreadySaid(about, true) {
		says := overPhrase(w.Look.Over)
		if at, ok := w.firstFree(w.toProcessTime(says.Length()), w.From, w.Until, true); ok {
			w.place(at, says, about, true)
		}
	}
}

// sayForecast says once, as soon as the forecast has it, that the wet time will be over
// its limit at the end.
func (w *scheduler) sayForecast() {
	about, says := sequence.Cue{Kind: aboutForecast}, forecastPhrase(w.Look)
	if says == nil || w.Look.Over != "" || w.alreadySaid(about, true) {
		return
	}
	if at, ok := w.firstFree(w.toProcessTime(says.Length()), w.From, w.Until, false); ok {
		w.place(at, says, about, true)
	}
}

// inRow says whether a cue falls into a row of moves, its first left out.
func (w *scheduler) inRow(c sequence.Cue) bool {
	return slices.ContainsFunc(w.rows, func(s span) bool {
		return c.At > s.from+sameWithin && c.At <= s.to+sameWithin
	})
}

// sayActions says what to do with film, before the tone that says when; where there
// is no room, the sheet's number after it. In a row that is the number alone.
func (w *scheduler) sayActions() {
	for _, c := range w.Cues {
		says := actionWords(w.Plan, c)
		if says == nil {
			continue
		}
		number := append(Clause{"sheet"}, numberWords(c.Sheet)...)
		switch inRow := c.Sheet > 0 && w.inRow(c); {
		case inRow:
			if !w.placeBefore(c, true, Phrase{number}) {
				w.placeAfter(c, saidAfter, true, Phrase{number})
			}
		case c.Kind == sequence.CueDone && c.At <= w.Look.Now: // the end is told
		default:
			choices := []Phrase{{says}, {says[:1]}}
			if c.Sheet > 0 {
				choices[1] = Phrase{number}
			}
			if help := w.handWork(c.At); w.Level == Full && help != nil {
				choices = slices.Insert(choices, 0, Phrase{says, help})
			}
			if !w.placeBefore(c, false, choices...) && c.Sheet > 0 {
				w.placeAfter(c, saidAfter, true, Phrase{number})
			}
		}
	}
}

// handWork is the word for what the hands begin at an instant; nil for nothing.
func (w *scheduler) handWork(at sequence.Elapsed) Clause {
	for _, c := range w.Cues {
		if words := handWorkWords(c.Kind); words != nil && (c.At-at).Abs() < sameWithin {
			return words
		}
	}
	return nil
}

func handWorkWords(kind sequence.CueKind) Clause {
	switch kind {
	case sequence.CueAgitate:
		return Clause{"agitate"}
	case sequence.CueShuffle:
		return Clause{"turn"}
	case sequence.CueReverse:
		return Clause{"other-way"}
	case sequence.CueDrain:
		return Clause{"drain"}
	}
	return nil
}

// sayExplanations follows cues that must not stay unexplained.
func (w *scheduler) sayExplanations() {
	for _, c := range slices.Concat(w.Unexplained, w.Cues) {
		within := explainWithin
		if c.Kind == sequence.CueReady || c.Kind == sequence.CueOverdue {
			within = saidAfter
		}
		if c.At+w.toProcessTime(within) < w.From {
			continue // too late; in a fast rehearsal there are many
		}
		if says := explanation(w.Plan, w.Look, c, w.Units); says != nil {
			w.placeAfter(c, within, false, says, says[:1])
		}
	}
	since := w.Look.Now - w.Look.Overdue
	if w.Look.Overdue > 0 && w.Look.Next.At != sequence.Never { // at once, and then with the cue
		w.placeAfter(sequence.Cue{At: since, Kind: sequence.CueOverdue}, saidAfter, false, Phrase{{"holding"}})
	}
}

func (w *scheduler) sayNews() {
	for _, n := range w.News {
		w.placeAfter(n.About, explainWithin, false, n.Says, n.Says[:1])
	}
}

// sayHandWork says what the hands do, ahead of it: the first turn of many, each
// agitation and its end, and draining where sheets do not go one by one.
func (w *scheduler) sayHandWork() {
	var last *sequence.Cue
	if l := w.Look.LastCue; l != nil && (len(w.Cues) == 0 || l.At < w.Cues[0].At) {
		last = l
	}
	for i, c := range w.Cues {
		says := handWorkWords(c.Kind)
		withAct := slices.ContainsFunc(w.Cues, func(o sequence.Cue) bool {
			return actionWords(w.Plan, o) != nil && (o.At-c.At).Abs() < sameWithin
		})
		repeated := c.Kind == sequence.CueShuffle || c.Kind == sequence.CueReverse
		repeated = repeated && (last != nil && last.Kind == c.Kind || !continues(w.Cues[i+1:], c))
		switch {
		case c.Kind == sequence.CueStand && !isMergedRest(w.Cues, c):
			w.placeAfter(c, saidAfter/2, false, Phrase{{"rest"}})
		case says == nil || c.Kind == sequence.CueDrain && c.Sheet > 0:
		case withAct && w.inRow(c): // the row ends with it
			w.placeAfter(c, saidAfter/2, false, Phrase{says})
		case !withAct && !repeated && c.At > w.Look.Now:
			w.placeBefore(c, false, Phrase{says})
		}
		last = &w.Cues[i]
	}
}

// continues says whether more of a kind follow in the same step: if none do, this
// is the last of a row, not the first.
func continues(cues []sequence.Cue, c sequence.Cue) bool {
	return slices.ContainsFunc(cues, func(o sequence.Cue) bool { return o.Kind == c.Kind && o.Step == c.Step })
}

// sayTimeLeft says how much time is left, where nothing is to be done: at whole
// minutes, or at the half where a cue takes the whole.
func (w *scheduler) sayTimeLeft() {
	next := w.Look.Next.At
	if next == sequence.Never || w.Look.Overdue > 0 || w.Look.Over != "" || w.Look.Step < 0 {
		return
	}
	for m := max(1, (next-w.Until)/(30*time.Second)); ; m++ {
		at := next - m*30*time.Second
		if at < w.Look.Now-w.toProcessTime(timeLeftSlack) {
			return
		}
		if half := m%2 == 1; at+30*time.Second+minCueDistance > w.Until || !w.isClear(at) || half && w.isClear(at+30*time.Second) {
			continue
		}
		long := timeLeftSlack + Phrase{leftWords(next - at)}.Length()
		w.placeAfter(sequence.Cue{At: at, Kind: aboutMinutes, Step: w.Plan.Steps[w.Look.Step].Name}, long, false, Phrase{leftWords(next - at)})
	}
}

// isClear says whether nothing but ticks is near an instant.
func (w *scheduler) isClear(at sequence.Elapsed) bool {
	near := func(c sequence.Cue) bool { return c.Kind != sequence.CueTick && (c.At-at).Abs() < minCueDistance }
	return !slices.ContainsFunc(w.Cues, near) && (w.Look.LastCue == nil || !near(*w.Look.LastCue))
}
