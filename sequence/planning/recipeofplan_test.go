package planning

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// What is written down as chosen plans again as it was, at the same temperatures and with
// nothing else given.
func TestChosenPlansAgainTheSame(t *testing.T) {
	changed := 0
	rapid.Check(t, func(t *rapid.T) {
		r, c := drawTrays(t)
		c.Vessel = rapid.SampledFrom([]sequence.Vessel{"", sequence.Tray, sequence.Hangers, sequence.SingleTrays, sequence.Cradle, sequence.Drum}).Draw(t, "other vessel")
		c.Factor = rapid.SampledFrom([]float64{0, 0.8, 1.25}).Draw(t, "factor")
		c.Clearing = recipetest.Seconds(t, 60, 200, "clearing")
		if rapid.Bool().Draw(t, "own limit") {
			c.WetLimit = 40 * recipetest.Minute
		}
		list, _ := Group(drawWants(t, r.Steps[0].Growth), r, c, Grouping{})
		if len(list) == 0 {
			t.Skip("nothing goes")
		}
		p := list[0].Plan
		again, err := Resolve(AsChosen(&p), sequence.Conditions{BathTemperature: c.BathTemperature, SettlesAt: c.SettlesAt, TimeConstant: c.TimeConstant})
		if err != nil {
			t.Fatal(err)
		}
		if again.Vessel != p.Vessel || again.Sheets != p.Sheets || !reflect.DeepEqual(again.Wet, p.Wet) ||
			!reflect.DeepEqual(again.Cues, p.Cues) || !reflect.DeepEqual(again.Passages, p.Passages) {
			t.Fatalf("planned again: %d sheets in %s, wet %v; expected %d in %s, wet %v", again.Sheets, again.Vessel, again.Wet, p.Sheets, p.Vessel, p.Wet)
		}
		if c.Vessel != "" && c.Vessel != r.Load.Vessel {
			changed++
		}
	})
	if changed == 0 {
		t.Error("no vessel was changed")
	}
}

// Sheets of several times leave the developer together where there is a bath to come
// from; nothing then waits with developer in it.
func TestGroupLeavesTogether(t *testing.T) {
	r := inTrays(sequence.Hangers, 6)
	r.Steps = append([]sequence.Step{{Name: "presoak", Kind: sequence.Presoak, Time: recipetest.Minute, RoomLight: sequence.Dark}}, r.Steps...)
	list, _ := Group(wanting(r.Steps[1].Growth, 6, 8, 11), r, sequence.Conditions{}, Grouping{})
	if len(list) != 1 || !list[0].Plan.Recipe.Steps[1].LeaveTogether {
		t.Fatalf("%d sessions, %+v", len(list), list[0].Plan.Recipe.Steps[1])
	}
	p := list[0].Plan
	out := map[sequence.Elapsed]bool{}
	for k := range 3 {
		out[p.Passages[3+k].Out] = true
		if got := TimeOf(&p, k); got != list[0].Sheets[k].Time {
			t.Errorf("sheet %d is developed %v; expected %v", k+1, got, list[0].Sheets[k].Time)
		}
	}
	if len(out) != 1 {
		t.Errorf("sheets leave the developer at %v", out)
	}
}

// A recipe's growth says nothing outside the times that were tested; what a tested time
// itself gave is inside, wherever the curve that was fitted passes it. By hand: at 12 min
// 1 - exp(-0.11 x 12) is 0.733; 0.95 takes -ln(0.05)/0.11 = 27.23 min.
func TestGrowthKeepsToWhatWasTested(t *testing.T) {
	g := &sequence.Growth{Limit: 1, K: 0.11, Tested: []sequence.TestedTime{{Time: 5 * recipetest.Minute, Gradient: 0.42}, {Time: 12 * recipetest.Minute, Gradient: 0.75}}}
	for gradient, want := range map[float64]sequence.Elapsed{0.75: 12 * recipetest.Minute, 0.754: 12 * recipetest.Minute, 0.42: 5 * recipetest.Minute} {
		got, err := g.Time(gradient)
		if err != nil || (got-want).Abs() > recipetest.Second*10 {
			t.Errorf("%.3f: %v, %v; expected %v", gradient, got, err, want)
		}
	}
	for gradient, want := range map[float64]string{
		0.95: "gradient 0.95: outside tested times (5:00 to 12:00), at about 27:15",
		0.3:  "gradient 0.30: outside tested times (5:00 to 12:00), at about 3:15",
		1.2:  "gradient 1.20 cannot be had: in this developer the film ends at 1.00",
	} {
		if _, err := g.Time(gradient); err == nil || err.Error() != want {
			t.Errorf("%.2f: %v; expected %s", gradient, err, want)
		}
	}
	if _, err := (&sequence.Growth{Limit: 1, K: 0.11}).Time(0.5); err == nil {
		t.Error("tested times unknown, and a time is told")
	}
	rapid.Check(t, func(t *rapid.T) {
		gradient := rapid.Float64Range(0.01, 0.999).Draw(t, "gradient")
		if got, err := g.Time(gradient); err == nil && !g.Covers(got) {
			t.Fatalf("%.3f: %v was not tested", gradient, got)
		}
	})
}
