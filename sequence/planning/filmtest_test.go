package planning

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Sheets are told apart by clips that leave the notch and the masked corner whole; no two
// alike, each short enough to be a sheet's name in a recipe.
func TestClips(t *testing.T) {
	seen := map[string]bool{}
	for n := 1; n <= MostClips; n++ {
		clip := ClipOf(n)
		if clip == "" || seen[clip] || len(clip) > 20 || strings.Contains(clip, "top right") || strings.Contains(clip, "bottom left") {
			t.Errorf("sheet %d: %q", n, clip)
		}
		seen[clip] = true
	}
	if ClipOf(0) != "" || ClipOf(17) != "" || Clips(17) != nil {
		t.Error("a clip for a sheet that cannot be told apart")
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, MostClips).Draw(t, "n")
		text := HowToClip(n)
		for k, name := range Clips(n) {
			if !strings.Contains(text, fmt.Sprintf("sheet %d %s", k+1, name)) {
				t.Fatalf("%s: sheet %d is %s", text, k+1, name)
			}
		}
	})
}

// Sheets that wait in water go on developing a little, and the plan says how much; in an
// acid stop bath, or where all leave together, they do not. By hand: out of the tray at
// 5:00, 7:00 and 10:00 of their own times, moved 10 s apart, sheet 1 waits 5:20 and gains
// 21.6 s and 320 s x 30 ml/1000 ml = 9.6 s: 31.2 s of 300 s are 10 %.
func TestWaterIsEstimated(t *testing.T) {
	r := recipetest.Staggered(sequence.Tray)
	r.Steps[1].LeaveTogether = false
	r.Steps[1].Agitate, r.Steps[0].Agitate = sequence.Agitation{Mode: sequence.Shuffle}, sequence.Agitation{Mode: sequence.Shuffle}
	p := Resolved(t, r, sequence.Conditions{})
	text := toldOf(p, "water-wait")
	if !strings.Contains(text, "sheet 1 waits 5:20 and may gain about 10%") || !WaitsInWater(p, 2) {
		t.Errorf("%q", text)
	}
	r.Baths = append(r.Baths, sequence.Bath{ID: "sour", Parts: parts("acid", 1, "water", 20), Volume: 1000})
	r.Steps[2].Bath = "sour"
	p = Resolved(t, r, sequence.Conditions{})
	if text := toldOf(p, "water-wait"); text != "" {
		t.Errorf("after an acid stop bath: %s", text)
	}
	p = Resolved(t, recipetest.Staggered(sequence.Tray), sequence.Conditions{})
	if toldOf(p, "water-wait") != "" || WaitsInWater(p, 2) {
		t.Error("all leave together, and wait")
	}
}

// A bath is told where it may not cover the film of the vessel chosen. By hand: four
// hangers of 4x5 in take (10.16 + 3) x (4 x 1.3 + 2) x (12.7 + 2.5) cm = 1440 ml.
func TestCover(t *testing.T) {
	size := sequence.Size{Name: "4x5in", Width: 4, Height: 5}
	if got := Cover(sequence.Hangers, 4, size); got != 1500 {
		t.Errorf("%v ml; expected 1440, rounded up", got)
	}
	r := inTrays(sequence.Tray, 4)
	r.Baths = []sequence.Bath{{ID: "developer", Parts: parts("A", 1, "water", 49), Volume: 1000}}
	r.Steps[0].Bath = "developer"
	p := Resolved(t, r, sequence.Conditions{})
	if toldOf(p, "not-covered") != "" {
		t.Error("told in the recipe's own vessel")
	}
	p = Resolved(t, r, sequence.Conditions{Vessel: sequence.Hangers})
	if text := toldOf(p, "not-covered"); !strings.Contains(text, "developer: 1 L may not cover the film in hangers, which takes about 1.5 L for 4 sheets") {
		t.Errorf("%q", text)
	}
}

func toldOf(p *sequence.Plan, code string) string {
	for _, c := range p.Cautions {
		if c.Code == code {
			return c.Text
		}
	}
	return ""
}

func parts(list ...any) (out []chem.Part) {
	for i := 0; i < len(list); i += 2 {
		out = append(out, chem.Part{Name: list[i].(string), Parts: float64(list[i+1].(int))})
	}
	return out
}
