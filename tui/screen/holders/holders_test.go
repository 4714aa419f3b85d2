package holders

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

var noon = time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC)

func env() screen.Env { return screen.Env{Now: func() time.Time { return noon }} }

// hall is a list in a temporary folder, the shipped recipes, and one session that developed
// a sheet.
type hall struct {
	box   holders.SheetStore
	wrote *sequence.Recipe
	err   error
}

func (h *hall) Sheets() ([]holders.ExposedSheet, []holders.Outcome, error) {
	list, err := h.box.List()
	return list, holders.Outcomes(list, []notebook.Summary{h.session().Summary}), errors.Join(err, h.err)
}
func (h *hall) AddSheet(e holders.ExposedSheet) error { return h.box.Add(e) }
func (h *hall) ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error {
	return h.box.Replace(from, to)
}
func (h *hall) Recipes() []recipes.Entry                    { return recipes.ShippedEntries() }
func (h *hall) Recipe(name string) (sequence.Recipe, error) { return recipes.Find(name, "") }
func (h *hall) KeepRecipe(r sequence.Recipe) (string, error) {
	h.wrote = &r
	return "kept", nil
}
func (h *hall) Read(string) (notebook.Session, error) { return h.session(), nil }
func (h *hall) Densities() []densities.ReadingsFile   { return nil }

// session is one that developed sheet 8A to 102% of what was planned.
func (h *hall) session() notebook.Session {
	p, _ := planning.Resolve(recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 10*time.Minute), recipetest.Bath(sequence.Fix, 5*time.Minute)), sequence.Conditions{})
	began := noon.Add(-time.Hour)
	s := notebook.Session{Summary: notebook.Summary{Head: notebook.Head{ID: "2026-11-30T1100-plover", Film: "Plover 80", Started: &began}, Names: []string{"8A"}}, Plan: &p}
	s.Steps = []notebook.StepDone{{Plan: &p.Steps[0], Sheets: []notebook.SheetInStep{{Sheet: 1, Out: 10 * time.Minute, Developed: &engine.Development{Done: 612 * time.Second, Of: 600 * time.Second}}}}}
	return s
}

// boxed is a list of seven sheets of three films, the last without a recipe, and one that is
// developed.
func boxed(t testing.TB) *hall {
	t.Helper()
	h := &hall{box: holders.SheetStore{Folder: t.TempDir(), Laptop: "dry"}}
	exposed := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	for _, e := range []holders.ExposedSheet{
		{Holder: "1", Side: "A", Film: "Plover 80", Development: "N", Note: "the salt pans"},
		{Holder: "1", Side: "B", Film: "Plover 80", Development: "N", Range: 7.5, Exposure: "1/4 f22", Shadow: "on III"},
		{Holder: "2", Side: "A", Film: "Plover 80", Development: "N"},
		{Holder: "2", Side: "B", Film: "Plover 80"},
		{Holder: "3", Side: "A", Film: "Tern 125", Development: "N", Note: "gulls on the wall"},
		{Holder: "3", Side: "B", Film: "Tern 125", Development: "N-1"},
		{Holder: "9", Side: "A", Film: "Knot 400", Development: "N"},
		{Holder: "8", Side: "A", Film: "Plover 80", Note: "the slip"},
	} {
		exposed = exposed.Add(time.Minute)
		e.Exposed = exposed
		if err := h.box.Add(e); err != nil {
			t.Fatal(err)
		}
	}
	return h
}

func list(t testing.TB, h *hall) *drive.Desk { return drive.On(t, New(h, env())).Done() }

func kept(t testing.TB, h *hall, name string) *holders.ExposedSheet {
	t.Helper()
	all, err := h.box.List()
	if err != nil {
		t.Fatal(err)
	}
	if i := slices.IndexFunc(all, func(e holders.ExposedSheet) bool { return e.Name() == name }); i >= 0 {
		return &all[i]
	}
	return nil
}

// The list: those that wait first, with what they want; the developed with their session.
func TestList(t *testing.T) {
	d := list(t, boxed(t)).Golden("list").Fits("▌")
	if r := d.Screen.About().Right; r != "7 wait, 1 developed" {
		t.Errorf("%q", r)
	}
	d.Press("down")
	for _, written := range []string{"1/4 f22", "subject of 7.5 stops", "shadow placed on III", "exposed 2026-11-28"} {
		d.Shows(written)
	}
	d.Press("end").Shows("Sheet 1 of session 2026-11-30T1100-plover").Shows("102%")
	d.Press("x").Says("its session names it")
	d.Press("enter")
	if a := drive.Asked[screen.OpenSession](d); a.ID != "2026-11-30T1100-plover" {
		t.Errorf("%+v", a)
	}
	d.Press("up").Shows("No time: no recipe for Knot 400").Shows("No EI").Size(140, 30).Golden("list-wide")
	d.Press("up").Shows("No EI: no readings of Tern 125 tell it")
	if d.Press("home").Hides("No EI"); d.Screen.(Model).list[0].index == nil {
		t.Error("the first sheet has no index")
	}
}

