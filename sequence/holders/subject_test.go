package holders

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// A range of 5 with the shadow at -2 reaches 5 + 10/3 - 2 = 6 1/3 stops over the speed point, 1.907 in log10: a gradient of
// 1.05/(1.907 - 0.4) = 0.697, and by 1 - exp(-0.11 t) 10.85 min; of 5 stops from the speed point it would be 0.950.
func TestTheShadowCounts(t *testing.T) {
	r := growing()
	on := PaperAndFlare{Paper: 1.05, Flare: 0.4}
	e := ExposedSheet{Holder: "1", Film: "Plover 80", Range: 5, Shadow: "-2"}
	w, err := e.DevelopmentWanted(&r, nil, on)
	if err != nil || math.Abs(w.Gradient-0.697) > 0.001 || math.Abs(w.Time.Minutes()-10.85) > 0.03 {
		t.Errorf("%+v, %v", w, err)
	}
	e.Shadow = "in the boat house"
	if _, err = e.DevelopmentWanted(&r, nil, on); err == nil || !strings.Contains(err.Error(), "0.95") {
		t.Errorf("from the speed point: %v", err)
	}
	for text, want := range map[string]float64{"-2": -2, "\u22122.5 stops": -2.5, "+1": 1} {
		if got, ok := (&ExposedSheet{Shadow: text}).shadowPlaced(); !ok || got != want {
			t.Errorf("%q: %g, %v", text, got, ok)
		}
	}
	for _, text := range []string{"", "-2 or -3", "dark"} {
		if got, ok := (&ExposedSheet{Shadow: text}).shadowPlaced(); ok {
			t.Errorf("%q: %g", text, got)
		}
	}
}

// By hand, for a film that grows as 1.2 (1 - exp(-0.10612 t)), on a paper of 1.05 with a flare of 0.4: range 5 with the
// shadow at -2 is 19/3 stops, 1.9065 in log10; 1.05/1.5065 = 0.6970; -ln(1 - 0.6970/1.2)/0.10612 = 8.193 min, 8:12.
// As 5 stops from the speed point it would be 1.5051; 1.05/1.1051 = 0.9501; 14.79 min, 14:47: overdeveloped by far.
func TestRangeFiveWithTheShadowAtMinusTwo(t *testing.T) {
	r := growing()
	r.Steps[1].Growth = &sequence.Growth{Limit: 1.2, K: 0.10612, Tested: []sequence.TestedTime{{Time: 5 * time.Minute, Gradient: 0.494}, {Time: 16 * time.Minute, Gradient: 0.98}}}
	on := PaperAndFlare{Paper: 1.05, Flare: 0.4}
	for shadow, want := range map[string]time.Duration{"-2": 8*time.Minute + 12*time.Second, "": 14*time.Minute + 47*time.Second} {
		w, err := (&ExposedSheet{Holder: "1", Film: "Plover 80", Range: 5, Shadow: shadow}).DevelopmentWanted(&r, nil, on)
		if err != nil || w.Time != want {
			t.Errorf("shadow at %q: %v, %v; expected %v", shadow, w.Time, err, want)
		}
	}
}

// A film that needs 1 s for 1 s and 100 s for 10 s doubles contrast past a second; its 100 s were 10 s by the meter. One that needs
// 15.14 s for 10 s has a slope of 1.18: N of 0.585 becomes 0.4959, and by 1 - exp(-0.11 t) 6.227 min.
func TestLongExposuresDevelopLess(t *testing.T) {
	r := growing()
	table := func(needed time.Duration) {
		r.Film.Reciprocity = &sequence.Reciprocity{Table: [][2]time.Duration{{time.Second, time.Second}, {1000 * time.Second, needed}}}
	}
	table(time.Duration(math.Pow(10, 3*1.18) * float64(time.Second)))
	e := ExposedSheet{Holder: "1", Film: "Plover 80", Exposure: "f/22, 5m"}
	on := PaperAndFlare{Paper: 1.05, Flare: 0.4}
	w, err := e.DevelopmentWanted(&r, nil, on)
	if err != nil || math.Abs(w.Gain-1.18) > 0.001 || math.Abs(w.Gradient-0.5852/1.18) > 0.001 || math.Abs(w.Time.Minutes()-6.227) > 0.02 {
		t.Errorf("%+v, %v", w, err)
	}
	// with a range: 1.05/1.8/1.18 = 0.4943
	e.Range = 2.2 / math.Log10(2)
	if w, err = e.DevelopmentWanted(&r, nil, on); err != nil || math.Abs(w.Gradient-0.4943) > 0.001 {
		t.Errorf("with a range: %+v, %v", w, err)
	}
	// what was decided stands
	e.Development = "N"
	if w, err = e.DevelopmentWanted(&r, nil, on); err != nil || w.Time != 8*time.Minute {
		t.Errorf("N as written: %+v, %v", w, err)
	}
	// without a growth curve: 1.18 x 7.3 stops are 1.3 more than usual, N-1
	e.Development, e.Range = "", 0
	r.Steps[1].Growth = nil
	r.Steps[1].Time, r.Steps[1].Times = 0, []sequence.NamedTime{{Name: "N-1", Time: 6 * time.Minute}, {Name: "N", Time: 8 * time.Minute}}
	if w, err = e.DevelopmentWanted(&r, nil, on); err != nil || w.Time != 6*time.Minute {
		t.Errorf("by the recipe's times: %+v, %v", w, err)
	}
	for text, want := range map[string]time.Duration{"40s": 40 * time.Second, "f/32 40 s": 40 * time.Second, "1m30s at f/22": 90 * time.Second,
		"metered 10s, given 40s": 40 * time.Second, "f/22 1/2": 0, "1/30s f/16": 0, "": 0, "8 min": 8 * time.Minute, "f/8": 0, "EI 50": 0} {
		if got := (&ExposedSheet{Exposure: text}).exposureTime(); got != want {
			t.Errorf("%q: %v; expected %v", text, got, want)
		}
	}
}
