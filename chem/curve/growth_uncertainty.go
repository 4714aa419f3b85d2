package curve

// What a film test leaves open: every growth curve that its sheets allow, each with the
// weight that it deserves. From these come the intervals of a time, of the limit and of k.
//
// Method: Bayes's rule on a grid. Before the test k and the time of induction are believed
// to lie about where films in use have them (a growthPrior), and the gradient in the middle of
// the tested times anywhere. For each pair on the grid, and each size of the scatters,
// the limit follows by generalised least squares: its normal distribution is known in
// closed form, and so is how well that curve explains the sheets. A gradient's error is the
// scatter from sheet to sheet, in proportion to the gradient; what its readings leave
// open; and the scatter from session to session, which all sheets of a session share. So two
// sheets, which leave no residuals, have an interval as wide as their errors make it, and six
// correct the usual scatter by their own.
//
// The time of induction is believed possible also where none was fitted: with a test of
// usual length nothing tells a film without one from a film with a minute or two.
//
// Sources: A. Gelman and others, Bayesian Data Analysis, 3rd ed. 2013, ch. 3 (grids) and 5
// (scatter between groups), from memory. testdata/belief.py integrates the same beliefs
// without a grid (scipy); TestCoverage counts how often the intervals hold.

import (
	"cmp"
	"math"
	"slices"
)

// What is believed of films before a test (our own rules; the growth of films tested in one
// developer differs by about a factor of two).
const (
	usualCurvature  = 0.8 // k times the middle of the tested times: half of the limit and a little more
	curvatureSpread = 0.7 // of its logarithm
	noInduction     = 0.5 // the chance that there is none worth the name
	longestUnfitted = 3   // minutes of induction, where none was fitted
	curvatures      = 41  // points of the grid
	inductions      = 7
	leastWeight     = 1e-6 // of the greatest: what is believed less is left out
)

// growthPrior is what is believed of k and the time of induction before the sheets are looked at.
type growthPrior struct {
	k          float64 // a minute
	kSpread    float64 // of its logarithm; 0: it is known
	inductions []weighted
}

// measuredSheet is one sheet's gradient with what it may be off by itself.
type measuredSheet struct {
	minutes, gradient float64
	reading           float64 // standard deviation that its readings leave
	session           int
}

// growthBelief is a growth curve and the weight that it has.
type growthBelief struct {
	k, t0     float64
	limit, sd float64 // normal
	scatter   float64
	sessions  float64 // scatter from session to session
	weight    float64
}

// belief is everything that a test allows; weights sum to 1.
type belief []growthBelief

// priorFor is what is believed of a film before a test at these times; induction says
// that a time of induction is taken for certain.
func priorFor(sheets []measuredSheet, induction bool) growthPrior {
	first, mean := math.Inf(1), 0.0
	for _, s := range sheets {
		first = min(first, s.minutes)
		mean += math.Log(s.minutes) / float64(len(sheets))
	}
	p := growthPrior{k: usualCurvature / math.Exp(mean), kSpread: curvatureSpread}
	longest := first * maxT0
	if !induction {
		longest = min(longest, longestUnfitted)
		p.inductions = append(p.inductions, weighted{0, noInduction})
	}
	for i := range inductions {
		p.inductions = append(p.inductions, weighted{longest * (float64(i) + 0.5) / inductions, (1 - noInduction) / inductions})
	}
	return p
}

// believe weighs growth curves by the sheets. Fitted gives the gradients that errors are
// in proportion to.
func believe(sheets []measuredSheet, fitted func(minutes float64) float64, p growthPrior, scatters, sessions []weighted) belief {
	w := newWeigher(sheets, fitted, p, scatters, sessions)
	if p.kSpread == 0 {
		return w.normalised(w.over([]weighted{{p.k, 1}}))
	}
	// first over all of the prior, then again where the weight is
	b := w.normalised(w.over(p.curvatures(-3.5, 3.5)))
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range b {
		z := math.Log(c.k/p.k) / p.kSpread
		low, high = min(low, z), max(high, z)
	}
	step := 7.0 / (curvatures - 1)
	return w.normalised(w.over(p.curvatures(low-step, high+step)))
}

