package curve

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// A gradient that a sheet of the test gave is inside it, also where the fitted curve
// passes that sheet; nothing beyond is given a time, and what is said of it is rounded.
func TestTimeForKeepsToTheTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		film := Growth{Limit: rapid.Float64Range(0.8, 1.5).Draw(t, "limit"), K: PerMinute(rapid.Float64Range(0.05, 0.2).Draw(t, "k"))}
		out := Results{}
		for _, m := range []float64{5, 7, 9.5, 13} {
			g := film.At(fromMinutes(m)) * (1 + rapid.Float64Range(-0.06, 0.06).Draw(t, "scatter"))
			out.sheets = append(out.sheets, Sheet{fromMinutes(m), g})
		}
		growth, err := FitGrowth(out.sheets, false)
		if err != nil {
			t.Skip(err)
		}
		out.Growth = &growth
		for _, s := range out.sheets {
			got, err := out.TimeFor(s.Gradient)
			if err != nil || got.Time < 300-1e-6 || got.Time > 780+1e-6 {
				t.Fatalf("gradient %.3f of the sheet at %v: %v, %v", s.Gradient, s.Time, got.Time, err)
			}
		}
		if got, err := out.TimeFor(out.sheets[0].Gradient); err != nil || got.Time > 600 {
			t.Fatalf("gradient %.3f of the shortest sheet: %v, %v; expected a time near its own", out.sheets[0].Gradient, got.Time, err)
		}
		most := 0.0
		for _, s := range out.sheets {
			most = max(most, s.Gradient)
		}
		beyond := max(most, growth.At(13*time.Minute)) + 0.02
		if _, err := out.TimeFor(beyond); !errors.Is(err, ErrOutsideTests) {
			t.Fatalf("gradient %.3f: %v", beyond, err)
		}
	})
	out := Results{Growth: &Growth{Limit: 1, K: 0.11}, sheets: []Sheet{{5 * time.Minute, 0.42}, {12*time.Minute + 345678*time.Microsecond, 0.73}}}
	_, err := out.TimeFor(0.95) // -ln(0.05)/0.11 = 27.234 min (arithmetic)
	if err == nil || !strings.Contains(err.Error(), "at about 27:15") || !strings.Contains(err.Error(), "5:00 to 12:00") || strings.Contains(err.Error(), "345") {
		t.Errorf("%v", err)
	}
	if math.Abs(out.Growth.At(5*time.Minute)-0.423) > 0.001 {
		t.Error("not the curve of this arithmetic")
	}
}
