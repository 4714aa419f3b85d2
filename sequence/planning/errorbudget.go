package planning

// How exact a plan can be: what small errors of the hand and the thermometer do
// to development, and how warm a drifting bath must start.

import (
	"math"

	"example.org/wetside/sequence"
)

// ErrorBudget is what each error does to a developing step, as a fraction of its
// development. Errors of a degree, of seconds and of agitation are independent:
// together they add as squares.
type ErrorBudget struct {
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

// ErrorBudgets is the error budget of each developing step.
func ErrorBudgets(p *sequence.Plan) []ErrorBudget {
	list := []ErrorBudget{}
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Kind != sequence.Develop || st.Given <= 0 {
			continue
		}
		b := ErrorBudget{Step: st.Name, HalfDegree: halfDegree(st), TenSeconds: 10 / sequence.Seconds(st.Given), Agitation: agitationError}
		b.Together = math.Sqrt(b.HalfDegree*b.HalfDegree + b.TenSeconds*b.TenSeconds + b.Agitation*b.Agitation)
		if g := st.Growth; g != nil && len(growthDiffers(p, st)) == 0 {
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
func halfDegree(st *sequence.PlanStep) float64 {
	if st.TimeByTemperature == nil || st.Temperature == nil {
		return 0
	}
	rate, err := st.Rate()
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
