package run_test

// What a second of a running session costs: the whole view, drawn and turned into a terminal's bytes.

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/runtest"
)

// shownAt is a stack in the developer under the root, so long after the first sheet went in.
func shownAt(b *testing.B, after time.Duration) tea.Model {
	now := time.Date(2024, 5, 4, 21, 0, 0, 0, time.UTC)
	clock := func() time.Time { return now }
	h := &host{session: runtest.New(b, runtest.Recipe(b, "stack"), sequence.Conditions{}, 0, clock)}
	h.session.Speed = 1
	first, err := tui.New(tui.Options{Env: screen.Env{Now: clock}, Backend: h, Resume: "a"})
	if err != nil {
		b.Fatal(err)
	}
	now = now.Add(after)
	var m tea.Model = first
	m, _ = m.Update(m.Init()())
	m, _ = m.Update(tea.WindowSizeMsg{Width: 200, Height: 60})
	return m
}

// BenchmarkViewToBytes draws two seconds of it in turn, at 200x60: what changed, and all of it where
// nothing of the terminal is known.
func BenchmarkViewToBytes(b *testing.B) {
	seconds := []tea.Model{shownAt(b, 3*time.Minute), shownAt(b, 3*time.Minute+time.Second)}
	for name, whole := range map[string]bool{"whole": true, "changes": false} {
		b.Run(name, func(b *testing.B) {
			f := light.NewFrame(light.FullColour)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				if whole {
					f.Invalidate()
				}
				b.SetBytes(int64(len(f.Draw(seconds[i%2].View(), 200, 60, light.White))))
			}
		})
	}
}