// curvatures are values of k, evenly spaced in the logarithm between so many spreads.
func (p growthPrior) curvatures(from, to float64) (list []weighted) {
	for i := range curvatures {
		z := from + (to-from)*float64(i)/(curvatures-1)
		list = append(list, weighted{p.k * math.Exp(p.kSpread*z), math.Exp(-z * z / 2)})
	}
	return list
}

// weigher holds what all curves are weighed by.
type weigher struct {
	sheets             []measuredSheet
	mean               []float64 // fitted gradients
	apart              []int     // the sessions
	middle             float64   // minutes
	prior              growthPrior
	scatters, sessions []weighted
}

func newWeigher(sheets []measuredSheet, fitted func(minutes float64) float64, p growthPrior, scatters, sessions []weighted) *weigher {
	w := &weigher{sheets: sheets, prior: p, scatters: scatters, sessions: sessions}
	middle := 0.0
	for _, s := range sheets {
		w.mean = append(w.mean, max(fitted(s.minutes), 0.01))
		w.apart = append(w.apart, s.session)
		middle += math.Log(s.minutes) / float64(len(sheets))
	}
	slices.Sort(w.apart)
	w.apart = slices.Compact(w.apart)
	w.middle = math.Exp(middle)
	return w
}

// over weighs every combination; weights are logarithms.
func (w *weigher) over(ks []weighted) (b belief) {
	v := make([]float64, len(w.sheets))
	for _, k := range ks {
		for _, t0 := range w.prior.inductions {
			for i, s := range w.sheets {
				v[i] = grown(k.value, s.minutes-t0.value)
			}
			inMiddle := grown(k.value, w.middle-t0.value)
			for _, scatter := range w.scatters {
				for _, session := range w.sessions {
					c := growthBelief{k: k.value, t0: t0.value, scatter: scatter.value, sessions: session.value}
					fits := w.fit(&c, v)
					c.weight = math.Log(k.weight*t0.weight*scatter.weight*session.weight) + fits + math.Log(c.sd*inMiddle)
					b = append(b, c)
				}
			}
		}
	}
	return b
}

// grown is the share of the limit that is reached after so many minutes.
func grown(k, minutes float64) float64 { return max(0, -math.Expm1(-k*minutes)) }

// fit finds the limit by generalised least squares, and how well the curve explains the
// gradients: the logarithm of their density, but for the limit's own spread. The sheets of a
// session share an error in proportion to the gradient, whose covariance is inverted
// by Sherman and Morrison's formula.
func (w *weigher) fit(c *growthBelief, v []float64) (fits float64) {
	var vv, vg, gg, logs float64
	for _, session := range w.apart {
		var vm, gm, mm float64
		for i, s := range w.sheets {
			if s.session != session {
				continue
			}
			own := c.scatter * w.mean[i]
			variance := own*own + s.reading*s.reading
			vv += v[i] * v[i] / variance
			vg += v[i] * s.gradient / variance
			gg += s.gradient * s.gradient / variance
			vm += v[i] * w.mean[i] / variance
			gm += s.gradient * w.mean[i] / variance
			mm += w.mean[i] * w.mean[i] / variance
			logs += math.Log(variance)
		}
		shared := c.sessions * c.sessions
		less := shared / (1 + shared*mm)
		vv -= less * vm * vm
		vg -= less * vm * gm
		gg -= less * gm * gm
		logs += math.Log1p(shared * mm)
	}
	c.limit, c.sd = vg/vv, 1/math.Sqrt(vv)
	return -(gg-vg*vg/vv)/2 - logs/2
}

// heaviest is the greatest weight.
func (b belief) heaviest() float64 {
	return slices.MaxFunc(b, func(a, b growthBelief) int { return cmp.Compare(a.weight, b.weight) }).weight
}

// normalised turns logarithms of weights into weights that sum to 1, and leaves out what
// weighs next to nothing.
func (w *weigher) normalised(b belief) belief {
	most, sum := b.heaviest(), 0.0
	kept := b[:0]
	for _, c := range b {
		if c.weight = math.Exp(c.weight - most); c.weight > leastWeight {
			kept = append(kept, c)
			sum += c.weight
		}
	}
	for i := range kept {
		kept[i].weight /= sum
	}
	return kept
}
