package bottles

// The keys of the bottles, and what each does.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// page is how far pgup and pgdn go.
const page = 10

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case listMsg:
		next, action := m.came(msg)
		return next, action, nil
	case watchedMsg:
		next, action, cmd := m.looked(msg)
		return next, action, cmd
	case recipesMsg:
		m.choice, m.pick, m.busy = withBaths(msg.list), 0, false
		if m.asked = whichRecipe; len(m.choice) == 0 {
			m.asked = nothing
		}
	case recipeMsg:
		next, action := m.found(msg)
		return next, action, nil
	case tea.KeyMsg:
		switch name := msg.String(); {
		case m.watch.runs():
			return m.watching(name)
		case m.busy && name != "esc":
			return m, nil, nil
		case m.asked == whichRecipe:
			return m.picking(name)
		case m.asked != nothing:
			return m.answered(name)
		default:
			return m.key(name)
		}
	}
	return m, nil, nil
}

// found takes the recipe that was chosen, and asks before its bottles are opened.
func (m Model) found(msg recipeMsg) (Model, screen.Action) {
	m.busy = false
	switch r := msg.recipe; {
	case msg.err != nil:
		m.asked = nothing
		return m, screen.Message{Text: msg.err.Error(), Fault: true}
	case len(r.Baths) == 0:
		return m, screen.Message{Text: "This recipe does not say what its baths are mixed from. Choose another.", Fault: true}
	default:
		m.of, m.asked, m.first = &r, openThem, 0
	}
	return m, nil
}

var steps = map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -page, "pgdown": page, "home": -1 << 30, "end": 1 << 30}

// readOn is the row at the top after so many more, no further than there are any.
func (m Model) readOn(by int) int { return max(0, min(m.first+by, m.drawn.rows-m.drawn.shown)) }

func (m Model) key(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if by, ok := steps[name]; ok && (m.shelf || m.alone) {
		m.first = m.readOn(by)
		return m, nil, nil
	} else if ok {
		m.at = min(max(0, m.at+by), max(0, len(m.bottles)-1))
		return m, nil, nil
	}
	c := m.chosen()
	m.first = 0
	switch {
	case name == "esc" && (m.shelf || m.alone):
		m.shelf, m.alone = false, false
	case name == "tab":
		m.shelf, m.alone = !m.shelf && len(m.stock) > 0, false
	case name == "enter" && !m.shelf:
		m.alone = !m.alone && c != nil
	case name == "esc":
		return m, screen.Back{}, nil
	case name == "q":
		return m, screen.Quit{}, nil
	case name == "o" && m.of != nil:
		m.asked = openThem
	case name == "o", name == "O":
		return m.which()
	case c == nil, m.shelf:
	case name == "t":
		m.asked = retireIt
	case name == "s" && m.successor() == nil:
		return m, screen.Message{Text: "No other bottle has the same mix and serves as another bath: nothing to put in its place.", Fault: true}, nil
	case name == "s":
		m.asked = swapIt
	case name == "c":
		m.asked = testIt
	}
	return m, nil, nil
}

// which has the recipes listed, to choose one from.
func (m Model) which() (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = true
	b := m.b
	return m, nil, func() tea.Msg { return recipesMsg{b.Recipes()} }
}

// picking takes a key of the recipes' list.
func (m Model) picking(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if by, ok := steps[name]; ok {
		m.pick = min(max(0, m.pick+by), len(m.choice)-1)
	}
	switch name {
	case "esc":
		m.asked = nothing
	case "enter":
		m.busy = true
		b, recipe := m.b, m.choice[m.pick].Name
		return m, nil, func() tea.Msg {
			r, err := b.Recipe(recipe)
			return recipeMsg{r, err}
		}
	}
	return m, nil, nil
}

// answered takes the answer to what is asked. Only the answer's own key does it; arrows read on.
func (m Model) answered(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if by, ok := steps[name]; ok {
		m.first = m.readOn(by)
		return m, nil, nil
	}
	switch {
	case m.asked == testIt && (name == "enter" || name == "c"):
		next, cmd := m.begin()
		return next, nil, cmd
	case m.asked != testIt && name == "y":
		next, cmd := m.sureOf()
		return next, nil, cmd
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
		next, action, cmd := m.stop()
		return next, action, cmd
	case "esc":
		return m.unwatch(), screen.Message{Text: "The test was given up; nothing was written down."}, nil
	case "q":
		return m.unwatch(), screen.Quit{}, nil
	}
	return m, nil, nil
}

func bind(k, does string) key.Binding {
	return key.NewBinding(key.WithKeys(k), key.WithHelp(k, does))
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Bottles", Help: help()}
	if m.read {
		a.Right = say.Count(len(m.bottles), "mixed bath")
		if n := len(m.stock); n > 0 {
			a.Right += ", " + say.Count(n, "bottle") + " of stock"
		}
	}
	switch {
	case m.watch.runs():
		a.Foot = []key.Binding{bind("enter", "it is clear"), bind("esc", "give up")}
	case m.asked == whichRecipe:
		a.Foot = []key.Binding{bind("enter", "this recipe"), bind("↑↓", "choose"), bind("esc", "leave it")}
	case m.asked == openThem:
		a.Foot = []key.Binding{bind("y", "open them"), bind("↑↓", "read on"), bind("O", "another recipe"), bind("esc", "leave it")}
	case m.asked == testIt:
		a.Foot = []key.Binding{bind("enter", "the scrap goes in"), bind("esc", "leave it")}
	case m.asked != nothing:
		a.Foot = []key.Binding{bind("y", "yes, retire it"), bind("esc", "keep it")}
	case m.shelf:
		a.Foot = []key.Binding{bind("tab", "mixed baths"), bind("↑↓", "read on"), bind("esc", "mixed baths")}
	case m.alone:
		a.Foot = []key.Binding{bind("esc", "all bottles"), bind("c", "clearing test"), bind("s", "swap"), bind("t", "retire"), bind("↑↓", "read on")}
	case len(m.bottles) == 0:
		a.Foot = []key.Binding{bind("o", "open"), bind("esc", "back")}
	default:
		stock := bind("tab", "stock")
		stock.SetEnabled(len(m.stock) > 0)
		a.Foot = []key.Binding{bind("o", "open"), bind("c", "clearing test"), bind("s", "swap"), bind("t", "retire"), stock, bind("esc", "back")}
	}
	return a
}

func help() widget.Help {
	return widget.Help{
		About: "Mixed baths that stand in bottles, with what each has done. A plan draws on them and a session counts its sheets on them. A clearing test tells whether a fixer still works.",
		Groups: []widget.KeyGroup{
			{Purpose: "The bottles", Keys: []key.Binding{bind("o", "open one for each bath of a recipe, mixed now"), bind("O", "the same, for another recipe"),
				bind("t", "retire: out of use, for good"), bind("s", "swap: retire the first of two fixers, the second takes its place")}},
			{Purpose: "The fixer", Keys: []key.Binding{bind("c", "clearing test with a stopwatch")}},
			{Purpose: "Looking", Keys: []key.Binding{bind("↑↓", "choose a bottle"), bind("enter", "all about the chosen one, in a small window"), bind("tab", "the stock alone, or the mixed baths"), bind("pgup pgdn", "ten up or down"), bind("home end", "the first, the last")}},
			{Purpose: "Leaving", Keys: []key.Binding{bind("esc", "one level back"), bind("q", "leave wetside")}},
		},
	}
}
