package bottles

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/recordtest"
)

// shelf is bottles in memory.
type shelf struct {
	bottles []bottles.Bottle
	stock   []sequence.Stock
	fails   error
	watch   []bool
}

func (h *shelf) Recipes() []recipes.Entry                    { return recipes.ShippedEntries() }
func (h *shelf) Recipe(name string) (sequence.Recipe, error) { return recipes.Find(name, "") }
func (h *shelf) Stock() []sequence.Stock                     { return h.stock }
func (h *shelf) SoundStopwatch(on bool)                      { h.watch = append(h.watch, on) }
func (h *shelf) Bottles() ([]bottles.Bottle, error)          { return h.open(), h.fails }
func (h *shelf) open() []bottles.Bottle                      { return bottles.Inventory{Bottles: h.bottles}.OpenBottles() }
func (h *shelf) OpenBottles(r sequence.Recipe) error {
	for _, b := range r.Baths {
		h.bottles = append(h.bottles, bottles.Bottle{Name: b.ID + "-new", Bath: b, Mixed: recordtest.Now})
	}
	return h.fails
}
func (h *shelf) Retire(bottle string) error {
	at := recordtest.Now
	h.named(bottle).Retired = &at
	return h.fails
}
func (h *shelf) Swap(first, second bottles.Bottle) error {
	h.named(second.Name).Bath.ID = first.Bath.ID
	return h.Retire(first.Name)
}
func (h *shelf) RecordClearing(bottle string, took time.Duration) error {
	h.named(bottle).Clearing = took
	return h.fails
}
func (h *shelf) Replenish(bottle string, added sequence.Millilitres) error {
	h.named(bottle).Replenished += added
	return h.fails
}
func (h *shelf) named(name string) *bottles.Bottle {
	i := slices.IndexFunc(h.bottles, func(b bottles.Bottle) bool { return b.Name == name })
	return &h.bottles[i]
}

// desk is the screen over a shelf, with a clock that stands until it is put on.
type desk struct {
	*drive.Desk
	h   *shelf
	now time.Time
}

// sit puts up an old fixer, a developer that is too old, a fixer that is half used.
func sit(t *testing.T, of string, with ...func(*shelf)) *desk {
	t.Helper()
	r, err := recipes.Find("plover-tray", "")
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{h: &shelf{}, now: recordtest.Now}
	day := 24 * time.Hour
	developer := bottles.Bottle{Name: "developer-2024-05-05", Bath: r.Baths[0], Mixed: d.now.Add(-day)}
	fixer := bottles.Bottle{Name: "fixer-2024-05-05", Bath: r.Baths[2], Mixed: d.now.Add(-day), Area: 120, Sessions: []string{recordtest.Good}, FreshClearing: time.Minute, Clearing: 80 * time.Second}
	fixer.Bath.SheetsPerLitre = 12
	old := fixer
	old.Name, old.Mixed, old.Area = "fixer-2024-03-02", d.now.Add(-65*day), 240
	d.h.bottles = []bottles.Bottle{old, developer, fixer}
	d.h.stock = []sequence.Stock{{Part: "A", Bottle: "a-2024-05-03", Left: 116, Opened: 500}, {Part: "B", Bottle: "b-2024-05-03", Left: 0, Opened: 500}}
	for _, w := range with {
		w(d.h)
	}
	var recipe *sequence.Recipe
	if of != "" {
		recipe = &r
	}
	d.Desk = drive.Live(t, New(d.h, screen.Env{Now: func() time.Time { return d.now }}, recipe), 300*time.Millisecond)
	return d
}

func (d *desk) shows(t *testing.T, want ...string) {
	t.Helper()
	view := d.View(80, 60)
	for _, w := range want {
		if !strings.Contains(view, w) {
			t.Errorf("%q is not in\n%s", w, view)
		}
	}
}

func TestPictures(t *testing.T) {
	sit(t, "").Golden("bottles")
	sit(t, "").Press("t").Golden("retire")
	sit(t, "plover-tray").Press("o").Golden("open")
	sit(t, "").Press("c").Golden("test")
	sit(t, "", func(h *shelf) { h.bottles = nil }).Golden("empty")
	w := sit(t, "")
	w.Press("c", "enter")
	w.now = w.now.Add(75 * time.Second)
	w.Send(watchedMsg{w.Screen.(Model).watch.since})
	w.Golden("watch")
}

