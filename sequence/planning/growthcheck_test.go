package planning

// A growth curve belongs to what it was measured with.

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// grown is a plan in hangers whose growth was measured just so.
func grown(change func(*sequence.Recipe, *sequence.Conditions)) (sequence.Plan, error) {
	often := sequence.Agitation{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 10 * time.Second, Every: time.Minute}
	r := sequence.Recipe{Title: "t", Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan},
		Load:  sequence.Load{Vessel: sequence.Hangers, Sheets: 2, LoadEvery: 10 * time.Second, ShuffleEvery: 10 * time.Second, TransferEvery: 10 * time.Second},
		Baths: []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "B", Parts: 2}, {Name: "water", Parts: 60}}}},
		Steps: []sequence.Step{
			{Name: "develop", Kind: sequence.Develop, Bath: "developer", Time: 8 * time.Minute, RoomLight: sequence.Dark, Agitate: often,
				Growth: &sequence.Growth{Limit: 1.2, K: 0.11, Film: "Plover 80", Developer: "water 120 + A 2 + B 4", Vessel: sequence.Hangers, Agitate: often}},
			{Name: "fix", Kind: sequence.Fix, Time: 5 * time.Minute, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Continuous}},
		}}
	c := sequence.Conditions{}
	change(&r, &c)
	return Resolve(r, c)
}

func TestCurveElsewhere(t *testing.T) {
	for _, tc := range []struct {
		name   string
		change func(*sequence.Recipe, *sequence.Conditions)
		want   string // in the caution; "" for none
	}{
		{"as it was measured, the mixture in other words", func(*sequence.Recipe, *sequence.Conditions) {}, ""},
		{"developer named by its id", func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[0].Growth.Developer = "developer" }, ""},
		{"another film", func(r *sequence.Recipe, _ *sequence.Conditions) { r.Film.Name = "Tern 100" }, "film Tern 100 instead of Plover 80"},
		{"more dilute", func(r *sequence.Recipe, _ *sequence.Conditions) { r.Baths[0].Parts[2].Parts = 100 },
			"developer A 1 + B 2 + water 100 instead of water 120 + A 2 + B 4"},
		{"one part less", func(r *sequence.Recipe, _ *sequence.Conditions) { r.Baths[0].Parts = r.Baths[0].Parts[1:] }, "developer B 2 + water 60"},
		{"another vessel today", func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.Drum }, "vessel drum instead of hangers"},
		{"agitated more seldom", func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[0].Agitate.Every = 2 * time.Minute },
			"agitation pattern 30s 10s 2m0s instead of pattern 30s 10s 1m0s"},
		{"shuffle where nothing is shuffled is continuous", func(r *sequence.Recipe, _ *sequence.Conditions) {
			r.Steps[0].Agitate, r.Steps[0].Growth.Agitate = sequence.Agitation{Mode: sequence.Shuffle}, sequence.Agitation{Mode: sequence.Continuous}
		}, ""},
		{"a stack that is shuffled is not", func(r *sequence.Recipe, c *sequence.Conditions) {
			c.Vessel, r.Steps[0].Growth.Vessel = sequence.Tray, sequence.Tray
			r.Steps[0].Agitate, r.Steps[0].Growth.Agitate = sequence.Agitation{Mode: sequence.Shuffle}, sequence.Agitation{Mode: sequence.Continuous}
		}, "agitation shuffle 0s 0s 0s instead of continuous 0s 0s 0s"},
	} {
		p, err := grown(tc.change)
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		got := ""
		for _, c := range p.Cautions {
			if c.Code == "curve-elsewhere" && c.Level == sequence.Danger {
				got += differing(c.Differs)
			}
		}
		if (tc.want == "") != (got == "") || !strings.Contains(got, tc.want) {
			t.Errorf("%s: %q; expected %q", tc.name, got, tc.want)
		}
	}
}

// differing is what differs, for comparison.
func differing(list []sequence.Differing) string {
	moved := func(a *sequence.Agitation) string {
		return fmt.Sprintf("%s %v %v %v", a.Mode, a.Initial, a.For, a.Every)
	}
	text := ""
	for _, d := range list {
		if d.Moved != nil {
			d.Here, d.There = moved(d.Moved), moved(d.Then)
		}
		text += d.What + " " + d.Here + " instead of " + d.There
	}
	return text
}

// By the handbook of logarithms: half the limit is reached after ln 2 / k.
func TestGrowthAt(t *testing.T) {
	g := sequence.Growth{Limit: 1.2, K: math.Ln2 / 6, Induction: 1}
	if got := g.At(7 * time.Minute); math.Abs(got-0.6) > 1e-12 {
		t.Errorf("%g; expected 0.6", got)
	}
	if got := g.At(30 * time.Second); got != 0 {
		t.Errorf("%g before the induction; expected 0", got)
	}
}
