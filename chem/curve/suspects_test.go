package curve

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

// asFile writes curves of one tablet as a person's file: step 1 the clearest.
func asFile(curves []Curve, tablet []float64) []byte {
	b := &strings.Builder{}
	b.WriteString("tablet")
	for _, c := range curves {
		fmt.Fprintf(b, ",%ds", int(c.Time.Seconds()))
	}
	b.WriteString("\nbase")
	for _, c := range curves {
		fmt.Fprintf(b, ",%.3f", max(0, float64(*c.Base)))
	}
	for i := range tablet {
		fmt.Fprintf(b, "\n%.2f", tablet[i])
		for _, c := range curves {
			fmt.Fprintf(b, ",%.3f", max(0, float64(c.Readings[len(tablet)-1-i].Density)))
		}
	}
	return []byte(b.String() + "\n")
}

// A single reading off by 0.2, where readings scatter by 0.01, is named by its sheet and
// step, and it alone, in at least nine tests of ten; sound tests name next to nothing.
func TestSlipsAreNamed(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 29))
	tablet, _ := NominalTablet(DefaultSteps, DefaultStep)
	const tests = 200
	named, sound := 0, 0
	for range tests {
		var curves []Curve
		for k, g := range []float64{0.45, 0.58, 0.72} {
			c := simulated(rng, g*(1+0.05*rng.NormFloat64()), 0.01)
			c.Time = time.Duration(5+3*k) * time.Minute
			base := *c.Base + 0.25
			c.Base = &base
			for i := range c.Readings {
				c.Readings[i].Density += 0.25
			}
			curves = append(curves, c)
		}
		sound += len(suspectsOf(t, curves, tablet))
		sheet, at := rng.IntN(3), rng.IntN(DefaultSteps)
		slip := Density(0.2)
		if rng.IntN(2) == 0 {
			slip = -slip
		}
		curves[sheet].Readings[at].Density += slip
		got := suspectsOf(t, curves, tablet)
		if len(got) == 1 && *got[0].Time == curves[sheet].Time.Seconds() && got[0].Step == DefaultSteps-at {
			named++
		}
	}
	if named < tests*9/10 {
		t.Errorf("%d slips of %d are named", named, tests)
	}
	if sound > tests*3*DefaultSteps/200 {
		t.Errorf("%d of %d sound readings are suspected; expected 0.5 %% at most", sound, tests*3*DefaultSteps)
	}
	t.Logf("%d of %d named, %d sound ones suspected", named, tests, sound)
}

func suspectsOf(t *testing.T, curves []Curve, tablet []float64) []Suspect {
	t.Helper()
	f, err := ReadCSV("x.csv", asFile(curves, tablet), Options{})
	if err != nil {
		t.Fatalf("a slip of 0.2 is no reason to refuse a file: %v", err)
	}
	out, err := Evaluate(f, Request{Rounds: 20})
	if err != nil {
		t.Fatal(err)
	}
	return out.Suspects
}

// A strip that was read from its other end is asked about.
func TestReversedStripIsAsked(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	tablet, _ := NominalTablet(DefaultSteps, DefaultStep)
	c := simulated(rng, 0.6, 0.01)
	c.Time = 8 * time.Minute
	slices.Reverse(c.Readings)
	_, err := ReadCSV("x.csv", asFile([]Curve{c}, tablet), Options{})
	var f Faults
	if !errors.As(err, &f) || !strings.Contains(err.Error(), "read from its other end?") {
		t.Errorf("%v", err)
	}
}
