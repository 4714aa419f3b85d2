package bottles

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	Stock() []sequence.Stock                                // bottles of the parts that baths are mixed from
	Bottles() ([]bottles.Bottle, error)                     // mixed, and not retired
	OpenBottles(sequence.Recipe) error                      // one for each of its baths that is more than water
	Retire(bottle string) error                             // out of use
	Swap(first, second bottles.Bottle) error                // the first is retired, the second takes its place
	RecordClearing(bottle string, took time.Duration) error // a clearing time was measured
	SoundStopwatch(on bool)                                 // a stopwatch is heard from now on, or no more; nothing is waited for
}

// Model is the screen.
type Model struct{ env screen.Env }

// New makes it.
func New(b Backend, env screen.Env, of *sequence.Recipe) Model { return Model{env: env} }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.String() == "esc" {
		return m, screen.Back{}, nil
	}
	return m, nil, nil
}

// View draws the body.
func (m Model) View(w, h int) string { return "" }

// About is what stands around it.
func (m Model) About() screen.About { return screen.About{Title: "Bottles"} }
