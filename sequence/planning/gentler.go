package planning

// What would be kind to a film that stays wet for long, though it saves no wet time:
// firmer gelatin stands the same minutes better. By how much nobody has published, so
// the limit is not moved for it, and neither is among what shortens.

import (
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// leastCooling is by how much a developer must be over its recipe's temperature for
// cooler baths to be proposed (our own rule).
const leastCooling chem.Celsius = 1

// Gentler lists what would be kind to the film without a shorter wet time, the kindest
// first: Saves is zero, or negative where it takes longer. Empty where the wet time keeps
// its margin, or no limit is known.
func Gentler(p *sequence.Plan) []sequence.Shortening {
	list := []sequence.Shortening{}
	if m := p.Wet.Margin; m == nil || *m >= p.Recipe.Film.WetWarning {
		return list
	}
	list = append(list, hardeningBath(p)...)
	return append(list, coolerBaths(p)...)
}

// hardeningBath is a hardening bath, in the place where gelatin is firm from before the fixer
// on (common practice, no source; so is what it costs).
func hardeningBath(p *sequence.Plan) []sequence.Shortening {
	i := slices.IndexFunc(p.Steps, func(st sequence.PlanStep) bool { return st.Kind == sequence.Fix })
	if i < 0 {
		return nil
	}
	return []sequence.Shortening{{Code: "hardener", Step: p.Steps[i].Name, Margin: p.Wet.Margin}}
}

// coolerBaths is all baths at the recipe's own temperature; developing then takes longer.
func coolerBaths(p *sequence.Plan) []sequence.Shortening {
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.TimeByTemperature == nil || st.Temperature == nil || *st.Temperature < st.TimeByTemperature.At+leastCooling {
			continue
		}
		to := st.TimeByTemperature.At
		c := change{plan: p, edit: func(_ *sequence.Recipe, c *sequence.Conditions) {
			c.BathTemperature, c.ReadBefore, c.ToRead = &to, 0, false
		}}
		c.Shortening = sequence.Shortening{Code: "cooler", Step: st.Name, WarmTo: &to, ShorteningValues: sequence.ShorteningValues{To: to}}
		if t, ok := replan(c); ok {
			return []sequence.Shortening{t.proposal(p)}
		}
	}
	return nil
}
