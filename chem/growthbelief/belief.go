// Package growthbelief is what is believed of one film in one developer: how its average gradient grows with
// time and temperature, how sure that is, and which test sheets would say most.
//
// For sequence/film. Start with Believe, then Time, Gradient, NextSheets. It knows no session, no file and no
// word; what is borrowed from elsewhere it weighs as it is told to.
//
// Model: a sheet developed for t minutes at T degrees has the average gradient
//
//	G = limit (1 - exp(-rate (t c^((T-20)/10) e^b - induction))) e^s
//
// (C. E. K. Mees, Jahrbuch fuer Photographie 25 (1911), and the temperature coefficient c). b is normal and the
// same for all sheets of one session or test: a bath that was a little warmer or stronger, hands that were a little
// quicker, are as so much more time. s is normal and each sheet's own. How far both scatter is estimated too. What is believed before the first test is
// wide and stated in Weak. Evidence narrows it by Bayes' rule over a fixed, evenly spread set of films, so that the same
// evidence always gives the same answer.
package growthbelief

import (
	"math"
	"time"

	"example.org/wetside/chem"
)

// Spread is a belief about a quantity above zero: its middle, and the standard deviation of its logarithm.
type Spread struct{ Middle, Log float64 }

// Prior is what is believed before any evidence.
type Prior struct {
	Limit       Spread  // of the average gradient
	Rate        Spread  // a minute, at 20 C
	Induction   float64 // minutes at 20 C, on average; exponential
	Coefficient Spread
	Sessions    Spread // scatter from session to session, as a share of developing time
	Sheets      Spread // scatter from sheet to sheet, as a share of the gradient
}

// Weak is the prior for a film of which nothing is known. Nine in ten of each, and where that comes from:
//
//	limit        0.69 to 2.1          common practice, no source: what is published are limits of gamma, the slope of the
//	                                  straight part, of plates of a century ago, and they say little of an average gradient.
//	                                  That it does not move with temperature: C. E. K. Mees, "Zeitentwicklung", Jahrbuch fuer
//	                                  Photographie 25 (1911) 167-170
//	rate         0.045 to 0.32 a min  common practice, no source: chosen so that with the limit 0.58 takes 2 to 25 min at 20 °C,
//	                                  wider than the 5 min of advice and tables (USAF T.O. 33B-1-1, Table 6-16: 3.25 to 6 min)
//	                                  up to the 20 min of slow developers
//	induction    up to 1.4 min        the form with a start of its own: A. H. Nietz, "The Theory of Development" (1922), from
//	                                  memory; how long it lasts: common practice, no source
//	coefficient  1.9 to 2.6           films in use go from 20 to 24 °C by 0.68 to 0.75 of the time (common practice, no source).
//	                                  Within it lie E. J. Wall, "Thermo-Entwicklung", Jahrbuch fuer Photographie 24 (1910) 44:
//	                                  2.36 from two times; and T.O. 33B-1-1, Table 6-16: 1.92. Published tables go from 1.47 to
//	                                  4.06, which the tails reach only with a test at two temperatures
//	sessions     3 to 8% of time      common practice, no source
//	sheets       2.7 to 6%            common practice, no source: 3 to 5% of the gradient is usual
//
// What is wrong with them a few sheets outweigh: TestTimesHoldTheNextSession counts on films that are spread otherwise.
var Weak = Prior{
	Limit: Spread{1.2, 0.34}, Rate: Spread{0.12, 0.6}, Induction: 0.6, Coefficient: Spread{2.2, 0.095},
	Sessions: Spread{0.05, 0.3}, Sheets: Spread{0.04, 0.25},
}

// Reference is the temperature that the growth is told at.
const Reference chem.Celsius = 20

// Reading is a sheet's average gradient. Error is what the readings of its densities leave open, as a standard
// deviation; the scatter of sheets is not in it.
type Reading struct {
	Time        time.Duration
	Temperature chem.Celsius
	Gradient    float64
	Error       float64
}

// Test is the sheets of one session whose gradients were read.
type Test struct {
	Readings []Reading
	Weight   float64 // 1: of this film and developer; less: borrowed, the likelihood to that power
}

// Look is how the negatives of a session looked beside what was wanted of them.
type Look int

// The looks that say something of development.
const (
	Thin  Look = -1
	Right Look = 0
	Dense Look = 1
)

// Session is development that was looked at and not measured.
type Session struct {
	Time        time.Duration
	Temperature chem.Celsius
	Wanted      float64 // average gradient
	Look        Look
}

// How looks are believed: negatives are called thin or dense from a fifth less or more gradient on, and the eye,
// and exposure, are off by as much (common practice, no source).
var (
	lookFrom  = math.Log(1.2)
	lookError = 0.2
)

// Borrowed is a time from elsewhere: another film's, a forum's.
type Borrowed struct {
	Time        time.Duration
	Temperature chem.Celsius
	Wanted      float64 // average gradient that it is for
	Log         float64 // how far it may be off: scale of the logarithm of time
}

// Evidence is all that narrows the prior.
type Evidence struct {
	Tests    []Test
	Sessions []Session
	Borrowed []Borrowed
}

// film is one possible film.
type film struct {
	limit, rate, induction float64 // 1, 1/min, min
	coefficient            float64
	sessions, sheets       float64 // scatter, of the logarithms of time and gradient
	next                   float64 // what the next session makes of time, as a logarithm
}

// minutes is a time at a temperature as minutes at the reference.
func (f *film) minutes(t time.Duration, at chem.Celsius) float64 {
	m := float64(t) / float64(time.Minute)
	if at == Reference {
		return m
	}
	return m * math.Pow(f.coefficient, float64(at-Reference)/10)
}

// after is ln G after a time, without scatter, and by which share the gradient grows there for each share of time
// more, d ln G / d ln t; minus infinity and 0 up to the induction.
func (f *film) after(t time.Duration, at chem.Celsius) (logGradient, steepness float64) {
	m := f.minutes(t, at)
	x := f.rate * (m - f.induction)
	if x <= 0 {
		return math.Inf(-1), 0
	}
	rest := math.Exp(-x) // of the growth
	if x < 0.01 {        // where 1 less that is nothing but rounding
		return math.Log(f.limit * -math.Expm1(-x)), -f.rate * m * rest / math.Expm1(-x)
	}
	return math.Log(f.limit * (1 - rest)), f.rate * m * rest / (1 - rest)
}

// logGradient is ln G alone.
func (f *film) logGradient(t time.Duration, at chem.Celsius) float64 {
	g, _ := f.after(t, at)
	return g
}

// time is how many minutes at a temperature give a gradient when a session counts e^shift times as long; plus
// infinity where the film never reaches it.
func (f *film) time(gradient, shift float64, at chem.Celsius) float64 {
	share := gradient / f.limit
	if share >= 1 {
		return math.Inf(1)
	}
	return (f.induction - math.Log1p(-share)/f.rate) / (math.Pow(f.coefficient, float64(at-Reference)/10) * math.Exp(shift))
}
