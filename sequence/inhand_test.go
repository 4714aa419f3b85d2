package sequence

// Stock against what the baths take, by hand: A 1 + B 3 + water 80 makes 1.5 l of
// 1500/63 = 23.81 ml A and 47.62 ml B; 2.1 l of it take 33.33 ml A.

import (
	"math"
	"strings"
	"testing"

	"example.org/wetside/chem"
)

// stocked is a session with two baths that have A in them, and a third that stands ready.
func stocked(tb testing.TB, stock ...InHand) *Plan {
	parts := []chem.Part{{Name: "A", Parts: 1}, {Name: "B", Parts: 2}, {Name: "water", Parts: 60}}
	r := recipeOf(Hangers, 4, bathFor(Develop, 8*mins), bathFor(StopBath, mins), bathFor(Fix, 5*mins))
	for i, id := range []string{"developer", "second", "fixer"} {
		r.Steps[i].Bath = id
		r.Baths = append(r.Baths, Bath{ID: id, Parts: parts, Volume: 1500})
	}
	r.Baths[1].Volume = 2100
	r.Baths = append(r.Baths, Bath{ID: "unused", Parts: parts, Volume: 1500})
	return resolved(tb, r, Conditions{Kept: []Kept{{Bath: "fixer", Bottle: "f", Volume: 1500, SheetsPerLitre: 4, Done: 3}}, InHand: r.Uses(stock)})
}

func TestDrawsByHand(t *testing.T) {
	p := stocked(t, InHand{"a", "old", 30, 100}, InHand{"A", "new", 20, 500}, InHand{"C", "other", 50, 50})
	if len(p.Conditions.InHand) != 2 {
		t.Fatalf("%v; expected the two bottles of A", p.Conditions.InHand)
	}
	want := []Draw{
		{"developer", "A", "old", 23.81, 30, 0},
		{"second", "A", "old", 6.19, 6.19, 0},
		{"second", "A", "new", 20, 20, 33.33 - 6.19 - 20},
	}
	got := p.Draws()
	if len(got) != len(want) {
		t.Fatalf("%+v; expected %+v", got, want)
	}
	for i, d := range got {
		w := want[i]
		off := math.Abs(float64(d.Volume-w.Volume)) + math.Abs(float64(d.Left-w.Left)) + math.Abs(float64(d.Lacking-w.Lacking))
		if d.Bath != w.Bath || d.Bottle != w.Bottle || off > 0.03 {
			t.Errorf("%+v; expected %+v", d, w)
		}
	}
	if said := got[2].Say(Habits{}); said != "A: 20.0 ml of the 20.0 ml in new, SHORT by 7.14 ml" {
		t.Errorf("says %q", said)
	}
	lacking := 0
	for _, c := range p.OfBaths() {
		if c.Code == "stock-lacking" && c.Level == Care && strings.Contains(c.Text, "second: 7.14 ml of A is lacking") {
			lacking++
		}
	}
	if lacking != 1 {
		t.Errorf("%v; expected one caution of stock", p.Cautions)
	}
	if p = stocked(t, InHand{"A", "full", 500, 500}); strings.Contains(texts(p), "lacking") || len(p.Draws()) != 2 {
		t.Errorf("with enough: %+v, %v", p.Draws(), p.Cautions)
	}
	if p = stocked(t); len(p.Draws()) != 0 || strings.Contains(texts(p), "lacking") {
		t.Errorf("stock that nobody counts is looked at: %+v", p.Draws())
	}
	// 1.5 l at 4 sheets a litre serve 6, 3 are done: 4 more are one too many
	if says := p.Takes(&p.Recipe.Baths[2]); says != "takes 4 of the 3 sheets of 4x5in that it still serves, SHORT by 1" {
		t.Errorf("the kept bath: %q", says)
	}
	if says := p.Takes(&p.Recipe.Baths[0]); says != "" {
		t.Errorf("a fresh bath: %q", says)
	}
}
