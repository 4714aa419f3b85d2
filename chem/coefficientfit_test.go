package chem

import (
	"math"
	"testing"
	"time"
)

// Times that follow one coefficient give it back however many they are; two give
// (70/25)^(10/12) (Wall 1910: 70 s at 8 C and 25 s at 20 C); of three that do not agree
// the slope is that of Python's statistics.linear_regression([18, 20, 24], [log(600), log(500),
// log(380)]), -0.0750525, and the coefficient exp(-10 slope) = 2.118112.
func TestFitCoefficient(t *testing.T) {
	point := func(seconds float64, at Celsius) Point {
		return Point{At: time.Duration(seconds * float64(time.Second)), T: at}
	}
	two, err := FitCoefficient([]Point{point(70, 8), point(25, 20)})
	want := math.Pow(70.0/25, 10.0/12)
	if err != nil || math.Abs(two-want) > 1e-9 {
		t.Errorf("two times: %v, %v; expected %v", two, err, want)
	}
	var line []Point
	for _, at := range []Celsius{16, 18, 21, 24} {
		line = append(line, point(600*math.Pow(2.5, float64(20-at)/10), at))
	}
	if k, err := FitCoefficient(line); err != nil || math.Abs(k-2.5) > 1e-6 {
		t.Errorf("on one line: %v, %v; expected 2.5", k, err)
	}
	if k, err := FitCoefficient([]Point{point(600, 18), point(500, 20), point(380, 24)}); err != nil || math.Abs(k-2.118112) > 1e-5 {
		t.Errorf("three times: %v, %v", k, err)
	}
	for _, bad := range [][]Point{nil, {point(60, 20)}, {point(60, 20), point(50, 20.5)}, {point(60, 20), point(90, 24)},
		{point(0, 20), point(50, 24)}, {point(60, 20), point(50, Celsius(math.NaN()))}} {
		if k, err := FitCoefficient(bad); err == nil {
			t.Errorf("%v: %v; expected an error", bad, k)
		}
	}
}
