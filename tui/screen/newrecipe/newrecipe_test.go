package newrecipe

// The form: what its fields do to a recipe, what is written, where it leads.

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/widget"
)

// harbour has the shipped recipes and those of a folder, and remembers what was saved.
type harbour struct {
	folder    string
	name      string
	was, text []byte
	fails     error
}

func (h *harbour) Recipes() []recipes.Entry                    { return recipes.List(h.folder) }
func (h *harbour) Recipe(name string) (sequence.Recipe, error) { return recipes.Find(name, h.folder) }
func (h *harbour) RecipeText(name string) ([]byte, error)      { return recipes.Source(name, h.folder) }
func (h *harbour) SaveRecipe(name string, was, text []byte) (string, error) {
	h.name, h.was, h.text = name, was, text
	return "saved-name", h.fails
}

// own is a folder with plover-at-home, which is plover-tray, and a broken recipe.
func own(t testing.TB) *harbour {
	text, _ := recipes.ShippedSource("plover-tray")
	h := &harbour{folder: t.TempDir()}
	for name, text := range map[string]string{"plover-at-home": string(text), "broken": "title = 1"} {
		if err := os.WriteFile(filepath.Join(h.folder, name+".toml"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return h
}

func open(t testing.TB, h *harbour, from string) Model {
	t.Helper()
	m, err := New(h, screen.Env{}, from)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func goTo(t testing.TB, m Model, id string) Model {
	t.Helper()
	if m.at = slices.IndexFunc(m.draft.fields(), func(f field) bool { return f.id == id }); m.at < 0 {
		t.Fatalf("no field %q", id)
	}
	return m
}

// typed types a value into a field and takes it.
func typed(t testing.TB, m Model, id, value string) Model {
	t.Helper()
	m, _, _ = drive.Press(goTo(t, m, id), "enter", "ctrl+u")
	for _, r := range value {
		m, _, _ = drive.Press(m, string(r))
	}
	m, _, _ = drive.Press(m, "enter")
	return m
}

// chosen turns a field until it has a value.
func chosen(t testing.TB, m Model, id, value string) Model {
	t.Helper()
	for m = goTo(t, m, id); m.draft.fields()[m.at].get(&m.draft.result.recipe) != value; {
		m, _, _ = drive.Press(m, "right")
	}
	return m
}

func TestPictures(t *testing.T) {
	h := own(t)
	fresh, home := open(t, h, ""), open(t, h, "plover-at-home")
	fault := typed(t, goTo(t, fresh, "time"), "time", "9")
	saving, _, _ := drive.Press(home, "end")
	leaving, _, _ := drive.Press(typed(t, home, "time", "8:00"), "esc")
	drive.Picture(t, "new", fresh, 76, 18)
	drive.Picture(t, "fault", fault, 76, 18)
	drive.Picture(t, "save", saving, 76, 18)
	drive.Picture(t, "leaving", leaving, 76, 18)
	drive.Picture(t, "no-plan", typed(t, home, "light:fix", "3:00"), 76, 18)
	drive.Picture(t, "wide", goTo(t, home, "temperature"), 116, 34)
}

func TestFitsEveryWindow(t *testing.T) {
	m := open(t, own(t), "plover-at-home")
	wrong := typed(t, m, "light:fix", "3:00")
	typing, _, _ := drive.Press(goTo(t, m, "about"), "enter")
	leaving, _, _ := drive.Press(wrong, "esc")
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.SampledFrom([]Model{m, wrong, typing, leaving}).Draw(rt, "moment")
		if s.typing == nil {
			s.at = rapid.IntRange(0, len(s.draft.fields())).Draw(rt, "at")
		}
		s.scrolled = rapid.IntRange(0, 12).Draw(rt, "scrolled")
		w, h := rapid.IntRange(36, 196).Draw(rt, "w"), rapid.IntRange(8, 56).Draw(rt, "h")
		view := s.View(w, h)
		if rows := strings.Count(view, "\n") + 1; rows > h || widget.Width(view) > w {
			rt.Fatalf("%d rows %d wide in %dx%d\n%s", rows, widget.Width(view), w, h, ansi.Strip(view))
		}
		if !strings.Contains(view, "▌") {
			rt.Fatalf("the chosen field is not shown in %dx%d\n%s", w, h, ansi.Strip(view))
		}
	})
}

// What stands in a field, typed again, is the same recipe: each field reads what it writes.
func TestFieldsReadWhatTheyWrite(t *testing.T) {
	for _, units := range []sequence.Units{{}, {Fahrenheit: true}} {
		for _, e := range recipes.ShippedEntries() {
			base, err := recipes.Find(e.Name, "")
			if err != nil {
				t.Fatal(err)
			}
			r := cloned(base)
			for _, f := range fieldsOf(&base, &r, units) {
				if err := f.put(&r, f.get(&r)); err != nil {
					t.Errorf("%s, %s: %v", e.Name, f.id, err)
				}
			}
			if !bytes.Equal(recipes.Write(r), recipes.Write(base)) {
				t.Errorf("%s became\n%s", e.Name, recipes.Write(r))
			}
		}
	}
}

// Every field that can be typed into refuses what is no value of it, and keeps what it had.
func TestWrongValuesStayInTheirField(t *testing.T) {
	m := open(t, own(t), "plover-at-home")
	for _, f := range m.draft.fields() {
		if len(f.choices) > 0 || slices.Contains([]string{"film", "title", "about"}, f.id) {
			continue
		}
		got := typed(t, m, f.id, "x:y")
		if got.typing == nil || got.typing.Fault == "" {
			t.Errorf("%s took it", f.id)
			continue
		}
		if got, _, _ = drive.Press(got, "esc"); got.typing != nil || len(got.draft.set) != 0 {
			t.Errorf("%s: esc left %v", f.id, got.draft.set)
		}
	}
}

// Tab goes from heading to heading and shift+tab back; a figure types a number anew.
func TestGroupsAndFigures(t *testing.T) {
	m := open(t, own(t), "plover-at-home")
	group := func() string { return m.draft.fields()[m.at].group }
	m, _, _ = drive.Press(m, "tab")
	if m.at != 1 || group() != "Film" {
		t.Fatalf("tab: field %d of %s", m.at, group())
	}
	m, _, _ = drive.Press(m, "down", "tab", "tab", "tab", "shift+tab")
	if f := m.draft.fields(); group() != "Developer" || f[m.at-1].group == "Developer" {
		t.Errorf("shift+tab: field %d of %s", m.at, group())
	}
	if m, _, _ = drive.Press(m, "tab", "8", ":", "3", "0", "enter"); m.typing != nil || develop(&m.draft.result.recipe).Time != 8*time.Minute+30*time.Second {
		t.Errorf("typed 8:30, the recipe has %v", develop(&m.draft.result.recipe).Time)
	}
}

// A letter on a field that holds words types it anew, also one that is a key elsewhere; on a
// number it stays a key.
func TestALetterTypesWordsAnew(t *testing.T) {
	m := goTo(t, open(t, own(t), "plover-at-home"), "film")
	if foot := m.About().Foot; slices.ContainsFunc(foot, func(b key.Binding) bool { return b.Help().Key == "s" }) {
		t.Error("s is offered where it is typed")
	}
	m, _, cmd := drive.Press(m, "s", "e", "k", " ", "2", "5", "enter")
	if m.draft.result.recipe.Film.Name != "sek 25" || m.typing != nil || cmd != nil {
		t.Errorf("the film is %q", m.draft.result.recipe.Film.Name)
	}
	if m, _, _ = drive.Press(goTo(t, m, "time"), "k"); m.typing != nil || m.draft.fields()[m.at].id == "time" {
		t.Error("a letter types a number")
	}
}

// In a window of 120 columns no value is cut, and what it starts from is said.
func TestValuesAreWholeWhereThereIsRoom(t *testing.T) {
	m := open(t, own(t), "")
	for at := range m.draft.fields() {
		m.at = at
		if view := ansi.Strip(m.View(116, 60)); strings.Contains(view, "…") || strings.Count(view, "▌") < 1 {
			t.Errorf("field %d\n%s", at, view)
		}
	}
	m.at = 0
	if flat := strings.Join(strings.Fields(ansi.Strip(m.View(76, 18))), " "); !strings.Contains(flat, "It starts from the shipped recipe Tern 125, eight sheets in hangers.") {
		t.Error(flat)
	}
}

func TestValuesReachTheRecipe(t *testing.T) {
	m := open(t, own(t), "plover-at-home")
	for _, v := range [][2]string{{"film", "Tern 125"}, {"box", "125"}, {"ei", "64"}, {"sheets", "4"}, {"size", "9x12cm"}, {"parts:developer", "1+49"},
		{"volume:developer", "2l"}, {"stock", "5ml"}, {"capacity", "9"}, {"life", "2h"}, {"time", "9m"}, {"temperature", "21"}, {"coefficient", "2.5"},
		{"step:fix", "4:00"}, {"light:fix", "3:00"}, {"wet:hangers", "1h"}, {"warning", "4:00"}, {"title", "Mine"}, {"about", "words"}} {
		m = typed(t, m, v[0], v[1])
	}
	m = chosen(t, chosen(t, m, "one-shot", "again"), "agitation", "1")
	r := m.draft.result.recipe
	want := sequence.Film{Name: "Tern 125", Sensitivity: sequence.Pan, BoxSpeed: 125, ExposureIndex: 64, WetWarning: 4 * time.Minute, Reciprocity: m.draft.base.Film.Reciprocity,
		WetLimit: sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * time.Minute, sequence.Hangers: time.Hour}}}
	if !reflect.DeepEqual(r.Film, want) {
		t.Errorf("film %+v", r.Film)
	}
	dev, b, fix := develop(&r), bath(&r, "developer"), stepNamed(&r, "fix")
	if r.Title != "Mine" || r.About != "words" || r.Load.Sheets != 4 || r.Load.Size.Name != "9x12cm" || fix.Time != 4*time.Minute || fix.LightsOnAfter != 3*time.Minute {
		t.Errorf("%+v %+v", r.Load, fix)
	}
	if dev.Time != 9*time.Minute || dev.Temperature.At != 21 || dev.Temperature.Coefficient != 2.5 || dev.Agitate.Mode != sequence.Continuous {
		t.Errorf("%+v %+v", dev, dev.Temperature)
	}
	if !slices.Equal(b.Parts, []chem.Part{{Name: "stock", Parts: 1}, {Name: "water", Parts: 49}}) || b.Volume != 2000 || b.StockPerSheet != 5 ||
		b.SheetsPerLitre != 9 || b.WorkingLife != 2*time.Hour || b.OneShot {
		t.Errorf("%+v", b)
	}
	if m.draft.result.plan == nil {
		t.Errorf("no plan: %v %v", m.draft.result.faults, m.draft.result.others)
	}
}

