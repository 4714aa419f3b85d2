package sequence

import (
	"errors"
	"slices"
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
		{"one shot: no bottle keeps for longer than the recipe says", oneShot, with(developer, func(k *Kept) { k.Age, k.Keeps = 53*mins, 2*time.Hour }), "stale", Danger},
		{"one shot, nor a minute less", oneShot, with(developer, func(k *Kept) { k.Age, k.Keeps = 52*mins, 2*time.Hour }), "stale", ""},
		{"mixed tomorrow", r, with(developer, func(k *Kept) { k.Age = -24 * time.Hour }), "clock", Care},
		{"5 done, 6 more of 12", r, with(fixer, func(k *Kept) { k.Done = 5 }), "half-spent", ""},
		{"6 done, 6 more of 12", r, with(fixer, func(k *Kept) { k.Done = 6 }), "half-spent", Care},
		{"7 done, 6 more of 12", r, with(fixer, func(k *Kept) { k.Done = 7 }), "capacity", Care},
		{"12 done of 12", r, with(fixer, func(k *Kept) { k.Done = 12 }), "spent", Danger},
		{"12 done of 24 in a litre", r, with(fixer, func(k *Kept) { k.Done, k.Volume = 12, 1000 }), "spent", ""},
		{"as many as nobody knows", r, with(developer, func(k *Kept) { k.Bath = "water"; k.Done = 3 }), "capacity-unknown", ""},
		{"as much as the recipe fills", r, with(fixer, func(k *Kept) { k.Volume = 500 }), "volume-short", ""},
		{"a millilitre less", r, with(fixer, func(k *Kept) { k.Volume = 499 }), "volume-short", Care},
		{"100 ml of A at 5 ml: 20 sheets, 14 done", r, with(developer, func(k *Kept) { k.Done = 14 }), "stock-short", ""},
		{"15 done", r, with(developer, func(k *Kept) { k.Done = 15 }), "stock-short", Danger},
		{"one shot, unused", oneShot, developer, "spent", ""},
		{"one shot, used", oneShot, with(developer, func(k *Kept) { k.Done = 6 }), "spent", Danger},
		{"clears in just under twice", r, with(fixer, func(k *Kept) { k.Fresh, k.Clearing = mins, 119*sec }), "spent", ""},
		{"clears in twice", r, with(fixer, func(k *Kept) { k.Fresh, k.Clearing = mins, 2*mins }), "spent", Danger},
		{"clears in half of the recipe's 5:00", r, with(fixer, func(k *Kept) { k.Fresh, k.Clearing = 2*mins, 150*sec }), "short-fix", ""},
		{"clears in a second more", r, with(fixer, func(k *Kept) { k.Fresh, k.Clearing = 2*mins, 151*sec }), "short-fix", Care},
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

// The bottle mixed last serves unless another is named; each bath has one.
func TestDraw(t *testing.T) {
	could := []Kept{{Bath: "developer", Bottle: "dev-2"}, {Bath: "developer", Bottle: "dev-1"}, {Bath: "fixer", Bottle: "fix-3"}, {Bath: "fixer", Bottle: "fix-2"}, {Bath: "fixer", Bottle: "old"}}
	for words, want := range map[string][]string{
		"": {"dev-2", "fix-3"}, "kept": {"dev-2", "fix-3"}, "fresh": nil, "old": {"old", "dev-2"}, "ol": {"old", "dev-2"},
		"fix-2, dev-1": {"fix-2", "dev-1"}, "dev-2": {"dev-2", "fix-3"},
	} {
		kept, err := Words{Baths: words}.Draw(could)
		var got []string
		for _, k := range kept {
			got = append(got, k.Bottle)
		}
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v; expected %v", words, got, err, want)
		}
	}
	for _, words := range []string{"stale", "fix", "fix-2,old", ",", "old,"} {
		kept, err := Words{Baths: words}.Draw(could)
		if e := (WordError{}); !errors.As(err, &e) || e.Word != "baths" || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, %v; expected an error that names --baths", words, kept, err)
		}
	}
}

// NAVEDTRA 14209 p. 249: twice the clearing time, once in each of two baths; by choice
// three times for a tabular emulsion, half of that in each of two (common practice).
func TestClearingTyped(t *testing.T) {
	one := recipeOf(Hangers, 6, bathFor(Develop, 8*mins), bathFor(Fix, 5*mins))
	two := recipeOf(Hangers, 6, bathFor(Develop, 8*mins), bathFor(Fix, 5*mins), bathFor(Fix, 5*mins))
	for words, want := range map[string][2]Elapsed{"50s": {100 * sec, 50 * sec}, "50s,tabular": {150 * sec, 75 * sec}, "0:50,tabular": {150 * sec, 75 * sec}} {
		c, err := Words{Clearing: words}.Conditions()
		if err != nil {
			t.Fatal(err)
		}
		a, b := resolved(t, one, c), resolved(t, two, c)
		if a.Steps[1].Given != want[0] || b.Steps[1].Given != want[1] || b.Steps[2].Given != want[1] {
			t.Errorf("%s: %v in one, %v and %v in two; expected %v", words, a.Steps[1].Given, b.Steps[1].Given, b.Steps[2].Given, want)
		}
		if again, err := c.Chosen().Conditions(); err != nil || again.Tabular != c.Tabular || again.Clearing != c.Clearing {
			t.Errorf("%s chosen again: %+v, %v", words, again, err)
		}
	}
	for _, words := range []string{",tabular", "50s,", "50s,tabula", "tabular"} {
		if c, err := (Words{Clearing: words}).Conditions(); err == nil {
			t.Errorf("%q: %+v", words, c)
		}
	}
}

func TestLongTime(t *testing.T) {
	for d, want := range map[Elapsed]string{90 * time.Second: "1:30", 47 * time.Hour: "47:00:00", 48 * time.Hour: "2 days", 100 * time.Hour: "4 days"} {
		if got := LongTime(d); got != want {
			t.Errorf("%v: %q; expected %q", d, got, want)
		}
	}
}

// A name means the one that is called so, else all that begin so; none means none.
func TestCalled(t *testing.T) {
	list := []string{"fixer", "fixer-2", "stop"}
	for name, want := range map[string][]string{"fixer": {"fixer"}, "fix": {"fixer", "fixer-2"}, "s": {"stop"}, "x": nil, "": nil} {
		if got := Called(list, func(s string) string { return s }, name); !slices.Equal(got, want) {
			t.Errorf("%q means %q, want %q", name, got, want)
		}
	}
}
