package tui

// The first minutes: how many keys there are between a first start and a rehearsed session of
// one's own film.

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

// newcomer has the shipped recipes, and those that are saved.
type newcomer struct {
	darkroom
	saved map[string][]byte
}

func (n *newcomer) FirstRun() bool                         { return true }
func (n *newcomer) RecipeText(name string) ([]byte, error) { return recipes.Source(name, "") }
func (n *newcomer) SaveRecipe(name string, _, text []byte) (string, error) {
	n.saved[name] = text
	return name, nil
}

func (n *newcomer) Recipe(name string) (sequence.Recipe, error) {
	if text, ok := n.saved[name]; ok {
		return recipes.Read(name, text)
	}
	return recipes.Find(name, "")
}

// A film with its name, speed and time, from the first screen to its rehearsal, which in the
// light goes by itself but where the recipe waits: under 40 keys.
func TestKeysToARehearsalOfOnesOwnFilm(t *testing.T) {
	n := &newcomer{saved: map[string][]byte{}}
	n.now = time.Date(2024, 5, 4, 20, 0, 0, 0, time.UTC)
	m, err := New(Options{Env: screen.Env{Now: func() time.Time { return n.now }}, Backend: n})
	if err != nil {
		t.Fatal(err)
	}
	typed := func(s string) (keys []string) {
		for _, r := range s {
			keys = append(keys, string(r))
		}
		return append(keys, "enter")
	}
	keys := append([]string{"n", "down"}, typed("Knot 100")...)        // the film
	keys = append(append(keys, typed("100")...), typed("50")...)       // its speed, and what it is exposed at
	keys = append(append(keys, "tab", "tab", "tab"), typed("8:30")...) // the developing time
	keys = append(keys, "s", "r")
	var model tea.Model = m
	for _, k := range keys {
		var cmd tea.Cmd
		n.now = n.now.Add(time.Second)
		if model, cmd = model.Update(drive.Key(k)); cmd != nil && (k == "s" || k == "r") { // saved, begun
			model, _ = model.Update(cmd())
		}
	}
	if len(n.begun) != 1 {
		t.Fatalf("no rehearsal begins:\n%s", model.View())
	}
	start := n.begun[0]
	if f := start.Plan.Recipe.Film; f.Name != "Knot 100" || f.BoxSpeed != 100 || f.ExposureIndex != 50 || start.RehearsalSpeed == 0 || start.Dark {
		t.Errorf("begun with %+v, %+v", f, start)
	}
	waits := 0
	for _, st := range start.Plan.Steps {
		if st.WaitForPerson {
			waits++
		}
		if st.Kind == sequence.Develop && st.Given != 8*time.Minute+30*time.Second {
			t.Errorf("develops for %v", st.Given)
		}
	}
	const most = 39
	if all := len(keys) + waits; all > most {
		t.Errorf("%d keys", all)
	}
}
