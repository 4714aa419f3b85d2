// Package estimate is the temperature of a bath as readings with errors tell it: an estimate with its standard
// deviation, for the bath now and for its mean since a moment, which is what development goes by.
//
// For the engine and the planner. Start with Bath.Begin, Take and Until. The model: between readings the bath
// follows Newton's law of cooling where its drift is known, else it stays, and wanders besides (a random walk); each
// thermometer is off by an amount that stays the same for a session, and by another for each reading. The filter is
// Kalman's (R. E. Kalman, J. Basic Eng. 82 (1960) 35-45), exact for this model; it keeps four numbers and how they
// go together, so that a day of readings costs each no more than the first. A thermometer without errors is
// believed to the bit.
package estimate

import (
	"math"
	"time"

	"example.org/wetside/chem"
)

// Thermometer is one of the two that a session has.
type Thermometer int

// The thermometers.
const (
	Hand Thermometer = iota
	Sensor
)

// Errors are how far a thermometer is off, as standard deviations in K.
type Errors struct {
	Offset float64 // the same for all its readings
	Noise  float64 // of each reading by itself
}

// Bath is a bath and the thermometers in it.
type Bath struct {
	Thermometers [2]Errors
	Drift        *chem.Drift // nil: it stays as it is
	Wander       float64     // K in a minute, by which it departs from that, growing as the root of time
}

// Wander is what is taken for an open bath beside a person (our own rule: half a degree in 25 minutes).
const Wander = 0.1

// Reading is what a thermometer said.
type Reading struct {
	At time.Duration
	T  chem.Celsius
	By Thermometer
}

// Indices of a state: the bath, the offset of each thermometer, the integral of the bath's temperature.
const (
	bath     = 0
	offset   = 1 // of Hand; Sensor's is behind it
	integral = 3
	size     = 4
)

// State is what is known at a moment. Make one with Begin. Copies are independent.
type State struct {
	at, from time.Duration // from: since when the mean counts
	x        [size]float64
	p        [size][size]float64 // covariances
}

// Begin is what one reading tells, and nothing before it.
func (b Bath) Begin(r Reading) State {
	s := State{at: r.At, from: r.At}
	s.x[bath] = float64(r.T)
	for t, e := range b.Thermometers {
		s.p[offset+t][offset+t] = e.Offset * e.Offset
	}
	e, k := b.Thermometers[r.By], offset+int(r.By)
	s.p[bath][bath] = e.Offset*e.Offset + e.Noise*e.Noise
	s.p[bath][k], s.p[k][bath] = -e.Offset*e.Offset, -e.Offset*e.Offset
	return s
}

// Until is what is known at a later moment, without another reading; an earlier one changes nothing.
func (b Bath) Until(s State, at time.Duration) State {
	if at <= s.at {
		return s
	}
	m := b.motion((at - s.at).Minutes())
	s.at = at
	excess := s.x[bath] - m.settle
	if m.settles {
		s.x[integral] += m.settle*m.minutes + excess*m.toIntegral
		s.x[bath] = m.settle + excess*m.keeps
	} else {
		s.x[integral] += s.x[bath] * m.minutes
	}
	// P = F P F', F the identity but for how the bath keeps and adds to the integral
	var rows [size][size]float64
	for j := range size {
		rows[bath][j] = m.keeps * s.p[bath][j]
		rows[offset][j], rows[offset+1][j] = s.p[offset][j], s.p[offset+1][j]
		rows[integral][j] = s.p[integral][j] + m.toIntegral*s.p[bath][j]
	}
	for i := range size {
		s.p[i] = [size]float64{m.keeps * rows[i][bath], rows[i][offset], rows[i][offset+1], rows[i][integral] + m.toIntegral*rows[i][bath]}
	}
	s.p[bath][bath] += m.q[0]
	s.p[bath][integral] += m.q[1]
	s.p[integral][bath] += m.q[1]
	s.p[integral][integral] += m.q[2]
	return s
}