// Names of sheets are of as many as there were.
func TestSheetsLoseTheirNames(t *testing.T) {
	r := sequence.Recipe{Load: sequence.Load{Sheets: 2, Names: []string{"1A", "1B"}}}
	if err := putSheets(&r, "2"); err != nil || len(r.Load.Names) != 2 {
		t.Errorf("%v, %v", err, r.Load)
	}
	if err := putSheets(&r, "3"); err != nil || r.Load.Names != nil {
		t.Errorf("%v, %v", err, r.Load)
	}
}

// Light never comes earlier than the film stands it, whatever is chosen.
func TestStaysDark(t *testing.T) {
	dark := func(what string, m Model) {
		t.Helper()
		for _, st := range m.draft.result.recipe.Steps {
			if st.RoomLight != sequence.Dark {
				t.Errorf("%s: %s is lit", what, st.Name)
			}
			if st.Kind == sequence.Fix {
				break
			}
		}
		if m.draft.result.plan == nil {
			t.Errorf("%s: %v %v", what, m.draft.result.faults, m.draft.result.others)
		}
	}
	h := own(t)
	dark("out of a tank into trays", chosen(t, open(t, h, "curlew-tank"), "vessel", "tray"))
	dark("an ortho film that is not", chosen(t, open(t, h, "dunlin-ortho"), "sensitivity", "pan"))
	dark("a presoak put in", typed(t, open(t, h, "tern-two-fixers"), "step:presoak", "1:00"))
	dark("a rinse put in", typed(t, open(t, h, "plover-warm-water"), "step:rinse", "0:30"))
}

