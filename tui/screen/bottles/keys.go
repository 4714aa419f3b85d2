package bottles

// The keys of the bottles, and what each does.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case listMsg:
		return m.came(msg)
	case watchedMsg:
		return m.looked(msg)
	case recipesMsg:
		m.choice, m.pick, m.busy = recipes.Usable(msg.list), 0, false
		if m.asked = whichRecipe; len(m.choice) == 0 {
			m.asked = nothing
		}
	case recipeMsg:
		return m.found(msg)
	case tea.KeyMsg:
		switch name := msg.String(); {
		case m.watch.runs():
			return m.watching(name)
		case m.busy && name != "esc":
			return m, nil, nil
		case m.asked == whichRecipe:
			return m.picking(name)
		case m.typing != nil:
			return m.typed(msg)
		case m.asked != nothing:
			return m.answered(name)
		default:
			return m.key(name)
		}
	}
	return m, nil, nil
}

// found takes the recipe that was chosen, and asks before its bottles are opened.
func (m Model) found(msg recipeMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = false
	switch r := msg.recipe; {
	case msg.err != nil:
		m.asked = nothing
		return m, screen.Message{Text: msg.err.Error(), Fault: true}, nil
	case len(r.Baths) == 0:
		return m, screen.Message{Text: "This recipe does not say what its baths are mixed from. Choose another.", Fault: true}, nil
	default:
		m.of, m.asked, m.first = &r, openThem, 0
	}
	return m, nil, nil
}

// readOn is the row at the top after a key, no further than there are any.
func (m Model) readOn(name string) (int, bool) {
	return widget.Move(m.first, m.drawn.rows-m.drawn.shown+1, name, m.drawn.shown)
}

func (m Model) key(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if first, ok := m.readOn(name); ok && (m.stock || m.alone) {
		m.first = first
		return m, nil, nil
	} else if ok {
		m.list.at, _ = m.pager.Move(m.list.at, len(m.list.bottles), name)
		return m, nil, nil
	}
	c := m.list.chosen()
	m.first = 0
	switch {
	case name == "esc" && (m.stock || m.alone):
		m.stock, m.alone = false, false
	case name == "tab":
		m.stock, m.alone = !m.stock && len(m.list.stock) > 0, false
	case name == "enter" && !m.stock:
		m.alone = !m.alone && c != nil
	case name == "esc":
		return m, screen.Back{}, nil
	case name == "q":
		return m, screen.Quit{}, nil
	case name == "o" && m.of != nil:
		m.asked = openThem
	case name == "o", name == "O":
		return m.which()
	case c == nil, m.stock:
	case name == "t":
		m.asked = retireIt
	case name == "s" && m.list.successor() == nil:
		return m, screen.Message{Text: "No other bottle has the same mix and serves as another bath: nothing to put in its place.", Fault: true}, nil
	case name == "s":
		m.asked = swapIt
	case name == "c":
		m.asked = testIt
	case name == "r":
		m = m.askReplenisher(c)
	}
	return m, nil, nil
}

// which has the recipes listed, to choose one from.
func (m Model) which() (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = true
	return m, nil, func() tea.Msg { return recipesMsg{m.b.Recipes()} }
}

// picking takes a key of the recipes' list.
func (m Model) picking(name string) (screen.Screen, screen.Action, tea.Cmd) {
	m.pick, _ = m.pager.Move(m.pick, len(m.choice), name)
	switch name {
	case "esc":
		m.asked = nothing
	case "enter":
		m.busy = true
		recipe := m.choice[m.pick].Name
		return m, nil, func() tea.Msg {
			r, err := m.b.Recipe(recipe)
			return recipeMsg{r, err}
		}
	}
	return m, nil, nil
}

// answered takes the answer to what is asked. Only the answer's own key does it; arrows read on.
func (m Model) answered(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if first, ok := m.readOn(name); ok {
		m.first = first
		return m, nil, nil
	}
	switch {
	case m.asked == testIt && (name == "enter" || name == "c"):
		return m.begin()
	case m.asked != testIt && name == "y":
		return m.sureOf()
	case name == "O" && m.asked == openThem:
		return m.which()
	}
	m.asked = nothing
	return m, nil, nil
}

