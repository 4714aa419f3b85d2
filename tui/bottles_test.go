package tui

// The rack over bottles in memory.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/planning"
)

func (h *hall) ObservedLimit(string, sequence.Vessel) string { return h.stands }

func (h *hall) OpenBottlesFor(r sequence.Recipe) []sequence.OpenBottle {
	return bottles.Inventory{Bottles: h.bottles}.ForRecipe(r, h.now())
}

func (h *hall) Stock() []sequence.Stock { return h.stock }

func (h *hall) Bottles() ([]bottles.Bottle, error) {
	return bottles.Inventory{Bottles: h.bottles}.OpenBottles(), h.fails
}

func (h *hall) OpenBottles(r sequence.Recipe) error {
	for _, b := range r.Baths {
		h.bottles = append(h.bottles, bottles.Bottle{Name: b.ID + "-new", Bath: b, Mixed: h.now()})
	}
	return h.fails
}

func (h *hall) Retire(bottle string) error {
	for i := range h.bottles {
		if h.bottles[i].Name == bottle {
			at := h.now()
			h.bottles[i].Retired = &at
		}
	}
	return h.fails
}

func (h *hall) Swap(first, second bottles.Bottle) error {
	for i := range h.bottles {
		if h.bottles[i].Name == second.Name {
			h.bottles[i].Bath.ID = first.Bath.ID
		}
	}
	return h.Retire(first.Name)
}

func (h *hall) RecordClearing(bottle string, took time.Duration) error {
	for i := range h.bottles {
		if h.bottles[i].Name == bottle {
			h.bottles[i].Clearing = took
		}
	}
	return h.fails
}

func (h *hall) SoundStopwatch(on bool) { h.watch = append(h.watch, on) }

// racked puts up a developer that is stale and a fixer that is half spent.
func racked(h *hall, _ *Options) {
	r, err := h.Recipe("stack")
	if err != nil {
		panic(err)
	}
	for i, b := range r.Baths {
		c := bottles.Bottle{Name: b.ID + "-2024-05-03", Bath: b, Mixed: h.now().Add(-24 * time.Hour), Area: 120, Sessions: []string{"2024-05-03T2000-plover-80"}}
		if i > 0 {
			c.Bath.SheetsPerLitre, c.FreshClearing, c.Clearing = 12, time.Minute, 80*time.Second
		}
		h.bottles = append(h.bottles, c)
	}
	older := h.bottles[1]
	older.Name, older.Mixed, older.Area = "fixer-2024-03-02", older.Mixed.Add(-60*24*time.Hour), 240
	h.bottles = append([]bottles.Bottle{older}, h.bottles...)
}

// shelved is stock that suffices for A and not for B: the developer of the stack takes
// 1500/84 = 17.9 ml and 53.6 ml.
func shelved(h *hall, _ *Options) {
	h.stock = []sequence.Stock{{Part: "A", Bottle: "a-2024-05-03", Left: 116, Opened: 500}, {Part: "B", Bottle: "b-2024-05-03", Left: 40, Opened: 500}}
}

// The stock in hand is told where the baths are mixed, before film is wet, and at the rack.
func TestStockIsToldBeforeFilmIsWet(t *testing.T) {
	d := sit(t, with("stack"), shelved).size(120, 40)
	d.shows("ml of B; b-2024")
	d.press("enter").shows("takes A: 17.9 ml of the 116 ml in a-2024-05-03")
	d.shows("40 ml in b-2024-05-03,")
	d = sit(t, shelved, func(h *hall, _ *Options) { h.only = []string{"stack"} }).size(120, 40).press("b").done()
	d.shows("B: 40 ml of 500 ml left in b-2024-05-03")
}

// rackOpen is the rack, opened with the cursor on a recipe with baths.
func rackOpen(t testing.TB) *desk {
	return sit(t, racked, func(h *hall, _ *Options) { h.only = []string{"stack", "hangers"} }).press("b").done()
}

func TestRackThrowsAwayWhenAskedTwice(t *testing.T) {
	d := rackOpen(t)
	first := d.h.bottles[0].Name
	d.shows(first)
	d.press("t", "down", "t")
	if len(open(d)) != len(d.h.bottles) {
		t.Fatal("thrown away by one press")
	}
	d.press("up", "t", "t").done()
	d.hides(first)
	if slices.ContainsFunc(open(d), func(b bottles.Bottle) bool { return b.Name == first }) {
		t.Error("it stands open")
	}
}