func TestBathsAreLeftOutAndPutIn(t *testing.T) {
	m := open(t, own(t), "plover-at-home")
	m = typed(t, typed(t, typed(t, m, "step:wash-aid", ""), "step:rinse", ""), "step:presoak", "")
	if aid := stepOf(&m.draft.result.recipe, sequence.WashingAid); aid != nil {
		t.Errorf("left out: %+v", aid)
	}
	m = typed(t, m, "step:wash-aid", "2:00")
	var kinds []sequence.Kind
	for _, st := range m.draft.result.recipe.Steps {
		kinds = append(kinds, st.Kind)
	}
	if want := []sequence.Kind{sequence.Develop, sequence.StopBath, sequence.Fix, sequence.WashingAid, sequence.Wash, sequence.WettingAgent}; !slices.Equal(kinds, want) {
		t.Errorf("%v; expected %v", kinds, want)
	}
	if aid := stepOf(&m.draft.result.recipe, sequence.WashingAid); aid.Time != 2*time.Minute || aid.RoomLight != sequence.White {
		t.Errorf("%+v", aid)
	}
	if short := typed(t, m, "step:wash", "4:00"); short.draft.result.plan == nil { // the recipe says 5:30 at least
		t.Errorf("%v %v", short.draft.result.faults, short.draft.result.others)
	}
	for _, id := range []string{"step:fix", "step:wash", "time"} {
		if got := typed(t, m, id, ""); got.typing == nil || got.typing.Fault != errNeeded.Error() {
			t.Errorf("%s was left out", id)
		}
	}
	if back, _, _ := drive.Press(goTo(t, m, "step:presoak"), "backspace"); stepOf(&back.draft.result.recipe, sequence.Presoak) == nil {
		t.Error("backspace did not bring it back")
	}
}

