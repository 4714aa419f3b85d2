package cue

// What is said: phrases from the values of a session.

import (
	"slices"
	"strconv"
	"time"

	"example.org/wetside/sequence"
)

// baths are the words for the kinds of step.
var baths = map[sequence.Kind]Word{
	sequence.Presoak: "presoak", sequence.Develop: "developer", sequence.StopBath: "stop-bath",
	sequence.Fix: "fixer", sequence.Rinse: "rinse", sequence.WashAid: "wash-aid",
	sequence.Wash: "wash", sequence.Wetting: "wetting", sequence.Other: "bath",
}

// hands are the words for what the hands do.
var hands = map[sequence.Doing]Word{
	sequence.Loading: "load", sequence.Shuffling: "turn", sequence.Agitating: "agitate", sequence.Standing: "rest",
	sequence.Draining: "drain", sequence.Transfer: "move", sequence.Pulling: "take-out-sheet", sequence.Pouring: "pour",
	sequence.Reversing: "other-way",
}

// doing says what the hands do now; nil while no film is in.
func doing(l sequence.Look) Phrase {
	h := l.Hands
	if h == nil {
		return nil
	}
	if h.Sheet > 0 {
		return Phrase{append(Clause{hands[h.Do]}, number(h.Sheet)...)}
	}
	return Phrase{{hands[h.Do]}}
}

// number says 0 to 9999; a number beyond these says the nearest of them.
func number(n int) Clause {
	n = min(max(n, 0), 9999)
	if n >= 100 {
		c := append(number(n/100), "hundred")
		if n%100 > 0 {
			c = append(c, number(n%100)...)
		}
		return c
	}
	if n <= 20 || n%10 == 0 {
		return Clause{Word(strconv.Itoa(n))}
	}
	return Clause{Word(strconv.Itoa(n / 10 * 10)), Word(strconv.Itoa(n % 10))}
}

func counted(n int, one, many Word) Clause {
	if n == 1 {
		return append(number(n), one)
	}
	return append(number(n), many)
}

// duration says a time, rounded down so that it never promises more than there
// is: to seconds, from ten minutes on to minutes.
func duration(d time.Duration) Clause {
	s := int(max(d.Round(time.Millisecond), 0) / time.Second) // shares of a limit are off by nanoseconds
	h, m := s/3600, s/60%60
	s %= 60
	var c Clause
	if h > 0 {
		c = append(c, counted(h, "hour", "hours")...)
	}
	if m > 0 {
		c = append(c, counted(m, "minute", "minutes")...)
	}
	if h == 0 && m < 10 && s > 0 || h == 0 && m == 0 {
		c = append(c, counted(s, "second", "seconds")...)
	}
	return c
}

func left(d time.Duration) Clause { return append(duration(d), "left") }

// bath names step i of a plan; where several are of a kind, with its number.
func bath(p *sequence.Plan, i int) Clause {
	kind, which, all := p.Steps[i].Kind, 0, 0
	for k := range p.Steps {
		if p.Steps[k].Kind == kind {
			all++
			if k <= i {
				which++
			}
		}
	}
	word, known := baths[kind]
	if !known {
		word = baths[sequence.Other]
	}
	if all > 1 {
		return append(Clause{word}, number(which)...)
	}
	return Clause{word}
}

// Standing says how a session stands: what, what the hands do, how long, how wet. It is the answer
// to one press in the dark.
func Standing(p *sequence.Plan, l sequence.Look) Phrase {
	if l.Over != "" {
		return over(l.Over)
	}
	say := Phrase{{"before-first"}}
	if l.Step >= 0 {
		say = Phrase{bath(p, l.Step)}
	}
	if !l.Began {
		return say
	}
	say = append(say, doing(l)...)
	say = append(say, when(l)...)
	say = append(say, wet(p, l)...)
	if l.Offer && !l.Lit {
		say = append(say, Clause{"light-possible"}, Clause{"press-twice"})
	}
	return say
}