func TestRackOpensForTheRecipeOnceItsHazardsAreShown(t *testing.T) {
	d := rackOpen(t)
	before := len(open(d))
	d.size(120, 40).press("o")
	d.shows("o again: yes")
	d.shows("Used fixer holds silver")
	d.shows("come first")
	if len(open(d)) != before {
		t.Fatal("opened before its hazards were read")
	}
	d.press("o").done()
	if len(open(d)) <= before {
		t.Error("no bottle was opened")
	}
}

func TestRackTimesClearing(t *testing.T) {
	d := rackOpen(t)
	d.press("c")
	d.shows("c again as a scrap of film goes into " + d.h.bottles[0].Name)
	d.press("c").wait(75 * time.Second)
	d.send(watchedMsg{d.m.topSubscreen().(bottlesModel).watch.since})
	d.shows("c when it is clear: 1:15")
	d.press("c").done()
	if got := d.h.bottles[0].Clearing; got != 75*time.Second {
		t.Errorf("%v", got)
	}
	d.press("c", "c", "down").wait(20 * time.Second)
	if d.m.topSubscreen().(bottlesModel).watch.runs() {
		t.Error("another key does not give the test up")
	}
	d.press("up", "c", "c").wait(10 * time.Minute)
	d.send(watchedMsg{d.m.topSubscreen().(bottlesModel).watch.since})
	d.shows("not clear after ten minutes")
	if got := d.h.bottles[0].Clearing; got != 75*time.Second || d.m.topSubscreen().(bottlesModel).watch.runs() {
		t.Errorf("given up, and kept %v", got)
	}
	if heard := []bool{true, false, true, false, true, false}; !slices.Equal(d.h.watch, heard) {
		t.Errorf("heard %v; expected each of the three from its beginning to its end", d.h.watch)
	}
}

func TestRackRotatesFixers(t *testing.T) {
	d := rackOpen(t)
	d.press("r", "r")
	d.shows("no bottle of the same mix")
	first := &d.h.bottles[0]
	second := *first
	second.Name, second.Bath.ID, second.Mixed = "second-2024-05-04", "second fixer", first.Mixed.Add(time.Hour)
	d.h.bottles = append(d.h.bottles, second)
	d.press("esc", "b").done().press("r")
	d.shows("r again throws away " + first.Name + "; second-2024-05-04 takes its place")
	d.shows("silver")
	d.press("down", "up", "r")
	if len(open(d)) != 4 {
		t.Fatal("rotated by one press")
	}
	d.press("r").done()
	left := open(d)
	if last := left[len(left)-1]; len(left) != 3 || last.Name != second.Name || last.Bath.ID != "fixer" {
		t.Errorf("%+v", left)
	}
}

func TestPlanDrawsOnTheRack(t *testing.T) {
	d := sit(t, with("stack"), racked)
	kept := d.m.plan.plan.Conditions.OpenBottles
	if len(kept) == 0 || !slices.ContainsFunc(planning.BottleCautions(d.m.plan.plan), func(c sequence.Caution) bool { return c.Code == "stale" }) {
		t.Fatalf("kept %v, cautions %v", kept, planning.BottleCautions(d.m.plan.plan))
	}
	for fields[d.m.plan.at].label != "baths" {
		d.press("down")
	}
	d.press("right") // the older of two fixers, by its name
	if p := d.m.plan.plan; len(p.Conditions.OpenBottles) != 2 || p.Conditions.OpenBottles[0].Bottle != "fixer-2024-03-02" {
		t.Errorf("the older fixer is named, and the plan draws on %v", p.Conditions.OpenBottles)
	}
	d.press("right")
	if p := d.m.plan.plan; len(p.Conditions.OpenBottles) != 0 || strings.Contains(d.m.plan.fault, "baths") {
		t.Errorf("fresh baths, and the plan draws on %v", p.Conditions.OpenBottles)
	}
	d.press("right")
	if len(d.m.plan.plan.Conditions.OpenBottles) == 0 {
		t.Error("kept again, and the plan draws on none")
	}
}

func open(d *desk) []bottles.Bottle { return bottles.Inventory{Bottles: d.h.bottles}.OpenBottles() }
