package sequence

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
)

// What stands ready is judged before film is wet: by the litre and the sheet, by
// age, by its clearing time; the arithmetic stands beside each.
func TestKeptBaths(t *testing.T) {
	r := recipeOf(Hangers, 6, bathFor(Develop, 8*mins), bathFor(Fix, 5*mins))
	r.Steps[0].Bath, r.Steps[1].Bath = "developer", "fixer"
	r.Baths = []Bath{
		{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 9}}, Volume: 1000, StockPerSheet: 5, SheetsPerLitre: 20, TrayLife: time.Hour},
		{ID: "fixer", Volume: 500, SheetsPerLitre: 24}, // 12 sheets
	}
	oneShot := r
	oneShot.Baths = []Bath{r.Baths[0], r.Baths[1]}
	oneShot.Baths[0].OneShot = true
	developer, fixer := Kept{Bath: "developer", Bottle: "d"}, Kept{Bath: "fixer", Bottle: "f"}
	with := func(k Kept, change func(*Kept)) Kept { change(&k); return k }
	for _, c := range []struct {
		name  string
		r     Recipe
		kept  Kept
		code  string
		level Level
	}{
		{"fresh", r, fixer, "", ""},
		{"52 minutes old, used until 8:00: an hour", r, with(developer, func(k *Kept) { k.Age = 52 * mins }), "stale", ""},
		{"a minute older", r, with(developer, func(k *Kept) { k.Age = 53 * mins }), "stale", Danger},
		{"keeps for longer than the recipe says", r, with(developer, func(k *Kept) { k.Age, k.Keeps = 53*mins, 2*time.Hour }), "stale", ""},
		{"mixed tomorrow", r, with(developer, func(k *Kept) { k.Age = -24 * time.Hour }), "clock", Care},
		{"5 done, 6 more of 12", r, with(fixer, func(k *Kept) { k.Done = 5 }), "half-spent", ""},
		{"6 done, 6 more of 12", r, with(fixer, func(k *Kept) { k.Done = 6 }), "half-spent", Care},
		{"7 done, 6 more of 12", r, with(fixer, func(k *Kept) { k.Done = 7 }), "capacity", Care},
		{"12 done of 12", r, with(fixer, func(k *Kept) { k.Done = 12 }), "spent", Danger},
		{"12 done of 24 in a litre", r, with(fixer, func(k *Kept) { k.Done, k.Volume = 12, 1000 }), "spent", ""},
		{"as many as nobody knows", r, with(developer, func(k *Kept) { k.Bath = "water"; k.Done = 3 }), "capacity-unknown", ""},
		{"100 ml of A at 5 ml: 20 sheets, 14 done", r, with(developer, func(k *Kept) { k.Done = 14 }), "stock-short", ""},
		{"15 done", r, with(developer, func(k *Kept) { k.Done = 15 }), "stock-short", Danger},
		{"one shot, unused", oneShot, developer, "spent", ""},
		{"one shot, used", oneShot, with(developer, func(k *Kept) { k.Done = 6 }), "spent", Danger},
		{"clears in just under twice", r, with(fixer, func(k *Kept) { k.Fresh, k.Clearing = mins, 119*sec }), "spent", ""},
		{"clears in twice", r, with(fixer, func(k *Kept) { k.Fresh, k.Clearing = mins, 2*mins }), "spent", Danger},
		{"never tested fresh", r, with(fixer, func(k *Kept) { k.Clearing = 2 * mins }), "spent", ""},
	} {
		p := resolved(t, c.r, Conditions{Kept: []Kept{c.kept}})
		if got := code(p, c.code); c.code != "" && got != c.level || c.code == "" && len(p.OfBaths()) > 0 {
			t.Errorf("%s: %s is %q; expected %q; all: %v", c.name, c.code, got, c.level, p.OfBaths())
		}
	}
	unknown := r
	unknown.Baths = []Bath{r.Baths[0], {ID: "fixer"}}
	p := resolved(t, unknown, Conditions{Kept: []Kept{with(fixer, func(k *Kept) { k.Done = 3 })}})
	if code(p, "capacity-unknown") != Note {
		t.Errorf("nobody said how many the fixer serves: %v", p.Cautions)
	}
	if fresh := resolved(t, r, Conditions{}); len(fresh.OfBaths()) > 0 {
		t.Errorf("nothing is kept: %v", fresh.OfBaths())
	}
	for _, c := range p.Cautions {
		if strings.Contains(c.Text, "\n") {
			t.Errorf("more than a line: %q", c.Text)
		}
	}
}

func TestLongTime(t *testing.T) {
	for d, want := range map[Elapsed]string{90 * sec: "1:30", 47 * time.Hour: "47:00:00", 48 * time.Hour: "2 days", 100 * time.Hour: "4 days"} {
		if got := LongTime(d); got != want {
			t.Errorf("%v: %q; expected %q", d, got, want)
		}
	}
}
