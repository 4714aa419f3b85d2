package tui

// Side screens: lit screens beside the way from a recipe to its session, such as
// the notebook. A key of the opening opens one; one may open another; esc goes
// back to where it was opened from. The room is lit there: no session is running.

import tea "github.com/charmbracelet/bubbletea"

// subscreen is one of them. keyed is given every key while the screen is the one shown;
// it may enter another screen, go back, say something, or set itself anew by
// m.changed. What takes long is a command of the model's, whose message comes to told.
type subscreen interface {
	id() screenID // whose keys and help it has
	HandleKey(m Model, key string) (Model, tea.Cmd)
	HandleMsg(m Model, msg tea.Msg) (Model, tea.Cmd)
	draw(g grid, f frame)
	typing() string // the line being typed at the foot; "" for none
}

// refresher is one that is read anew when it is come back to: what was done on the
// screens over it may have changed what it shows.
type refresher interface{ Refresh(Backend) subscreen }

// noMessages is embedded by side screens that ask nothing which takes long.
type noMessages struct{}

func (noMessages) HandleMsg(m Model, _ tea.Msg) (Model, tea.Cmd) { return m, nil }

// noInput is embedded by side screens on which nothing is typed.
type noInput struct{}

func (noInput) typing() string { return "" }

// enter shows a side screen, over the one that is shown.
func (m Model) enter(s subscreen) Model {
	if len(m.subscreens) == 0 {
		m.baseScreen = m.screen
	}
	m.subscreens = append(m.subscreens[:len(m.subscreens):len(m.subscreens)], s)
	m.screen = s.id()
	return m
}

// changed is the model with the side screen shown anew.
func (m Model) changed(s subscreen) Model {
	m.subscreens = append(m.subscreens[:len(m.subscreens)-1:len(m.subscreens)-1], s)
	m.screen = s.id()
	return m
}

// topSubscreen is the side screen that is shown; nil where none is.
func (m Model) topSubscreen() subscreen {
	if n := len(m.subscreens); n > 0 && m.subscreens[n-1].id() == m.screen {
		return m.subscreens[n-1]
	}
	return nil
}

// back leaves the side screen that is shown for what it was opened from.
func (m Model) back() Model {
	m.subscreens = m.subscreens[:len(m.subscreens)-1]
	if n := len(m.subscreens); n > 0 {
		if s, ok := m.subscreens[n-1].(refresher); ok {
			return m.changed(s.Refresh(m.o.Backend))
		}
		m.screen = m.subscreens[n-1].id()
		return m
	}
	if m.baseScreen == summaryScreen {
		m.screen = summaryScreen
		return m
	}
	return m.home()
}

// home is the opening, with what has changed meanwhile, the cursor where it was.
func (m Model) home() Model {
	m.subscreens, m.screen = nil, recipeListScreen
	m.list = newRecipeList(m.o).choose(m.o.Backend, m.list.at)
	return m
}
