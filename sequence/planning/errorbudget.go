package planning

// How exact a plan can be: what small errors of the hand and the thermometer do
// to development, and how warm a drifting bath must start.

import (
	"math"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// ErrorBudget is what each error does to a developing step, as a fraction of its
// development. Errors of a degree, of seconds, of agitation and of the coefficient are independent:
// together they add as squares, the larger side of the coefficient's.
type ErrorBudget struct {
	Step       string  `json:"step"`
	HalfDegree float64 `json:"half_degree"`
	TenSeconds float64 `json:"ten_seconds"`
	Agitation  float64 `json:"agitation"`
	Sessions   int     `json:"own_sessions"` // of the person's own that Agitation is from; 0: common practice

	// What the temperature coefficient's own uncertainty does away from the reference temperature: the least
	// and the most that development may be off by; 0 at the reference, and for a table.
	CoefficientLow  float64 `json:"coefficient_low"`
	CoefficientHigh float64 `json:"coefficient_high"`
	Assumed         bool    `json:"coefficient_assumed"` // the recipe states none

	Temperature float64 `json:"temperature"` // what today's readings leave open of the bath's; 0 where thermometers are exact, as far as is known

	Reuse float64 `json:"reuse"` // what the growth of its time with use may be off by; 0 for a fresh bath

	Together float64 `json:"together"`

	// Gradient is what all of it together does to the average gradient, where the step's
	// growth is known and belongs to it; nil elsewhere.
	Gradient *float64 `json:"gradient"`
}

// agitationError is the share by which agitation differs from one session to
// the next in careful hands (common practice, no source). Where the person's own sessions tell by how
// much they differ, that stands in its place: it holds degrees and seconds too, so that all
// together is then a little too much rather than too little.
const agitationError = 0.05

// steepness is by which share the average gradient grows for each share of development more: by the
// step's own growth where that belongs to it, else as of a film that has reached half its limit
// (our own rule, as where nothing else of a film is known): k t exp(-k t)/(1 - exp(-k t)) = ln 2.
func steepness(p *sequence.Plan, st *sequence.PlanStep) float64 {
	if g := st.Growth; g != nil && len(growthDiffers(p, st)) == 0 && g.Slope(st.Dose) > 0 {
		return g.Slope(st.Dose) / g.At(st.Dose)
	}
	return math.Ln2
}

// ErrorBudgets is the error budget of each developing step.
func ErrorBudgets(p *sequence.Plan) []ErrorBudget {
	list := []ErrorBudget{}
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Kind != sequence.Develop || st.Given <= 0 {
			continue
		}
		b := ErrorBudget{Step: st.Name, HalfDegree: halfDegree(st), TenSeconds: 10 / sequence.Seconds(st.Given), Agitation: agitationError}
		if own := p.Conditions.OwnSessions; own != nil {
			b.Agitation, b.Sessions = own.Gradient/steepness(p, st), own.Sessions
		}
		b.CoefficientLow, b.CoefficientHigh = coefficientError(st)
		b.Assumed = st.AssumesCoefficient()
		coefficient := max(-b.CoefficientLow, b.CoefficientHigh)
		if u := st.Reused; u != nil {
			b.Reuse = ReuseDoubt * (u.Factor - 1) / u.Factor
		}
		temperature := b.HalfDegree
		if _, by, _, _, ok := schedule.PlannedError(p, i); ok {
			b.Temperature, temperature = by, by
		}
		b.Together = math.Sqrt(temperature*temperature + b.TenSeconds*b.TenSeconds + b.Agitation*b.Agitation + coefficient*coefficient + b.Reuse*b.Reuse)
		if g := st.Growth; g != nil && len(growthDiffers(p, st)) == 0 {
			b.Gradient = new(g.Slope(st.Fresh(st.Dose)) * b.Together)
		}
		list = append(list, b)
	}
	return list
}

// The band of temperature coefficients about DefaultCoefficient: from that of a published table for film, 1.916
// (USAF T.O. 33B-1-1, Table 6-16), past E. J. Wall's 2.358 (1910), to what film developers in use go by at
// most, 0.68 of the time for 4 C more, 2.62 (common practice, no source). Single tables span 1.47 to 4.06;
// who has one should say so. A coefficient that a recipe states is taken to be known no better in proportion: who
// measured it knows better.
const (
	leastCoefficient = 1.9
	mostCoefficient  = 2.6
)

// coefficientError is how far development may be off today because the coefficient is not known exactly, as
// fractions, the lower first: (K'/K)^((T - reference)/10) - 1 for both ends of the band, T as steady as gives
// today's time.
func coefficientError(st *sequence.PlanStep) (low, high float64) {
	w := st.TimeByTemperature
	if w == nil || len(w.Table) > 0 || w.Coefficient <= 1 || st.Dose <= 0 {
		return 0, 0
	}
	tens := math.Log(float64(st.Dose)/float64(st.Given)) / math.Log(w.Coefficient) // (T - reference)/10
	a := math.Pow(leastCoefficient/DefaultCoefficient, tens) - 1
	b := math.Pow(mostCoefficient/DefaultCoefficient, tens) - 1
	return min(a, b), max(a, b)
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
