package planning

import (
	"math"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// Sheets that wait in water go on developing a little, and the plan says how much; in an
// acid stop bath, or where all leave together, they do not. By hand: out of the tray at
// 5:00, 7:00 and 10:00 of their own times, moved 10 s apart, sheet 1 waits 5:20 and gains
// 21.6 s and 320 s x 30 ml/1000 ml = 9.6 s: 31.2 s of 300 s are 10 %.
func TestWaterIsEstimated(t *testing.T) {
	r := recipetest.Staggered(sequence.Tray)
	r.Steps[1].LeaveTogether = false
	r.Steps[1].Agitate, r.Steps[0].Agitate = sequence.Agitation{Mode: sequence.Shuffle}, sequence.Agitation{Mode: sequence.Shuffle}
	p := Resolved(t, r, sequence.Conditions{})
	c, ok := caution(p, "water-wait")
	if !ok || c.Sheet != 1 || c.Time != 320*recipetest.Second || math.Abs(c.Share-0.104) > 1e-6 || !sequence.WaitsInWater(p, 2) {
		t.Errorf("%+v", c)
	}
	r.Baths = append(r.Baths, sequence.Bath{ID: "sour", Parts: parts("acid", 1, "water", 20), Volume: 1000})
	r.Steps[2].Bath = "sour"
	p = Resolved(t, r, sequence.Conditions{})
	if c, ok := caution(p, "water-wait"); ok {
		t.Errorf("after an acid stop bath: %+v", c)
	}
	p = Resolved(t, recipetest.Staggered(sequence.Tray), sequence.Conditions{})
	if _, ok := caution(p, "water-wait"); ok || sequence.WaitsInWater(p, 2) {
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
	if _, ok := caution(p, "not-covered"); ok {
		t.Error("told in the recipe's own vessel")
	}
	p = Resolved(t, r, sequence.Conditions{Vessel: sequence.Hangers})
	if c, _ := caution(p, "not-covered"); c.Bath != "developer" || c.Volume != 1000 || c.Need != 1500 || c.Vessel != sequence.Hangers || c.Sheets != 4 {
		t.Errorf("%+v", c)
	}
}

// caution is the plan's first caution of a code.
func caution(p *sequence.Plan, code string) (sequence.Caution, bool) {
	for _, c := range p.Cautions {
		if c.Code == code {
			return c, true
		}
	}
	return sequence.Caution{}, false
}

func parts(list ...any) (out []chem.Part) {
	for i := 0; i < len(list); i += 2 {
		out = append(out, chem.Part{Name: list[i].(string), Parts: float64(list[i+1].(int))})
	}
	return out
}

// Sheets that go straight on to the fixer need an acid stop bath that nobody must press for, and a
// fixer behind it; then none waits in water.
func TestStraightOnIsRefused(t *testing.T) {
	straight := func() sequence.Recipe {
		r := recipetest.Staggered(sequence.Hangers)
		r.Steps[1].LeaveTogether, r.Steps[1].StraightOn, r.Steps[2].Bath = false, true, "stop"
		r.Baths = []sequence.Bath{recipetest.AcidStop()}
		return r
	}
	p := Resolved(t, straight(), sequence.Conditions{})
	if _, ok := caution(p, "water-wait"); ok || sequence.WaitsInWater(p, 2) {
		t.Error("each goes straight on, and waits")
	}
	for _, c := range []struct {
		why, code string
		change    func(*sequence.Recipe)
	}{
		{"plain water", "straight-on-acid", func(r *sequence.Recipe) { r.Baths[0].Parts = parts("water", 1) }},
		{"no parts", "straight-on-acid", func(r *sequence.Recipe) { r.Baths = nil }},
		{"waits", "straight-on-waits", func(r *sequence.Recipe) { r.Steps[2].WaitForPerson = true }},
		{"no stop bath", "straight-on-baths", func(r *sequence.Recipe) { r.Steps[2].Kind = sequence.Rinse }},
		{"no fixer", "straight-on-baths", func(r *sequence.Recipe) { r.Steps[3].Kind = sequence.Rinse }},
		{"nothing follows", "straight-on-baths", func(r *sequence.Recipe) { r.Steps = r.Steps[:3] }},
	} {
		r := straight()
		c.change(&r)
		_, err := Resolve(r, sequence.Conditions{})
		refusedAs(t, c.why, err, c.code)
	}
}
