package cue

// What the voice says at a cue: what to do with film, before its tone; what follows, after it.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
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

// readyPhrase says what comes in 20 s.
func readyPhrase(p *sequence.Plan, c sequence.Cue) Phrase {
	next := transferWords(p, stepOf(p, c.Step)+1, "transfer")
	switch {
	case c.At < 0:
		next = transferWords(p, 0, "load")
	case c.Sheet > 0:
		next = append(Clause{"pull-sheet"}, numberWords(c.Sheet)...)
	}
	return Phrase{{"ready"}, next}
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
