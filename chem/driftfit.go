package chem

// From readings of a bath to where it settles and how fast: the drift
// T(t) = Ts + (T0 - Ts) exp(-t/tau), Newton's law of cooling (physics).
//
// What warms a bath evenly, as hands in a tray do, is in it: m c dT/dt = -(m c/tau)(T - Ts) + P is the same law with
// the same tau, which settles P tau/(m c) higher. So readings taken as one works tell a drift with the hands in it, and
// where tau is known two of them do. No figure for P is published: hands, gloves and depth differ.
//
// For each tau the model is linear in Ts and T0 - Ts, so the fit searches tau
// alone (variable projection: Golub and Pereyra 1973, from memory). The intervals
// are profile intervals: all values with which the residual sum of squares stays
// under min (1 + t^2/(n - 3)), t of Student's distribution with n - 3 degrees of
// freedom (Bates and Watts 1988, from memory); their coverage is checked by
// simulation in the tests. Where the readings contradict the model none is given.

import (
	"errors"
	"fmt"
	"math"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
)

// Interval is a range that holds the truth with a stated confidence.
type Interval struct{ Low, High float64 }

// DriftFit is what readings of a bath tell of its drift.
type DriftFit struct {
	Drift      Drift
	Start      Celsius // at the first reading, fitted
	Doubt      DriftDoubt
	Tau        Interval // seconds; it and Settle are not given where there is a doubt; High is +Inf where the readings do not bound it
	Settle     Interval // degrees Celsius
	Residual   float64  // standard deviation of a reading about the curve, K
	Confidence float64  // of the intervals: 0.9
	PerError   float64  // of FitSettle: by how many times a reading's error Settle may be off
}

// The search for tau, relative to the length of the trial, and its bounds.
const (
	minTau     = 0.02
	maxTau     = 50.0
	tauSteps   = 240
	confidence = 0.9
)

// ErrNoDrift says that the readings do not tell a drift.
var ErrNoDrift = errors.New("the readings do not tell how the bath drifts; expected one that moves by more than its readings scatter, over a time that shows it slowing")

// FitDrift fits a drift to readings in order of time, at least five. It errs
// with ErrNoDrift where they fit any time constant.
func FitDrift(readings []Point) (DriftFit, error) {
	f, err := newDriftFitter(readings, 5)
	if err != nil {
		return DriftFit{}, err
	}
	return f.fit()
}

// FitSettle fits where a bath settles whose time constant is known to readings in order of time, at least two. From
// three on it gives an interval, which takes the time constant as exact.
func FitSettle(readings []Point, tau time.Duration) (DriftFit, error) {
	f, err := newDriftFitter(readings, 2)
	if err != nil {
		return DriftFit{}, err
	}
	if tau <= 0 {
		return DriftFit{}, fmt.Errorf("time constant: %v; expected above zero", tau)
	}
	scaled := tau.Seconds() / f.length
	rss, settle, amplitude := f.solve(scaled)
	tr := DriftFit{Start: Celsius(settle + amplitude), Drift: Drift{Settle: Celsius(settle), Tau: tau}, PerError: 1 / math.Sqrt(f.curvature(scaled))}
	if n := float64(len(f.y) - 2); n > 0 {
		tr.Residual, tr.Confidence = math.Sqrt(rss/n), confidence
		half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n}.Quantile((1+confidence)/2) * tr.Residual * tr.PerError
		tr.Settle = Interval{settle - half, settle + half}
	}
	return tr, nil
}

// newDriftFitter takes readings in order of time, so many at least.
func newDriftFitter(readings []Point, least int) (driftFitter, error) {
	if len(readings) < least {
		return driftFitter{}, fmt.Errorf("readings: %d; expected at least %d", len(readings), least)
	}
	for i, p := range readings {
		if err := p.T.check(); err != nil {
			return driftFitter{}, err
		}
		if i > 0 && p.At <= readings[i-1].At {
			return driftFitter{}, fmt.Errorf("reading %d is not later than the one before", i+1)
		}
	}
	f := driftFitter{first: readings[0].At, length: (readings[len(readings)-1].At - readings[0].At).Seconds()}
	for _, p := range readings {
		f.t = append(f.t, (p.At-f.first).Seconds()/f.length)
		f.y = append(f.y, float64(p.T))
	}
	return f, nil
}

// driftFitter holds the readings, time scaled to the length of the trial.
type driftFitter struct {
	first  time.Duration
	length float64 // seconds
	t, y   []float64
}

