package cue

// When it is said. The rules: words end at least a second before a tone begins
// or come after it, never across; while sheets are moved one by one nothing but
// the sheet's number is said unasked; what was asked for comes first. All of it
// is reckoned from a Situation, with no clock and no sound.

import (
	"slices"
	"sort"
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
	aboutReading  sequence.CueKind = "read"
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
	readingTakes   = 20 * time.Second // from the words until the thermometer is read
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
	w.sayReadingWanted()
	if s.Level == Full {
		w.sayHandWork()
		w.sayTimeLeft()
	}
	sort.SliceStable(w.list, func(i, j int) bool { return int(w.list[i].At-w.list[j].At) < 0 })
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
func (w *scheduler) placeAfter(about sequence.Cue, within time.Duration, inRow bool, choices ...Phrase) {
	w.placeOnce(about, about.At, about.At+w.toProcessTime(within), inRow, choices...)
}

// placeOnce says the first of these phrases that has room between from and to, unless that was
// said before.
func (w *scheduler) placeOnce(about sequence.Cue, from, to sequence.Elapsed, inRow bool, choices ...Phrase) {
	if w.alreadySaid(about, true) {
		return
	}
	for _, says := range choices {
		if at, ok := w.firstFree(w.toProcessTime(says.Length()), from, to, inRow); ok {
			w.place(at, says, about, true)
			return
		}
	}
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
	if w.Look.Over != "" {
		w.placeOnce(sequence.Cue{Kind: aboutOver}, w.From, w.Until, true, overPhrase(w.Look.Over))
	}
}