// The table says of each bottle what it is, how old, how far used, and whether it can be used.
func TestStates(t *testing.T) {
	d := sit(t, "")
	for name, want := range map[string][]string{
		"fixer-2024-03-02": {"fixer", "65 days", "12 of 18", "ready"}, "developer-2024-05-05": {"developer", "1 day", "too old"}, "fixer-2024-05-05": {"1 day", "6 of 18", "ready"},
	} {
		row := ""
		for r := range strings.SplitSeq(d.View(80, 30), "\n") {
			if strings.Contains(r, name) && row == "" {
				row = r
			}
		}
		for _, w := range want {
			if !strings.Contains(row, w) {
				t.Errorf("%q is not in %q", w, row)
			}
		}
	}
	d.shows(t, "clears in 1:20 (1:00 when fresh)", "116 ml", "empty")
}

func TestRetireIsAsked(t *testing.T) {
	d := sit(t, "")
	first := d.h.bottles[0].Name
	d.Press("t")
	d.shows(t, "Retire "+first+"? This cannot be undone.", "silver")
	for _, other := range []string{"t", "enter", "space", "esc", "n"} {
		d.Press(other)
		if len(d.h.open()) != 3 {
			t.Fatalf("retired by %s", other)
		}
		d.Press("esc", "t")
	}
	d.Press("y")
	if open := d.h.open(); len(open) != 2 || open[0].Name == first {
		t.Errorf("%d stand open", len(open))
	}
	if got, ok := d.Last().(screen.Message); !ok || got.Fault || !strings.Contains(got.Text, "Retired: "+first) {
		t.Errorf("%+v", d.Last())
	}
	if strings.Contains(d.View(80, 30), first) {
		t.Error("it is still shown")
	}
}

// Bottles are opened once what they can do to people has been shown: all of it can be read.
func TestOpeningShowsHazardsFirst(t *testing.T) {
	d := sit(t, "plover-tray")
	d.Press("o")
	d.shows(t, "Mixed now, for Plover 80", "danger  Never mix fixer", "A 17.9 ml" /* 1500/84 */, "licensed disposal come first")
	d.View(60, 12)
	d.Press("end")
	if view := d.View(60, 12); !strings.Contains(view, "come first.") {
		t.Errorf("the end cannot be read\n%s", view)
	}
	if len(d.h.open()) != 3 {
		t.Fatal("opened before it was answered")
	}
	d.Press("y")
	if len(d.h.open()) <= 3 {
		t.Error("no bottle was opened")
	}
}

// Without a recipe it is chosen from those there are.
func TestRecipeIsChosen(t *testing.T) {
	d := sit(t, "")
	d.Press("o")
	d.shows(t, "For which recipe were the baths mixed?", "Plover 80, six sheets shuffled in trays")
	for d.Screen.(Model).choice[d.Screen.(Model).pick].Name != "plover-tray" {
		d.Press("down")
	}
	d.Press("enter")
	d.shows(t, "Mixed now, for Plover 80, six sheets shuffled in trays?")
	d.Press("esc")
	if len(d.h.open()) != 3 {
		t.Error("opened without an answer")
	}
}

func TestClearingTest(t *testing.T) {
	d := sit(t, "")
	d.Press("c")
	d.shows(t, "Clearing test of "+d.h.bottles[0].Name, "gloves on")
	d.Press("enter", "enter") // a key that bounces
	if len(d.h.watch) != 1 {
		t.Fatal("the same touch starts and stops it")
	}
	d.now = d.now.Add(75 * time.Second)
	d.Send(watchedMsg{d.Screen.(Model).watch.since})
	if view := d.View(80, 3); !strings.Contains(view, "1:15") {
		t.Errorf("%s", view)
	}
	d.Press("down", "x") // a glove
	if !d.Screen.(Model).watch.runs() {
		t.Fatal("any key gives it up")
	}
	d.Press("enter")
	if got := d.h.bottles[0].Clearing; got != 75*time.Second {
		t.Errorf("%v", got)
	}
	d.Press("c", "enter", "esc")
	if d.Screen.(Model).watch.runs() || d.h.bottles[0].Clearing != 75*time.Second {
		t.Error("esc does not give it up")
	}
	d.Press("c", "enter")
	since := d.Screen.(Model).watch.since
	d.now = d.now.Add(sequence.LongestClearing)
	d.Send(watchedMsg{since})
	if got, ok := d.Last().(screen.Message); !ok || !got.Fault || !strings.Contains(got.Text, "Not clear after ten minutes") || d.h.bottles[0].Clearing != 75*time.Second {
		t.Errorf("%+v, kept %v", d.Last(), d.h.bottles[0].Clearing)
	}
	d.Press("c", "enter", "q")
	if heard := []bool{true, false, true, false, true, false, true, false}; !slices.Equal(d.h.watch, heard) {
		t.Errorf("heard %v; expected each of the four from its beginning to its end", d.h.watch)
	}
	asked := len(d.Actions)
	d.Send(watchedMsg{since})
	if d.Screen.(Model).watch.runs() || len(d.Actions) != asked {
		t.Error("a look at a stopwatch that was stopped starts it")
	}
}

