package plan

// The keys: of the form, of the field that is being typed into, of the whole plan.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

const (
	longestWord = 24 // as much as can be typed into one field
	scrollBy    = 5  // rows
)

func (m Model) key(k tea.KeyMsg) (Model, screen.Action) {
	name := k.String()
	if m.leaving {
		if m.leaving = false; name == "y" {
			return m, m.back()
		}
		return m, nil
	}
	if m.choosing {
		return m.practiceKey(name)
	}
	if m.typing != nil {
		return m.fieldKey(k)
	}
	switch name {
	case "left":
		return m.change(-1), nil
	case "right":
		return m.change(1), nil
	case "enter":
		return m, m.prepare()
	case "r":
		return m, m.rehearse(m.asked())
	case "R":
		return m.chooses()
	case "b":
		return m, screen.OpenBottles{Recipe: &m.recipe}
	case "q":
		return m, screen.Quit{}
	case "esc":
		if m.leaving = m.Unsaved(); m.leaving {
			return m, nil
		}
		return m, m.back()
	}
	if m, action, ok := m.anyTime(name); ok {
		return m, action
	}
	return m.begins(k), nil
}

// anyTime are the keys that no value is typed with.
func (m Model) anyTime(name string) (Model, screen.Action, bool) {
	stops := len(fields) + len(m.ways())
	var action screen.Action
	switch name {
	case "up", "shift+tab":
		m.at, m.scrolled = (m.at+stops-1)%stops, 0
	case "down", "tab":
		m.at, m.scrolled = (m.at+1)%stops, 0
	case "pgup":
		m.scrolled = max(-m.pageRows(), m.scrolled-scrollBy)
	case "pgdown":
		m.scrolled = min(m.pageRows(), m.scrolled+scrollBy)
	case "+":
		m, action = m.shorten()
	case "-":
		m, action = m.undo()
	case "=":
		m, action = m.startAsSuggested()
	case "f5":
		action = m.rehearse(m.asked())
	default:
		return m, nil, false
	}
	m.typing = nil
	return m, action, true
}

// fieldKey is a key while a value is typed: enter takes it, escape puts back what was there.
func (m Model) fieldKey(k tea.KeyMsg) (Model, screen.Action) {
	name := k.String()
	switch name {
	case "enter":
		if m.fault.text != "" && m.fault.field == m.at {
			return m, nil // it says beside the field what is wrong
		}
		m.typing = nil
		return m, nil
	case "esc":
		*fields[m.at].of(&m.conditions), m.typing = m.before, nil
		return m.again(), nil
	}
	if m, action, ok := m.anyTime(name); ok {
		return m, action
	}
	return m.typed(m.typing.Typed(k)), nil
}

// begins opens a field that is typed: with its first character, or to change what stands there.
func (m Model) begins(k tea.KeyMsg) Model {
	if m.at >= len(fields) || fields[m.at].choices != nil {
		return m
	}
	word := *fields[m.at].of(&m.conditions)
	p := widget.NewPrompt("", "", word)
	switch name := k.String(); {
	case name == "backspace" || name == "ctrl+w" || name == "ctrl+u":
		if word == "" {
			return m
		}
	case len(name) == 1 && (name[0] >= '0' && name[0] <= '9' || name == "." || name == ":"):
		p = widget.NewPrompt("", "", "")
	default:
		return m
	}
	m.before = word
	return m.typed(p.Typed(k))
}

// typed takes the field as it is now; nothing that cannot stand in it.
func (m Model) typed(p widget.Prompt) Model {
	word := p.Value()
	if len(word) > longestWord {
		return m
	}
	for _, r := range word {
		if r < ' ' || r > '~' {
			return m
		}
	}
	m.typing, m.scrolled = &p, 0
	if to := fields[m.at].of(&m.conditions); *to != word {
		*to, m.changed = word, m.at
		return m.again()
	}
	return m
}

