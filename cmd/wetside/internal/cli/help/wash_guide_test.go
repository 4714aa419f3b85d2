package help

import (
	"math"
	"regexp"
	"strconv"
	"testing"
	"time"

	"example.org/wetside/chem"
)

// The example that the wash page works by hand is right: each of its figures by the arithmetic that stands beside it,
// at the precision in which it is printed, and both bounds by the program too.
func TestWashPageByHand(t *testing.T) {
	text, err := Guide("wash")
	if err != nil {
		t.Fatal(err)
	}
	area := 6 * 20 * 0.0254 * 0.0254
	gelatin := 35.7 * area
	inGelatin, inWater := 160*35.7/1000, 160*0.030/area
	lower := math.Pow(30.0/1500, 3)
	halvings := math.Log2(5.71 / 0.014)
	half := 30 / halvings
	left := math.Exp2(-9 / half)
	aided := 6 / (5 / halvings)
	for _, c := range []struct {
		what, says string
		want       []float64
	}{
		{"film", `= ([\d.]+) m²`, []float64{area}},
		{"gelatin", `ml/m²: ([\d.]+) ml\. It brings .* = ([\d.]+) g/m²`, []float64{gelatin, inGelatin}},
		{"water", `160 x 0\.030 / 0\.0774 = ([\d.]+) g/m²`, []float64{inWater}},
		{"lower", `\(30/1500\)\^3 = ([\d.]+) of ([\d.]+) g/m²`, []float64{lower, inWater}},
		{"half time", `= ([\d.]+) halvings, ([\d.]+) min each`, []float64{halvings, half}},
		{"upper", `9 min are ([\d.]+) halvings: 2\^-2\.60 = ([\d.]+) of 5\.71 = ([\d.]+) g/m²`, []float64{9 / half, left, left * 5.71}},
		{"after an aid", `6/0\.58 = ([\d.]+) halvings: ([\d.]+) of 5\.71 = ([\d.]+) g/m²`, []float64{aided, math.Exp2(-aided), math.Exp2(-aided) * 5.71}},
	} {
		m := regexp.MustCompile(c.says).FindStringSubmatch(text)
		if m == nil {
			t.Errorf("%s: %s does not stand there", c.what, c.says)
			continue
		}
		for k, want := range c.want {
			printed, err := strconv.ParseFloat(m[k+1], 64)
			digit := math.Pow(10, -float64(len(regexp.MustCompile(`\.(\d*)`).FindString(m[k+1]))-1))
			if err != nil || math.Abs(printed-want) > 0.51*digit {
				t.Errorf("%s: %s; by hand %.6g", c.what, m[k+1], want)
			}
		}
	}
	_, slow, known := chem.GelatinHalfTime(24, false)
	b, err := chem.NewWashBath(30, 1500, 120, slow)
	if err != nil || !known {
		t.Fatal(err)
	}
	upper, err1 := b.Thiosulfate(b.Changes(chem.Unwashed, 3, 3*time.Minute), 160, 120)
	low, err2 := chem.Residue(30, 1500, 3)
	says := regexp.MustCompile(`adds ([\d.]+): ([\d.]+) g/m²`).FindStringSubmatch(text)
	if err1 != nil || err2 != nil || says == nil || low*inWater >= 0.0005 {
		t.Fatal(err1, err2, says, low)
	}
	for k, want := range []float64{upper - left*5.71, upper} {
		if printed, _ := strconv.ParseFloat(says[k+1], 64); math.Abs(printed-want) > 0.006 {
			t.Errorf("the upper bound: %s; the program %.4f", says[k+1], want)
		}
	}
}
