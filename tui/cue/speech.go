package cue

// When it is said. The rules: words end at least a second before a tone begins
// or come after it, never across; while sheets are moved one by one nothing but
// the sheet's number is said unasked; what was asked for comes first. All of it
// is reckoned from a Situation, with no clock and no sound.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
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
	At    sequence.Elapsed
	Says  Phrase
	About sequence.Cue // the cue that it belongs to, or what stands for one
	After bool         // it follows that cue
	rest  Phrase       // asked: what is still to be said after it
}

// Kinds of what is spoken that belongs to no cue.
const (
	aboutAsked   sequence.CueKind = "asked"
	aboutMinutes sequence.CueKind = "minutes"
	aboutOver    sequence.CueKind = "over"
	aboutEarly   sequence.CueKind = "early"
)

// Situation is all that the words are reckoned from.
type Situation struct {
	Plan  *sequence.Plan
	Look  sequence.Look
	Cues  []sequence.Cue   // in order: those just given, and those of the time until Until
	Owed  []sequence.Cue   // given before, and not explained yet
	News  []News           // oldest first
	Asked Phrase           // what the person asked for; goes before all else
	From  sequence.Elapsed // what begins earlier can no longer be heard in time
	Until sequence.Elapsed // up to here all cues are known
	Busy  sequence.Elapsed // nothing can be said before; From or earlier where nothing sounds
	Said  []Spoken         // begun before; said once only
	Level Level
	Speed float64 // process time for each unit of real time

	Habits sequence.Habits // on which scale temperatures are said
}

// How far from its cue words still make sense, in real time.
const (
	saidAhead   = 8 * time.Second  // before a cue
	saidAfter   = 8 * time.Second  // after it, as confirmation
	owedFor     = time.Minute      // what must be said, whenever there is room
	minuteSlack = 4 * time.Second  // minutes left, after their instant
	clearOf     = 10 * time.Second // process time; minutes are said this far from any cue but ticks
	sameWords   = 5 * time.Second  // process time; words about one cue that has moved by less
)

// speaking is the work on one situation.
type speaking struct {
	Situation
	room
	list []Spoken
}

// Spoken is what is to be said, in order of time.
func (s Situation) Spoken() []Spoken {
	if s.Level == Off || s.Plan == nil {
		return nil
	}
	w := &speaking{Situation: s, room: room{from: s.From, to: s.Until, speed: s.Speed}}
	for _, c := range s.Cues {
		w.tones = append(w.tones, w.tone(c))
	}
	w.rows = rows(s.Plan, s.Look)
	if s.Busy > s.From {
		w.taken = append(w.taken, span{s.From, s.Busy})
	}
	w.asked()
	w.over()
	w.acts()
	if w.Look.Overdue > 0 { // which makes it so: in the place of one "time is up, holding"
		w.forewarn()
	}
	w.explain()
	w.news()
	w.forewarn()
	if s.Level == Full {
		w.hands()
		w.minutes()
	}
	slices.SortStableFunc(w.list, func(a, b Spoken) int { return int(a.At - b.At) })
	return w.list
}

// said reports whether words about a cue have begun before or are placed.
func (w *speaking) said(about sequence.Cue, after bool) bool {
	same := func(o Spoken) bool {
		return o.After == after && o.About.Kind == about.Kind && o.About.Sheet == about.Sheet &&
			o.About.Step == about.Step && (o.About.At-about.At).Abs() < sameWords
	}
	return slices.ContainsFunc(w.Said, same) || slices.ContainsFunc(w.list, same)
}

// put books a place.
func (w *speaking) put(at sequence.Elapsed, says Phrase, about sequence.Cue, after bool) {
	w.take(at, at+w.scaled(says.Length()))
	w.list = append(w.list, Spoken{At: at, Says: says, About: about, After: after})
}

