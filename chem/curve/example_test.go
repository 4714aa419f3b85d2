package curve_test

// The published values, each with its source.

import (
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem/curve"
)

// A film that rises in a straight line from a density and an exposure.
func line(base, slope, from, to float64) curve.Curve {
	b := curve.Density(base)
	c := curve.Curve{Base: &b, Readings: []curve.Reading{}}
	for i := range 33 {
		h := from + (to-from)*float64(i)/32
		c.Readings = append(c.Readings, curve.Reading{LogH: curve.LogH(h), Density: curve.Density(base + slope*(h-from))})
	}
	return c
}

func resultOf(c curve.Curve, r curve.Request) curve.Result {
	out, err := curve.Evaluate(curve.Family{Scale: curve.LuxSeconds, Curves: []curve.Curve{c}}, r)
	if err != nil {
		panic(err)
	}
	return out.Curves[0]
}

// ISO 6:1993 (second hand): 100 for 89.1 <= S < 112.2, 200 for 177.8 <= S <
// 223.9, where S is 0.8 over the exposure of the speed point in lux seconds. A
// straight line of slope 0.80/1.30 from 0.1625 log H below the speed point has
// the rise of 0.80.
func ExampleEvaluate_speed() {
	for _, s := range []float64{90.5, 100, 110.5, 180, 200, 221} {
		m := math.Log10(0.8 / s)
		c := line(0.10, 0.80/1.30, m-0.1625, m+1.5)
		r := resultOf(c, curve.Request{Absolute: true})
		fmt.Printf("%.1f: %.0f, rise %.2f, valid %v\n", s, *r.ISOSpeed, float64(*r.DensityRise), r.ISOValid)
	}
	// Output:
	// 90.5: 100, rise 0.80, valid true
	// 100.0: 100, rise 0.80, valid true
	// 110.5: 100, rise 0.80, valid true
	// 180.0: 200, rise 0.80, valid true
	// 200.0: 200, rise 0.80, valid true
	// 221.0: 200, rise 0.80, valid true
}

// ISO 6:1993 (the tolerance from memory): the rise must be 0.75 to 0.85.
func ExampleEvaluate_valid() {
	for _, rise := range []float64{0.74, 0.75, 0.80, 0.85, 0.86} {
		r := resultOf(line(0.10, rise/1.30, -2.5, -0.5), curve.Request{Absolute: true})
		fmt.Println(rise, r.ISOValid, r.ISOSpeed != nil)
	}
	// Output:
	// 0.74 false false
	// 0.75 true true
	// 0.8 true true
	// 0.85 true true
	// 0.86 false false
}

// US Army subcourse SS0513, p. 97: a rise of 0.40 over 0.50 is gamma 0.80.
func ExampleEvaluate_gamma() {
	r := resultOf(line(0.10, 0.40/0.50, -2.5, -0.5), curve.Request{})
	fmt.Printf("%.2f", *r.Gamma)
	// Output: 0.80
}

// NAVEDTRA 14208: aims of 0.56 to 0.60 for most printing. By the geometry a
// straight line through the level of base plus fog has its slope as index.
func ExampleEvaluate_contrastIndex() {
	for _, slope := range []float64{0.56, 0.58, 0.60} {
		r := resultOf(line(0.10, slope, -2.5, 0.5), curve.Request{})
		fmt.Printf("%.2f ", *r.ContrastIndex)
	}
	// Output: 0.56 0.58 0.60
}

// NAVEDTRA 14209 p. 282: tablets run from 0.05 to 3.05 in 21 steps, and 0.15
// is not quite half a stop, 0.1505.
func ExampleLogH_Stops() {
	fmt.Printf("%.2f %.4f", (3.05-0.05)/20, 0.5/curve.LogH(1).Stops())
	// Output: 0.15 0.1505
}

// A spot meter over a light box: 0.301 for each stop (arithmetic).
func ExampleFromStops() {
	fmt.Printf("%.3f %.3f", curve.FromStops(1), curve.FromStops(5))
	// Output: 0.301 1.505
}

// Stroebel et al. (from memory): 1.05/(2.2 - 0.4) = 0.583 for a diffusion
// enlarger, 0.80/1.80 = 0.444 for a condenser.
func ExamplePrintConditions_Gradient() {
	for _, paper := range []curve.LogH{1.05, 0.80} {
		g, err := curve.PrintConditions{Paper: paper, Subject: 2.2, Flare: 0.4}.Gradient()
		fmt.Printf("%.3f %v\n", g, err)
	}
	// Output:
	// 0.583 <nil>
	// 0.444 <nil>
}

// NIST StRD, BoxBOD (x in days there, in minutes here): b1 = 213.80940889,
// b2 = 0.54723748542, residual sum of squares 1168.0088766.
func ExampleFitGrowth_boxBOD() {
	x := []int{1, 2, 3, 5, 7, 10}
	y := []float64{109, 149, 149, 191, 213, 224}
	var sheets []curve.Sheet
	for i := range x {
		sheets = append(sheets, curve.Sheet{Time: time.Duration(x[i]) * time.Minute, Gradient: y[i]})
	}
	g, err := curve.FitGrowth(sheets, false)
	fmt.Printf("%.8f %.9f %.7f %v", g.Limit, float64(g.K), g.RSS, err)
	// Output: 213.80940889 0.547237485 1168.0088766 <nil>
}

// D. M. Bates and D. G. Watts, Nonlinear Regression Analysis (1988), the BOD
// data; the fit is scipy's.
func ExampleFitGrowth_batesWatts() {
	x := []int{1, 2, 3, 4, 5, 7}
	y := []float64{8.3, 10.3, 19, 16, 15.6, 19.8}
	var sheets []curve.Sheet
	for i := range x {
		sheets = append(sheets, curve.Sheet{Time: time.Duration(x[i]) * time.Minute, Gradient: y[i]})
	}
	g, err := curve.FitGrowth(sheets, false)
	fmt.Printf("%.4f %.5f %v", g.Limit, float64(g.K), err)
	// Output: 19.1426 0.53109 <nil>
}

// NIST StRD, Norris: slope 1.00211681802045, intercept -0.262323073774029.
func ExampleFitLine_norris() {
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	l := curve.FitLine(x, y)
	fmt.Printf("%.12f %.11f", l.Slope, l.Intercept)
	// Output: 1.002116818020 -0.26232307377
}