// A note is whole as long as the pane beside it keeps what it needs.
func TestANoteHasTheRoomThatThereIs(t *testing.T) {
	h := boxed(t)
	long := "gulls on the harbour wall at ebb"
	if err := h.box.Add(holders.ExposedSheet{Holder: "5", Side: "A", Film: "Plover 80", Exposed: noon, Note: long}); err != nil {
		t.Fatal(err)
	}
	d := list(t, h).Size(130, 34)
	row := ""
	for r := range strings.SplitSeq(d.Text(), "\n") {
		if strings.Contains(r, "5A ") {
			row = r
		}
	}
	if !strings.Contains(row, long) {
		t.Errorf("%q", row)
	}
}

func TestEmptyList(t *testing.T) {
	h := &hall{box: holders.SheetStore{Folder: t.TempDir(), Laptop: "dry"}, err: errors.New("left.csv cannot be read")}
	d := drive.On(t, New(h, env())).Shows("being read").Done().Golden("list-empty").Fits()
	d.Press("g").Says("No sheet waits")
	d.Press("enter", "x")
	if len(d.Actions) != 0 {
		t.Errorf("%+v", d.Actions)
	}
}

// A sheet is added by the form, each fault beside its field.
func TestASheetIsAdded(t *testing.T) {
	h := boxed(t)
	d := list(t, h).Press("a").Golden("form").Fits("▌")
	d.Press("pgdown", "enter").Shows("no holder")
	d.Type("4A").Press("down").Press("right", "left").Press("down", "down").Type("99").Press("pgdown", "enter").Shows("range 99 stops")
	d.Press("ctrl+u").Type("8,5").Press("down", "left").Shows("a gradient").Press("pgdown", "enter").Shows("no gradient")
	d.Press("up", "right").Press("pgdown", "up").Type("two boats").Press("pgdown", "enter").Done()
	if r := d.Screen.About().Right; r != "8 wait, 1 developed" {
		t.Fatalf("%q\n%s", r, d.Text())
	}
	if e := kept(t, h, "4A"); e == nil || e.Film != "Plover 80" || e.Range != 8.5 || e.Development != "" || e.Note != "two boats" || !e.Exposed.Equal(noon) || e.Side != "A" {
		t.Errorf("%+v", e)
	}
	other := func() {
		d.Press("down")
		for range 20 { // no more films are there
			if !strings.Contains(d.Text(), "‹ another film") {
				d.Press("right")
			}
		}
	}
	d.Press("a").Type("5A")
	other()
	d.Press("pgdown", "enter").Shows("no film")
	d.Type("Ruff 25").Press("pgdown", "up", "up", "ctrl+u").Type("soon").Press("pgdown", "enter").Shows(`"soon" is no day`)
	d.Press("ctrl+u").Type("2026-11-03").Press("pgdown", "enter").Done()
	if e := kept(t, h, "5A"); e == nil || e.Film != "Ruff 25" || e.Exposed.Format(time.DateOnly) != "2026-11-03" {
		t.Errorf("%+v", e)
	}
	d.Press("a").Type("5A")
	other()
	d.Press("down").Type("Ruff 25").Press("pgdown", "up", "up", "ctrl+u").Type("2026-11-03").Press("pgdown", "enter").Done()
	if d.Screen.(Model).sheet == nil {
		t.Error("a sheet that stands there is refused, and the form stays")
	}
	d.Press("esc", "esc")
	drive.Asked[screen.Back](d)
}

// One is changed, and what was not touched stays; one is taken off when it is asked twice.
func TestASheetIsChangedAndTakenOff(t *testing.T) {
	h := boxed(t)
	d := list(t, h).Press("down", "enter").Shows("on III")
	before := kept(t, h, "1B")
	d.Press("pgdown", "up").Type("at ebb").Press("pgdown", "enter").Done()
	after := kept(t, h, "1B")
	if before.Note = "at ebb"; after == nil || !after.Exposed.Equal(before.Exposed) || after.Range != 7.5 || after.Development != "N" ||
		after.Exposure != "1/4 f22" || after.Shadow != "on III" || after.Note != "at ebb" {
		t.Errorf("after a change: %+v", after)
	}
	d.Press("down", "down", "down", "down", "enter").Shows("N−1").Press("pgdown", "enter").Done().Press("up", "up", "up", "up")
	if e := kept(t, h, "3B"); e.Development != "N-1" {
		t.Errorf("%q as written", e.Development)
	}
	d.Press("x").Says("x again takes 1B")
	d.Press("up", "down", "x").Done()
	if kept(t, h, "1B") == nil {
		t.Fatal("another key in between leaves it")
	}
	d.Press("x").Done()
	if kept(t, h, "1B") != nil {
		t.Error("it is still there")
	}
}

