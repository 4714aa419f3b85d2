package chem

// Temperatures, and how fast a developer works at them: the temperature
// coefficient, and no dependence at all. The table of pairs is in time_temperature_table.go, a
// bath whose temperature moves in drift.go.
//
// Assumed: the temperature acts on the speed at which the image grows and not
// on its limit (C. E. K. Mees, "Zeitentwicklung", Jahrbuch fuer Photographie
// 25 (1911) pp. 167, 170, who takes the coefficient as the ratio of velocity
// constants at 25 and 15 C).

import (
	"fmt"
	"math"
)

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Pair is one line of a time-temperature table: the developing time, in
// seconds, that gives at temperature T what the reference time gives at the
// reference temperature.
type Pair struct {
	T       Celsius `json:"t_c"`
	Seconds float64 `json:"time_s"`
}

// Rate tells how fast development goes at a temperature, relative to the
// reference temperature, where it is 1. It errs outside the range for which
// the rate is known.
type Rate interface {
	At(Celsius) (float64, error)
}

// Bounds of arithmetic, far outside any darkroom: beyond them a number is a slip.
const (
	maxCoefficient = 100 // temperature coefficients from 1/100 to 100
	maxCelsius     = 700 // temperatures from -700 to 700 C: what is typed without its point must be read, to be asked about
)

// ConstantRate is the rate of a step that no temperature changes: always 1.
type ConstantRate struct{}

// At returns 1 and never errs.
func (ConstantRate) At(Celsius) (float64, error) { return 1, nil }

// Coefficient is the rate by temperature coefficient: K is the ratio of the
// rates at two temperatures 10 degrees C apart, Reference the temperature at
// which the rate is 1.
type Coefficient struct {
	Reference Celsius `json:"reference_c"`
	K         float64 `json:"coefficient"`
}

// At returns K^((t - Reference)/10). It errs for a coefficient or a
// temperature that is no number of this world.
//
// Source: E. J. Wall, "Thermo-Entwicklung", Jahrbuch fuer Photographie 24
// (1910) p. 44, log K = 10 (log T - log t)/Z, solved for the rate.
func (c Coefficient) At(t Celsius) (float64, error) {
	p, err := c.rateLine(t)
	if err != nil {
		return 0, err
	}
	return math.Exp(p.lnRate(float64(t))), nil
}

// rateLine is the one straight line that ln(time) follows.
func (c Coefficient) rateLine(t Celsius) (rateLine, error) {
	if !(c.K >= 1.0/maxCoefficient && c.K <= maxCoefficient) {
		return rateLine{}, fmt.Errorf("temperature coefficient: %g is out of bounds; expected a ratio of rates for 10 C such as 2.2", c.K)
	}
	if err := t.check(); err != nil {
		return rateLine{}, err
	}
	if err := c.Reference.check(); err != nil {
		return rateLine{}, fmt.Errorf("reference %w", err)
	}
	return rateLine{at: float64(c.Reference), slope: -math.Log(c.K) / 10}, nil
}

// FitCoefficient returns the temperature coefficient that developing times of equal result
// give, each the time At at its temperature T, two at least: the slope of ln(time) over
// temperature by least squares, which for two times goes through both.
//
// Source: Wall 1910, as at Coefficient.At; least squares because each time is known to about
// the same fraction of itself.
func FitCoefficient(times []Point) (float64, error) {
	if len(times) < 2 {
		return 0, fmt.Errorf("temperature coefficient: developing times: %d; expected two at least", len(times))
	}
	coldest, warmest := times[0].T, times[0].T
	meanT := 0.0
	for _, p := range times {
		if err := p.T.check(); err != nil {
			return 0, err
		}
		if p.At <= 0 {
			return 0, fmt.Errorf("temperature coefficient: a time of %v; expected above zero", p.At)
		}
		coldest = min(coldest, p.T)
		warmest = max(warmest, p.T)
		meanT += float64(p.T) / float64(len(times))
	}
	if warmest-coldest < 1 {
		return 0, fmt.Errorf("temperature coefficient: temperatures from %g to %g C are too near; expected at least 1 C between them", coldest, warmest)
	}
	over, under := 0.0, 0.0
	for _, p := range times {
		x := float64(p.T) - meanT
		over += x * math.Log(p.At.Seconds()) // x sums to nothing: the mean of the logarithms need not be taken off
		under += x * x
	}
	k := math.Exp(-10 * over / under)
	if !(k >= 1 && k <= maxCoefficient) {
		return 0, fmt.Errorf("temperature coefficient: the times give %.3g; expected the warmer bath to take the shorter time", k)
	}
	return k, nil
}

// check errs for a temperature outside the bounds of arithmetic, NaN included.
func (t Celsius) check() error {
	if !(math.Abs(float64(t)) <= maxCelsius) {
		return fmt.Errorf("temperature: %s is out of bounds; expected %s to %s", t.InBoth(), Celsius(-maxCelsius).InBoth(), Celsius(maxCelsius).InBoth())
	}
	return nil
}

// rateLine is a range of temperature over which ln(time) is a straight line in
// the temperature: ln + slope (T - at), less ln(time) at the reference.
type rateLine struct {
	at, ln, slope float64
	reference     float64 // ln(time) at the reference temperature
}

func (p rateLine) lnTime(t float64) float64 {
	return p.ln + float64(p.slope*(t-p.at)) // float64: no fused multiply, so that equal inputs cancel exactly
}

// lnRate is exactly zero at the reference temperature.
func (p rateLine) lnRate(t float64) float64 { return p.reference - p.lnTime(t) }
