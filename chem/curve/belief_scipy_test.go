package curve

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// The intervals of a time against brute force (testdata/belief.py): hundreds of thousands of
// films drawn, each weighed by scipy's normal distribution. Draws are good to about 2 %.
func TestBeliefAgainstScipy(t *testing.T) {
	text, err := os.ReadFile("testdata/belief.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Minutes, Gradients, Fitted        []float64
		Reading, Scatter, Session, Wanted float64
		Own, Next                         [2]float64
	}
	if err := json.Unmarshal(text, &cases); err != nil || len(cases) != 5 {
		t.Fatal(len(cases), err)
	}
	for i, c := range cases {
		var sheets []measuredSheet
		fitted := map[float64]float64{}
		for j, m := range c.Minutes {
			sheets = append(sheets, measuredSheet{minutes: m, gradient: c.Gradients[j], reading: c.Reading})
			fitted[m] = c.Fitted[j]
		}
		e := Errors{Scatter: c.Scatter, Sessions: &c.Session}
		b := believe(sheets, func(m float64) float64 { return fitted[m] }, priorFor(sheets, false), e.sheets(), e.sessionsOf(1))
		for what, want := range map[string][2]float64{"own": c.Own, "next": c.Next} {
			low, high := b.time(c.Wanted, what == "next")
			if low == nil || high == nil || math.Abs(*low/want[0]-1) > 0.02 || math.Abs(*high/want[1]-1) > 0.02 {
				t.Errorf("case %d, %s: %.1f to %.1f s; scipy %.1f to %.1f", i, what, *low, *high, want[0], want[1])
			}
		}
	}
}
