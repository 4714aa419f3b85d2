package sequence

// How exact a plan can be: what small errors of the hand and the thermometer do
// to development, and how warm a drifting bath must start.

import (
	"fmt"
	"math"

	"example.org/wetside/chem"
)

// Budget is what each error does to a developing step, as a fraction of its
// development. Errors of a degree, of seconds and of agitation are independent:
// together they add as squares.
type Budget struct {
	Step       string  `json:"step"`
	HalfDegree float64 `json:"half_degree"`
	TenSeconds float64 `json:"ten_seconds"`
	Agitation  float64 `json:"agitation"`
	Together   float64 `json:"together"`

	// Gradient is what all of it together does to the average gradient, where the step's
	// growth is known and belongs to it; nil elsewhere.
	Gradient *float64 `json:"gradient"`
}

// agitationError is the share by which agitation differs from one session to
// the next in careful hands (common practice, no source).
const agitationError = 0.05

// Budgets is the error budget of each developing step.
func (p *Plan) Budgets() []Budget {
	list := []Budget{}
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Kind != Develop || st.Given <= 0 {
			continue
		}
		b := Budget{Step: st.Name, HalfDegree: st.halfDegree(), TenSeconds: 10 / Seconds(st.Given), Agitation: agitationError}
		b.Together = math.Sqrt(b.HalfDegree*b.HalfDegree + b.TenSeconds*b.TenSeconds + b.Agitation*b.Agitation)
		if g := st.Growth; g != nil && len(p.elsewhere(st)) == 0 {
			rise := g.Slope(st.Dose) * b.Together
			b.Gradient = &rise
		}
		list = append(list, b)
	}
	return list
}

// halfDegree is how much faster the step's developer works half a degree warmer;
// 0 where its time is not corrected. At the warm end of a table it is how much
// slower half a degree cooler.
func (st *PlanStep) halfDegree() float64 {
	if st.Works == nil || st.Temperature == nil {
		return 0
	}
	rate, err := st.rate()
	if err != nil {
		return 0
	}
	now, err1 := rate.At(*st.Temperature)
	warmer, err2 := rate.At(*st.Temperature + 0.5)
	if err2 != nil {
		warmer, err2 = rate.At(*st.Temperature - 0.5)
	}
	if err1 != nil || err2 != nil {
		return 0
	}
	return math.Abs(warmer/now - 1)
}

// StartAt is what the developer should read, at the moment at which it is read, for the
// recipe's own time though the bath drifts, to a hundredth of a degree; false where no
// temperature does that, the bath does not drift, or it reads that within a twentieth.
func (p *Plan) StartAt() (chem.Celsius, bool) {
	for i := range p.Steps {
		if t, by, ok := p.warmer(i); ok {
			return t, by != 0
		}
	}
	return 0, false
}

// warmer is startFor to a hundredth, and how much warmer that is than planned: nothing
// where no thermometer here tells it apart (our own rule).
func (p *Plan) warmer(i int) (to, by chem.Celsius, ok bool) {
	const toldApart = 0.05
	if to, ok = p.startFor(i); !ok {
		return 0, 0, false
	}
	to = chem.Celsius(math.Round(float64(to)*100) / 100)
	if by = to - p.course(&p.Steps[i]).Readings[0].T; math.Abs(float64(by)) < toldApart {
		by = 0
	}
	return to, by, true
}

// started is the conditions with the start temperature that was to be proposed.
func started(r Recipe, c Conditions) (Conditions, error) {
	if !c.Proposed {
		return c, nil
	}
	c.Proposed, c.Temp = false, nil
	p, _, err := timed(r, c)
	if err != nil {
		return c, err
	}
	p.Conditions.Temp = new(chem.Celsius) // that it was read, and when; what is to be found
	for i := range p.Steps {
		if t, _, ok := p.warmer(i); ok {
			c.Temp, c.ToRead = &t, true
			return c, nil
		}
	}
	return c, fmt.Errorf("temperature %q: no start makes the recipe's time right in this drift; expected a temperature", ProposedTemp)
}

// startFor is what the developer should read, at the moment at which it is read,
// for step i to need exactly its dose as time though the bath drifts; false where
// no temperature does that, or the bath does not drift.
func (p *Plan) startFor(i int) (chem.Celsius, bool) {
	st := &p.Steps[i]
	if st.Works == nil || p.Conditions.Towards == nil {
		return 0, false
	}
	rate, err := st.rate()
	if err != nil {
		return 0, false
	}
	over := func(t chem.Celsius) float64 {
		c := p.course(st)
		c.Readings[0].T = t
		dose, err := chem.Dose(rate, c, st.Start, st.Start+st.Dose)
		if err != nil {
			return math.NaN()
		}
		return Seconds(dose - st.Dose)
	}
	low, high := lowest, highest
	if n := len(st.Works.Table); n > 0 {
		low, high = st.Works.Table[0].T-1, st.Works.Table[n-1].T+1
	}
	if !(over(low) < 0) || !(over(high) > 0) {
		return 0, false
	}
	for range 60 {
		if mid := (low + high) / 2; over(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, true
}
