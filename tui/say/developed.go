package say

// What a session's developing was, in words: each sheet's time and what it comes to at
// the recipe's temperature, the dilution and the agitation.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
)

// Developer is a developing step's dilution and agitation in words.
func Developer(p *sequence.Plan, i int) string {
	st := &p.Steps[i]
	text := st.Name + ": "
	if mixture := p.Recipe.MixtureOf(&st.Step); mixture != "" {
		text += mixture + "; "
	}
	return text + "agitation " + Agitation(planning.AgitationAsDone(st.Agitate, st.Stack))
}

// Developed is how long a sheet was in a developer, and what that comes to at the recipe's
// temperature where one is known.
func Developed(d engine.Development, p *sequence.Plan, given sequence.Elapsed, h sequence.Units) string {
	st := &p.Steps[d.Step]
	text := p.Recipe.Load.SheetName(d.Sheet) + ", " + st.Name + ": " + Elapsed(given)
	if w := st.TimeByTemperature; w != nil {
		text += ", equivalent to " + Elapsed(d.Done) + " at " + Temperature(w.At, h)
	}
	return text
}

// AllDeveloped is all that was developed, a line each: of each developer first what it
// was. Stays that have not ended count until a moment.
func AllDeveloped(p *sequence.Plan, film []sequence.Passage, done []engine.Development, until sequence.Elapsed, h sequence.Units) []string {
	var list []string
	told := map[int]bool{}
	for _, d := range done {
		if !told[d.Step] {
			told[d.Step] = true
			list = append(list, Developer(p, d.Step))
		}
		for _, y := range film {
			if y.Step == d.Step && y.Sheet == d.Sheet {
				list = append(list, Developed(d, p, min(y.Out, max(until, y.In))-y.In, h))
			}
		}
	}
	return list
}