// A limit for every vessel becomes one for each where another is stated.
func TestWetLimitByVessel(t *testing.T) {
	m := open(t, own(t), "tern-hangers")
	if m = typed(t, m, "wet:hangers", "1h"); m.draft.result.recipe.Film.WetLimit.All != time.Hour {
		t.Errorf("%+v", m.draft.result.recipe.Film.WetLimit)
	}
	if m = typed(t, m, "wet:hangers", ""); !m.draft.result.recipe.Film.WetLimit.Unstated() {
		t.Errorf("%+v", m.draft.result.recipe.Film.WetLimit)
	}
	r := sequence.Recipe{Film: sequence.Film{WetLimit: sequence.WetLimit{All: time.Hour}}}
	if err := putWetLimit(&r, []sequence.Vessel{sequence.Tray, sequence.Hangers}, sequence.Tray, "20:00"); err != nil ||
		!reflect.DeepEqual(r.Film.WetLimit.ByVessel, map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * time.Minute, sequence.Hangers: time.Hour}) {
		t.Errorf("%v, %+v", err, r.Film.WetLimit)
	}
	tray := chosen(t, open(t, own(t), "plover-at-home"), "vessel", "cradle")
	if got := typed(t, tray, "wet:cradle", "40:00").draft.result.recipe.Film.WetLimit.ByVessel; len(got) != 3 || got[sequence.Cradle] != 40*time.Minute || got[sequence.Tray] != 20*time.Minute {
		t.Errorf("%v", got)
	}
}

// A developer of which the recipe says nothing is made as soon as something is said.
func TestDeveloperIsMade(t *testing.T) {
	h := own(t)
	bare := "title = \"Bare\"\n[film]\nname = \"Curlew 25\"\n[load]\nvessel = \"hangers\"\nsheets = 2\nsize = \"4x5in\"\n" +
		"[[step]] # the only one\nkind = \"develop\"\ntime = \"8m\"\n[[step]]\nkind = \"fix\"\ntime = \"5m\"\n"
	if err := os.WriteFile(filepath.Join(h.folder, "bare.toml"), []byte(bare), 0o600); err != nil {
		t.Fatal(err)
	}
	m, _, _ := drive.Press(goTo(t, open(t, h, "bare"), "one-shot"), "right", "right")
	if len(m.draft.set) != 1 || len(m.draft.result.recipe.Baths) != 0 {
		t.Errorf("%+v", m.draft.result.recipe.Baths)
	}
	save(t, typed(t, m, "parts:developer", "A 1 + water 9"), "s")
	got, err := recipes.Read("bare", h.text)
	if err != nil || len(got.Baths) != 1 || got.Steps[0].Bath != "developer" || len(got.Baths[0].Parts) != 2 || !bytes.Contains(h.text, []byte("# the only one")) {
		t.Errorf("%v\n%s", err, h.text)
	}
}

// What is wrong between two fields stands beside one of them, and nothing is saved.
func TestFaultsStandBesideTheirField(t *testing.T) {
	m := typed(t, open(t, own(t), "plover-at-home"), "light:fix", "3:00") // the fixer lasts 2:30
	if m.draft.result.faults["light:fix"] == "" || m.draft.result.plan != nil || m.draft.fields()[m.at].id != "light:fix" {
		t.Fatalf("%v, plan %v, at %d", m.draft.result.faults, m.draft.result.plan, m.at)
	}
	if view := ansi.Strip(m.View(76, 18)); !strings.Contains(view, "no more than the step's time") {
		t.Errorf("cut off:\n%s", view)
	}
	m, a, cmd := drive.Press(m, "end", "enter")
	if msg, ok := a.(screen.Message); !ok || !msg.Fault || cmd != nil || m.draft.fields()[m.at].id != "light:fix" {
		t.Errorf("%#v, at %d", a, m.at)
	}
}

