package response

// The aim of all this: a negative whose shadow and highlight both land on the paper.

import (
	"fmt"
	"math"
	"time"
)

// Print aims at a print: the shadow stands at a density over base plus fog, the highlight higher by the
// paper's log exposure range. A print is generally satisfactory where the two ranges are equal
// (ISO 6846:1992, introduction).
type Print struct {
	Paper    float64 // the paper's log exposure range
	Subject  float64 // log luminance range of the subject, from textured shadow to textured highlight
	Flare    float64 // light that lens and camera spread over everything, as a share of the highlight's
	Shadow   float64 // density of the shadow over base plus fog
	Enlarger Enlarger
}

// Enlarger is how a negative's density counts in printing.
type Enlarger int

// The enlargers. Contact printing is as Diffuse.
const (
	Diffuse Enlarger = iota
	Condenser
)

// printing is the density that paper sees. Directed light is scattered out of its way by silver: the Callier
// factor, greatest in thin parts. The power law is ours, put so that a range of 1.05 prints
// about a grade harder (common practice, no source).
func (e Enlarger) printing(d float64) float64 {
	if e == Condenser && d > 0 {
		return 1.25 * math.Pow(d, 0.9)
	}
	return d
}

// The defaults of a print.
const (
	// DefaultSubject is seven stops and a third, the usual outdoor subject (L. A. Jones and
	// H. R. Condit, J. Opt. Soc. Am. 31 (1941) 651, from memory: 2.2).
	DefaultSubject = 2.2
	// DefaultFlare makes that subject shorter by 0.40 at its shadow end, the trade's allowance: log10((1 + f) /
	// (10^-2.2 + f)) = 1.80.
	DefaultFlare = 0.0097
	// DefaultShadow is the density of the speed point.
	DefaultShadow = speedDensity
)

// Grades are the log exposure ranges of printing papers: grade g holds from Grades[g] down to
// Grades[g+1]. Source: ANSI PH2.2-1966, appendix, which divides 0.50 to 1.70 into six grades; the limits
// between them are from memory.
var Grades = [7]float64{1.70, 1.40, 1.15, 0.95, 0.80, 0.65, 0.50}

// GradeRange is the middle of a grade's log exposure ranges. It errs outside 0 to 5.
func GradeRange(grade int) (float64, error) {
	if grade < 0 || grade > 5 {
		return 0, fmt.Errorf("paper grade %d; expected 0 to 5", grade)
	}
	return (Grades[grade] + Grades[grade+1]) / 2, nil
}

// GradeOf is the grade that a range is printed on, with its fraction: 2.0 to 2.99 within grade 2; below 0 and
// above 6 outside all.
func GradeOf(logRange float64) float64 {
	switch {
	case logRange >= Grades[0]:
		return -(logRange - Grades[0]) / (Grades[0] - Grades[1])
	case logRange <= Grades[6]:
		return 6 + (Grades[6]-logRange)/(Grades[5]-Grades[6])
	}
	for g := range 6 {
		if logRange > Grades[g+1] {
			return float64(g) + (Grades[g]-logRange)/(Grades[g]-Grades[g+1])
		}
	}
	return 6
}

func (p Print) wanted() float64 { return p.Paper }

func (p Print) reached(o One, t time.Duration) (float64, float64, bool) {
	h, ok := o.crossing(t, p.Shadow)
	top := h + p.OnFilm()
	if !ok || top > o.basis.high {
		return 0, 0, false
	}
	base := o.BaseFog(t)
	return p.Enlarger.printing(o.Density(top, t)-base) - p.Enlarger.printing(o.Density(h, t)-base), h, true
}

// OnFilm is the log exposure range that the subject has on film: flare lifts the shadow far and the
// highlight hardly.
func (p Print) OnFilm() float64 {
	return math.Log10((1 + p.Flare) / (math.Pow(10, -p.Subject) + p.Flare))
}

// FlareLift is by how much flare raises the shadow's log exposure over what the subject alone gives.
func (p Print) FlareLift() float64 { return math.Log10(1 + p.Flare*math.Pow(10, p.Subject)) }

// meterPoint is by how much the tone that is metered lies over the speed point, log H: a meter's constant puts it
// at H = 8/EI lux seconds where the speed point has 0.8/S (ISO 2720 with K = 12.5 to 14 and ISO 6).
const meterPoint = 1.0

// Index is the exposure index at which a shadow metered so many stops under the metered tone lands where the
// solution has it; exposures must be in lux seconds. Flare helps: the shadow gets more than the
// meter says.
func (p Print) Index(shadow, stopsUnder float64) float64 {
	h := shadow - p.FlareLift()
	return math.Pow(10, math.Log10(0.8)+meterPoint-stopsUnder*math.Log10(2)-h)
}

// Landing is where a negative's two ends come to lie.
type Landing struct {
	Shadow, Highlight   float64 // log exposures
	ShadowD, HighlightD float64 // densities over base plus fog
	Range               float64 // of the print: what the paper must hold
}

// Land follows a shadow at a log exposure through the likeliest surface.
func (s *Surface) Land(p Print, t time.Duration, shadow float64) Landing {
	return p.land(s.Likeliest(), t, shadow)
}

func (p Print) land(o One, t time.Duration, shadow float64) Landing {
	base := o.BaseFog(t)
	l := Landing{Shadow: shadow, Highlight: shadow + p.OnFilm()}
	l.ShadowD, l.HighlightD = o.Density(l.Shadow, t)-base, o.Density(l.Highlight, t)-base
	l.Range = p.Enlarger.printing(l.HighlightD) - p.Enlarger.printing(l.ShadowD)
	return l
}

// Chance is how likely a negative made so, its shadow exposed there, has a range from low to high.
func (s *Surface) Chance(p Print, t time.Duration, shadow, low, high float64) float64 {
	hit := 0
	draws := s.Draws(solveDraws, solveSeed, true)
	for _, o := range draws {
		if r := p.land(o, t, shadow).Range; r >= low && r <= high {
			hit++
		}
	}
	return float64(hit) / float64(len(draws))
}

// Shifted is the print of a subject so many stops longer (N-1 for one) or shorter: what N-2 to N+2 mean, by the
// print and not by a rule.
func (p Print) Shifted(development int) Print {
	p.Subject -= float64(development) * math.Log10(2)
	return p
}
