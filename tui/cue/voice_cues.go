package cue

// What the voice says at a cue: what to do with film, before its tone; what follows, after it.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/schedule"
)

// bathNames are the words for the kinds of step.
var bathNames = map[sequence.Kind]Word{
	sequence.Presoak: "presoak", sequence.Develop: "developer", sequence.StopBath: "stop-bath",
	sequence.Fix: "fixer", sequence.Rinse: "rinse", sequence.WashingAid: "washing-aid",
	sequence.Wash: "wash", sequence.WettingAgent: "wetting", sequence.Other: "bath",
}

// hands are the words for what the hands do.
var hands = map[sequence.Doing]Word{
	sequence.Loading: "load", sequence.Shuffling: "shuffle", sequence.Agitating: "agitate", sequence.Standing: "stand",
	sequence.Draining: "drain", sequence.Transfer: "transfer", sequence.Pulling: "pull-sheet", sequence.Pouring: "pour",
	sequence.Reversing: "other-way",
}

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

// stepOf is the index of the step called name; len(p.Steps) where there is none.
func stepOf(p *sequence.Plan, name string) int {
	for i := range p.Steps {
		if p.Steps[i].Name == name {
			return i
		}
	}
	return len(p.Steps)
}

// actionWords says what a load, a move, a taking out or the last sheet out asks for; nil for
// any other cue.
func actionWords(p *sequence.Plan, c sequence.Cue) Clause {
	switch s := stepOf(p, c.Step); {
	case c.Kind == sequence.CueLoad && c.Sheet > 0:
		return append(Clause{"load-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CueLoad:
		return transferWords(p, 0, "load")
	case c.Kind == sequence.CueTransfer && c.Sheet > 0 && s < len(p.Steps) && sequence.WaitsInWater(p, s):
		return asideWords(c.Sheet)
	case c.Kind == sequence.CueTransfer && c.Sheet > 0:
		return append(Clause{"transfer-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CueTransfer:
		return transferWords(p, s+1, "transfer")
	case c.Kind == sequence.CuePull && c.Sheet > 0:
		return append(Clause{"pull-sheet"}, numberWords(c.Sheet)...)
	case c.Kind == sequence.CuePull:
		return Clause{"pull-sheet"}
	case c.Kind == sequence.CueDone:
		return Clause{"last-sheet-out"}
	}
	return nil
}

// transferWords says the change to step s: closed vessels are poured into.
func transferWords(p *sequence.Plan, s int, verb Word) Clause {
	switch {
	case s >= len(p.Steps):
		return Clause{"last-sheet-out"}
	case p.Steps[s].Vessel.Closed():
		return append(Clause{"pour"}, bathWords(p, s)...)
	case verb == "load":
		return Clause{verb}
	}
	return append(Clause{verb, "into"}, bathWords(p, s)...)
}

// readyPhrase says what comes in 20 s, and where that is a developer that was used before how much longer it takes:
// who counts along in the dark would think it late.
func readyPhrase(p *sequence.Plan, c sequence.Cue) Phrase {
	to := stepOf(p, c.Step) + 1
	next := transferWords(p, to, "transfer")
	switch {
	case c.At < 0:
		to, next = 0, transferWords(p, 0, "load")
	case c.Sheet > 0 && p.LeavesSingly(stepOf(p, c.Step)):
		next = append(Clause{"transfer-sheet"}, numberWords(c.Sheet)...)
	case c.Sheet > 0:
		to, next = len(p.Steps), append(Clause{"pull-sheet"}, numberWords(c.Sheet)...)
	}
	return append(Phrase{{"ready"}, next}, usedBathPhrase(p, to)...)
}

// usedBathPhrase says how much longer step i takes because its bath was used before; nil where it was not.
func usedBathPhrase(p *sequence.Plan, i int) Phrase {
	if i >= len(p.Steps) || p.Steps[i].Reused == nil {
		return nil
	}
	return Phrase{{"used-bath"}, append(percentWords(sequence.PercentDeveloped(p.Steps[i].Reused.Factor-1)), "longer")}
}

// explanation says what follows a cue that must not stay unexplained; nil for others.
func explanation(p *sequence.Plan, l engine.Snapshot, c sequence.Cue, h sequence.Units) Phrase {
	switch c.Kind {
	case sequence.CueReady:
		return readyPhrase(p, c)
	case sequence.CueLightsOut:
		return Phrase{{"lights-off"}}
	case sequence.CueLightsOffer:
		return Phrase{{"light-safe"}, {"press-twice"}}
	case sequence.CueWetWarning:
		return Phrase{{"wet-limit-near"}, leftWords(p.Recipe.Film.WetWarning)}
	case sequence.CueWetLimit:
		return Phrase{{"wet-limit-passed"}}
	case sequence.CueReading:
		say := Phrase{leftWords(c.For)}
		if change := shiftWords(c.Change); change != nil {
			say = append(say, change)
		}
		if d := l.Develop; d != nil && d.Temperature != nil {
			say = append(say, temperatureWords(h.Number(*d.Temperature)))
			if max(d.Error, d.AtEnd) > schedule.ToldFrom {
				say = append(say, append(Clause{"plus-minus"}, tenthsWords(h.Off(d.Band))...))
			}
		}
		return say
	case sequence.CueOverdue:
		return holdingPhrase(l)
	}
	return nil
}

// asideWords says that a sheet is to be put, or is, in plain water.
func asideWords(sheet int) Clause {
	return append(append(Clause{"sheet"}, numberWords(sheet)...), "aside-in-water")
}
