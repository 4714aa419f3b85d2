package plan

// The plan: what is typed, stepped and chosen, what is proposed, what is shown of it.

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
)

var update = flag.Bool("update", false, "write the pictures anew")

// harbour has the shipped recipes, and bottles of its own.
type harbour struct {
	bottles  []sequence.OpenBottle
	observed map[sequence.Vessel]string
}

func (h *harbour) Recipe(name string) (sequence.Recipe, error)          { return recipes.Find(name, "") }
func (h *harbour) OpenBottlesFor(sequence.Recipe) []sequence.OpenBottle { return h.bottles }
func (h *harbour) Stock() []sequence.Stock                              { return nil }
func (h *harbour) ObservedLimit(_ string, v sequence.Vessel) string     { return h.observed[v] }

func open(t testing.TB, recipe string, w sequence.RawConditions) Model {
	t.Helper()
	return openOf(t, &harbour{}, recipe, w)
}

func openOf(t testing.TB, h *harbour, recipe string, w sequence.RawConditions) Model {
	t.Helper()
	m, err := New(h, screen.Env{}, screen.OpenPlan{Name: recipe, Conditions: w})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func keyMsg(name string) tea.KeyMsg {
	for _, typ := range []tea.KeyType{tea.KeyUp, tea.KeyDown, tea.KeyEnter, tea.KeyEsc, tea.KeyLeft, tea.KeyRight, tea.KeyCtrlU, tea.KeyBackspace, tea.KeyPgDown, tea.KeyPgUp, tea.KeyF5} {
		if typ.String() == name {
			return tea.KeyMsg{Type: typ}
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

func press(m Model, keys ...string) (Model, screen.Action) {
	var action screen.Action
	for _, k := range keys {
		var next screen.Screen
		next, action, _ = m.Update(keyMsg(k))
		m = next.(Model)
	}
	return m, action
}

// on has the cursor on a field.
func on(t testing.TB, m Model, label string) Model {
	t.Helper()
	if fieldOf(label) < 0 {
		t.Fatalf("there is no field %q", label)
	}
	for m.at != fieldOf(label) {
		m, _ = press(m, "down")
	}
	return m
}

func types(m Model, text string) Model {
	for _, r := range text {
		m, _ = press(m, string(r))
	}
	return m
}

func drawn(m Model, w, h int) string { return ansi.Strip(m.View(w, h)) }

func shows(t testing.TB, m Model, text string) {
	t.Helper()
	flat := strings.Join(strings.Fields(drawn(m, 196, 56)), " ")
	if !strings.Contains(flat, text) {
		t.Errorf("%q is not shown:\n%s", text, drawn(m, 196, 56))
	}
}

func hides(t testing.TB, m Model, text string) {
	t.Helper()
	if strings.Contains(strings.Join(strings.Fields(drawn(m, 196, 56)), " "), text) {
		t.Errorf("%q is shown:\n%s", text, drawn(m, 196, 56))
	}
}

// message is what an action says at the foot.
func message(a screen.Action) string {
	m, _ := a.(screen.Message)
	return m.Text
}

// over is a summer's session of six soft sheets in water of 25 C, far over its limit.
func over(t testing.TB) Model {
	return open(t, "plover-warm-water", sequence.RawConditions{Sheets: "6", Temp: "25"})
}

func TestPictures(t *testing.T) {
	asked, _ := press(types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "sheets"), "4"), "enter", "esc")
	way := over(t)
	for way.at < len(fields) {
		way, _ = press(way, "down")
	}
	for name, p := range map[string]struct {
		m    Model
		w, h int
	}{
		"tray":      {open(t, "plover-tray", sequence.RawConditions{}), 76, 18},
		"warm":      {types(open(t, "tern-hangers", sequence.RawConditions{}), "24"), 76, 18},
		"fault":     {types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "sheets"), "0x"), 76, 18},
		"over":      {over(t), 76, 18},
		"way":       {way, 76, 18},
		"leaving":   {asked, 76, 18},
		"narrow":    {over(t), 36, 8},
		"wide":      {over(t), 116, 34},
		"very-wide": {over(t), 196, 56},
	} {
		path := filepath.Join("testdata", name+".txt")
		got := drawn(p.m, p.w, p.h) + "\n"
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil || string(want) != got {
			t.Errorf("%s differs (%v):\n%s", name, err, got)
		}
	}
}

var _ = time.Second