// when says how long is left, or overdue, until film changes baths.
func when(l sequence.Look) Phrase {
	if l.Overdue > 0 {
		say := holding(l)
		if d := l.Develop; d != nil && d.Of > 0 {
			percent := int(100 * float64(d.Done) / float64(d.Of))
			say = append(say, append(append(Clause{"developed"}, number(percent)...), "per-cent"))
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
		say = append(say, append(Clause{"next-sheet"}, number(l.Next.Sheet)...))
	}
	return append(say, left(l.Left))
}

func holding(l sequence.Look) Phrase {
	say := Phrase{{"holding"}}
	if l.Overdue >= time.Second {
		say = append(say, append(duration(l.Overdue), "overdue"))
	}
	return say
}

// wet says how long the wettest sheet may stay wet, by the limit of the load's
// vessel, and which sheet it is where they differ; where no limit is known, how long
// it has been wet. What is to come is said where it is over the limit.
func wet(p *sequence.Plan, l sequence.Look) Phrase {
	if len(l.Sheets) == 0 || l.Sheets[l.Worst].Wet <= 0 {
		return nil
	}
	worst := l.Sheets[l.Worst]
	limit, known := p.Limits.For(p.Vessel)
	if known && worst.Used >= 1 {
		return Phrase{{"wet-over"}}
	}
	say := Clause{"wet-time"}
	if slices.ContainsFunc(l.Sheets, func(o sequence.SheetLook) bool { return worst.Wet-o.Wet >= time.Second }) {
		say = append(append(Clause{"sheet"}, number(l.Worst+1)...), say...)
	}
	if !known {
		return Phrase{append(say, duration(worst.Wet)...)}
	}
	return append(Phrase{append(say, left(time.Duration((1-worst.Used)*float64(limit)))...)}, early(l)...)
}

// early says that the wet time will be over its limit at the end; nil where it will
// not, or is over already.
func early(l sequence.Look) Phrase {
	m := l.Wet.Margin
	if m == nil || *m > -time.Second || len(l.Sheets) == 0 || l.Sheets[l.Worst].Wet <= 0 || l.Sheets[l.Worst].Used >= 1 {
		return nil
	}
	return Phrase{atEnd(m)}
}

// atEnd says what the limit leaves at the end; nil where none is known.
func atEnd(margin *sequence.Elapsed) Clause {
	switch {
	case margin == nil:
		return nil
	case *margin < 0:
		return append(append(Clause{"wet-time", "at-end"}, duration(-*margin)...), "too-long")
	}
	return append(Clause{"wet-time", "at-end"}, left(*margin)...)
}

// Advised says the one thing that can still be done about the wet time, and what it
// leaves; found is what State.Advise said of it.
func Advised(p *sequence.Plan, l sequence.Look, a sequence.Advice, found bool) Phrase {
	say := Phrase{{"advice"}}
	if !found {
		return append(say, Clause{"nothing-helps"})
	}
	switch a.Do {
	case sequence.GoOnNow:
		return append(say, Clause{"go-on"}, append(duration(a.For), "overdue"))
	case sequence.IntoHangers:
		apart := Word("in-hangers")
		if a.In == sequence.Single {
			apart = "one-by-one"
		}
		say = append(say, append(bath(p, a.Step), apart))
	case sequence.LeastTime:
		say = append(say, append(append(bath(p, a.Step), duration(a.For)...), "is-enough"))
		if a.Step == l.Step {
			say = append(say, left(a.At-l.Now))
		}
	case sequence.LeaveOut:
		say = append(say, append(Clause{"leave-out"}, bath(p, a.Step)...))
	}
	if end := atEnd(a.Margin); end != nil {
		say = append(say, end)
	}
	return say
}

func over(kind sequence.EventKind) Phrase {
	if kind == sequence.SessionStopped {
		return Phrase{{"stopped"}, {"session-over"}}
	}
	return Phrase{{"session-over"}}
}

// act says what a load, a move, a taking out or the last lift asks for; nil for
// any other cue.
func act(p *sequence.Plan, c sequence.Cue) Clause {
	switch s := stepOf(p, c.Step); {
	case c.Kind == sequence.CueLoad && c.Sheet > 0:
		return append(Clause{"load-sheet"}, number(c.Sheet)...)
	case c.Kind == sequence.CueLoad:
		return into(p, 0, "load")
	case c.Kind == sequence.CueMove && c.Sheet > 0 && s < len(p.Steps) && p.WaitsInWater(s):
		return append(Clause{"set-aside-sheet"}, number(c.Sheet)...)
	case c.Kind == sequence.CueMove && c.Sheet > 0:
		return append(Clause{"move-sheet"}, number(c.Sheet)...)
	case c.Kind == sequence.CueMove:
		return into(p, s+1, "move")
	case c.Kind == sequence.CueTakeOut && c.Sheet > 0:
		return append(Clause{"take-out-sheet"}, number(c.Sheet)...)
	case c.Kind == sequence.CueTakeOut:
		return Clause{"take-out-sheet"}
	case c.Kind == sequence.CueDone:
		return Clause{"last-lift"}
	}
	return nil
}

// into says the change to step s: closed vessels are poured into.
func into(p *sequence.Plan, s int, verb Word) Clause {
	switch {
	case s >= len(p.Steps):
		return Clause{"last-lift"}
	case p.Steps[s].Vessel.Closed():
		return append(Clause{"pour"}, bath(p, s)...)
	case verb == "load":
		return Clause{verb}
	}
	return append(Clause{verb, "into"}, bath(p, s)...)
}

// ready says what comes in 20 s.
func ready(p *sequence.Plan, c sequence.Cue) Phrase {
	next := into(p, stepOf(p, c.Step)+1, "move")
	switch {
	case c.At < 0:
		next = into(p, 0, "load")
	case c.Sheet > 0:
		next = append(Clause{"take-out-sheet"}, number(c.Sheet)...)
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

// after says what follows a cue that must not stay unexplained; nil for others.
func after(p *sequence.Plan, l sequence.Look, c sequence.Cue, h sequence.Habits) Phrase {
	switch c.Kind {
	case sequence.CueReady:
		return ready(p, c)
	case sequence.CueLightsOut:
		return Phrase{{"lights-out"}}
	case sequence.CueLightsOffer:
		return Phrase{{"light-possible"}, {"press-twice"}}
	case sequence.CueWetWarning:
		return Phrase{{"wet-short"}, left(p.Recipe.Film.WetWarning)}
	case sequence.CueWetLimit:
		return Phrase{{"wet-over"}}
	case sequence.CueReading:
		say := Phrase{left(c.For)}
		if change := shifted(c.Change); change != nil {
			say = append(say, change)
		}
		if d := l.Develop; d != nil && d.Temperature != nil {
			say = append(say, degrees(h.Number(*d.Temperature)))
		}
		return say
	case sequence.CueOverdue:
		return holding(l)
	}
	return nil
}

// shifted says by how much a move comes later than was told; nil for not at all.
func shifted(change time.Duration) Clause {
	switch {
	case change <= -time.Second:
		return append(duration(-change), "earlier")
	case change >= time.Second:
		return append(duration(change), "later")
	}
	return nil
}

// degrees says a temperature to a tenth.
func degrees(t float64) Clause {
	tenths := int(max(t, 0)*10 + 0.5)
	c := append(number(tenths/10), "point")
	return append(append(c, number(tenths%10)...), "degrees")
}

// Told says what an event tells, and whether it answers the person. The phrase
// is nil where nothing is said of it. P and l are the session as of the event.
func Told(p *sequence.Plan, l sequence.Look, e sequence.Event) (say Phrase, asked bool) {
	switch e.Kind {
	case sequence.Moved, sequence.TakenOut:
		say = acted(p, l, e)
		return say, say != nil
	case sequence.Held:
		if e.Sheet > 0 { // told with the sheet that is late
			return nil, false
		}
		return Phrase{{"held"}}, e.Act != 0
	case sequence.LateTold, sequence.SetAside:
		say = named(p, l, e)
		return say, say != nil
	case sequence.WentOn:
		return Phrase{{"going-on"}}, e.Act != 0
	case sequence.Undone:
		return append(Phrase{{"undone"}}, Standing(p, l)...), true
	case sequence.Resumed:
		return append(Phrase{{"taken-up"}}, Standing(p, l)...), true
	case sequence.GapFound:
		say = Phrase{{"asleep"}}
		if e.Since != nil {
			say = append(say, duration(e.At-*e.Since))
		}
		return say, false
	case sequence.SoundBack:
		return Phrase{{"sound-back"}}, false
	}
	return nil, false
}

// acted answers an act of the person's: where the film is now, and that it can be
// taken back.
func acted(p *sequence.Plan, l sequence.Look, e sequence.Event) Phrase {
	if e.Act == 0 || !l.CanUndo {
		return nil
	}
	var where Clause
	switch s := stepOf(p, e.Step); {
	case e.Sheet > 0:
		where = append(Clause{"sheet"}, number(e.Sheet)...)
	case s == len(p.Steps):
		where = Clause{"last-lift"}
	default:
		where = bath(p, s)
	}
	return Phrase{where, {"within-ten"}}
}

// named answers where the person has said which sheet is late, or set aside: which,
// where it is, and that it can be taken back.
func named(p *sequence.Plan, l sequence.Look, e sequence.Event) Phrase {
	if e.Act == 0 || e.Kind == sequence.SetAside && e.Source != sequence.ByHand { // a film test's
		return nil
	}
	say := Phrase{append(Clause{"set-aside-sheet"}, number(e.Sheet)...)}
	if e.Kind == sequence.LateTold {
		from := -1 // dry
		if e.Step != "" {
			from = stepOf(p, e.Step)
		}
		if say = (Phrase{append(Clause{"late-sheet"}, number(e.Sheet)...)}); p.Sheets == 1 || p.Along(from) {
			say = Phrase{{"film-late"}}
		}
		where := Clause{"before-first"}
		if from >= 0 {
			where = bath(p, from)
		}
		say = append(say, where, Clause{"held"})
	}
	if l.CanUndo {
		say = append(say, Clause{"within-ten"})
	}
	return say
}

// Refused is the answer where what was asked cannot be done.
func Refused() Phrase { return Phrase{{"no"}} }

// Loading is the answer while film is loaded in the dark and nothing has begun.
func Loading() Phrase { return Phrase{{"before-first"}, {"begin-twice"}} }

// NotBegun says that a session could not be begun in the dark, and how light comes.
func NotBegun() Phrase { return Phrase{{"not-begun"}, {"escape-twice"}} }

// HeldElsewhere says that a session could not be taken up since another program carries
// it out, how it is tried again, and how light comes.
func HeldElsewhere() Phrase { return Phrase{{"held-elsewhere"}, {"begin-twice"}, {"escape-twice"}} }

// GoneElsewhere says that another program has taken the session up, and how light comes
// from who is left.
func GoneElsewhere() Phrase { return Phrase{{"held-elsewhere"}, {"light-twice"}} }

// CutOff says that nobody carries a session out any more, where there was one, and how
// light comes from who is left.
func CutOff(session bool) Phrase {
	if session {
		return Phrase{{"cut-off"}, {"light-twice"}}
	}
	return Phrase{{"light-twice"}}
}

// Later says that a rehearsal has passed over so much time in which the hands rest.
func Later(d time.Duration) Phrase { return Phrase{append(duration(d), "later")} }

// Time says a length of time alone, as a stopwatch does.
func Time(d time.Duration) Phrase { return Phrase{duration(d)} }

// PressWhenClear is how a stopwatch of the clearing test begins.
func PressWhenClear() Phrase { return Phrase{{"press-when-clear"}} }

// Choice is one of what the menu of the second key offers.
type Choice Word

// The choices.
const (
	ChoiceHold Choice = "hold"
	ChoiceGo   Choice = "go-on"
	ChoiceUndo Choice = "undo"
	ChoiceHelp Choice = "advice"
	ChoiceStop Choice = "stop"
	ChoiceLate Choice = "late-sheet"
	ChoiceFilm Choice = "film-late"
	ChoiceLost Choice = "set-aside-sheet"
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
	return Phrase{append(Clause{Word(c)}, number(n)...), {"press-twice"}}
}
