package curve

// From what a test leaves open to intervals: of the time for a gradient, of the limit and of
// k; and the time that would have been right for one sheet, once it is assumed how fast the gradient
// grows.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
)

const confidence = 0.9

// timeWithin is the chance that the time for a gradient is at most so many minutes: that the
// gradient has then been reached. With next it is the time that the next session wants,
// which has a scatter from the usual of its own.
func (b belief) timeWithin(minutes, gradient float64, next bool) (chance float64) {
	for _, c := range b {
		v := grown(c.k, minutes-c.t0)
		if v <= 0 {
			continue
		}
		sd := c.sd
		if next {
			sd = math.Hypot(sd, c.sessions*c.limit)
		}
		chance += c.weight * distuv.UnitNormal.CDF((c.limit-gradient/v)/sd)
	}
	return chance
}

// time is the interval of the time for a gradient, in seconds; an end is nil where it
// lies beyond a day.
func (b belief) time(gradient float64, next bool) (low, high *float64) {
	end := func(p float64) *float64 {
		m, ok := rootOf(func(m float64) float64 { return b.timeWithin(m, gradient, next) - p }, 1e-3, maxMinutes)
		if !ok {
			return nil
		}
		m *= 60
		return &m
	}
	return end((1 - confidence) / 2), end((1 + confidence) / 2)
}

