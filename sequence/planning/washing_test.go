package planning

import (
	"math"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// A wash in a tank of 1.5 L at 24 °C, four sheets of 4x5 in, by hand: 0.0516 m2, 35.7 ml/m2 of gelatin hold
// 1.84 ml, film and vessel keep 1.84 + 18 ml; 160 g/l of 21.7 ml are 67.2 g/m2. Ten minutes are 3 changes of
// 3:00 and 0:20; half leaves the gelatin in 3.46 min (30 min for 8.67 halvings, US Army SS0509 pp. 18, 24).
// After a washing aid half leaves in 0.577 min: 0.014 g/m2 and far under is reached.
func TestWashOf(t *testing.T) {
	fix, wash := recipetest.Bath(sequence.Fix, 5*recipetest.Minute), recipetest.Bath(sequence.Wash, 10*recipetest.Minute)
	aid := recipetest.Bath(sequence.WashingAid, 2*recipetest.Minute)
	dev := recipetest.At(recipetest.Bath(sequence.Develop, 8*recipetest.Minute), 24, 2.2)
	plan := func(steps ...sequence.Step) *sequence.Plan {
		r := recipetest.Recipe(sequence.Hangers, 4, steps...)
		r.Baths = []sequence.Bath{{ID: "developer", Volume: 1500, Parts: []chem.Part{{Name: "A", Parts: 1}}}}
		return Resolved(t, r, sequence.Conditions{})
	}
	plain := WashOf(plan(dev, fix, wash), 2)
	const gelatin, area = 35.714 * 0.051613, 0.051613
	all := 160 * (2*gelatin + 18) / 1000 / area
	if plain.Changes != 3 || plain.Volume != 1500 || plain.Water != 24 || plain.After || plain.Reached(chem.WashAims[0]) {
		t.Errorf("without an aid: %+v", plain)
	}
	// Three changes by hand, gelatin into water that starts with what the last left: g and w draw together to
	// their mean m by 2^(-3/3.46), with the gelatin's own share.
	g, w, keeps := 1.0, 1.0, 18+gelatin
	for range 3 {
		w *= keeps / 1500
		m := (g*gelatin + w*1500) / (gelatin + 1500)
		still := math.Exp2(-3 / 3.46 * (1 + gelatin/1500))
		g, w = m+(g-m)*still, m+(w-m)*still
	}
	left := all * (g*gelatin + w*keeps) / (gelatin + keeps)
	if plain.Changes == 3 && math.Abs(plain.High/left-1) > 2e-3 {
		t.Errorf("leaves %g g/m2; by hand %g in changes", plain.High, left)
	}
	if low := 160 * keeps / 1000 / area * math.Pow(keeps/1500, 3); math.Abs(plain.Low/low-1) > 1e-3 {
		t.Errorf("by dilution alone %g; by hand %g", plain.Low, low)
	}
	strict := plain.Schedules[2]
	if strict.AfterAid == nil || strict.Running == nil || *strict.Running < 30*time.Minute || strict.AfterAid.Wet > 8*time.Minute {
		t.Errorf("to the microfilm's limit: %+v", strict)
	}
	aided := WashOf(plan(dev, fix, aid, wash), 3)
	if !aided.After || !aided.Reached(chem.WashAims[2]) || aided.Schedules[2].AfterAid != nil {
		t.Errorf("after an aid: %+v", aided)
	}
	second := WashOf(plan(dev, fix, wash, wash), 3)
	if second.High >= plain.High/3 {
		t.Errorf("a second wash leaves %g, the first %g", second.High, plain.High)
	}
	if before := WashOf(plan(wash, dev, fix), 0); before.AfterFix || before.Changes != 3 {
		t.Errorf("a wash before the fixer: %+v", before)
	}
	if WashOf(plan(dev, fix), 1) != nil {
		t.Error("a fixer is a wash")
	}
}

// A shorter wash that is proposed after a washing aid is long enough for film use by the upper bound, also where
// the published five minutes are not (20 °C); what cutting a wash leaves is said.
func TestShorterWashesByTheSameArithmetic(t *testing.T) {
	dev := recipetest.At(recipetest.Bath(sequence.Develop, 8*recipetest.Minute), 20, 2.2)
	wash := recipetest.Bath(sequence.Wash, 20*recipetest.Minute)
	wash.LeastTime = 4 * recipetest.Minute
	r := recipetest.Recipe(sequence.Hangers, 4, dev, recipetest.Bath(sequence.Fix, 5*recipetest.Minute), wash)
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 400, Parts: []chem.Part{{Name: "A", Parts: 1}}}}
	found := map[string]sequence.Shortening{}
	for _, s := range Resolved(t, r, sequence.Conditions{}).Shorten {
		found[s.Code] = s
	}
	if aid := found["wash-aid"]; aid.Time <= 5*recipetest.Minute || aid.Residual > chem.WashAims[0].Limit || aid.Residual == 0 {
		t.Errorf("after a washing aid: %v, at most %g g/m2", aid.Time, aid.Residual)
	}
	if least := found["at-least"]; least.Residual < 1 { // 4 min are one halving of 5.7 g/m2
		t.Errorf("cut to %v: at most %g g/m2", least.Time, least.Residual)
	}
}
