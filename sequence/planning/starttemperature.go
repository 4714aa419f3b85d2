package planning

// The temperature to start the developer at, so that the recipe's time holds.

import (
	"math"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// StartTemperature is what the developer should read, at the moment at which it is read, for the
// recipe's own time though the bath drifts, to a hundredth of a degree; false where no
// temperature does that, the bath does not drift, or it reads that within a twentieth.
func StartTemperature(p *sequence.Plan) (chem.Celsius, bool) {
	for i := range p.Steps {
		if t, by, ok := startTemperature(p, i); ok {
			return t, by != 0
		}
	}
	return 0, false
}

// startTemperature is startForRecipeTime to a hundredth, and how much warmer that is than planned: nothing
// where no thermometer here tells it apart (our own rule).
func startTemperature(p *sequence.Plan, i int) (to, by chem.Celsius, ok bool) {
	const toldApart = 0.05
	if to, ok = startForRecipeTime(p, i); !ok {
		return 0, 0, false
	}
	to = chem.Celsius(math.Round(float64(to)*100) / 100)
	if by = to - p.Course(&p.Steps[i]).Readings[0].T; math.Abs(float64(by)) < toldApart {
		by = 0
	}
	return to, by, true
}

// withProposedTemperature is the conditions with the start temperature that was to be proposed.
func withProposedTemperature(r sequence.Recipe, c sequence.Conditions) (sequence.Conditions, error) {
	if !c.ProposeTemperature {
		return c, nil
	}
	c.ProposeTemperature, c.BathTemperature = false, nil
	p, _, err := planTimes(r, c)
	if err != nil {
		return c, err
	}
	p.Conditions.BathTemperature = new(chem.Celsius) // that it was read, and when; what is to be found
	for i := range p.Steps {
		if t, _, ok := startTemperature(&p, i); ok {
			c.BathTemperature, c.ToRead = &t, true
			return c, nil
		}
	}
	return c, sequence.Refuse("no-start", sequence.Values{Words: sequence.ProposedWord})
}

// startForRecipeTime is what the developer should read, at the moment at which it is read,
// for step i to need exactly its dose as time though the bath drifts; false where
// no temperature does that, or the bath does not drift.
func startForRecipeTime(p *sequence.Plan, i int) (chem.Celsius, bool) {
	st := &p.Steps[i]
	if st.TimeByTemperature == nil || p.Conditions.SettlesAt == nil {
		return 0, false
	}
	rate, err := st.Rate()
	if err != nil {
		return 0, false
	}
	over := func(t chem.Celsius) float64 {
		c := p.Course(st)
		c.Readings[0].T = t
		dose, err := chem.Dose(rate, c, st.Start, st.Start+st.Dose)
		if err != nil {
			return math.NaN()
		}
		return sequence.Seconds(dose - st.Dose)
	}
	low, high := sequence.LowestBath, sequence.HighestBath
	if n := len(st.TimeByTemperature.Table); n > 0 {
		low, high = st.TimeByTemperature.Table[0].T-1, st.TimeByTemperature.Table[n-1].T+1
	}
	if !(over(low) < 0) || !(over(high) > 0) {
		return 0, false
	}
	low, high = chem.Bisect(low, high, 60, func(t chem.Celsius) bool { return over(t) < 0 })
	return (low + high) / 2, true
}
