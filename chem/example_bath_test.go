package chem_test

// Worked examples of exposing, mixing, tempering, fixing and washing at their
// printed precision, the source named beside each.

import (
	"fmt"
	"time"

	"example.org/wetside/chem"
)

// Schwarzschild's exponent of 0.86 (Astrophysical Journal 11 (1900), from memory): 10 s become 14.548 s and
// 100 s 211.63 s, by the closed form t^(1/p).
func ExampleExponent() {
	for _, metered := range []time.Duration{500 * time.Millisecond, 10 * time.Second, 100 * time.Second} {
		d, _, err := chem.Exponent(0.86).Correct(metered)
		fmt.Printf("%.5g %v\n", d.Seconds(), err)
	}
	// Output:
	// 0.5 <nil>
	// 14.548 <nil>
	// 211.63 <nil>
}

// A film that needs 1.4 s for 1 s and 40 s for 8 s, behind a filter of factor
// 2 and with bellows of factor 2: 2 s on the meter are 8 s on the film, which
// asks for 40 s: 20 times the light, log2(20) = 4.3 stops.
func ExampleExpose() {
	film, err := chem.NewExposureTable([][2]time.Duration{
		{time.Second, 1400 * time.Millisecond}, {8 * time.Second, 40 * time.Second},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := chem.Expose(2*time.Second, 2, 2, film)
	fmt.Println(e.Metered, e.Filtered, e.Extended, e.Final, e.OutsideTests, err)
	fmt.Printf("%.1f stops\n", e.Stops)
	// Output:
	// 2s 4s 8s 40s false <nil>
	// 4.3 stops
}

// Three parts in 420 ml: 1 + 3 + 80 are 84 parts of 5 ml.
func ExampleMix() {
	parts, err := chem.ParseParts("A 1 + B 3 + water 80")
	if err != nil {
		fmt.Println(err)
		return
	}
	amounts, err := chem.Mix(parts, 420)
	for _, a := range amounts {
		fmt.Printf("%s %.4g\n", a.Name, float64(a.Volume))
	}
	fmt.Println(err)
	// Output:
	// A 5
	// B 15
	// water 400
	// <nil>
}

// US Army subcourse SS0513 p. 24: 32 oz of 28 % acetic acid from 99.5 %.
// Printed there: 9.0 oz of acid and 23 oz of water.
func ExampleDilute() {
	acid, water, err := chem.Dilute(99.5, 28, 32*chem.MillilitresPerFluidOunce)
	fmt.Printf("%.1f and %.0f oz %v\n", acid.FluidOunces(), water.FluidOunces(), err)
	// Output: 9.0 and 23 oz <nil>
}

// A graduate with a mark at each 5 ml: 12 ml are measured as 10, a sixth too
// little; within 5 % it measures 50 ml and more, so that one part of stock in
// 49 of water wants 2.5 l.
func ExampleGraduate() {
	g := chem.Graduate(5)
	mark, off, _ := g.Round(12)
	least, _ := g.MinVolume(0.05)
	parts, _ := chem.ParseParts("1+49")
	mix, _, err := g.MinMix(parts, 0.05)
	fmt.Printf("%.0f ml (%.1f %%), %.0f ml, %.0f ml %v\n", mark, 100*off, least, mix, err)
	// Output: 10 ml (-16.7 %), 50 ml, 2500 ml <nil>
}

// Two waters: 24 C from 50 and 15 C takes a hot fraction of 9/35 = 0.25714.
func ExampleTemper() {
	hot, cold, err := chem.Temper(24, 1, 50, 15)
	fmt.Printf("%.5f %.5f %v\n", hot, cold, err)
	_, _, err = chem.Temper(60, 1, 50, 15)
	fmt.Println(err)
	// Output:
	// 0.25714 0.74286 <nil>
	// tempering: 60 °C (140 °F) cannot be had from water at 15 °C (59 °F) and 50 °C (122 °F); expected a temperature between them
}

// Ice melts with 334 kJ/kg (from memory) and warms with 4186 J/(kg K), the figure of the
// problem below. By hand: a litre at 25 C gives off 1000 x 4.186 x 5 = 20930 J down to
// 20 C, and a gram of ice takes up 334 + 4.186 x 20 = 417.72 J: 50.1 g.
func ExampleStandingBath_IceToReach() {
	g, err := chem.StandingBath{Volume: 1000, T: 25}.IceToReach(20, 0)
	fmt.Printf("%.1f g %v\n", g, err)
	// Output: 50.1 g <nil>
}

// M. Torzynski, Univ. Louis Pasteur, 2004: 10 ml left in a fill of 500 ml is
// 1/50 a change; so two changes leave 1/2500.
func ExampleResidue() {
	one, _ := chem.Residue(10, 500, 1)
	two, _ := chem.Residue(10, 500, 2)
	n, err := chem.Changes(10, 500, 0.0004)
	fmt.Printf("%.4g %.4g %d %v\n", 1/one, 1/two, n, err)
	// Output: 50 2500 2 <nil>
}

// US Army subcourse SS0509 pp. 18, 24, with and without a washing aid at
// 70 F; and three times as long at 55 F (USAF T.O. 33B-1-1, 6.7.10.1).
func ExampleWashTimes() {
	for _, f := range []float64{70, 55} {
		with, _ := chem.WashTimes(true, chem.FromFahrenheit(f))
		without, known := chem.WashTimes(false, chem.FromFahrenheit(f))
		fmt.Println(with.Rinse, with.Aid, with.Wash, "or", without.Wash, known)
	}
	// Output:
	// 30s 2m0s 5m0s or 30m0s true
	// 30s 2m0s 15m0s or 1h30m0s true
}

// NAVEDTRA 14209 (1993) p. 249: twice the clearing time, or one clearing time
// in each of two baths; spent when it takes twice as long to clear.
func ExampleFixTime() {
	one, _, _ := chem.FixTime(90*time.Second, 1, false)
	two, _, err := chem.FixTime(90*time.Second, 2, false)
	fmt.Println(one, two, err)
	fmt.Println(chem.FixerExhausted(90*time.Second, 3*time.Minute))
	// Output:
	// 3m0s 1m30s <nil>
	// true
}

// USAF T.O. 33B-1-1 p. 6-77: at most 15 minutes in a fixer. Twice 7:30 is as long as
// that; a film that clears a second later wants a fresh one.
func ExampleFixTime_longest() {
	fmt.Println(chem.FixTime(7*time.Minute+30*time.Second, 1, false))
	fmt.Println(chem.FixTime(7*time.Minute+31*time.Second, 1, false))
	// Output:
	// 15m0s false <nil>
	// 15m2s true <nil>
}

// US Army TM 11-2323 para 33c: twice as long at 50 F, four times at 32 F.
func ExampleColdFixFactor() {
	for _, f := range []float64{80, 68, 50, 32} {
		fmt.Printf("%.4g ", chem.ColdFixFactor(chem.FromFahrenheit(f)))
	}
	// Output: 1 1 2 4
}

// Six sheets of 4x5 in (20 sq in) at 2 ml of stock each take 12 ml; one sheet
// of 8x10 in (80 sq in) counts as four.
func ExampleStockFor() {
	small, _ := chem.StockFor(6, 20, 2)
	large, err := chem.StockFor(1, 80, 2)
	fmt.Println(small, large, err)
	// Output: 12 8 <nil>
}

// NAVEDTRA 14209 (1993) p. 250: running water takes away half the hypo each
// minute, so that an eighth is left after three.
func ExampleRunningWaterResidue() {
	fmt.Println(chem.RunningWaterResidue(3 * time.Minute))
	// Output: 0.125
}

// USAF T.O. 33B-1-1, 6.7.10.1: three times as long at 50 to 60 F as at 70 to
// 75 F.
func ExampleColdWashFactor() {
	for _, f := range []float64{50, 60, 70, 75} {
		factor, known := chem.ColdWashFactor(chem.FromFahrenheit(f))
		fmt.Printf("%.3g %v; ", factor, known)
	}
	// Output: 3 true; 3 true; 1 true; 1 true;
}

// NAVEDTRA 14209 (1993) p. 250: a full change each three minutes; three changes of fill
// and dump at 70 F stand for nine.
func ExampleWashMethods_fillAndDump() {
	ways, _ := chem.WashMethods(chem.FromFahrenheit(70), 3)
	for _, w := range ways {
		if w.Way == chem.WashChanges {
			fmt.Println(chem.MinChange, w.WetTime)
		}
	}
	// Output: 3m0s 9m0s
}

// 36 CFR 1238.14(c), microfilm: at most 0.014 g/m2. By hand: 10 ml with 100 g/l
// carry over 1 g; on a square metre (1550.0031 sq in) a change in 500 ml leaves
// 1/50, 0.02 g, and a second 0.0004 g.
func ExampleResidualThiosulfate() {
	const squareMetre = 1 / (0.0254 * 0.0254)
	one, _ := chem.ResidualThiosulfate(100, 10, 1.0/50, squareMetre)
	two, _ := chem.ResidualThiosulfate(100, 10, 1.0/2500, squareMetre)
	fmt.Printf("%.3f and %.4f g/m2, for %.3f\n", one, two, chem.ResidualLimit)
	// Output: 0.020 and 0.0004 g/m2, for 0.014
}

// US Army SS0509 p. 18: half an inch of bath at least; in a tray of 8x10 in
// that is 40 cubic inches, 655.5 ml (1 in3 is 16.387064 ml by definition).
func ExampleRectangularVolume() {
	a, b, _ := chem.ParseSides("8x10in")
	v, err := chem.RectangularVolume(a, b, chem.MinDepth)
	fmt.Printf("%.1f ml %v\n", float64(v), err)
	// Output: 655.5 ml <nil>
}

// US Army SS0513 p. 24 as typed: 32 oz of 28 % from 99.5 %: 9.0 and 23 oz.
func ExampleParseMix() {
	typed, err := chem.ParseMix("acid 99.5% to 28%")
	amounts, _ := chem.Mix(typed.Parts, 32*chem.MillilitresPerFluidOunce)
	for _, a := range amounts {
		fmt.Printf("%s %.1f, ", a.Name, a.Volume.FluidOunces())
	}
	fmt.Println(err)
	// Output: acid 9.0, water 23.0, <nil>
}

// US Army SS0509 p. 24 and NAVEDTRA 14209 p. 250 at 70 F: 7:30 with the aid, 20
// minutes in running water, 30 without.
func ExampleWashMethods() {
	ways, known := chem.WashMethods(chem.FromFahrenheit(70), 0)
	for _, w := range ways {
		fmt.Println(w.Way, w.WetTime)
	}
	fmt.Println(known)
	// Output:
	// washing-aid 7m30s
	// running-water 20m0s
	// no-aid 30m0s
	// true
}

// NAVEDTRA 14209 p. 249: spent at twice the fresh clearing time.
func ExampleFixerExhausted() {
	fmt.Println(chem.FixerExhausted(time.Minute, 119*time.Second), chem.FixerExhausted(time.Minute, 2*time.Minute))
	// Output: false true
}