func TestSwap(t *testing.T) {
	d := sit(t, "")
	d.Press("s")
	if got, ok := d.Last().(screen.Message); !ok || !got.Fault || !strings.Contains(got.Text, "nothing to put in its place") {
		t.Fatalf("%+v", d.Last())
	}
	d = sit(t, "", func(h *shelf) {
		second := h.bottles[0]
		second.Name, second.Bath.ID, second.Mixed = "second-2024-05-04", "second fixer", second.Mixed.Add(time.Hour)
		h.bottles = append(h.bottles, second)
	})
	d.shows(t, "when it is spent second-2024-05-04 takes its place")
	d.Press("s")
	d.shows(t, "Retire fixer-2024-03-02, and second-2024-05-04 takes its place as fixer?", "silver")
	d.Press("s", "s", "y")
	open := d.h.open()
	if last := open[len(open)-1]; len(open) != 3 || last.Name != "second-2024-05-04" || last.Bath.ID != "fixer" {
		t.Errorf("%+v", open)
	}
}

// What could not be done is said, and the bottles stand as they are.
func TestFault(t *testing.T) {
	d := sit(t, "")
	d.h.fails = errors.New("the ledger is locked")
	d.Press("t", "y")
	if got, ok := d.Last().(screen.Message); !ok || !got.Fault || !strings.Contains(got.Text, "locked") {
		t.Errorf("%+v", d.Last())
	}
	d.shows(t, "the ledger is locked")
}

func TestStockAlone(t *testing.T) {
	d := sit(t, "")
	d.Type("tab")
	if d.Screen.(Model).stock { // typed letters are no tab
		t.Fatal("letters open the stock")
	}
	d.Press("tab")
	if view := d.View(76, 18); !strings.Contains(view, "a-2024-05-03") || strings.Contains(view, "fixer-2024") {
		t.Errorf("%s", view)
	}
	d.Press("t")
	if d.Screen.(Model).asked != nothing {
		t.Error("a bottle that is not shown is to be retired")
	}
	d.Press("esc")
	if d.Last() == (screen.Back{}) || d.Screen.(Model).stock {
		t.Error("esc does not lead back to the mixed baths")
	}
}

// In a small window the table has no room for what a bottle is; enter shows it.
func TestOneBottleAlone(t *testing.T) {
	d := sit(t, "")
	d.Press("enter")
	d.View(36, 8)
	d.Press("end")
	if view := d.View(36, 8); !strings.Contains(view, "2024-05-04T2000") {
		t.Errorf("%s", view)
	}
	d.Press("esc")
	if d.Last() == (screen.Back{}) || !strings.Contains(d.View(36, 8), "▌ fixer") {
		t.Errorf("esc leads to\n%s", d.View(36, 8))
	}
}

func TestFits(t *testing.T) {
	for _, keys := range [][]string{nil, {"t"}, {"enter"}, {"o"}, {"c"}, {"c", "enter"}} {
		d := sit(t, "", func(h *shelf) {
			for i := range 9 {
				b := h.bottles[i%3]
				b.Name += strings.Repeat("-again", i)
				h.bottles = append(h.bottles, b)
			}
		})
		d.Press("down", "down", "down", "down", "down")
		d.Press(keys...)
		d.FitsAnd(func(w, h int, view string) string {
			if (keys == nil || keys[0] == "o") && !strings.Contains(view, "▌") {
				return "the chosen row is not shown"
			}
			return ""
		})
	}
	sit(t, "plover-tray").Press("o").FitsAnd(func(w, h int, view string) string { return "" })
	sit(t, "", func(h *shelf) { h.bottles = nil }).FitsAnd(func(w, h int, view string) string {
		if !strings.Contains(view, "No bath stands mixed") {
			return "an empty shelf says nothing"
		}
		return ""
	})
}
