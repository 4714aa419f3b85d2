package say

// What would shorten the wet time, or be gentler: each change, what it costs, and what to
// watch for.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// Proposal is a change in words: what it is in a few of them, in a sentence, what it costs, and what to watch for.
type Proposal struct{ Name, Text, Price, Caution string }

// Shortening is a proposed change in words. One without values, from an old journal, is
// told as it was written then.
func Shortening(s sequence.Shortening, h sequence.Units) Proposal {
	if len(s.Parts) == 0 {
		return changeWords(s, h)
	}
	var all Proposal
	for _, part := range s.Parts {
		one := changeWords(sequence.Shortening{Code: part.Code, Step: part.Step, ShorteningValues: part.ShorteningValues}, h)
		if one.Text == "" {
			return written(s)
		}
		all = Proposal{joined(all.Name, one.Name), joined(all.Text, one.Text), joined(all.Price, one.Price), joined(all.Caution, one.Caution)}
	}
	return all
}

// Shortenings are proposals with their words in them, for what keeps or writes them.
func Shortenings(list []sequence.Shortening, h sequence.Units) []sequence.Shortening {
	out := make([]sequence.Shortening, len(list))
	for i, s := range list {
		words := Shortening(s, h)
		s.Text, s.Price, s.Caution = words.Text, words.Price, words.Caution
		out[i] = s
	}
	return out
}

func written(s sequence.Shortening) Proposal { return Proposal{s.Text, s.Text, s.Price, s.Caution} }

// joined is two texts as one; what both say is said once.
func joined(a, b string) string {
	switch {
	case a == "" || strings.Contains(b, a):
		return b
	case b == "" || strings.Contains(a, b):
		return a
	}
	return a + "; " + b
}

// changeWords is a single change. A hardener needs no values, and one that needs them and
// has none is told as written.
func changeWords(s sequence.Shortening, h sequence.Units) Proposal {
	var p Proposal
	v, step := s.ShorteningValues, StepName(s.Step)
	switch {
	case s.Code == "hardener":
		p = Proposal{"a hardening bath", fmt.Sprintf("a hardening bath before %s, or a hardening fixer: firmer gelatin from there on", step),
			"a longer wash, and less stain where the developer stains",
			"hardeners made with formaldehyde are poisonous: the maker's safety data sheet comes first"}
	case v == (sequence.ShorteningValues{}):
		return written(s)
	case s.Code == "vessel":
		p = vesselChange(s)
	case s.Code == "wash-aid":
		p = Proposal{fmt.Sprintf("washing aid %s, %s %s", Elapsed(v.Aid), step, Elapsed(v.Time)),
			fmt.Sprintf("rinse %s, washing aid %s, then %s for %s (SS0509 p. 24)", Elapsed(v.Rinse), Elapsed(v.Aid), step, Elapsed(v.Time)),
			"more washing aid to mix, and less stain where the developer stains" + residualLeft(v.Residual),
			"in water under " + Temperature(warmEnough, h) + " the wash takes longer (T.O. 33B-1-1 6.7.10.1)"}
	case s.Code == "at-least":
		p = Proposal{fmt.Sprintf("%s %s instead of %s", step, Elapsed(v.Time), Elapsed(v.Was)),
			fmt.Sprintf("%s for %s instead of %s, the recipe's minimum", step, Elapsed(v.Time), Elapsed(v.Was)), "nothing in reserve" + residualLeft(v.Residual), leastCaution[v.Kind]}
	case s.Code == "cradle":
		p = Proposal{"a cradle instead of trays", "a cradle: all sheets move together and none is handled", "a flat tray holds fewer sheets apart, and agitation is different", "develop one test sheet first"}
	case s.Code == "fewer":
		name := fmt.Sprintf("%s instead of %d", Count(v.Sheets, "sheet"), v.Were)
		p = Proposal{name, name + ": less to load, shuffle and transfer", "another round for the rest", ""}
	case s.Code == "leave-out":
		p = Proposal{"leave out " + step, "leave out " + step, costOfLeavingOut(v.Kind), ""}
	case s.Code == "warmer":
		p = Proposal{step + " at " + Temperature(v.To, h), step + " at " + Temperature(v.To, h) + ": shorter", "softer gelatin", "all baths as warm, " + together(h)}
	case s.Code == "cooler":
		p = Proposal{"all baths at " + Temperature(v.To, h), "all baths at " + Temperature(v.To, h) + ": firmer gelatin", "developing takes longer", "all baths " + together(h)}
	default:
		return written(s)
	}
	if v.Hasty {
		p.Caution = strings.TrimSuffix("under five minutes of developing: uneven; "+p.Caution, "; ")
	}
	return p
}

// residualLeft is what a shorter wash leaves; "" where that is not known.
func residualLeft(g float64) string {
	if g == 0 {
		return ""
	}
	return "; leaves at most " + Residual(g) + " of thiosulfate, " + WashVerdict(g)
}

// warmEnough is the water that a wash takes no longer in: 70 F (T.O. 33B-1-1 6.7.10.1).
const warmEnough = sequence.Celsius(190. / 9)

func together(h sequence.Units) string {
	return "within " + Difference(planning.BathSpread, h) + " (NAVEDTRA 14262 p. 7-11)"
}

func vesselChange(s sequence.Shortening) Proposal {
	step := StepName(s.Step)
	switch {
	case s.Step == "":
		return Proposal{"the film test in hangers", "the film test in hangers: sheets hang apart, and none is shuffled", "hangers and tanks, and more of each bath",
			"the times hold for hangers then, not for a tray"}
	case s.Vessel == sequence.SingleTrays:
		return Proposal{step + " in single trays", step + ": into single trays once the room light is on", "a tray for each sheet, and more handling once", heldByRim}
	}
	return Proposal{step + " in hangers", step + ": into hangers once the room light is on", "more handling once: each wet sheet is hung by its edges", heldByRim}
}

const heldByRim = "wet gelatin tears at the corners: hold sheets by the rim"

// leastCaution is what a step at its least needs.
var leastCaution = map[sequence.Kind]string{
	sequence.Fix:  "twice the clearing time is needed: measure it in this fixer (NAVEDTRA 14209 p. 249)",
	sequence.Wash: "full changes of water; a test for residual fixer tells whether it was enough",
}

// costOfLeavingOut is what leaving a kind of step out costs.
func costOfLeavingOut(k sequence.Kind) string {
	switch k {
	case sequence.Presoak:
		return "developing starts less evenly, and the time may differ"
	case sequence.StopBath:
		return "developer is carried into the fixer, which tires sooner"
	case sequence.Rinse:
		return "more is carried into the next bath"
	case sequence.WashingAid:
		return "the wash alone must do the work"
	case sequence.WettingAgent:
		return "drying marks"
	}
	return "what that bath was for"
}

// InWords is a plan whose cautions and proposals have their sentences in them, in Celsius:
// what a journal keeps, so that an older or a newer program shows the same.
func InWords(p sequence.Plan) sequence.Plan {
	p.Cautions, p.Shorten = Cautions(&p, sequence.Units{}), Shortenings(p.Shorten, sequence.Units{})
	return p
}