// motion is how a bath moves in some minutes.
type motion struct {
	minutes, settle   float64
	settles           bool
	keeps, toIntegral float64    // of its distance from where it settles: what is left, and what adds to the integral
	q                 [3]float64 // what wandering adds to the variances: bath, both, integral
}

// motion has the closed forms of an Ornstein-Uhlenbeck process and its integral; of a random walk where the bath does
// not drift, and where the time is so short that both are alike.
func (b Bath) motion(t float64) motion {
	q := b.Wander * b.Wander
	m := motion{minutes: t, keeps: 1, toIntegral: t, q: [3]float64{q * t, q * t * t / 2, q * t * t * t / 3}}
	if b.Drift == nil || b.Drift.Tau <= 0 {
		return m
	}
	const alike = 1e-4
	tau := b.Drift.Tau.Minutes()
	m.settle, m.settles = float64(b.Drift.Settle), true
	gone := -math.Expm1(-t / tau)
	m.keeps, m.toIntegral = 1-gone, tau*gone
	if t/tau > alike {
		m.q = [3]float64{-q * tau / 2 * math.Expm1(-2*t/tau), q * tau * tau / 2 * gone * gone,
			q * tau * tau * (t - 2*tau*gone - tau/2*math.Expm1(-2*t/tau))}
	}
	return m
}

// Take is what is known with a reading more, which must not be earlier than the state.
func (b Bath) Take(s State, r Reading) State {
	s = b.Until(s, r.At)
	k, e := offset+int(r.By), b.Thermometers[r.By]
	var gain [size]float64 // P H', H taking the bath and the thermometer's offset
	for i := range size {
		gain[i] = s.p[i][bath] + s.p[i][k]
	}
	spread := gain[bath] + gain[k] + e.Noise*e.Noise
	if spread > 0 {
		surprise := float64(r.T) - s.x[bath] - s.x[k]
		for i := range size {
			s.x[i] += gain[i] / spread * surprise
		}
		for i := range size {
			for j := range size {
				s.p[i][j] -= gain[i] * gain[j] / spread
			}
		}
	}
	if e == (Errors{}) {
		s.x[bath] = float64(r.T) // to the bit
		for i := range size {
			s.p[i][bath], s.p[bath][i] = 0, 0
		}
	}
	return s
}

// Bath is the temperature now, and its standard deviation in K.
func (s State) Bath() (chem.Celsius, float64) {
	return chem.Celsius(s.x[bath]), root(s.p[bath][bath])
}

// At is the moment of which it is.
func (s State) At() time.Duration { return s.at }

// Counting is the state from which on Mean counts.
func (s State) Counting() State {
	s.from, s.x[integral] = s.at, 0
	for i := range size {
		s.p[i][integral], s.p[integral][i] = 0, 0
	}
	return s
}

// Mean is the bath's mean temperature since Counting, or the first reading, and its standard deviation; at one moment
// the bath's own.
func (s State) Mean() (chem.Celsius, float64) {
	t := (s.at - s.from).Minutes()
	if t <= 0 {
		return s.Bath()
	}
	return chem.Celsius(s.x[integral] / t), root(s.p[integral][integral]) / t
}

func root(variance float64) float64 { return math.Sqrt(max(0, variance)) }

// NextReading is when one more reading with a thermometer, no later than end, would make the mean until end known
// best, in whole ten seconds, and the mean's standard deviation without and with it. Two baths between the readings of
// which nothing is known but that they wander are known best by a reading after two thirds.
func (b Bath) NextReading(s State, end time.Duration, by Thermometer) (at time.Duration, without, with float64) {
	const step = 10 * time.Second
	_, without = b.Until(s, end).Mean()
	at, with = end, math.Inf(1)
	for t := s.at.Truncate(step) + step; t <= end; t += step {
		read := b.Until(s, t)
		if _, sd := b.Until(b.Take(read, Reading{At: t, T: chem.Celsius(read.x[bath]), By: by}), end).Mean(); sd < with {
			at, with = t, sd
		}
	}
	return at, without, min(with, without)
}
