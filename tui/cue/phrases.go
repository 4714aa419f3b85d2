package cue

// What is said: phrases from the values of a session.

import (
	"slices"
	"strconv"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// bathNames are the words for the kinds of step.
var bathNames = map[sequence.Kind]Word{
	sequence.Presoak: "presoak", sequence.Develop: "developer", sequence.StopBath: "stop-bath",
	sequence.Fix: "fixer", sequence.Rinse: "rinse", sequence.WashingAid: "wash-aid",
	sequence.Wash: "wash", sequence.WettingAgent: "wetting", sequence.Other: "bath",
}

// hands are the words for what the hands do.
var hands = map[sequence.Doing]Word{
	sequence.Loading: "load", sequence.Shuffling: "turn", sequence.Agitating: "agitate", sequence.Standing: "rest",
	sequence.Draining: "drain", sequence.Transfer: "move", sequence.Pulling: "take-out-sheet", sequence.Pouring: "pour",
	sequence.Reversing: "other-way",
}

// doing says what the hands do now; nil while no film is in.
func doing(l engine.Snapshot) Phrase {
	h := l.Hands
	if h == nil {
		return nil
	}
	if h.Sheet > 0 {
		return Phrase{append(Clause{hands[h.Do]}, numberWords(h.Sheet)...)}
	}
	return Phrase{{hands[h.Do]}}
}

// numberWords says 0 to 9999; a number beyond these says the nearest of them.
func numberWords(n int) Clause {
	n = min(max(n, 0), 9999)
	if n >= 100 {
		c := append(numberWords(n/100), "hundred")
		if n%100 > 0 {
			c = append(c, numberWords(n%100)...)
		}
		return c
	}
	if n <= 20 || n%10 == 0 {
		return Clause{Word(strconv.Itoa(n))}
	}
	return Clause{Word(strconv.Itoa(n / 10 * 10)), Word(strconv.Itoa(n % 10))}
}

func countWords(n int, one, many Word) Clause {
	if n == 1 {
		return append(numberWords(n), one)
	}
	return append(numberWords(n), many)
}

// durationWords says a time, rounded down so that it never promises more than there
// is: to seconds, from ten minutes on to minutes.
func durationWords(d time.Duration) Clause {
	s := int(max(d.Round(time.Millisecond), 0) / time.Second) // shares of a limit are off by nanoseconds
	h, m := s/3600, s/60%60
	s %= 60
	var c Clause
	if h > 0 {
		c = append(c, countWords(h, "hour", "hours")...)
	}
	if m > 0 {
		c = append(c, countWords(m, "minute", "minutes")...)
	}
	if h == 0 && m < 10 && s > 0 || h == 0 && m == 0 {
		c = append(c, countWords(s, "second", "seconds")...)
	}
	return c
}

func leftWords(d time.Duration) Clause { return append(durationWords(d), "left") }

// bathWords names step i of a plan; where several are of a kind, with its number.
func bathWords(p *sequence.Plan, i int) Clause {
	kind, which, all := p.Steps[i].Kind, 0, 0
	for k := range p.Steps {
		if p.Steps[k].Kind == kind {
			all++
			if k <= i {
				which++
			}
		}
	}
	word, known := bathNames[kind]
	if !known {
		word = bathNames[sequence.Other]
	}
	if all > 1 {
		return append(Clause{word}, numberWords(which)...)
	}
	return Clause{word}
}

// StatePhrase says how a session stands: what, what the hands do, how long, how wet. It is the answer
// to one press in the dark.
func StatePhrase(p *sequence.Plan, l engine.Snapshot) Phrase {
	if l.Over != "" {
		return overPhrase(l.Over)
	}
	say := Phrase{{"before-first"}}
	if l.Step >= 0 {
		say = Phrase{bathWords(p, l.Step)}
	}
	if !l.Began {
		return say
	}
	say = append(say, doing(l)...)
	say = append(say, timeLeftPhrase(l)...)
	say = append(say, wetPhrase(p, l)...)
	if l.LightOffered && !l.LightOn {
		say = append(say, Clause{"light-possible"}, Clause{"press-twice"})
	}
	return say
}

// timeLeftPhrase says how long is left, or overdue, until film changes baths.
func timeLeftPhrase(l engine.Snapshot) Phrase {
	if l.Overdue > 0 {
		say := holdingPhrase(l)
		if d := l.Develop; d != nil && d.Of > 0 {
			percent := int(100 * float64(d.Done) / float64(d.Of))
			say = append(say, append(append(Clause{"developed"}, numberWords(percent)...), "per-cent"))
		}
		return say
	}
	var say Phrase
	if l.Held {
		say = append(say, Clause{"held"})
	}
	if l.Next.At == sequence.Never {
		return say
	}
	if l.Next.Sheet > 0 {
		say = append(say, append(Clause{"next-sheet"}, numberWords(l.Next.Sheet)...))
	}
	return append(say, leftWords(l.Left))
}

func holdingPhrase(l engine.Snapshot) Phrase {
	say := Phrase{{"holding"}}
	if l.Overdue >= time.Second {
		say = append(say, append(durationWords(l.Overdue), "overdue"))
	}
	return say
}

// wetPhrase says how long the wettest sheet may stay wet, by the limit of the load's
// vessel, and which sheet it is where they differ; where no limit is known, how long
// it has been wet. What is to come is said where it is over the limit.
func wetPhrase(p *sequence.Plan, l engine.Snapshot) Phrase {
	if len(l.Sheets) == 0 || l.Sheets[l.Wettest].Wet <= 0 {
		return nil
	}
	worst := l.Sheets[l.Wettest]
	limit, known := p.Limits.For(p.Vessel)
	if known && worst.Used >= 1 {
		return Phrase{{"wet-over"}}
	}
	say := Clause{"wet-time"}
	if slices.ContainsFunc(l.Sheets, func(o engine.SheetSnapshot) bool { return worst.Wet-o.Wet >= time.Second }) {
		say = append(append(Clause{"sheet"}, numberWords(l.Wettest+1)...), say...)
	}
	if !known {
		return Phrase{append(say, durationWords(worst.Wet)...)}
	}
	return append(Phrase{append(say, leftWords(time.Duration((1-worst.Used)*float64(limit)))...)}, forecastPhrase(l)...)
}

// forecastPhrase says that the wet time will be over its limit at the end; nil where it will
// not, or is over already.
func forecastPhrase(l engine.Snapshot) Phrase {
	m := l.Wet.Margin
	if m == nil || *m > -time.Second || len(l.Sheets) == 0 || l.Sheets[l.Wettest].Wet <= 0 || l.Sheets[l.Wettest].Used >= 1 {
		return nil
	}
	return Phrase{marginWords(m)}
}

// marginWords says what the limit leaves at the end; nil where none is known.
func marginWords(margin *sequence.Elapsed) Clause {
	switch {
	case margin == nil:
		return nil
	case *margin < 0:
		return append(append(Clause{"wet-time", "at-end"}, durationWords(-*margin)...), "too-long")
	}
	return append(Clause{"wet-time", "at-end"}, leftWords(*margin)...)
}

// AdvicePhrase says the one thing that can still be done about the wet time, and what it
// leaves; found is what State.Advise said of it.
func AdvicePhrase(p *sequence.Plan, l engine.Snapshot, a engine.Advice, found bool) Phrase {
	say := Phrase{{"advice"}}
	if !found {
		return append(say, Clause{"nothing-helps"})
	}
	switch a.Action {
	case engine.MoveOnNow:
		return append(say, Clause{"go-on"}, append(durationWords(a.For), "overdue"))
	case engine.IntoHangers:
		apart := Word("in-hangers")
		if a.In == sequence.SingleTrays {
			apart = "one-by-one"
		}
		say = append(say, append(bathWords(p, a.Step), apart))
	case engine.LeastTime:
		say = append(say, append(append(bathWords(p, a.Step), durationWords(a.For)...), "is-enough"))
		if a.Step == l.Step {
			say = append(say, leftWords(a.At-l.Now))
		}
	case engine.LeaveOut:
		say = append(say, append(Clause{"leave-out"}, bathWords(p, a.Step)...))
	}
	if end := marginWords(a.Margin); end != nil {
		say = append(say, end)
	}
	return say
}

func overPhrase(kind sequence.EventKind) Phrase {
	if kind == sequence.SessionStopped {
		return Phrase{{"stopped"}, {"session-over"}}
	}
	return Phrase{{"session-over"}}
}

// actionWords says what a load, a move, a taking out or the last lift asks for; nil for
// any other cue.
func actionWords(p *sequence.Plan, c sequence.Cue) Clause {
	switch s := stepOf(p, c.Step); {
	case c.Kind == sequence.CueLoad && c.Sheet > 0:
		return append(Clause{"load-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CueLoad:
		return transferWords(p, 0, "load")
	case c.Kind == sequence.CueTransfer && c.Sheet > 0 && s < len(p.Steps) && sequence.WaitsInWater(p, s):
		return append(Clause{"set-aside-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CueTransfer && c.Sheet > 0:
		return append(Clause{"move-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CueTransfer:
		return transferWords(p, s+1, "move")
	case c.Kind == sequence.CuePull && c.Sheet > 0:
		return append(Clause{"take-out-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CuePull:
		return Clause{"take-out-sheet"}
	case c.Kind == sequence.CueDone:
		return Clause{"last-lift"}
	}
	return nil
}

// transferWords says the change to step s: closed vessels are poured into.
func transferWords(p *sequence.Plan, s int, verb Word) Clause {
	switch {
	case s >= len(p.Steps):
		return Clause{"last-lift"}
	case p.Steps[s].Vessel.Closed():
		return append(Clause{"pour"}, bathWords(p, s)...)
	case verb == "load":
		return Clause{verb}
	}
	return append(Clause{verb, "into"}, bathWords(p, s)...)
}

// readyPhrase says what comes in 20 s.
func readyPhrase(p *sequence.Plan, c sequence.Cue) Phrase {
	next := transferWords(p, stepOf(p, c.Step)+1, "move")
	switch {
	case c.At < 0:
		next = transferWords(p, 0, "load")
	case c.Sheet > 0:
		next = append(Clause{"take-out-sheet"}, numberWords(c.Sheet)...)
	}
	return Phrase{{"ready"}, next}
}

// stepOf is the index of the step called name; len(p.Steps) where there is none.
func stepOf(p *sequence.Plan, name string) int {
	for i := range p.Steps {
		if p.Steps[i].Name == name {
			return i
		}
	}
	return len(p.Steps)
}

// explanation says what follows a cue that must not stay unexplained; nil for others.
func explanation(p *sequence.Plan, l engine.Snapshot, c sequence.Cue, h sequence.Units) Phrase {
	switch c.Kind {
	case sequence.CueReady:
		return readyPhrase(p, c)
	case sequence.CueLightsOut:
		return Phrase{{"lights-out"}}
	case sequence.CueLightsOffer:
		return Phrase{{"light-possible"}, {"press-twice"}}
	case sequence.CueWetWarning:
		return Phrase{{"wet-short"}, leftWords(p.Recipe.Film.WetWarning)}
	case sequence.CueWetLimit:
		return Phrase{{"wet-over"}}
	case sequence.CueReading:
		say := Phrase{leftWords(c.For)}
		if change := shiftWords(c.Change); change != nil {
			say = append(say, change)
		}
		if d := l.Develop; d != nil && d.Temperature != nil {
			say = append(say, temperatureWords(h.Number(*d.Temperature)))
		}
		return say
	case sequence.CueOverdue:
		return holdingPhrase(l)
	}
	return nil
}

// shiftWords says by how much a move comes later than was told; nil for not at all.
func shiftWords(change time.Duration) Clause {
	switch {
	case change <= -time.Second:
		return append(durationWords(-change), "earlier")
	case change >= time.Second:
		return append(durationWords(change), "later")
	}
	return nil
}

// temperatureWords says a temperature to a tenth.
func temperatureWords(t float64) Clause {
	tenths := int(max(t, 0)*10 + 0.5)
	c := append(numberWords(tenths/10), "point")
	return append(append(c, numberWords(tenths%10)...), "degrees")
}

// EventPhrase says what an event tells, and whether it answers the person. The phrase
// is nil where nothing is said of it. P and l are the session as of the event.
func EventPhrase(p *sequence.Plan, l engine.Snapshot, e sequence.Event) (say Phrase, asked bool) {
	switch e.Kind {
	case sequence.Transferred, sequence.Pulled:
		say = actPhrase(p, l, e)
		return say, say != nil
	case sequence.Held:
		if e.Sheet > 0 { // told with the sheet that is late
			return nil, false
		}
		return Phrase{{"held"}}, e.Act != 0
	case sequence.LateReported, sequence.SetAside:
		say = sheetPhrase(p, l, e)
		return say, say != nil
	case sequence.HoldEnded:
		return Phrase{{"going-on"}}, e.Act != 0
	case sequence.Undone:
		return append(Phrase{{"undone"}}, StatePhrase(p, l)...), true
	case sequence.Resumed:
		return append(Phrase{{"taken-up"}}, StatePhrase(p, l)...), true
	case sequence.GapFound:
		say = Phrase{{"asleep"}}
		if e.Since != nil {
			say = append(say, durationWords(e.At-*e.Since))
		}
		return say, false
	case sequence.SoundBack:
		return Phrase{{"sound-back"}}, false
	}
	return nil, false
}

// actPhrase answers an act of the person's: where the film is now, and that it can be
// taken back.
func actPhrase(p *sequence.Plan, l engine.Snapshot, e sequence.Event) Phrase {
	if e.Act == 0 || !l.CanUndo {
		return nil
	}
	var where Clause
	switch s := stepOf(p, e.Step); {
	case e.Sheet > 0:
		where = append(Clause{"sheet"}, numberWords(e.Sheet)...)
	case s == len(p.Steps):
		where = Clause{"last-lift"}
	default:
		where = bathWords(p, s)
	}
	return Phrase{where, {"within-ten"}}
}

// sheetPhrase answers where the person has said which sheet is late, or set aside: which,
// where it is, and that it can be taken back.
func sheetPhrase(p *sequence.Plan, l engine.Snapshot, e sequence.Event) Phrase {
	if e.Act == 0 || e.Kind == sequence.SetAside && e.Source != sequence.ByHand { // a film test's
		return nil
	}
	say := Phrase{append(Clause{"set-aside-sheet"}, numberWords(e.Sheet)...)}
	if e.Kind == sequence.LateReported {
		from := -1 // dry
		if e.Step != "" {
			from = stepOf(p, e.Step)
		}
		if say = (Phrase{append(Clause{"late-sheet"}, numberWords(e.Sheet)...)}); p.Sheets == 1 || p.MovesTogether(from) {
			say = Phrase{{"film-late"}}
		}
		where := Clause{"before-first"}
		if from >= 0 {
			where = bathWords(p, from)
		}
		say = append(say, where, Clause{"held"})
	}
	if l.CanUndo {
		say = append(say, Clause{"within-ten"})
	}
	return say
}

// NotPossible is the answer where what was asked cannot be done.
func NotPossible() Phrase { return Phrase{{"no"}} }

// Loading is the answer while film is loaded in the dark and nothing has begun.
func Loading() Phrase { return Phrase{{"before-first"}, {"begin-twice"}} }

// NotBegun says that a session could not be begun in the dark, and how light comes.
func NotBegun() Phrase { return Phrase{{"not-begun"}, {"escape-twice"}} }

// RunElsewhere says that a session could not be taken up since another program carries
// it out, how it is tried again, and how light comes.
func RunElsewhere() Phrase { return Phrase{{"held-elsewhere"}, {"begin-twice"}, {"escape-twice"}} }

// GoneElsewhere says that another program has taken the session up, and how light comes
// from who is left.
func GoneElsewhere() Phrase { return Phrase{{"held-elsewhere"}, {"light-twice"}} }

// SessionLost says that nobody carries a session out any more, where there was one, and how
// light comes from who is left.
func SessionLost(session bool) Phrase {
	if session {
		return Phrase{{"cut-off"}, {"light-twice"}}
	}
	return Phrase{{"light-twice"}}
}

// SkippedPhrase says that a rehearsal has passed over so much time in which the hands rest.
func SkippedPhrase(d time.Duration) Phrase { return Phrase{append(durationWords(d), "later")} }

// DurationPhrase says a length of time alone, as a stopwatch does.
func DurationPhrase(d time.Duration) Phrase { return Phrase{durationWords(d)} }

// PressWhenClear is how a stopwatch of the clearing test begins.
func PressWhenClear() Phrase { return Phrase{{"press-when-clear"}} }

// Choice is one of what the menu of the second key offers.
type Choice Word

// The choices.
const (
	ChoiceHold     Choice = "hold"
	ChoiceGo       Choice = "go-on"
	ChoiceUndo     Choice = "undo"
	ChoiceAdvice   Choice = "advice"
	ChoiceStop     Choice = "stop"
	ChoiceLate     Choice = "late-sheet"
	ChoiceFilm     Choice = "film-late"
	ChoiceSetAside Choice = "set-aside-sheet"
)

// Offer says a choice and how it is taken: what cannot be taken back by two presses.
func (c Choice) Offer() Phrase {
	if c == ChoiceStop {
		return Phrase{{Word(c)}, {"press-twice"}}
	}
	return Phrase{{Word(c)}, {"press-to-choose"}}
}

// Sheet says a choice of one sheet, which takes two presses.
func (c Choice) Sheet(n int) Phrase {
	return Phrase{append(Clause{Word(c)}, numberWords(n)...), {"press-twice"}}
}
