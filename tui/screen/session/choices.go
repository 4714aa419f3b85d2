package session

// How the negatives look and how the emulsion came through: chosen from a list with what
// each means, never typed.

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// choices is a list being chosen from.
type choices struct {
	title   string
	options []option
	several bool // more than one may hold
	at      int
	fault   string
	note    func(chosen []string) notebook.Note
}

type option struct {
	name        string // as it is noted
	word, means string
	chosen      bool
	excludes    []string // what cannot hold together with it
}

// looks are the looks of negatives, as last noted.
func looks(s *notebook.Session) *choices {
	c := &choices{title: "How do the negatives look?", several: true, note: func(chosen []string) (n notebook.Note) {
		for _, name := range chosen {
			n.Appearances = append(n.Appearances, notebook.Appearance(name))
		}
		return n
	}}
	noted := s.NotesAfter.Appearances()
	for _, a := range notebook.Appearances {
		o := option{name: string(a), word: string(a), means: say.AppearanceMeaning(a), chosen: slices.Contains(noted, a)}
		for _, other := range notebook.Appearances {
			if contradict(a, other) {
				o.excludes = append(o.excludes, string(other))
			}
		}
		c.options = append(c.options, o)
	}
	return c
}

// contradict reports whether negatives cannot look both ways: good ones have no fault, thin ones are not dense.
func contradict(a, b notebook.Appearance) bool {
	opposite := map[notebook.Appearance]notebook.Appearance{notebook.Thin: notebook.Dense, notebook.Dense: notebook.Thin}
	return a != b && (a == notebook.Good || b == notebook.Good) || opposite[a] == b
}

// emulsions are the states of the emulsion; the cursor is on the one last noted.
func emulsions(s *notebook.Session) *choices {
	c := &choices{title: "How did the emulsion come through?", note: func(chosen []string) notebook.Note {
		return notebook.Note{Emulsion: notebook.Emulsion(chosen[0])}
	}}
	for i, e := range notebook.Emulsions {
		c.options = append(c.options, option{name: string(e), word: say.Emulsion(e), means: say.EmulsionMeaning(e)})
		if e == s.Emulsion {
			c.at = i
		}
	}
	return c
}

// chosen are the names that hold; where one alone may, the one under the cursor.
func (c *choices) chosen() (list []string) {
	if !c.several {
		return []string{c.options[c.at].name}
	}
	for _, o := range c.options {
		if o.chosen {
			list = append(list, o.name)
		}
	}
	return list
}

// toggled changes what is under the cursor, and lets go of what cannot hold beside it.
func (c choices) toggled() *choices {
	c.options = slices.Clone(c.options)
	o := &c.options[c.at]
	if o.chosen = !o.chosen; o.chosen {
		for i := range c.options {
			if slices.Contains(o.excludes, c.options[i].name) {
				c.options[i].chosen = false
			}
		}
	}
	c.fault = ""
	return &c
}

// choosing takes a key of the list.
func (m Model) choosing(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	c := *m.choices
	step := 0
	switch k.String() {
	case "esc":
		m.choices = nil
		return m, nil, nil
	case "up", "k":
		step = -1
	case "down", "j":
		step = 1
	case "left", "right", "h", "l":
		if c.several {
			m.choices = c.toggled()
			return m, nil, nil
		}
		if step = 1; k.String() == "left" || k.String() == "h" {
			step = -1
		}
	case "enter":
		if list := c.chosen(); len(list) > 0 {
			return m.keep(c.note(list))
		}
		c.fault = "none chosen: ←→ chooses, esc leaves it open"
	}
	c.at = (c.at + step + len(c.options)) % len(c.options)
	m.choices = &c
	return m, nil, nil
}

// View draws it: the question, and a row for each.
func (c *choices) View(w, h int) string {
	title := style.Heading(c.title)
	if c.fault != "" {
		title += "   " + style.Danger.Render(c.fault)
	}
	t := widget.Table{Columns: []widget.Column{{}, {}, {}}, Selected: c.at, Width: w, Height: max(1, h-1)}
	for _, o := range c.options {
		cells := []string{style.Value(o.word), style.Label(o.means)}
		if c.several {
			yes := style.Label("no ")
			if o.chosen {
				yes = style.Heading("yes")
			}
			cells = append([]string{yes}, cells...)
		}
		t.Rows = append(t.Rows, cells)
	}
	if !c.several {
		t.Columns = t.Columns[:2]
	}
	return widget.Truncate(title, w) + "\n" + t.View()
}
