package schedule

// How well the developer's temperature is known, and so how far development may be off: by the errors of the
// person's thermometers and by what a bath does while nobody reads it.

import (
	"math"

	"example.org/wetside/chem"
	"example.org/wetside/chem/estimate"
	"example.org/wetside/sequence"
)

// Errors of a reading by itself, where its thermometer has any (our own rules: a scale read to a fifth of a degree,
// a digit of 0.1 °C), K.
const (
	handNoise   = 0.1
	sensorNoise = 0.03
)

// Ninety is how many standard deviations hold nine cases of ten, as all bands here do.
const Ninety = 1.645

// EstimatedBath is the bath of step i for the filter. A class is the most that a thermometer is off, anywhere within
// alike: its standard deviation is that over the root of three (JCGM 100:2008, 4.3.7).
func EstimatedBath(p *sequence.Plan, i int) estimate.Bath {
	b := estimate.Bath{Drift: p.Course(&p.Steps[i]).Drift, Wander: estimate.Wander}
	for k, by := range []struct {
		source string
		noise  float64
	}{{sequence.ByHand, handNoise}, {sequence.BySensor, sensorNoise}} {
		if within := p.Conditions.Thermometers.Of(by.source).Within; within > 0 {
			b.Thermometers[k] = estimate.Errors{Offset: float64(within) / math.Sqrt(3), Noise: by.noise}
		}
	}
	return b
}

// HasErrors reports whether a thermometer is said to have any.
func HasErrors(p *sequence.Plan) bool {
	t := p.Conditions.Thermometers
	return t.Of(sequence.ByHand).Within > 0 || t.Of(sequence.BySensor).Within > 0
}

// PlannedReading is the reading that step i is planned by: the person's, or the recipe's temperature.
func PlannedReading(p *sequence.Plan, i int) estimate.Reading {
	r := p.Course(&p.Steps[i]).Readings[0]
	return estimate.Reading{At: r.At, T: r.T}
}

// DoseError is how far the development of what is in step i may be off, as a share, in nine cases of ten, where its
// bath's mean temperature has a standard deviation.
func DoseError(rate chem.Rate, mean chem.Celsius, deviation float64) float64 {
	const d = 0.05
	low, err1 := rate.At(mean - d)
	high, err2 := rate.At(mean + d)
	if err1 != nil || err2 != nil || !(low > 0) || !(high > 0) {
		return 0
	}
	return Ninety * deviation * math.Abs(math.Log(high/low)) / (2 * d)
}

// What is worth saying of how well development is known (our own rules).
const (
	ToldFrom    = 0.02 // share from which an error is told
	WorthAnew   = 0.75 // another reading is asked for where it leaves no more of the error
	soonestRead = 20e9 // ns: hands need as long
)

// PlannedError is what the development of step i may be off by, as a share, for all that is known before film is wet,
// and when a reading would help most; false where thermometers are exact, as far as is known.
func PlannedError(p *sequence.Plan, i int) (at sequence.Elapsed, without, with float64, worth, ok bool) {
	st := &p.Steps[i]
	rate, err := st.Rate()
	if err != nil || st.TimeByTemperature == nil || !HasErrors(p) {
		return 0, 0, 0, false, false
	}
	b := EstimatedBath(p, i)
	s := b.Until(b.Begin(PlannedReading(p, i)), st.Start).Counting()
	at, without, with, worth = NextReading(b, rate, s, st.Start+st.Given)
	return at, without, with, worth, true
}

// NextReading is when a reading by hand would help film that is in step i until a moment most, and what its
// development may be off by without and with it; false where that is little, or a reading helps little.
func NextReading(b estimate.Bath, rate chem.Rate, s estimate.State, end sequence.Elapsed) (at sequence.Elapsed, without, with float64, ok bool) {
	at, before, after := b.NextReading(s, end, estimate.Hand)
	mean, _ := b.Until(s, end).Mean()
	without, with = DoseError(rate, mean, before), DoseError(rate, mean, after)
	return at, without, with, without > ToldFrom && with <= WorthAnew*without && end-s.At() > soonestRead
}
