package cue

// How a session stands, as the voice answers one press in the dark; and what can still be done
// about the wet time.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/schedule"
)

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
	say = append(say, doubtPhrase(l)...)
	say = append(say, wetPhrase(p, l)...)
	if l.LightOffered && !l.LightOn {
		say = append(say, Clause{"light-safe"}, Clause{"press-twice"})
	}
	return say
}

// timeLeftPhrase says how long is left, or overdue, until film changes baths.
func timeLeftPhrase(l engine.Snapshot) Phrase {
	if l.Overdue > 0 {
		say := holdingPhrase(l)
		if d := l.Develop; d != nil && d.Of > 0 {
			say = append(say, developedWords(d))
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

// developedWords says how far the developing has come.
func developedWords(d *engine.DevelopmentProgress) Clause {
	return append(Clause{"developed"}, percentWords(sequence.PercentDeveloped(d.Share()))...)
}

// doubtPhrase says how far development may be off where that is worth saying, and when to read the developer, by
// light that a thermometer can be read in.
func doubtPhrase(l engine.Snapshot) Phrase {
	d := l.Develop
	if d == nil || d.Of <= 0 {
		return nil
	}
	var say Phrase
	if d.Error > schedule.ToldFrom {
		if l.Overdue == 0 { // else it was said
			say = Phrase{developedWords(d)}
		}
		say = append(say, append(Clause{"plus-minus"}, percentWords(sequence.PercentOff(d.Error))...))
	}
	if at, ok := readingWanted(l); ok {
		words := Clause{"read-developer"}
		if at-l.Now >= time.Second {
			words = append(append(words, "within"), durationWords(at-l.Now)...)
		}
		say = append(say, words)
	}
	return say
}

// readingWanted is when another reading of the developer helps most; false where none does, and in the dark, where
// nobody can take one.
func readingWanted(l engine.Snapshot) (sequence.Elapsed, bool) {
	if l.Develop == nil || l.Develop.ReadBy == nil || l.Over != "" || l.Light == sequence.Dark && !l.LightOn {
		return 0, false
	}
	return *l.Develop.ReadBy, true
}

func holdingPhrase(l engine.Snapshot) Phrase {
	say := Phrase{{"time-up"}}
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
		return Phrase{{"wet-limit-passed"}}
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
