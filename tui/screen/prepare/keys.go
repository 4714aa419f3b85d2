package prepare

// The keys in the light. In the dark only touches count.

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

func (m Model) key(k tea.KeyMsg) (_ Model, action screen.Action) {
	if m.typing != nil {
		return m.fieldKey(k), nil
	}
	switch name := k.String(); name {
	case "up", "shift+tab":
		return m.move(m.at - 1), nil
	case "down", "tab":
		return m.move(m.at + 1), nil
	case "pgup":
		return m.move(m.page().above(m.w, m.h)), nil
	case "home":
		return m.move(0), nil
	case "end":
		return m.move(len(m.lines()) - 1), nil
	case "enter":
		return m.workedOff(), nil
	case "c", "o", "l", "y":
		return m.answered(name)
	case "q":
		m.film, action = m.film.Left(screen.Quit{}, "q")
		return m, action
	case "esc":
		back := screen.Back{}
		if m.reading != "" && m.fault == "" {
			back.Tell = screen.MeasuredMsg{Temperature: m.reading}
		}
		m.film, action = m.film.Left(back, "esc")
		return m, action
	}
	if m.section() == measureSection && m.corrected() {
		if t, begun := m.begun(k); begun {
			return m.goTo(measureSection).measured(t), nil
		}
	}
	return m, nil
}

// answered takes a key as the answer to the open question, where it is one.
func (m Model) answered(key string) (Model, screen.Action) {
	a, open := m.questions().open()
	if !open {
		return m, nil
	}
	record, is := m.questions().recorded(a, key)
	if !is {
		return m.goToAsk(a), screen.Message{Text: "First: " + a.short()}
	}
	m.answers[a] = record
	if next, more := m.questions().open(); more && sectionOf(next) == laptopSection && m.section() == laptopSection {
		return m.goToAsk(next), nil
	} else if !more && m.section() == laptopSection {
		return m.goTo(roomSection), nil
	}
	return m, nil
}

func (m Model) move(to int) Model {
	m.at = max(0, min(to, len(m.lines())-1))
	return m
}

// goTo puts the cursor on the first line of a section, in Measure on the field.
func (m Model) goTo(section int) Model {
	if i := slices.IndexFunc(m.lines(), func(l line) bool { return l.section >= section }); i >= 0 {
		m.at = i
	}
	return m
}

func (m Model) goToAsk(a ask) Model {
	for i, l := range m.lines() {
		if l.kind == questionLine && l.ask == a {
			m.at = i
		}
	}
	return m
}

// workedOff marks the section under the cursor and goes on to the next; the reading is
// opened for typing first.
func (m Model) workedOff() Model {
	s := m.section()
	if s == roomSection {
		return m
	}
	m.done[s] = true
	return m.goTo(s + 1)
}

// fieldKey is a key while the reading is typed: enter takes it, escape puts back what was there.
func (m Model) fieldKey(k tea.KeyMsg) Model {
	switch k.String() {
	case "enter":
		if m.fault == "" {
			return m.measured(m.left()).workedOff()
		}
		return m
	case "esc":
		return m.measured(m.undone())
	case "up", "shift+tab":
		return m.measured(m.left()).move(m.at - 1)
	case "down", "tab":
		return m.measured(m.left()).move(m.at + 1)
	}
	return m.measured(m.typed(m.typing.Typed(k)))
}

// About is what stands around it.
func (m Model) About() screen.About {
	big := m.env.Keys.BigName()
	return screen.About{Title: "Prepare: " + m.plan.Recipe.Title, Right: m.sound, Foot: m.foot(), Typing: m.typing != nil, Help: widget.Help{
		About: "A list to work off before film is opened. The big key answers no question: it goes on when all are answered. " +
			"In the dark one touch of it speaks and two begin; escape twice brings the light back while no session runs.",
		Guides: []string{"bottles", "safety", "dark"},
		Groups: []widget.KeyGroup{
			{Purpose: "The list", Keys: []key.Binding{widget.Bind("enter", "this part is done, on to the next"), widget.Bind("↑↓", "line by line"), widget.Bind("pgup", "a page back"), widget.Bind("home end", "beginning, end"), widget.Bind("0-9", "type what the developer reads, in Measure")}},
			{Purpose: "Questions", Keys: []key.Binding{widget.Bind("c", "the panel is covered"), widget.Bind("o", "the panel was checked dark"), widget.Bind("l", "the laptop is outside the room"),
				widget.Bind("y", "yes: to a danger, to no sound, to a background that is not confirmed black")}},
			{Purpose: "Going on", Keys: []key.Binding{widget.Bind(big, m.bigDoes())}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back to the plan, which keeps what the developer reads"), widget.Bind("q", "leave wetside")}},
		}}}
}

// bigDoes is what the big key does when all is answered.
func (m Model) bigDoes() string {
	if first(m.plan) == sequence.Dark {
		return "lights out"
	}
	return "begin"
}

// foot are the keys that matter now.
func (m Model) foot() []key.Binding {
	if m.typing != nil {
		return []key.Binding{widget.Bind("enter", "take it"), widget.Bind("esc", "as it was")}
	}
	var list []key.Binding
	if a, open := m.questions().open(); open && (sectionOf(a) <= m.section()) {
		for _, one := range answersTo[a] {
			list = append(list, widget.Bind(one.key, one.word))
		}
	} else if !open && m.section() == roomSection {
		list = append(list, widget.Bind(m.env.Keys.BigName(), m.bigDoes()))
	}
	if m.section() != roomSection {
		list = append(list, widget.Bind("enter", "done, next"))
	}
	return append(list, widget.Bind("↑↓", "read"), widget.Bind("esc", "plan"))
}