func (f driftFitter) fit() (DriftFit, error) {
	best, least := 0.0, math.Inf(1)
	for i := 0; i <= tauSteps; i++ {
		tau := minTau * math.Pow(maxTau/minTau, float64(i)/tauSteps)
		if rss, _, _ := f.solve(tau); rss < least {
			best, least = tau, rss
		}
	}
	step := math.Pow(maxTau/minTau, 1.0/tauSteps)
	tau := goldenSection(func(tau float64) float64 { rss, _, _ := f.solve(tau); return rss }, best/step, best*step)
	rss, settle, amplitude := f.solve(tau)
	n := float64(len(f.y) - 3)
	q := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n}.Quantile((1 + confidence) / 2)
	limit := rss*(1+q*q/n) + 1e-18
	if f.totalSquares() <= limit {
		return DriftFit{}, ErrNoDrift
	}
	tr := DriftFit{Start: Celsius(settle + amplitude), Residual: math.Sqrt(rss / n), Confidence: confidence,
		Drift: Drift{Settle: Celsius(settle), Tau: time.Duration(tau * f.length * float64(time.Second))}}
	if tr.Doubt = f.doubt(tau, settle, amplitude, tr.Residual); tr.Doubt != NoDoubt {
		return tr, nil
	}
	low, high := f.intervalEnd(tau, limit, 1/step), f.intervalEnd(tau, limit, step)
	tr.Tau = Interval{low * f.length, high * f.length}
	if high >= maxTau {
		tr.Tau.High = math.Inf(1)
	}
	tr.Settle = f.settleInterval(low, high, limit)
	return tr, nil
}

// totalSquares is the sum of squares about a bath that does not move.
func (f driftFitter) totalSquares() (rss float64) {
	mean := 0.0
	for _, y := range f.y {
		mean += y / float64(len(f.y))
	}
	for _, y := range f.y {
		rss += (y - mean) * (y - mean)
	}
	return rss
}

// solve is the best settling temperature and amplitude for a tau, by least squares.
func (f driftFitter) solve(tau float64) (rss, settle, amplitude float64) {
	var sx, sxx, sy, sxy float64
	n := float64(len(f.y))
	for i, t := range f.t {
		x := math.Exp(-t / tau)
		sx, sxx, sy, sxy = sx+x, sxx+x*x, sy+f.y[i], sxy+x*f.y[i]
	}
	det := n*sxx - sx*sx
	if det <= 0 {
		return math.Inf(1), sy / n, 0
	}
	amplitude = (n*sxy - sx*sy) / det
	settle = (sy - amplitude*sx) / n
	for i, t := range f.t {
		d := f.y[i] - settle - amplitude*math.Exp(-t/tau)
		rss += d * d
	}
	return rss, settle, amplitude
}

// intervalEnd goes from tau by factors until the sum of squares passes the limit, and
// then finds the place.
func (f driftFitter) intervalEnd(tau, limit, factor float64) float64 {
	inside := tau
	for outside := tau * factor; ; outside *= factor {
		if outside < minTau || outside > maxTau {
			return min(max(outside, minTau), maxTau)
		}
		if rss, _, _ := f.solve(outside); rss > limit {
			for range 60 {
				mid := math.Sqrt(inside * outside)
				if rss, _, _ := f.solve(mid); rss > limit {
					outside = mid
				} else {
					inside = mid
				}
			}
			return inside
		}
		inside = outside
	}
}

// settleInterval is the range of settling temperatures within the limit: at each
// tau of its interval the sum of squares is a parabola in the temperature.
func (f driftFitter) settleInterval(low, high, limit float64) Interval {
	in := Interval{math.Inf(1), math.Inf(-1)}
	const steps = 200
	for i := 0; i <= steps; i++ {
		tau := low * math.Pow(high/low, float64(i)/steps)
		rss, settle, _ := f.solve(tau)
		half := math.Sqrt(max(0, limit-rss) / f.curvature(tau))
		in.Low, in.High = min(in.Low, settle-half), max(in.High, settle+half)
	}
	return in
}

// curvature is how fast the sum of squares rises with the settling temperature,
// the amplitude following.
func (f driftFitter) curvature(tau float64) float64 {
	var sx, sxx float64
	for _, t := range f.t {
		x := math.Exp(-t / tau)
		sx, sxx = sx+x, sxx+x*x
	}
	return float64(len(f.t)) - sx*sx/sxx
}

// goldenSection is the place of a minimum between a and b, by golden section.
func goldenSection(f func(float64) float64, a, b float64) float64 {
	const ratio = 0.6180339887498949
	for range 80 {
		c, d := b-ratio*(b-a), a+ratio*(b-a)
		if f(c) < f(d) {
			b = d
		} else {
			a = c
		}
	}
	return (a + b) / 2
}
