package tui

// The list of sheets and their sessions, over a list in a temporary folder.

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/notebook"
)

func (h *hall) Sheets() ([]holders.ExposedSheet, []holders.Outcome, error) {
	list, err := h.box.List()
	return list, holders.Outcomes(list, notebook.List(h.store)), err
}
func (h *hall) AddSheet(e holders.ExposedSheet) error { return h.box.Add(e) }
func (h *hall) ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error {
	return h.box.Replace(from, to)
}

// boxed is a list of seven sheets of two films, and one for which there is no recipe.
func boxed(t testing.TB) func(*hall, *Options) {
	return func(h *hall, _ *Options) {
		h.box = holders.SheetStore{Folder: filepath.Join(t.TempDir(), "sheets"), Laptop: "dry", Disk: quick{}}
		h.only = []string{"stack", "hangers", "tank"}
		for _, line := range []string{"1A, Plover 80, N, the salt pans", "1B, Plover 80, N 7.5 stops, exp 1/4 f22, shadow on III", "2A, Plover 80, N", "2B, Plover 80",
			"3A, Tern 125, N, gulls on the wall", "3B, Tern 125", "9A, Dunlin 25, N"} {
			e, err := parseSheet(line)
			if err == nil {
				err = h.box.Add(e)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
}

func waitingOpen(t testing.TB) *desk { return sit(t, boxed(t)).press("s").done() }

func TestSheetsAreTypedChangedAndTakenOff(t *testing.T) {
	d := waitingOpen(t)
	d.shows("7 wait, 0 developed")
	d.press("down")
	for _, written := range []string{"1/4 f22", "subject of 7.5 stops", "shadow placed on III"} {
		d.shows(written)
	}
	d.press("up")
	d.press("a").types("4A, Plover 80, 8.5, two boats").press("enter").done()
	d.shows("8 wait")
	d.shows("8.5 stops")
	d.press("a").types("4B, Plover 80, N+9").press("enter")
	d.shows(`"N+9"`)
	d.shows("N+9" + cursor) // to be mended
	d.press("backspace").types("1").press("enter").done()
	d.shows("N+1")
	d.press("enter")
	d.shows("Plover 80, N, the salt pans")
	d.types(" at ebb").press("enter").done()
	d.shows("at ebb")
	d.press("down", "enter").types(" .").press("enter").done()
	list, err := d.h.box.List()
	if i := slices.IndexFunc(list, func(e holders.ExposedSheet) bool { return e.Name() == "1B" }); err != nil || i < 0 ||
		list[i].Range != 7.5 || list[i].Development != "N" || list[i].Exposure != "1/4 f22" || list[i].Shadow != "on III ." {
		t.Errorf("after a change: %+v, %v", list, err)
	}
	d.press("up", "x")
	d.shows("x again takes 1A off the list")
	d.press("x").done()
	d.shows("8 wait")
	d.hides("at ebb")
	if list, err = d.h.box.List(); err != nil || len(list) != 8 {
		t.Errorf("%d, %v", len(list), err)
	}
}

func TestParseSheet(t *testing.T) {
	for line, want := range map[string]holders.ExposedSheet{
		"3A, Plover 80, 7, tide":                         {Holder: "3", Side: "A", Film: "Plover 80", Range: 7, Note: "tide"},
		"12b,Tern 125,0.62":                              {Holder: "12", Side: "b", Film: "Tern 125", Development: "0.62"},
		"left, Tern 125, N-1, a, b":                      {Holder: "left", Film: "Tern 125", Development: "N-1", Note: "a, b"},
		"3B, Plover 80, N, exp 1/4 f22, shadow -2, wind": {Holder: "3", Side: "B", Film: "Plover 80", Development: "N", Exposure: "1/4 f22", Shadow: "-2", Note: "wind"},
		"5A, Plover 80, N-1 8, ebb":                      {Holder: "5", Side: "A", Film: "Plover 80", Development: "N-1", Range: 8, Note: "ebb"},
		"5B, Plover 80, 1.5 stops":                       {Holder: "5", Side: "B", Film: "Plover 80", Range: 1.5},
		"5B, Plover 80, 1.5 1.5 stops":                   {Holder: "5", Side: "B", Film: "Plover 80", Range: 1.5, Development: "1.5"},
		"4, Tern 125":                                    {Holder: "4", Film: "Tern 125"},
	} {
		got, err := parseSheet(line)
		if err != nil || got != want {
			t.Errorf("%q: %+v, %v", line, got, err)
		}
		if again, err := parseSheet(sheetTyped(&got)); err != nil || again != want {
			t.Errorf("%q typed again: %+v, %v", line, again, err)
		}
	}
	for _, line := range []string{"", "3A", "3A, ", "3A, Plover 80, 99", "3A, Plover 80, soon", "3A, Plover 80, N 1", "3A, Plover 80, stops"} {
		if _, err := parseSheet(line); err == nil {
			t.Errorf("%q was taken", line)
		}
	}
}

// The sessions proposed are within the limits; a sheet is moved by hand, refused where
// a film does not go, and planned by its name.
func TestSheetsAreGrouped(t *testing.T) {
	d := waitingOpen(t).press("g")
	d.shows("7 sheets, 2 sessions")
	d.shows("no session: 9A")
	d.shows("no recipe for Dunlin 25")
	for range len(d.m.topSubscreen().(holderGroupsModel).rows()) {
		d.press("down")
	}
	d.shows("no session for 9A: no recipe for Dunlin 25") // in full, however long
	for range len(d.m.topSubscreen().(holderGroupsModel).rows()) {
		d.press("up")
	}
	d.press("left")
	d.shows("put the cursor on a sheet")
	d.press("down", "right")
	d.shows("that session develops Tern 125")
	d.press("m").types("2").press("enter")
	d.shows("7 sheets, 3 sessions")
	d.press("t").types("x").press("enter")
	d.shows(`"x" is no number`)
	d.press("up", "up", "enter")
	if d.m.screen != planScreen || len(d.m.subscreens) != 0 {
		t.Fatalf("screen %d, %d beside", d.m.screen, len(d.m.subscreens))
	}
	if names := d.m.plan.plan.Recipe.Load.Names; strings.Join(names, " ") != "1A 1B" {
		t.Errorf("planned %q", names)
	}
}

// A sheet moved into a session of its own and back.
func TestSheetMovedAndBack(t *testing.T) {
	d := waitingOpen(t).press("g", "down", "down", "down", "down", "down", "down")
	d.press("right")
	d.shows("7 sheets, 3 sessions")
	d.press("left")
	d.shows("7 sheets, 2 sessions")
}

// What more development does to the index stands beside the sheet: speed points 0.301
// apart are a stop (arithmetic).
func TestIndexShiftIsShown(t *testing.T) {
	d := waitingOpen(t).press("g")
	q := d.m.topSubscreen().(holderGroupsModel)
	s := q.list[0]
	usual := s.Sheets[0].Time
	s.Sheets[0].Time = 2 * usual
	result := func(s float64, h curve.LogH) curve.Result { return curve.Result{Time: &s, SpeedPoint: &h} }
	q.curves = map[string]curve.Results{"Plover 80": {Curves: []curve.Result{result(usual.Seconds(), -1.5), result(2*usual.Seconds(), -1.80103)}}}
	if line := q.wantLine(groupRow{0, 0}); !strings.HasPrefix(line, "index +1.0, ") {
		t.Errorf("%q", line)
	}
	if line := q.wantLine(groupRow{0, 1}); strings.Contains(line, "index") {
		t.Errorf("of a sheet developed as usual: %q", line)
	}
}