// rootOf is where a rising function comes to zero, by halving on a logarithmic scale;
// false where it does not between the bounds.
func rootOf(f func(float64) float64, low, high float64) (x float64, ok bool) {
	if f(low) > 0 || f(high) < 0 {
		return 0, false
	}
	for high/low > 1+1e-7 {
		if mid := math.Sqrt(low * high); f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Sqrt(low * high), true
}

// leastPart is how much a part of the belief must weigh for its interval to count.
const leastPart = 0.02

// intervals are those of limit, k and induction. Each holds for a film without a time of
// induction and for one with it, as far as the sheets leave both possible: which of the two
// the film is, a test seldom tells.
func (b belief) intervals() *GrowthIntervals {
	var without, with belief
	for _, c := range b {
		if c.t0 == 0 {
			without = append(without, c)
		} else {
			with = append(with, c)
		}
	}
	var limit, k, induction []distribution
	for _, part := range []belief{without, with} {
		if part.mean(func(growthBelief) float64 { return 1 }) < leastPart {
			continue
		}
		limit = append(limit, part.limits())
		k = append(k, part.values(func(c growthBelief) float64 { return c.k }))
		induction = append(induction, part.values(func(c growthBelief) float64 { return c.t0 }))
	}
	return &GrowthIntervals{Confidence: confidence, Limit: forEach(limit), K: forEach(k), Induction: forEach(induction)}
}

// distribution is what is believed of a value.
type distribution struct {
	quantile func(p float64) float64
	below    func(x float64) float64
}

// forEach is the narrowest interval with equal tails that holds nine tenths of each
// distribution. Where two lie apart, a value of the one can lie beyond one end alone, and that end's
// tail is a tenth: twice twentieths would hold 95 % (G. W. Imbens and C. F. Manski, Econometrica 72
// (2004) 1845-1857, from memory).
func forEach(list []distribution) Interval {
	ends := func(p float64) Interval {
		in := Interval{math.Inf(1), math.Inf(-1)}
		for _, d := range list {
			in = Interval{min(in.Low, d.quantile(p)), max(in.High, d.quantile(1-p))}
		}
		return in
	}
	held := func(p float64) bool {
		in := ends(p)
		for _, d := range list {
			if d.below(in.High)-d.below(in.Low) < confidence-1e-9 {
				return false
			}
		}
		return true
	}
	safe, most := (1-confidence)/2, 1-confidence
	if len(list) > 1 && held(most) {
		return ends(most)
	}
	for range tailSteps * (len(list) - 1) {
		if p := (safe + most) / 2; held(p) {
			safe = p
		} else {
			most = p
		}
	}
	return ends(safe)
}

const tailSteps = 6 // a thousandth of what is believed

// limits is what is believed of the limit.
func (b belief) limits() distribution {
	all := b.mean(func(growthBelief) float64 { return 1 })
	below := func(x float64) float64 {
		return b.mean(func(c growthBelief) float64 { return distuv.UnitNormal.CDF((x - c.limit) / c.sd) }) / all
	}
	return distribution{below: below, quantile: func(p float64) float64 {
		x, ok := rootOf(func(x float64) float64 { return below(x) - p }, 1e-3, greatestLimit)
		if !ok {
			return greatestLimit
		}
		return x
	}}
}

// greatestLimit is beyond what any film is drawn to.
const greatestLimit = 100

// values is what is believed of another value.
func (b belief) values(of func(growthBelief) float64) distribution {
	list := b.spreadOf(of)
	all := 0.0
	for _, w := range list {
		all += w.weight
	}
	return distribution{
		quantile: func(p float64) float64 { return weightedQuantile(list, all*p) },
		below:    func(x float64) float64 { return weightBelow(list, x) / all },
	}
}

// spreadOf is a value of all curves with its weight, rising.
func (b belief) spreadOf(of func(growthBelief) float64) (list []weighted) {
	at := map[float64]float64{}
	for _, c := range b {
		at[of(c)] += c.weight
	}
	for v, w := range at {
		list = append(list, weighted{v, w})
	}
	slices.SortFunc(list, func(a, b weighted) int { return cmp.Compare(a.value, b.value) })
	return list
}

// weightedQuantile of values that rise, linear between the middles of their weights.
func weightedQuantile(list []weighted, p float64) float64 {
	below, last := 0.0, weighted{}
	at := math.Inf(-1)
	for i, w := range list {
		middle := below + w.weight/2
		if p <= middle {
			if i == 0 {
				return w.value
			}
			return last.value + (p-at)/(middle-at)*(w.value-last.value)
		}
		below, last, at = below+w.weight, w, middle
	}
	return last.value
}

// weightBelow is the weight below a value: the inverse of weightedQuantile, all of it from the last on.
func weightBelow(list []weighted, x float64) float64 {
	below, last := 0.0, weighted{}
	at := 0.0
	for i, w := range list {
		middle := below + w.weight/2
		if x < w.value {
			if i == 0 {
				return 0
			}
			return at + (x-last.value)/(w.value-last.value)*(middle-at)
		}
		below, last, at = below+w.weight, w, middle
	}
	return below
}

// mean is the mean of a value, where the weights sum to 1.
func (b belief) mean(of func(growthBelief) float64) (sum float64) {
	for _, c := range b {
		sum += c.weight * of(c)
	}
	return sum
}

// growthUncertainty is by how much an assumed rate of growth may be wrong: two times in three
// within this factor either way (our own rule; the growth of films tested in one
// developer differs by about so much).
const growthUncertainty = 1.35

// HalfLimitRate is the rate at which a time gives half the limit of the gradient: what
// is assumed of a film of which nothing else is known (our own rule, as in Expect).
func HalfLimitRate(t time.Duration) PerMinute { return PerMinute(math.Ln2 / minutes(t)) }

// FromOneSheet is the time for a gradient from one sheet, with the rate of growth and the
// time of induction assumed. The interval, 90 %, carries the sheet's own scatter, what its
// readings leave open, the scatter from session to session, and an assumed rate that may be
// wrong by a third; with sure it is believed as it is, for one that was fitted in a test of the
// same film. It errs for a gradient that the curve so assumed never reaches, and for a sheet
// that came out before the induction was over.
func FromOneSheet(s Sheet, assumed Growth, sure bool, gradient float64, e Errors) (Target, Growth, error) {
	if err := e.complete(); err != nil {
		return Target{}, Growth{}, err
	}
	k, developed := float64(assumed.K), minutes(s.Time)-float64(assumed.Induction)
	if !(s.Time > 0 && s.Gradient > 0 && k > 0 && gradient > 0 && assumed.Induction >= 0) {
		return Target{}, Growth{}, fmt.Errorf("one sheet: time %v, gradient %.3g, growth %.3g a minute; expected above zero", s.Time, s.Gradient, k)
	}
	if !(developed > 0) {
		return Target{}, Growth{}, fmt.Errorf("one sheet: time %v, and %.3g min of induction; expected a longer time", s.Time, float64(assumed.Induction))
	}
	growth := Growth{Limit: s.Gradient / grown(k, developed), K: assumed.K, Induction: assumed.Induction}
	t, err := growth.Time(gradient)
	if err != nil {
		return Target{}, growth, err
	}
	p := growthPrior{k: k, kSpread: math.Log(growthUncertainty), inductions: []weighted{{float64(assumed.Induction), 1}}}
	if sure {
		p.kSpread = 0
	}
	ofReadings := float64(e.Reading) * math.Sqrt2 / averagedOver // both ends of the average gradient
	one := []measuredSheet{{minutes: minutes(s.Time), gradient: s.Gradient, reading: ofReadings}}
	b := believe(one, func(float64) float64 { return s.Gradient }, p, []weighted{{e.Scatter, 1}}, e.sessionsOf(1))
	target := Target{Kind: "average", AverageGradient: gradient, Time: t.Seconds(), Confidence: confidence}
	target.Low, target.High = b.time(gradient, true)
	target.OwnLow, target.OwnHigh = b.time(gradient, false)
	return target, growth, nil
}

// Sheets are the developing times with their average gradients, shortest first.
func (out Results) Sheets() []Sheet {
	list := slices.Clone(out.sheets)
	slices.SortFunc(list, func(a, b Sheet) int { return int(a.Time - b.Time) })
	return list
}
