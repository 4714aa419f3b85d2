package sequence

// What a session's developing was, in words: each sheet's time and what it comes to at
// the recipe's temperature, the dilution and the agitation.

import "example.org/wetside/chem"

// Developer is a developing step's dilution and agitation in words.
func (p *Plan) Developer(i int) string {
	st := &p.Steps[i]
	text := st.Name + ": "
	if mixture := p.Recipe.MixtureOf(&st.Step); mixture != "" {
		text += mixture + "; "
	}
	return text + "agitation " + asDone(st.Agitate, st.Stack).words()
}

// Say is how long a sheet was in a developer, and what that comes to at the recipe's
// temperature where one is known.
func (d Development) Say(p *Plan, given Elapsed, h Habits) string {
	st := &p.Steps[d.Step]
	text := p.Recipe.Load.Sheet(d.Sheet) + ", " + st.Name + ": " + chem.FormatDuration(given)
	if w := st.Works; w != nil {
		text += ", as " + chem.FormatDuration(d.Done) + " at " + h.Temperature(w.At)
	}
	return text
}

// SayDeveloped is all that was developed, a line each: of each developer first what it
// was. Stays that have not ended count until a moment.
func (p *Plan) SayDeveloped(film []Passage, done []Development, until Elapsed, h Habits) []string {
	var list []string
	told := map[int]bool{}
	for _, d := range done {
		if !told[d.Step] {
			told[d.Step] = true
			list = append(list, p.Developer(d.Step))
		}
		for _, y := range film {
			if y.Step == d.Step && y.Sheet == d.Sheet {
				list = append(list, d.Say(p, min(y.Out, max(until, y.In))-y.In, h))
			}
		}
	}
	return list
}