// watching takes a key while the stopwatch runs: clear, or given up. Others are nothing, for
// hands that hold a scrap of film.
func (m Model) watching(name string) (screen.Screen, screen.Action, tea.Cmd) {
	switch name {
	case "enter", "c", " ":
		return m.stop()
	case "esc":
		return m.unwatch(), screen.Message{Text: "The test was given up; nothing was written down."}, nil
	case "q":
		return m.unwatch(), screen.Quit{}, nil
	}
	return m, nil, nil
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Bottles", Help: help(), Typing: m.typing != nil}
	if m.list.read {
		a.Right = say.Count(len(m.list.bottles), "mixed bath")
		if n := len(m.list.stock); n > 0 {
			a.Right += ", " + say.Count(n, "bottle") + " of stock"
		}
	}
	switch {
	case m.watch.runs():
		a.Foot = []key.Binding{widget.Bind("enter", "it is clear"), widget.Bind("esc", "give up")}
	case m.asked == whichRecipe:
		a.Foot = []key.Binding{widget.Bind("enter", "this recipe"), widget.Bind("↑↓", "choose"), widget.Bind("esc", "leave it")}
	case m.asked == openThem:
		a.Foot = []key.Binding{widget.Bind("y", "open them"), widget.Bind("↑↓", "read on"), widget.Bind("O", "another recipe"), widget.Bind("esc", "leave it")}
	case m.asked == testIt:
		a.Foot = []key.Binding{widget.Bind("enter", "the scrap goes in"), widget.Bind("esc", "leave it")}
	case m.asked == replenishIt:
		a.Foot = []key.Binding{widget.Bind("enter", "write it down"), widget.Bind("esc", "leave it")}
	case m.asked != nothing:
		a.Foot = []key.Binding{widget.Bind("y", "yes, retire it"), widget.Bind("esc", "keep it")}
	case m.stock:
		a.Foot = []key.Binding{widget.Bind("tab", "mixed baths"), widget.Bind("↑↓", "read on"), widget.Bind("esc", "mixed baths")}
	case m.alone:
		a.Foot = []key.Binding{widget.Bind("esc", "all bottles"), m.care(), widget.Bind("s", "swap"), widget.Bind("t", "retire"), widget.Bind("↑↓", "read on")}
	case len(m.list.bottles) == 0:
		a.Foot = []key.Binding{widget.Bind("o", "open"), widget.Bind("esc", "back")}
	default:
		stock := widget.Bind("tab", "stock")
		stock.SetEnabled(len(m.list.stock) > 0)
		a.Foot = []key.Binding{widget.Bind("o", "open"), m.care(), widget.Bind("s", "swap"), widget.Bind("t", "retire"), stock, widget.Bind("esc", "back")}
	}
	return a
}

// care is the key of what the chosen bottle is looked after by: a developer that is replenished, or a fixer.
func (m Model) care() key.Binding {
	if c := m.list.chosen(); c != nil && c.Bath.Reuse != nil {
		return widget.Bind("r", "replenish")
	}
	return widget.Bind("c", "clearing test")
}

func help() widget.Help {
	return widget.Help{
		About:  "Mixed baths that stand in bottles, with what each has done. A plan draws on them and a session counts its sheets on them. A clearing test tells whether a fixer still works.",
		Guides: []string{"bottles", "safety"},
		Groups: []widget.KeyGroup{
			{Purpose: "The bottles", Keys: []key.Binding{widget.Bind("o", "open one for each bath of a recipe, mixed now"), widget.Bind("O", "the same, for another recipe"),
				widget.Bind("t", "retire: out of use, for good"), widget.Bind("s", "swap: retire the first of two fixers, the second takes its place")}},
			{Purpose: "The developer", Keys: []key.Binding{widget.Bind("r", "replenisher that was added, as much poured off")}},
			{Purpose: "The fixer", Keys: []key.Binding{widget.Bind("c", "clearing test with a stopwatch")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "choose a bottle"), widget.Bind("enter", "all about the chosen one, in a small window"), widget.Bind("tab", "the stock alone, or the mixed baths"), widget.Bind("pgup pgdn", "page by page"), widget.Bind("home end", "the first, the last")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "one level back"), widget.Bind("q", "leave wetside")}},
		},
	}
}
