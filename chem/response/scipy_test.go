package response

// 500 families of curves whose surface scipy interpolates (testdata/surfaces.py): times and shadows against it.

import (
	"math"
	"os"
	"slices"
	"testing"

	"example.org/wetside/chem/goldentest"
)

// scipyFamily is a line of testdata/surfaces.jsonl.
type scipyFamily struct {
	LogH    float64     `json:"log_h"` // of the first reading
	Step    float64     `json:"step"`
	Times   []float64   `json:"times_s"`
	Base    []float64   `json:"base"`
	Density [][]float64 `json:"density"`
	Average scipyAim    `json:"average"`
	Print   scipyAim    `json:"print"`
}

type scipyAim struct {
	Wanted float64 `json:"wanted"`
	OnFilm float64 `json:"on_film"`
	Time   float64 `json:"time_s"`
	Shadow float64 `json:"shadow"`
}

func (f scipyFamily) sheets() (list []Sheet) {
	for i, t := range f.Times {
		s := Sheet{Time: seconds(t), Density: f.Density[i], Base: &f.Base[i]}
		for j := range s.Density {
			s.LogH = append(s.LogH, f.LogH+f.Step*float64(j))
		}
		list = append(list, s)
	}
	return list
}

// TestSurfaceAgainstScipy: of 500 families at most one aim in twenty is off by over 1 % in time, none by over 2 %, and no
// shadow by a twelfth of a stop, 0.025 log H. Every tenth is always tried, all with WETSIDE_FULL=1.
func TestSurfaceAgainstScipy(t *testing.T) {
	every := 10
	if os.Getenv("WETSIDE_FULL") != "" {
		every = 1
	}
	var offs, shadows []float64
	for i, f := range goldentest.Read[scipyFamily](t, "testdata/surfaces.jsonl", 500, every) {
		n := i * every
		s, err := Fit(f.sheets(), exact)
		if err != nil {
			t.Fatal(err)
		}
		for name, c := range map[string]struct {
			scipyAim
			aim Aim
		}{"average": {f.Average, Average{f.Average.Wanted}}, "print": {f.Print, Print{Paper: f.Print.Wanted, Subject: f.Print.OnFilm, Shadow: speedDensity}}} {
			got, err := s.Solve(c.aim)
			if err != nil {
				t.Errorf("family %d, %s: %v", n+1, name, err)
				continue
			}
			off, shadow := got.Time.Seconds()/c.Time-1, got.Shadow-c.Shadow
			offs, shadows = append(offs, math.Abs(off)), append(shadows, math.Abs(shadow))
			if math.Abs(off) > 0.02 || math.Abs(shadow) > 0.025 {
				t.Errorf("family %d, %s: time %+.2f%%, shadow %+.3f", n+1, name, 100*off, shadow)
			}
		}
	}
	slices.Sort(offs)
	slices.Sort(shadows)
	t.Logf("%d aims: times off by %.2f%% in the middle, %.2f%% in 95 of 100, %.2f%% at most; shadows by %.4f, %.4f, %.4f", len(offs),
		100*quantile(offs, 0.5), 100*quantile(offs, 0.95), 100*offs[len(offs)-1], quantile(shadows, 0.5), quantile(shadows, 0.95), shadows[len(shadows)-1])
	if quantile(offs, 0.95) > 0.01 {
		t.Errorf("times off by %.2f%% in one of twenty", 100*quantile(offs, 0.95))
	}
}
