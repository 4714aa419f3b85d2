package response

// The aim of all this: a negative whose shadow and highlight both land on the paper.

import (
	"cmp"
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
	Contrast float64 // of the image by a long exposure, see chem.ContrastGain; 0: 1, a short one
	Enlarger Enlarger
}

// DefaultSubject is seven stops and a third, the usual outdoor subject (L. A. Jones and
// H. R. Condit, J. Opt. Soc. Am. 31 (1941) 651, from memory: 2.2).
const DefaultSubject = 2.2

// FlareShare is the share of light that makes the usual subject shorter by a loss, all of it but a little at the
// shadow end: log10((1 + f) / (10^-2.2 + f)) = 2.2 - loss.
func FlareShare(loss float64) float64 {
	left := math.Pow(10, DefaultSubject-loss)
	return (1 - math.Pow(10, -loss)) / (left - 1)
}

func (p Print) wanted() float64 { return p.Paper }

func (p Print) reached(l *line) (float64, float64, bool) {
	h, ok := l.crossing(p.Shadow)
	top := h + p.OnFilm()
	if !ok || top > l.end {
		return 0, 0, false
	}
	return p.land(l, h).Range, h, true
}

// OnFilm is the log exposure range that the subject has on film: flare lifts the shadow far and the
// highlight hardly; a long exposure spreads what is left.
func (p Print) OnFilm() float64 {
	return p.contrast() * math.Log10((1+p.Flare)/(math.Pow(10, -p.Subject)+p.Flare))
}

func (p Print) contrast() float64 { return cmp.Or(p.Contrast, 1) }

// FlareLift is by how much flare raises the shadow's log exposure over what the subject alone gives.
func (p Print) FlareLift() float64 { return math.Log10(1 + p.Flare*math.Pow(10, p.Subject)) }

// A meter's constant puts the tone that is metered at H = 8/EI lux seconds, 1.0 over the speed point at 0.8/S
// (ISO 2720 with K = 12.5 to 14, and ISO 6; which of it is from memory: AnchorFromMeter of chem/curve): three stops and a
// third.
const (
	meterPoint = 1.0
	isoSpeed   = 0.8
)

// SpeedPointStops is by how many stops the speed point lies under the tone that is metered.
var SpeedPointStops = meterPoint / math.Log10(2)

// Metered is the log exposure of the metered tone with which a shadow placed so many stops under it lands at a log
// exposure. Flare helps: the shadow gets more than the meter says. A long exposure, corrected for the metered tone,
// spreads what lies under it.
func (p Print) Metered(shadow, stopsUnder float64) float64 {
	return shadow + p.contrast()*(stopsUnder*math.Log10(2)-p.FlareLift())
}

// Index is the exposure index for that, where log exposures are of lux seconds.
func (p Print) Index(shadow, stopsUnder float64) float64 {
	return isoSpeed * math.Pow(10, meterPoint-p.Metered(shadow, stopsUnder))
}

// Landing is where a negative's two ends come to lie.
type Landing struct {
	Shadow, Highlight   float64 // log exposures
	ShadowD, HighlightD float64 // densities over base plus fog
	Range               float64 // of the print: what the paper must hold
	Beyond              bool    // the highlight lies beyond the readings: by the curve carried on
}

// Land follows a shadow at a log exposure through the surface to be expected.
func (s *Surface) Land(p Print, t time.Duration, shadow float64) Landing {
	l := s.expected(t)
	return p.land(&l, shadow)
}

func (p Print) land(l *line, shadow float64) Landing {
	n := Landing{Shadow: shadow, Highlight: shadow + p.OnFilm()}
	n.ShadowD, n.HighlightD = l.density(n.Shadow)-l.fog, l.density(n.Highlight)-l.fog
	n.Range = p.Enlarger.printing(n.HighlightD) - p.Enlarger.printing(n.ShadowD)
	n.Beyond = n.Highlight > l.basis.high
	return n
}

// Nearest is what comes nearest to a print that no time meets both ends of: the shadow keeps its density, the
// highlight gives way. It is the longest or the shortest time of the test, whichever comes nearer; false where
// not even the shadow is reached.
func (s *Surface) Nearest(p Print) (t time.Duration, n Landing, ok bool) {
	for _, at := range []time.Duration{s.Longest, s.Shortest} {
		l := s.expected(at)
		h, found := l.crossing(p.Shadow)
		if !found {
			continue
		}
		got := p.land(&l, h)
		if !ok || math.Abs(got.Range-p.Paper) < math.Abs(n.Range-p.Paper) {
			t, n, ok = at, got, true
		}
	}
	return t, n, ok
}

// Chance is how likely a negative made so, its shadow exposed there, prints within so many grades of the paper
// aimed at: 0.5 is the grade itself, 1 half a grade to either side of it.
func (s *Surface) Chance(p Print, t time.Duration, shadow, grades float64) float64 {
	hit := 0
	aim := GradeOf(p.Paper)
	for i := range s.next {
		l := s.next[i].line(t)
		if math.Abs(GradeOf(p.land(&l, shadow).Range)-aim) <= grades {
			hit++
		}
	}
	return float64(hit) / float64(len(s.next))
}

// Shifted is the print of a subject so many stops shorter (1: what N+1 means) or longer (-1: N-1), by the print
// and not by a rule.
func (p Print) Shifted(development int) Print {
	p.Subject -= float64(development) * math.Log10(2)
	return p
}
