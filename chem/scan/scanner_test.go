package scan

import (
	"math"
	"testing"
)

// A real scanner measured with a step tablet: pixel values, darker film brighter, and the tablet's
// densities, each the mean of four scans. Source: University of Illinois, Imaging Technology Group,
// technical report 98-006. A calibration by all steps but one predicts the one left out.
var scanner = [][2]float64{
	{13.51, 0.04}, {34.89, 0.14}, {56.21, 0.24}, {76.97, 0.34}, {96.33, 0.45}, {113.20, 0.54}, {129.19, 0.63}, {146.65, 0.75}, {160.68, 0.84}, {174.00, 0.94},
	{186.33, 1.04}, {198.04, 1.14}, {208.70, 1.24}, {217.13, 1.33}, {225.26, 1.43}, {232.95, 1.54}, {239.59, 1.64}, {245.27, 1.76}, {249.87, 1.88}, {253.52, 2.03},
}

func TestScannerLeftOut(t *testing.T) {
	for out := 1; out < len(scanner)-1; out++ {
		var list []patch
		var tablet []float64
		for i, row := range scanner {
			if i != out {
				p := patch{pixels: 1000}
				light := (255 - row[0]) / 255
				p.by[Luminance] = sample{light: light, err: light * 1e-4}
				list, tablet = append(list, p), append(tablet, row[1])
			}
		}
		cal, err := calibrate(list, tablet, Luminance)
		if err != nil {
			t.Fatal(err)
		}
		d, _, doubt := cal.density(sample{light: (255 - scanner[out][0]) / 255})
		bound := 0.01
		if scanner[out][1] > 1.75 {
			bound = 0.03
		}
		off := d - scanner[out][1]
		t.Logf("%.2f: %+.4f", scanner[out][1], off)
		if doubt != NoDoubt || math.Abs(off) > bound {
			t.Errorf("density %.2f read as %.3f (%s)", scanner[out][1], d, doubt)
		}
	}
}

// Steps that noise does not let tell apart are not believed, nor any behind them.
func TestStepsLostInNoise(t *testing.T) {
	tablet := steps(11, 0.05, 0.15)
	for lost, want := range map[int]int{7: 7, 11: 11} {
		var list []patch
		for k, d := range tablet {
			light := math.Pow(10, -d)
			p := patch{pixels: 1000}
			p.by[Luminance] = sample{light: light, err: 0.01 * light}
			if k >= lost {
				p.by[Luminance].err = 0.2 * light // 0.09 in density: 0.15 is no 2.5 of it
			}
			list = append(list, p)
		}
		cal, err := calibrate(list, tablet, Luminance)
		if err != nil || cal.Steps != want || math.Abs(cal.Densest-tablet[want-1]) > 1e-9 {
			t.Errorf("%v: %d steps to %.2f; expected %d", err, cal.Steps, cal.Densest, want)
		}
	}
}
