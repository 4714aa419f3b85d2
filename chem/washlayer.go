package chem

// Washing as it goes on in two places: in the swollen gelatin, which gives its fixer up in minutes,
// and in the water about it. Mixing at once is the lower bound (Residue); this is the upper one.
//
// dg/dt = -k (g - b), db/dt = (Vg/V) k (g - b) - q b: g and b are the strengths in gelatin and water as
// fractions of the fixer's, Vg and V their volumes, q how many times a minute the water is renewed.
// k is not known well: the published figures disagree, and the slowest of them is taken.

import (
	"fmt"
	"math"
	"time"
)

// GelatinVolume is how much liquid the gelatin of film holds, for each square metre of one side: 2 ml
// in a film of 36 exposures (M. Torzynski, Univ. Louis Pasteur, 2004), which is 1.6 m of 35 mm
// (memory).
const GelatinVolume Millilitres = 2 / (1.6 * 0.035)

// gelatinShare is the part of a vessel's carry-over that is in the gelatin, where the area of film is
// not known: 2 ml of the 10 ml that a drained tank keeps (Torzynski 2004).
const gelatinShare = 0.2

// GelatinHalfTime is the time in which fresh water takes half of the fixer out of gelatin: between
// fast and slow, by how long the published washes are. Known is false where nothing is published for
// the temperature.
//
// Fast, without a washing aid: half a minute's direct contact, NAVEDTRA 14209 p. 250: a minute.
// Slow: the wash of US Army SS0509 pp. 18, 24 (30 min; 5 min after an aid) taken as just enough
// to bring a fixer of 160 g/l down to ResidualLimit, our own reading. In the cold as ColdWashFactor.
func GelatinHalfTime(t Celsius, aid bool) (fast, slow time.Duration, known bool) {
	factor, known := ColdWashFactor(t)
	published, _ := WashTimes(aid, 24)
	halvings := math.Log2(160 * float64(GelatinVolume) / 1000 / ResidualLimit)
	minutes := published.Wash.Minutes() / halvings
	quick := min(1, minutes)
	span := func(m float64) time.Duration { return time.Duration(m * factor * float64(time.Minute)) }
	return span(quick), span(minutes), known
}

// WashBath is a vessel of film in water.
type WashBath struct {
	Volume    Millilitres   // of a filling, with what was carried over in it, without the gelatin
	CarryOver Millilitres   // liquid that stays in vessel and on film at a change, without the gelatin
	Gelatin   Millilitres   // liquid in the gelatin
	Half      time.Duration // in which gelatin gives up half of its fixer to fresh water
}

// NewWashBath is a vessel where the area of film in square inches of one side is known, or 0. carryOver is
// all that stays at a change. It errs for volumes that do not go together and for a half time that
// is not above zero.
func NewWashBath(carryOver, volume Millilitres, squareInches float64, half time.Duration) (WashBath, error) {
	if _, err := residuePerChange(carryOver, volume); err != nil {
		return WashBath{}, err
	}
	if half <= 0 || squareInches < 0 || math.IsNaN(squareInches) || math.IsInf(squareInches, 0) {
		return WashBath{}, fmt.Errorf("washing: a half time of %v, %g square inches; expected above zero, and zero or more", half, squareInches)
	}
	gelatin := gelatinShare * carryOver
	if squareInches > 0 {
		gelatin = GelatinVolume * Millilitres(SquareMetres(squareInches))
	}
	return WashBath{volume, carryOver, gelatin, half}, nil
}

// Left is the fixer that is left, as fractions of its strength at the start.
type Left struct {
	Gelatin float64 // in the gelatin
	Water   float64 // in the water about it
}

// Unwashed is film that comes straight from the fixer.
var Unwashed = Left{1, 1}

// Total is what is left in gelatin and carry-over together, as a fraction of what both brought.
func (b WashBath) Total(l Left) float64 {
	return float64((b.Gelatin*Millilitres(l.Gelatin) + b.CarryOver*Millilitres(l.Water)) / (b.Gelatin + b.CarryOver))
}

// Change is one filling that stands for a time: what was carried over is thinned, gelatin and water draw
// even, and the water is poured off.
func (b WashBath) Change(l Left, stand time.Duration) Left {
	l.Water *= float64(b.CarryOver / b.Volume)
	return b.Run(l, stand, 0)
}

// Changes are n fillings that stand for the same time each.
func (b WashBath) Changes(l Left, n int, stand time.Duration) Left {
	for range n {
		l = b.Change(l, stand)
	}
	return l
}

// Run is a time in water that is renewed so many times a minute; 0 for water that stands. It is the
// exact solution of the two equations.
func (b WashBath) Run(l Left, d time.Duration, renewals float64) Left {
	k, t := math.Ln2/b.Half.Minutes(), d.Minutes()
	a12, a21 := k, k*float64(b.Gelatin/b.Volume)
	a11, a22 := -k, -a21-renewals
	// Eigenvalues of a matrix with real ones: its off-diagonal elements are both positive.
	mean, half := (a11+a22)/2, math.Sqrt((a11-a22)*(a11-a22)/4+a12*a21)
	e1, e2 := math.Exp((mean+half)*t), math.Exp((mean-half)*t)
	// exp(At) = e1 (A - l2)/(l1 - l2) + e2 (A - l1)/(l2 - l1)
	c1, c0 := (e1-e2)/(2*half), (e1*(half-mean)+e2*(half+mean))/(2*half)
	return Left{
		Gelatin: max(0, c1*(a11*l.Gelatin+a12*l.Water)+c0*l.Gelatin),
		Water:   max(0, c1*(a21*l.Gelatin+a22*l.Water)+c0*l.Water),
	}
}

// Thiosulfate is what is left on film in g/m2 of one side, where the fixer had a strength in g/l: all of
// the gelatin's and of the carry-over's counts. It errs for an area or a strength that is not above zero.
func (b WashBath) Thiosulfate(l Left, strength, squareInches float64) (float64, error) {
	return ResidualThiosulfate(strength, b.Gelatin+b.CarryOver, b.Total(l), squareInches)
}