// before says the first of these phrases that has room, as near before the cue
// as may be. It reports whether anything is, or was, said.
func (w *speaking) before(about sequence.Cue, inRow bool, choices ...Phrase) bool {
	if w.said(about, false) {
		return true
	}
	end := about.At - w.scaled(beforeTone)
	for _, says := range choices {
		if at, ok := w.late(w.scaled(says.Length()), about.At-w.scaled(saidAhead), end, inRow); ok {
			w.put(at, says, about, false)
			return true
		}
	}
	return false
}

// follow says the first of these phrases that has room after the cue.
func (w *speaking) follow(about sequence.Cue, within time.Duration, inRow bool, choices ...Phrase) bool {
	if w.said(about, true) {
		return true
	}
	for _, says := range choices {
		if at, ok := w.early(w.scaled(says.Length()), about.At, about.At+w.scaled(within), inRow); ok {
			w.put(at, says, about, true)
			return true
		}
	}
	return false
}

// asked places what the person asked for from now on, around the tones: as many
// clauses as fit before the next, the others after it. A clause that fits
// nowhere is taken apart.
func (w *speaking) asked() {
	todo, at := w.Asked, w.From
	for n := 1; len(todo) > 0; {
		place, ok := w.early(w.scaled(todo[:1].Length()), at, w.Until, true)
		switch {
		case ok:
			for n = 1; n < len(todo); n++ {
				if _, met := w.conflict(place, place+w.scaled(todo[:n+1].Length()), true); met {
					break
				}
			}
			at = place + w.scaled(todo[:n].Length()+betweenClauses*time.Millisecond)
			w.list = append(w.list, Spoken{At: place, Says: todo[:n], About: sequence.Cue{Kind: aboutAsked}, rest: todo[n:]})
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
		w.take(o.At, o.At+w.scaled(o.Says.Length()))
	}
}

// over says that the session has ended, once.
func (w *speaking) over() {
	if w.Look.Over == "" {
		return
	}
	about := sequence.Cue{Kind: aboutOver}
	if !w.said(about, true) {
		says := over(w.Look.Over)
		if at, ok := w.early(w.scaled(says.Length()), w.From, w.Until, true); ok {
			w.put(at, says, about, true)
		}
	}
}

// forewarn says once, as soon as the forecast has it, that the wet time will be over
// its limit at the end.
func (w *speaking) forewarn() {
	about, says := sequence.Cue{Kind: aboutEarly}, early(w.Look)
	if says == nil || w.Look.Over != "" || w.said(about, true) {
		return
	}
	if at, ok := w.early(w.scaled(says.Length()), w.From, w.Until, false); ok {
		w.put(at, says, about, true)
	}
}

// rowOf says whether a cue falls into a row of moves, its first left out.
func (w *speaking) rowOf(c sequence.Cue) bool {
	return slices.ContainsFunc(w.rows, func(s span) bool {
		return c.At > s.from+sameWithin && c.At <= s.to+sameWithin
	})
}

// acts says what to do with film, before the tone that says when; where there
// is no room, the sheet's number after it. In a row that is the number alone.
func (w *speaking) acts() {
	for _, c := range w.Cues {
		says := act(w.Plan, c)
		if says == nil {
			continue
		}
		number := append(Clause{"sheet"}, number(c.Sheet)...)
		switch inRow := c.Sheet > 0 && w.rowOf(c); {
		case inRow:
			if !w.before(c, true, Phrase{number}) {
				w.follow(c, saidAfter, true, Phrase{number})
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
			if !w.before(c, false, choices...) && c.Sheet > 0 {
				w.follow(c, saidAfter, true, Phrase{number})
			}
		}
	}
}

// handWork is the word for what the hands begin at an instant; nil for nothing.
func (w *speaking) handWork(at sequence.Elapsed) Clause {
	for _, c := range w.Cues {
		if words := hand(c.Kind); words != nil && (c.At-at).Abs() < sameWithin {
			return words
		}
	}
	return nil
}

func hand(kind sequence.CueKind) Clause {
	switch kind {
	case sequence.CueAgitate:
		return Clause{"agitate"}
	case sequence.CueTurn:
		return Clause{"turn"}
	case sequence.CueReverse:
		return Clause{"other-way"}
	case sequence.CueDrain:
		return Clause{"drain"}
	}
	return nil
}

// explain follows cues that must not stay unexplained.
func (w *speaking) explain() {
	for _, c := range slices.Concat(w.Owed, w.Cues) {
		within := owedFor
		if c.Kind == sequence.CueReady || c.Kind == sequence.CueOverdue {
			within = saidAfter
		}
		if c.At+w.scaled(within) < w.From {
			continue // too late; in a fast rehearsal there are many
		}
		if says := after(w.Plan, w.Look, c, w.Habits); says != nil {
			w.follow(c, within, false, says, says[:1])
		}
	}
	since := w.Look.Now - w.Look.Overdue
	if w.Look.Overdue > 0 && w.Look.Next.At != sequence.Never { // at once, and then with the cue
		w.follow(sequence.Cue{At: since, Kind: sequence.CueOverdue}, saidAfter, false, Phrase{{"holding"}})
	}
}

func (w *speaking) news() {
	for _, n := range w.News {
		w.follow(n.About, owedFor, false, n.Says, n.Says[:1])
	}
}

// hands says what the hands do, ahead of it: the first turn of many, each
// agitation and its end, and draining where sheets do not go one by one.
func (w *speaking) hands() {
	var last *sequence.Cue
	if l := w.Look.Cue; l != nil && (len(w.Cues) == 0 || l.At < w.Cues[0].At) {
		last = l
	}
	for i, c := range w.Cues {
		says := hand(c.Kind)
		withAct := slices.ContainsFunc(w.Cues, func(o sequence.Cue) bool {
			return act(w.Plan, o) != nil && (o.At-c.At).Abs() < sameWithin
		})
		repeated := c.Kind == sequence.CueTurn || c.Kind == sequence.CueReverse
		repeated = repeated && (last != nil && last.Kind == c.Kind || !goesOn(w.Cues[i+1:], c))
		switch {
		case c.Kind == sequence.CueRest && !merged(w.Cues, c):
			w.follow(c, saidAfter/2, false, Phrase{{"rest"}})
		case says == nil || c.Kind == sequence.CueDrain && c.Sheet > 0:
		case withAct && w.rowOf(c): // the row ends with it
			w.follow(c, saidAfter/2, false, Phrase{says})
		case !withAct && !repeated && c.At > w.Look.Now:
			w.before(c, false, Phrase{says})
		}
		last = &w.Cues[i]
	}
}

// goesOn says whether more of a kind follow in the same step: if none do, this
// is the last of a row, not the first.
func goesOn(cues []sequence.Cue, c sequence.Cue) bool {
	return slices.ContainsFunc(cues, func(o sequence.Cue) bool { return o.Kind == c.Kind && o.Step == c.Step })
}

// minutes says how much time is left, where nothing is to be done: at whole
// minutes, or at the half where a cue takes the whole.
func (w *speaking) minutes() {
	next := w.Look.Next.At
	if next == sequence.Never || w.Look.Overdue > 0 || w.Look.Over != "" || w.Look.Step < 0 {
		return
	}
	for m := max(1, (next-w.Until)/(30*time.Second)); ; m++ {
		at := next - m*30*time.Second
		if at < w.Look.Now-w.scaled(minuteSlack) {
			return
		}
		if half := m%2 == 1; at+30*time.Second+clearOf > w.Until || !w.clear(at) || half && w.clear(at+30*time.Second) {
			continue
		}
		long := minuteSlack + Phrase{left(next - at)}.Length()
		w.follow(sequence.Cue{At: at, Kind: aboutMinutes, Step: w.Plan.Steps[w.Look.Step].Name}, long, false, Phrase{left(next - at)})
	}
}

// clear says whether nothing but ticks is near an instant.
func (w *speaking) clear(at sequence.Elapsed) bool {
	near := func(c sequence.Cue) bool { return c.Kind != sequence.CueTick && (c.At-at).Abs() < clearOf }
	return !slices.ContainsFunc(w.Cues, near) && (w.Look.Cue == nil || !near(*w.Look.Cue))
}