// save presses a key and gives the screen what the command found.
func save(t *testing.T, m Model, key string) (Model, screen.Action) {
	t.Helper()
	m, a, cmd := drive.Press(m, key)
	if cmd == nil {
		t.Fatalf("nothing is saved: %#v", a)
	}
	if again, _, cmd := drive.Press(m, key); cmd != nil || !again.saving {
		t.Error("saved twice")
	}
	next, action, _ := m.Update(cmd())
	return next.(Model), action
}

func TestSavedAnew(t *testing.T) {
	h := own(t)
	m := typed(t, open(t, h, ""), "film", "Curlew 25")
	m, a := save(t, m, "s")
	if p, ok := a.(screen.OpenPlan); !ok || p.Name != "saved-name" || p.Text == "" || m.Unsaved() {
		t.Errorf("%#v", a)
	}
	source, _ := recipes.ShippedSource("tern-hangers")
	want := bytes.Replace(source, []byte("Tern 125, eight sheets in hangers"), []byte("Curlew 25, 8 sheets in hangers"), 1)
	want = bytes.Replace(want, []byte(`"Tern 125"`), []byte(`"Curlew 25"`), 1)
	if !bytes.Equal(h.text, want) || h.was != nil || h.name != "Curlew 25, 8 sheets in hangers" {
		t.Errorf("%q, in place %t:\n%s", h.name, h.was != nil, h.text)
	}
}

func TestSavedInPlace(t *testing.T) {
	h := own(t)
	m := typed(t, open(t, h, "plover-at-home"), "time", "8:00")
	save(t, m, "s")
	source, _ := recipes.ShippedSource("plover-tray")
	if want := bytes.Replace(source, []byte(`"7m30s"`), []byte(`"8m"`), 1); !bytes.Equal(h.text, want) || !bytes.Equal(h.was, source) || h.name != "plover-at-home" {
		t.Errorf("%q:\n%s", h.name, h.text)
	}
	m, _, _ = drive.Press(goTo(t, m, asNew), "right")
	if save(t, m, "s"); h.was != nil || h.name != "Plover 80, 6 sheets in trays" {
		t.Errorf("a new one: %q, in place %t", h.name, h.was != nil)
	}
	h.fails = errors.New("disk full")
	if m, a := save(t, m, "s"); a != (screen.Message{Text: "disk full", Fault: true}) || !m.Unsaved() {
		t.Errorf("%#v", a)
	}
}

func TestEditorAfterSaving(t *testing.T) {
	h := own(t)
	m, a := save(t, open(t, h, "plover-at-home"), "e")
	if a != (screen.Edit{Recipe: "saved-name"}) {
		t.Errorf("%#v", a)
	}
	after := func(msg screen.EditedMsg) screen.Action { _, a, _ := m.Update(msg); return a }
	if p, ok := after(screen.EditedMsg{Recipe: "plover-at-home"}).(screen.OpenPlan); !ok || p.Name != "plover-at-home" {
		t.Errorf("%#v", p)
	}
	for _, msg := range []screen.EditedMsg{{Recipe: "broken"}, {Recipe: "plover-at-home", Err: errors.New("gone")}} {
		if s, ok := after(msg).(screen.Several); !ok || s[0] != (screen.Back{}) || !s[1].(screen.Message).Fault {
			t.Errorf("%#v", s)
		}
	}
}

// Another start keeps what was changed and gives the rest.
func TestStartsFromAnother(t *testing.T) {
	m := typed(t, open(t, own(t), ""), "film", "Curlew 25")
	m = chosen(t, m, startsFrom, "plover-tray")
	if r := m.draft.result.recipe; r.Film.Name != "Curlew 25" || r.Load.Vessel != sequence.Tray || r.Title != "Curlew 25, 6 sheets in trays" {
		t.Errorf("%+v", r)
	}
	if _, err := New(own(t), screen.Env{}, "broken"); err == nil {
		t.Error("a broken recipe was opened")
	}
}

func TestEscapeLosesNothingUnasked(t *testing.T) {
	m := open(t, own(t), "plover-at-home")
	if _, a, _ := drive.Press(m, "esc"); a != (screen.Back{}) {
		t.Errorf("unchanged: %#v", a)
	}
	m, a, _ := drive.Press(typed(t, m, "time", "8:00"), "esc")
	if a != nil || !m.Unsaved() {
		t.Fatalf("%#v", a)
	}
	if stays, a, _ := drive.Press(m, "esc"); a != nil || len(stays.draft.set) != 1 {
		t.Errorf("any other key: %#v", a)
	}
	if _, a, _ := drive.Press(m, "y"); a != (screen.Back{}) {
		t.Errorf("y: %#v", a)
	}
}