// Rehearse begins the rehearsal that the command line asks for.
func (m Model) Rehearse() screen.Action {
	if m.fault.text != "" {
		return m.sayFault()
	}
	s := screen.SessionStart{Plan: m.plan, RehearsalSpeed: m.env.Rehearsal.Speed, SkipQuiet: m.env.Rehearsal.SkipQuiet}
	if s.SkipQuiet {
		s.Countdown = m.env.Countdown
	}
	return screen.Begin{Start: s}
}

// prepare goes on to the list that is worked off before film is opened.
func (m Model) prepare() screen.Action {
	if m.fault.text != "" {
		return m.sayFault()
	}
	return screen.OpenPrepare{Plan: m.plan}
}

func bind(keys, word string) key.Binding {
	return key.NewBinding(key.WithKeys(keys), key.WithHelp(keys, word))
}

// About is what stands around it.
func (m Model) About() screen.About {
	return screen.About{Title: m.recipe.Title, Right: m.facts(), Foot: m.foot(), Typing: m.typing != nil, Help: widget.Help{
		About: "Today's plan. What is typed here changes the plan at once, never the recipe. " + say.TwoVessels,
		Groups: []widget.KeyGroup{
			{Purpose: "The plan", Keys: []key.Binding{bind("↑↓", "choose a field, or a way to shorten"), bind("←→", "change a number or a choice"),
				bind("0-9", "type a value; enter takes it, esc puts the old one back"), bind("backspace", "change what is typed; ctrl+u empties it")}},
			{Purpose: "Proposals", Keys: []key.Binding{bind("+", "apply the way to shorten wet time that is chosen"), bind("-", "undo the last one"),
				bind("=", "use the suggested start temperature")}},
			{Purpose: "Going on", Keys: []key.Binding{bind("enter", "prepare: mix, set out, check the room"), bind("r f5", "rehearse without film, "+m.askedFor()),
				bind("R", "choose how to rehearse: in the light, dark, with real hands")}},
			{Purpose: "Looking", Keys: []key.Binding{bind("pgup pgdn", "read on"), bind("b", "bottles for this recipe")}},
			{Purpose: "Leaving", Keys: []key.Binding{bind("esc", "back to the recipes"), bind("q", "quit wetside")}},
		}}}
}

// facts is what the plan is for.
func (m Model) facts() string {
	if m.fault.text != "" {
		return m.recipe.Film.Name
	}
	return m.recipe.Film.Name + ", " + say.Sheets(m.plan.Sheets) + " " + m.plan.Vessel.In()
}

// rehearsals are its keys, behind others: in fewer words where they would push the way back off an
// ordinary window.
func rehearsals(behind int) []key.Binding {
	switch behind {
	case 1:
		return []key.Binding{bind("r", "rehearse"), bind("R", "in the dark")}
	case 2:
		return []key.Binding{bind("r", "rehearse"), bind("R", "dark")}
	}
	return []key.Binding{bind("r R", "rehearse")}
}

// foot are the keys that matter now.
func (m Model) foot() []key.Binding {
	switch {
	case m.leaving:
		return []key.Binding{bind("y", "leave"), bind("esc", "stay")}
	case m.choosing:
		return []key.Binding{bind("enter", "rehearse"), bind("←→", "choose"), bind("esc", "back to the plan")}
	case m.typing != nil:
		return []key.Binding{bind("enter", "take it"), bind("esc", "as it was"), bind("↑↓", "next field")}
	}
	list := []key.Binding{bind("enter", "prepare")}
	if len(m.ways()) > 0 {
		list = append(list, bind("+", "shorten"))
	}
	if len(m.taken) > 0 {
		list = append(list, bind("-", "undo"))
	}
	list = append(append(list, rehearsals(len(list))...), bind("esc", "recipes"), bind("↑↓", "field"))
	if m.suggests() && len(list) < 5 {
		list = append(list, bind("=", "suggested temperature"))
	}
	list = append(list, bind("←→", "change"))
	return list[:min(len(list), 6)]
}
