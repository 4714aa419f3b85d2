package recipes

// The first screen: what each key asks for, and how it looks.

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/widget"
)

// harbour has the recipes of a folder and the shipped ones.
type harbour struct {
	folder     string
	only       []string // recipes that are there; nil for all
	unfinished []screen.Unfinished
	newcomer   bool
}

func (h *harbour) Recipes() (list []recipes.Entry) {
	for _, e := range recipes.List(h.folder) {
		if len(h.only) == 0 || e.IsOwn || contains(h.only, e.Name) {
			list = append(list, e)
		}
	}
	return list
}

func contains(list []string, s string) bool {
	return strings.Contains(" "+strings.Join(list, " ")+" ", " "+s+" ")
}

func (h *harbour) Recipe(name string) (sequence.Recipe, error) { return recipes.Find(name, h.folder) }
func (h *harbour) Unfinished() []screen.Unfinished             { return h.unfinished }
func (h *harbour) FirstRun() bool                              { return h.newcomer }

// own makes a folder with a sound recipe and a broken one.
func own(t testing.TB) string {
	text, _ := recipes.ShippedSource("plover-tray")
	sound := strings.Replace(string(text), "Plover 80, six", "Plover 80 at home, six", 1)
	broken := strings.Replace(strings.Replace(sound, `vessel     = "tray"`, `vessel     = "bowl"`, 1), `time        = "7m30s"`, `time        = "450"`, 1)
	folder := t.TempDir()
	for name, text := range map[string]string{"plover-at-home": sound, "broken": broken} {
		if err := os.WriteFile(filepath.Join(folder, name+".toml"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

var began = time.Date(2026, 11, 28, 20, 15, 0, 0, time.UTC)

func cutOff() []screen.Unfinished {
	return []screen.Unfinished{{ID: "here", Recipe: "Tern 125, eight sheets in hangers", Began: began},
		{ID: "there", Recipe: "Curlew 25", Began: began, Elsewhere: true},
		{ID: "hurt", Recipe: "Plover 100", Began: began, Damaged: hurt()},
		{ID: "r1", Recipe: "Dunlin", Began: began, Rehearsal: true}, {ID: "r2", Recipe: "Dunlin", Began: began, Rehearsal: true}}
}

// hurt is a record whose 13th line is damaged, behind 4:10 of developing.
func hurt() *screen.LastGood {
	plan := &sequence.Plan{Steps: []sequence.PlanStep{{Step: sequence.Step{Name: "develop", Bath: "developer"}}}}
	return &screen.LastGood{Line: 13, Plan: plan, State: engine.Snapshot{TimeInStep: 4*time.Minute + 10*time.Second}, At: began.Add(5 * time.Minute)}
}

func name(m Model) string { e, _ := m.list.entry(); return e.Name }

// goTo puts the cursor on a recipe.
func goTo(t testing.TB, m Model, recipe string) Model {
	t.Helper()
	if m = m.on(recipe); name(m) != recipe {
		t.Fatalf("no %s", recipe)
	}
	return m
}

func TestPictures(t *testing.T) {
	folder := own(t)
	all := New(&harbour{folder: folder}, screen.Env{})
	sessions := New(&harbour{folder: folder, unfinished: cutOff()}, screen.Env{})
	asked, _, _ := drive.Press(sessions, "down", "enter")
	editing, _, _ := drive.Press(all, "e")
	damaged, _, _ := drive.Press(sessions, "down", "down", "enter")
	for name, m := range map[string]Model{
		"list":      goTo(t, all, "plover-tray"),
		"broken":    goTo(t, all, "broken"),
		"newcomer":  New(&harbour{newcomer: true}, screen.Env{}),
		"session":   sessions,
		"take-over": asked,
		"editor":    editing,
		"damaged":   damaged,
		"empty":     New(&harbour{only: []string{"none"}}, screen.Env{}),
	} {
		drive.Picture(t, name, m, 76, 18)
	}
	drive.Picture(t, "wide", goTo(t, all, "plover-tray"), 116, 34)
}

func TestFitsEveryWindow(t *testing.T) {
	h := &harbour{folder: own(t), unfinished: cutOff()}
	fresh := &harbour{newcomer: true}
	m, n := New(h, screen.Env{}), New(fresh, screen.Env{})
	asked, _, _ := drive.Press(m, "down", "enter")
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.SampledFrom([]Model{m, n, asked}).Draw(rt, "moment")
		if s.asking == asksNothing {
			s = s.choose(rapid.IntRange(0, s.list.rows()-1).Draw(rt, "at"))
		}
		s.scrolled = rapid.IntRange(0, s.chosen.rows()).Draw(rt, "scrolled")
		w, h := rapid.IntRange(36, 196).Draw(rt, "w"), rapid.IntRange(8, 56).Draw(rt, "h")
		view := s.View(w, h)
		if rows := strings.Count(view, "\n") + 1; rows > h || widget.Width(view) > w {
			rt.Fatalf("%d rows %d wide in %dx%d\n%s", rows, widget.Width(view), w, h, view)
		}
		if !strings.Contains(view, "▌") {
			rt.Fatalf("the chosen line is not shown in %dx%d\n%s", w, h, ansi.Strip(view))
		}
	})
}

func TestKeysLeadElsewhere(t *testing.T) {
	m := goTo(t, New(&harbour{}, screen.Env{Defaults: sequence.RawConditions{Vessel: "hangers"}}), "plover-tray")
	plover, _ := recipes.Find("plover-tray", "")
	for k, want := range map[string]screen.Action{
		"enter": screen.OpenPlan{Name: "plover-tray", Conditions: sequence.RawConditions{Vessel: "hangers"}},
		"n":     screen.OpenNewRecipe{}, "c": screen.OpenNewRecipe{From: "plover-tray"}, "N": screen.OpenNotebook{}, "b": screen.OpenBottles{},
		"h": screen.OpenHolders{}, "d": screen.OpenDensities{}, "t": screen.OpenFilmTest{Recipe: plover}, "f": screen.OpenFilms{Name: plover.Film.Name},
		"l": screen.OpenSounds{}, "q": screen.Quit{}, "esc": nil, "x": nil,
	} {
		if _, got, _ := drive.Press(m, k); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %#v; expected %#v", k, got, want)
		}
	}
}

// What cannot be used is neither planned, rehearsed, tested nor changed field by field; the editor takes it.
func TestBrokenRecipe(t *testing.T) {
	m := goTo(t, New(&harbour{folder: own(t)}, screen.Env{}), "broken")
	for _, k := range []string{"enter", "r", "t", "c"} {
		if _, a, _ := drive.Press(m, k); !isFault(a) {
			t.Errorf("%s: %#v", k, a)
		}
	}
	if view := ansi.Strip(m.View(76, 18)); !strings.Contains(view, "bowl") || !strings.Contains(view, "1 more fault") || strings.Contains(view, "450") {
		t.Errorf("not the first of two faults:\n%s", view)
	}
	if _, a, _ := drive.Press(m, "e", "enter"); a != (screen.Edit{Recipe: "broken"}) {
		t.Errorf("the editor: %#v", a)
	}
}

func isFault(a screen.Action) bool { m, ok := a.(screen.Message); return ok && m.Fault }

func TestSessionsStandAbove(t *testing.T) {
	m := New(&harbour{unfinished: cutOff()}, screen.Env{})
	if len(m.list.unfinished) != 4 {
		t.Errorf("%d sessions; of two rehearsals the newest alone", len(m.list.unfinished))
	}
	if _, a, _ := drive.Press(m, "enter"); a != (screen.Resume{ID: "here"}) {
		t.Errorf("enter: %#v", a)
	}
	for _, k := range []string{"r", "e", "c", "t"} {
		if _, a, _ := drive.Press(m, k); !isFault(a) {
			t.Errorf("%s: %#v", k, a)
		}
	}
}

// One that may run on another laptop is not taken over by one key.
func TestTakingOverAsksFirst(t *testing.T) {
	m, a, _ := drive.Press(New(&harbour{unfinished: cutOff()}, screen.Env{}), "down", "enter")
	if a != nil {
		t.Fatalf("taken over unasked: %#v", a)
	}
	for _, k := range []string{"enter", "esc", "n", " "} {
		if next, a, _ := drive.Press(m, k); a != nil || next.asking != asksNothing {
			t.Errorf("%q: %#v", k, a)
		}
	}
	if _, a, _ := drive.Press(m, "y"); a != (screen.Resume{ID: "there"}) {
		t.Errorf("y: %#v", a)
	}
}

// One whose record is damaged is gone on with only where that is asked for.
func TestADamagedRecordAsksFirst(t *testing.T) {
	m, a, _ := drive.Press(New(&harbour{unfinished: cutOff()}, screen.Env{}), "down", "down", "enter")
	if a != nil {
		t.Fatalf("gone on unasked: %#v", a)
	}
	if next, a, _ := drive.Press(m, "enter"); a != nil || next.asking != asksNothing {
		t.Errorf("enter: %#v", a)
	}
	if _, a, _ := drive.Press(m, "y"); a != (screen.Resume{ID: "hurt", BehindDamage: true}) {
		t.Errorf("y: %#v", a)
	}
}

// One key rehearses a session that is over within a minute and asks for no other key.
func TestNewcomerRehearsesWithinAMinute(t *testing.T) {
	for _, speed := range []float64{0, 30, 120} {
		env := screen.Env{DefaultSpeed: speed, Countdown: 3 * time.Second}
		m, a, _ := drive.Press(New(&harbour{newcomer: true}, env), "r")
		b, ok := a.(screen.Begin)
		if !ok || b.Start.RehearsalSpeed != env.Speed() || b.Start.Countdown != env.Countdown {
			t.Fatalf("speed %g: %#v", speed, a)
		}
		if took := float64(b.Start.Plan.Wet.Session) / b.Start.RehearsalSpeed; took > float64(time.Minute) {
			t.Errorf("speed %g: %s takes %v", speed, name(m), time.Duration(took))
		}
	}
	m := New(&harbour{newcomer: true, only: []string{"dunlin-ortho", "plover-cradle"}}, screen.Env{})
	if name(m) != "plover-cradle" { // the other one waits for the person
		t.Errorf("the cursor is on %q", name(m))
	}
	if m := New(&harbour{}, screen.Env{}); m.list.at != 0 {
		t.Errorf("who is no newcomer begins at %d", m.list.at)
	}
}

// Back from a rehearsal what comes next is said, until something is done.
func TestAfterARehearsal(t *testing.T) {
	m, _, _ := drive.Press(goTo(t, New(&harbour{}, screen.Env{}), "tern-hangers"), "r")
	back, _ := m.Renew()
	if view := ansi.Strip(back.View(76, 18)); !strings.Contains(view, "Next: enter plans") || name(back.(Model)) != "tern-hangers" {
		t.Errorf("at %s:\n%s", name(back.(Model)), view)
	}
	later, _, _ := drive.Press(back.(Model), "down")
	if strings.Contains(ansi.Strip(later.View(76, 18)), "Next: enter plans") {
		t.Error("it is still said")
	}
	failed, _, _ := m.Update(screen.BeginFailedMsg{Err: errors.New("no")})
	if back, _ := failed.(Model).Renew(); back.(Model).rehearsed {
		t.Error("said of one that never began")
	}
}

func TestEditedIsPlannedOrListed(t *testing.T) {
	h := &harbour{folder: own(t)}
	edited := func(msg screen.EditedMsg) (Model, screen.Action) {
		next, a, _ := New(h, screen.Env{}).Update(msg)
		return next.(Model), a
	}
	if m, a := edited(screen.EditedMsg{Recipe: "plover-at-home"}); name(m) != "plover-at-home" || a.(screen.OpenPlan).Name != "plover-at-home" || a.(screen.OpenPlan).Text == "" {
		t.Errorf("sound: at %s, %#v", name(m), a)
	}
	if m, a := edited(screen.EditedMsg{Recipe: "broken"}); name(m) != "broken" || !isFault(a) {
		t.Errorf("broken: at %s, %#v", name(m), a)
	}
	if _, a := edited(screen.EditedMsg{Recipe: "plover-at-home", Err: errors.New("editor: gone")}); a != (screen.Message{Text: "editor: gone", Fault: true}) {
		t.Errorf("no editor: %#v", a)
	}
	m, a, _ := drive.Press(New(h, screen.Env{}), "e")
	if a != nil || !strings.Contains(m.View(76, 18), "ctrl+x") {
		t.Errorf("opened without a word on how it is left: %#v", a)
	}
	if m, a, _ = drive.Press(m, "esc"); a != nil || m.asking != asksNothing {
		t.Errorf("esc: %#v", a)
	}
}

// Coming back reads anew and keeps to what was chosen.
func TestRenewKeepsTheCursor(t *testing.T) {
	h := &harbour{}
	m := goTo(t, New(h, screen.Env{}), "tern-drum")
	h.folder, h.unfinished = own(t), cutOff()
	back, _ := m.Renew()
	if got := back.(Model); name(got) != "tern-drum" || len(got.list.unfinished) != 4 || len(got.list.recipes) != len(m.list.recipes)+2 {
		t.Errorf("at %s, %d sessions, %d recipes", name(got), len(got.list.unfinished), len(got.list.recipes))
	}
}

// planned is what the plan tells when it is left.
type planned string

func (p planned) Planned() string { return string(p) }

// Back from a plan the cursor is on its recipe, also where the command line opened it.
func TestBackFromAPlan(t *testing.T) {
	m := New(&harbour{}, screen.Env{})
	if name(m) == "tern-hangers" {
		t.Fatal("the cursor was there before")
	}
	next, _, _ := m.Update(planned("tern-hangers"))
	if got := name(next.(Model)); got != "tern-hangers" {
		t.Error(got)
	}
	next, _, _ = next.Update(planned("none of that name"))
	if got := name(next.(Model)); got != "tern-hangers" {
		t.Error(got)
	}
}

// In an ordinary window the list has eight rows, and what stands below it its answer.
func TestListInAnOrdinaryWindow(t *testing.T) {
	view := ansi.Strip(New(&harbour{}, screen.Env{}).View(76, 18))
	list, below, _ := strings.Cut(view, "\n\n")
	if n := len(strings.Split(list, "\n")); n < 9 || !strings.HasPrefix(below, "Develop ") {
		t.Errorf("%d rows:\n%s", n, view)
	}
}

// Two recipes of one title are told apart by their names, and by their day where a title is too long.
func TestAlikeTitlesAreToldApart(t *testing.T) {
	l := list{recipes: []recipes.Entry{
		{Name: "first-test", Title: "Film test: Tern 125, 4 sheets in hangers", Sheets: 4, IsOwn: true},
		{Name: "second-test", Title: "Film test: Tern 125, 4 sheets in hangers", Sheets: 4, IsOwn: true},
		{Name: "own", Title: "Tern 125, eight sheets in hangers, tested 2026-11-23", Sheets: 8, IsOwn: true},
	}}
	view := ansi.Strip(l.view(76, 10, sequence.Units{}))
	for _, shown := range []string{", first-test ", ", second-test ", ", tested 2026-11-23 "} {
		if !strings.Contains(view, shown) {
			t.Errorf("no %q in\n%s", shown, view)
		}
	}
}

// No heading stands at the foot of the list without a recipe beneath it.
func TestNoHeadingWithoutWhatItHeads(t *testing.T) {
	l := list{recipes: []recipes.Entry{{Name: "a", Title: "a", IsOwn: true}, {Name: "b", Title: "b"}, {Name: "c", Title: "c"}, {Name: "d", Title: "d"}}}
	for h := 4; h < 8; h++ {
		for l.at = range l.recipes {
			rows := strings.Split(ansi.Strip(l.view(60, h, sequence.Units{})), "\n")
			if last := rows[len(rows)-2]; strings.TrimSpace(last) == "" || strings.Contains(last, "vessel") {
				t.Errorf("%d rows, at %d:\n%s", h, l.at, strings.Join(rows, "\n"))
			}
		}
	}
}
