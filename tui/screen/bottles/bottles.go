// Package bottles is the screen of mixed baths and of the stock that they are mixed from: how
// old each is, how far used, whether it can still be used. Bottles are opened, retired,
// swapped and tested here; what cannot be undone is asked first.
package bottles

import (
	"cmp"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	Stock() []sequence.Stock                                   // bottles of the parts that baths are mixed from
	Bottles() ([]bottles.Bottle, error)                        // mixed, and not retired
	OpenBottles(sequence.Recipe) error                         // one for each of its baths that is more than water
	Retire(bottle string) error                                // out of use
	Swap(first, second bottles.Bottle) error                   // the first is retired, the second takes its place
	RecordClearing(bottle string, took time.Duration) error    // a clearing time was measured
	Replenish(bottle string, added sequence.Millilitres) error // replenisher was added, as much poured off
	SoundStopwatch(on bool)                                    // a stopwatch is heard from now on, or no more; nothing is waited for
}

// Model is the screen.
type Model struct {
	b   Backend
	env screen.Env
	of  *sequence.Recipe // whose bottles are opened; nil where it is chosen

	list   list
	asked  question
	choice []recipes.Entry // recipes to open bottles for
	pick   int
	watch  stopwatch
	typing *widget.Prompt // how much replenisher was added; nil while it is not asked
	busy   bool           // something is being done to them
	stock  bool           // the stock is shown, in place of the mixed baths
	alone  bool           // the chosen bottle is shown alone
	first  int            // row at the top, of a question or of the stock
	drawn  *extent
	pager  *widget.Pager
}

// extent is how many rows a question or the stock has, and how many were shown when it was last drawn.
type extent struct{ rows, shown int }

// question is what is asked, or the list that is chosen from.
type question int

const (
	nothing question = iota
	whichRecipe
	openThem
	retireIt
	swapIt
	testIt
	replenishIt
)

// Messages.
type (
	listMsg struct {
		bottles []bottles.Bottle
		stock   []sequence.Stock
		now     time.Time
		err     error
		done    string
	}
	recipeMsg struct {
		recipe sequence.Recipe
		err    error
	}
	recipesMsg struct{ list []recipes.Entry }
)

// New makes it.
func New(b Backend, env screen.Env, of *sequence.Recipe) Model {
	if of != nil && len(of.Baths) == 0 {
		of = nil
	}
	return Model{b: b, env: env, of: of, drawn: &extent{}, pager: &widget.Pager{}}
}

// Start has the bottles read.
func (m Model) Start() tea.Cmd { return m.do(nil, "") }

// Renew has them read anew.
func (m Model) Renew() (screen.Screen, tea.Cmd) { return m, m.do(nil, "") }

// do does something to the bottles, and reads them; done is said where it could be done.
func (m Model) do(act func() error, done string) tea.Cmd {
	now := m.env.Now()
	return func() tea.Msg {
		var err error
		if act != nil {
			err = act()
		}
		list, unread := m.b.Bottles()
		return listMsg{list, m.b.Stock(), now, cmp.Or(err, unread), done}
	}
}

// came takes in the bottles as they stand now.
func (m Model) came(msg listMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.list, m.busy = m.list.came(msg), false
	if m.asked != openThem && m.asked != whichRecipe {
		m.asked, m.typing = nothing, nil // it was about another bottle
	}
	switch {
	case msg.err != nil:
		return m, screen.Message{Text: m.list.fault, Fault: true}, nil
	case msg.done != "":
		m.alone = false
		return m, screen.Message{Text: msg.done}, nil
	}
	return m, nil, nil
}

// sureOf does what was asked and is confirmed now.
func (m Model) sureOf() (screen.Screen, screen.Action, tea.Cmd) {
	asked := m.asked
	m.asked, m.busy = nothing, true
	switch c := m.list.chosen(); {
	case asked == openThem:
		recipe := *m.of
		return m, nil, m.do(func() error { return m.b.OpenBottles(recipe) },
			"Opened: a bottle for each bath of "+recipe.Title+". Write its name on each.")
	case asked == retireIt && c != nil:
		name := c.Name
		return m, nil, m.do(func() error { return m.b.Retire(name) }, "Retired: "+name+". Collect the silver of used fixer.")
	case asked == swapIt && c != nil:
		first, second := *c, *m.list.successor()
		return m, nil, m.do(func() error { return m.b.Swap(first, second) },
			"Swapped: "+second.Name+" is the "+first.Bath.ID+" now; "+first.Name+" is retired.")
	}
	m.busy = false
	return m, nil, nil
}