// grouped is the sessions for those that wait.
func grouped(t testing.TB) (*hall, *drive.Desk) {
	t.Helper()
	h := boxed(t)
	d := list(t, h).Press("g")
	return h, drive.On(t, NewGroups(h, env(), drive.Asked[screen.OpenGroups](d).Sheets)).Shows("being sorted").Done()
}

// The sessions proposed are within the limits; a sheet is moved by hand, refused where a film
// does not go, and planned by its name.
func TestSheetsAreGrouped(t *testing.T) {
	_, d := grouped(t)
	d.Golden("groups").Fits("▌")
	if r := d.Screen.About().Right; r != "7 sheets, 2 sessions" {
		t.Errorf("%q", r)
	}
	d.Shows("No session for 9A: no recipe for Knot 400.") // wherever the cursor is
	d.Press("left").Says("Put the cursor on a sheet")
	d.Press("end").Shows("No session for 9A: no recipe for Knot 400")
	d.Press("home", "down").Shows("1A: develop").Press("right").Says("that session develops")
	d.Press("home", "enter")
	a := drive.Asked[screen.OpenPlan](d)
	if a.Recipe == nil || strings.Join(a.Recipe.Load.Names, " ") != "1A 1B 2A 2B" {
		t.Errorf("%+v", a)
	}
	d.Size(140, 34).Press("down").Golden("groups-wide")
}

// A sheet is moved into a session of its own and back.
func TestASheetIsMovedAndBack(t *testing.T) {
	_, d := grouped(t)
	g := func() Groups { return d.Screen.(Groups) }
	last := len(g().list) - 1
	for g().row() != (groupRow{last, 0}) {
		d.Press("down")
	}
	d.Press("right")
	if n := len(g().list); n != last+2 || g().row() != (groupRow{last + 1, 0}) {
		t.Fatalf("%d sessions, at %+v; %+v", n, g().row(), d.Actions)
	}
	d.Press("left")
	if n := len(g().list); n != last+1 || g().row().session != last {
		t.Errorf("%d sessions, at %+v", n, g().row())
	}
}

// What sessions are sorted by is typed in a form; each fault stands at its field.
func TestRules(t *testing.T) {
	_, d := grouped(t)
	d.Press("s").Golden("rules").Fits("▌")
	d.Press("ctrl+u").Type("9").Press("pgdown", "enter").Shows("expected 0.1 to 5")
	d.Press("ctrl+u").Type("0,8").Press("down", "down", "ctrl+u").Type("x").Press("pgdown", "enter").Shows(`"x" is no number`)
	d.Press("ctrl+u").Type("0.05").Press("down").Type("2").Press("pgdown", "enter").Done()
	g := d.Screen.(Groups)
	if len(g.list) != 3 || g.by.Printing.Paper != curve.LogH(0.8) || g.by.Tolerance != 0.05 || g.by.Most != 2 {
		t.Errorf("%d sessions by %+v", len(g.list), g.by)
	}
	d.Press("s", "esc", "esc")
	drive.Asked[screen.Back](d)
}

// Another recipe for the film is taken; what comes late of the sorting before is nothing.
func TestAnotherRecipe(t *testing.T) {
	h, d := grouped(t)
	before := d.Screen.(Groups).list[0].Recipe.Title
	d.Press("o", "o")
	cmds := d.Pending()
	d.Send(cmds[0]())
	if got := d.Screen.(Groups).list[0].Recipe.Title; got != before {
		t.Errorf("the sorting that is out of date was taken: %q", got)
	}
	d.Send(cmds[1]()).Says("Plover 80 by ")
	if got := d.Screen.(Groups).list[0].Recipe.Title; got == before {
		t.Errorf("still %q", got)
	}
	d.Press("w").Done().Says("Written: ")
	if h.wrote == nil || len(h.wrote.Load.Names) == 0 {
		t.Errorf("%+v", h.wrote)
	}
	d.Press("end", "o").Says("There is no recipe for Knot 400")
}
