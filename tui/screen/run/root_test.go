package run_test

// The screen under the real root: a session that is taken up in the dark, touched, and lit.

import (
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/runtest"
)

// host has a session to take up, and is told the light.
type host struct {
	tui.Backend
	session *runtest.Session
	lights  []light.Light
}

func (h *host) Recipes() []recipes.Entry                     { return nil }
func (h *host) Unfinished() []screen.Unfinished              { return nil }
func (h *host) FirstRun() bool                               { return false }
func (h *host) Resume(screen.Resume) (screen.Session, error) { return h.session, nil }
func (h *host) Light(l light.Light)                          { h.lights = append(h.lights, l) }
func (h *host) Recipe(string) (r sequence.Recipe, e error)   { return r, e }

func TestUnderTheRoot(t *testing.T) {
	now := time.Date(2024, 5, 4, 21, 0, 0, 0, time.UTC)
	clock := func() time.Time { return now }
	h := &host{session: runtest.New(t, runtest.Recipe(t, "stack"), sequence.Conditions{}, 0, clock)}
	first, err := tui.New(tui.Options{Env: screen.Env{Now: clock}, Backend: h, Resume: "a", Dark: true})
	if err != nil {
		t.Fatal(err)
	}
	var m tea.Model = first
	send := func(msg tea.Msg) {
		m, _ = m.Update(msg)
		m, _ = m.Update(tui.QuietMsg{})
	}
	space := tea.KeyMsg{Type: tea.KeySpace, Runes: []rune(" ")}
	letter := func(r rune) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}} }
	twice := func() {
		now = now.Add(3 * time.Second)
		send(space)
		now = now.Add(time.Second)
		send(space)
	}
	now = now.Add(2 * time.Minute)
	send(m.Init()())
	for _, k := range "qhunlxtsw?" {
		send(letter(k))
	}
	if m.View() != "" || len(h.session.Did) != 0 {
		t.Fatalf("lit, or asked %T, by a letter in the dark", h.session.Last())
	}
	if twice(); len(h.session.Did) != 1 || h.session.Answers != 1 || m.View() != "" {
		t.Fatalf("two touches: %d acts, %d answers", len(h.session.Did), h.session.Answers)
	}
	send(letter('m')) // hold is not offered first: the act can be undone
	now = now.Add(time.Second)
	if send(space); len(h.session.Did) != 2 {
		t.Fatal("the menu's choice was not taken by one touch")
	}
	now = now.Add(700 * time.Millisecond)
	if send(space); h.session.Answers != 2 || len(h.session.Did) != 2 {
		t.Fatalf("the touch behind a choice: %d answers, %d acts; expected one more answer", h.session.Answers, len(h.session.Did))
	}
	for range 200 {
		if now = now.Add(10 * time.Second); h.session.Snapshot().LightOffered {
			break
		}
	}
	if twice(); m.View() == "" || !slices.Equal(h.lights, []light.Light{light.Red}) {
		t.Fatalf("after two touches at the offer the root told %v", h.lights)
	}
	send(tea.WindowSizeMsg{Width: 80, Height: 24})
	for _, k := range "s" {
		send(letter(k))
	}
	acts := len(h.session.Did)
	if twice(); len(h.session.Did) != acts {
		t.Error("the big key answered whether to end")
	}
}
