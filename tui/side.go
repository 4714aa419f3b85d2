package tui

// Side screens: lit screens beside the way from a recipe to its session, such as
// the notebook. A key of the opening opens one; one may open another; esc goes
// back to where it was opened from. The room is lit there: no session is running.

import tea "github.com/charmbracelet/bubbletea"

// side is one of them. keyed is given every key while the screen is the one shown;
// it may enter another screen, go back, say something, or set itself anew by
// m.changed. What takes long is a command of the model's, whose message comes to told.
type side interface {
	is() screen // whose keys and help it has
	keyed(m Model, key string) (Model, tea.Cmd)
	told(m Model, msg tea.Msg) (Model, tea.Cmd)
	draw(g grid, f frame)
	typing() string // the line being typed at the foot; "" for none
}

// renewing is one that is read anew when it is come back to: what was done on the
// screens over it may have changed what it shows.
type renewing interface{ renewed(Host) side }

// deaf is embedded by side screens that ask nothing which takes long.
type deaf struct{}

func (deaf) told(m Model, _ tea.Msg) (Model, tea.Cmd) { return m, nil }

// still is embedded by side screens on which nothing is typed.
type still struct{}

func (still) typing() string { return "" }

// enter shows a side screen, over the one that is shown.
func (m Model) enter(s side) Model {
	if len(m.sides) == 0 {
		m.under = m.screen
	}
	m.sides = append(m.sides[:len(m.sides):len(m.sides)], s)
	m.screen = s.is()
	return m
}

// changed is the model with the side screen shown anew.
func (m Model) changed(s side) Model {
	m.sides = append(m.sides[:len(m.sides)-1:len(m.sides)-1], s)
	m.screen = s.is()
	return m
}

// side is the side screen that is shown; nil where none is.
func (m Model) side() side {
	if n := len(m.sides); n > 0 && m.sides[n-1].is() == m.screen {
		return m.sides[n-1]
	}
	return nil
}

// back leaves the side screen that is shown for what it was opened from.
func (m Model) back() Model {
	m.sides = m.sides[:len(m.sides)-1]
	if n := len(m.sides); n > 0 {
		if s, ok := m.sides[n-1].(renewing); ok {
			return m.changed(s.renewed(m.o.Host))
		}
		m.screen = m.sides[n-1].is()
		return m
	}
	if m.under == after {
		m.screen = after
		return m
	}
	return m.home()
}

// home is the opening, with what has changed meanwhile, the cursor where it was.
func (m Model) home() Model {
	m.sides, m.screen = nil, opening
	m.list = newOpening(m.o).choose(m.o.Host, m.list.at)
	return m
}
