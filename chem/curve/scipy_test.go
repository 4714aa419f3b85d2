package curve

// 200 random families against scipy (testdata/families.py), and the
// interpolation against gonum and its own laws.

import (
	"encoding/json"
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem/goldentest"
	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

// goldenCurve is one curve of a family with what scipy makes of it.
type goldenCurve struct {
	Seconds float64   `json:"time_s"`
	Base    *Density  `json:"base"`
	Density []float64 `json:"density"`
	Results struct {
		SpeedPoint    *float64  `json:"speed_point"`
		Rise          *float64  `json:"rise"`
		ContrastIndex *float64  `json:"contrast_index"`
		Gamma         *float64  `json:"gamma"`
		Smooth        []float64 `json:"smooth"` // with a penalty of 0.001
	} `json:"results"`
}

// goldenFamily is one line of testdata/families.jsonl.
type goldenFamily struct {
	LogH      []float64     `json:"log_h"`
	Curves    []goldenCurve `json:"curves"`
	Induction bool          `json:"induction"`
	Growth    *struct {
		Limit  float64 `json:"limit"`
		K      float64 `json:"k"`
		T0     float64 `json:"t0"`
		RSS    float64 `json:"rss"`
		Wanted float64 `json:"wanted"`
		Time   float64 `json:"time_s"`
	} `json:"growth"`
}

func goldenFamilies(t *testing.T) []goldenFamily {
	t.Helper()
	return goldentest.Read[goldenFamily](t, "testdata/families.jsonl", 200, 1)
}

func (g goldenFamily) family() Family {
	f := Family{Name: "golden"}
	for _, c := range g.Curves {
		one := Curve{Time: time.Duration(c.Seconds * float64(time.Second)), Base: c.Base}
		for i, d := range c.Density {
			one.Readings = append(one.Readings, Reading{LogH(g.LogH[i]), Density(d)})
		}
		f.Curves = append(f.Curves, one)
	}
	return f
}

// near compares a value that may be absent.
func near[T ~float64](got *T, want *float64, within float64) bool {
	if got == nil || want == nil {
		return got == nil && want == nil
	}
	return math.Abs(float64(*got)-*want) <= within
}

func TestFamiliesAgainstScipy(t *testing.T) {
	growths := 0
	for n, g := range goldenFamilies(t) {
		request := Request{Induction: g.Induction, Rounds: 1, Exact: true}
		if g.Growth != nil {
			request.Target = g.Growth.Wanted
		}
		out, err := Evaluate(g.family(), request)
		if err != nil {
			t.Errorf("family %d: %v", n, err)
			continue
		}
		for i, r := range out.Curves {
			want := g.Curves[i].Results
			if !near(r.SpeedPoint, want.SpeedPoint, 1e-11) || !near(r.DensityRise, want.Rise, 1e-11) ||
				!near(r.ContrastIndex, want.ContrastIndex, 1e-9) || !near(r.Gamma, want.Gamma, 1e-11) {
				got, _ := json.Marshal(r)
				expected, _ := json.Marshal(want)
				t.Errorf("family %d, curve %d: %s\nscipy %s", n, i, got, expected)
			}
		}
		if g.Growth == nil {
			continue
		}
		growths++
		w, got := g.Growth, out.Growth
		off := max(math.Abs(got.Limit/w.Limit-1), math.Abs(float64(got.K)/w.K-1), math.Abs(float64(got.Induction)-w.T0)/10)
		if off > 1e-5 || math.Abs(got.RSS-w.RSS) > 1e-11 {
			t.Errorf("family %d: growth %+v; scipy %+v", n, *got, *w)
		}
		if math.Abs(out.Target.Time-w.Time) > 1e-3 {
			t.Errorf("family %d: gradient %.4f at %.5f s; scipy %.5f", n, w.Wanted, out.Target.Time, w.Time)
		}
	}
	if growths < 120 {
		t.Errorf("%d growth curves compared; expected 120 or more", growths)
	}
}

func TestSmoothingAgainstScipy(t *testing.T) {
	for n, g := range goldenFamilies(t) {
		for i, c := range g.Curves {
			s := newSmoother(g.LogH)
			s.penalise(0.001)
			out := make([]float64, len(c.Density))
			s.smooth(c.Density, out)
			for k, want := range c.Results.Smooth {
				if math.Abs(out[k]-want) > 1e-8 {
					t.Fatalf("family %d, curve %d, reading %d: %.10f; scipy %.10f", n, i, k, out[k], want)
				}
			}
		}
	}
}

// readingsOf draws exposures that rise and any densities.
func readingsOf(t *rapid.T) (x, y []float64) {
	n := rapid.IntRange(2, 30).Draw(t, "n")
	h := rapid.Float64Range(-3, 0).Draw(t, "first")
	for range n {
		x, y = append(x, h), append(y, rapid.Float64Range(0, 4).Draw(t, "density"))
		h += rapid.Float64Range(0.01, 0.5).Draw(t, "step")
	}
	return x, y
}

func TestInterpolantAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := readingsOf(t)
		var other interp.FritschButland
		if err := other.Fit(x, y); err != nil {
			t.Fatal(err)
		}
		p := NewInterpolant(x, y)
		for i := range x[1:] {
			h := x[i] + rapid.Float64Range(0, 1).Draw(t, "part")*(x[i+1]-x[i])
			got, ok := p.At(LogH(h))
			if want := other.Predict(h); !ok || math.Abs(float64(got)-want) > 1e-10 {
				t.Fatalf("at %g: %g; gonum %g", h, float64(got), want)
			}
		}
	})
}

func TestInterpolantKeepsWithinItsReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := readingsOf(t)
		p := NewInterpolant(x, y)
		for i := range x[1:] {
			low, high := min(y[i], y[i+1]), max(y[i], y[i+1])
			for part := 0.0; part < 1; part += 1.0 / 16 {
				d, ok := p.At(LogH(x[i] + part*(x[i+1]-x[i])))
				if !ok || float64(d) < low-1e-12 || float64(d) > high+1e-12 {
					t.Fatalf("between %g and %g: %g", y[i], y[i+1], float64(d))
				}
			}
		}
		if _, ok := p.At(LogH(x[0] - 1e-9)); ok {
			t.Fatal("a density before the first reading")
		}
		if _, ok := p.At(LogH(x[len(x)-1] + 1e-9)); ok {
			t.Fatal("a density after the last reading")
		}
	})
}

func TestCrossingIsTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := readingsOf(t)
		p := NewInterpolant(x, y)
		level := rapid.Float64Range(-0.1, 4.1).Draw(t, "level")
		h, ok := p.crossing(level)
		if !ok {
			if y[0] < level && slices.Max(y) >= level {
				t.Fatalf("no crossing of %g by %v", level, y)
			}
			return
		}
		if d, in := p.At(LogH(h)); !in || math.Abs(float64(d)-level) > 1e-9 {
			t.Fatalf("the curve is %g at the crossing of %g", float64(d), level)
		}
		for i := range x {
			if x[i] < h && y[i] >= level+1e-12 {
				t.Fatalf("reading %d, %g, is over %g before the crossing", i, y[i], level)
			}
		}
	})
}

func TestIsotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, y := readingsOf(t)
		before := slices.Clone(y)
		isotonic(y)
		// Barlow and others 1972: the max over starts of the min over ends of
		// the means of what lies between.
		for i := range y {
			if i > 0 && y[i] < y[i-1]-1e-12 {
				t.Fatalf("%v falls", y)
			}
			most := math.Inf(-1)
			for a := 0; a <= i; a++ {
				least := math.Inf(1)
				for b := i; b < len(y); b++ {
					sum := 0.0
					for _, v := range before[a : b+1] {
						sum += v
					}
					least = min(least, sum/float64(b-a+1))
				}
				most = max(most, least)
			}
			if math.Abs(y[i]-most) > 1e-9 {
				t.Fatalf("value %d of %v: %g; expected %g", i, before, y[i], most)
			}
		}
	})
}
