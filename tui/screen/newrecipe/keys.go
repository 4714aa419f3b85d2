package newrecipe

// The keys: choosing a field, changing it, saving.

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// scrollBy is how far pgup and pgdn move the plan.
const scrollBy = 5

func (m Model) key(msg tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	name := msg.String()
	switch {
	case m.saving:
		return m, nil, nil
	case m.typing != nil:
		return m.typed(msg), nil, nil
	case m.asking:
		if m.asking = false; name == "y" {
			return m, screen.Back{}, nil
		}
		return m, nil, nil
	}
	if m.begins(msg) {
		m.typing = widget.NewPrompt("", "", "").Typed(msg)
		return m, nil, nil
	}
	switch name {
	case "s":
		return m.save(false)
	case "e":
		return m.save(true)
	case "esc":
		if m.Unsaved() {
			m.asking = true
			return m, nil, nil
		}
		return m, screen.Back{}, nil
	case "enter":
		if m.at == len(m.draft.fields()) {
			return m.save(false)
		}
		return m.enter(), nil, nil
	case "left", "right":
		return m.turned(map[string]int{"left": -1, "right": 1}[name])
	}
	return m.moved(name), nil, nil
}

// begins tells whether a key is the first of a value that is typed anew: a figure, and where
// the field holds words any letter; elsewhere letters are keys.
func (m Model) begins(msg tea.KeyMsg) bool {
	list := m.draft.fields()
	if m.at >= len(list) || len(list[m.at].choices) > 0 || msg.Type != tea.KeyRunes || msg.Alt || len(msg.Runes) == 0 {
		return false
	}
	r := msg.Runes[0]
	return r >= '0' && r <= '9' || list[m.at].words && unicode.IsLetter(r)
}

// of is the form of another draft, its plan read from the top.
func (m Model) of(d draft) Model {
	m.draft, m.scrolled = d, 0
	return m
}

// byGroup is the first field of the next group, or of the group before.
func (m Model) byGroup(by int) int {
	list := m.draft.fields()
	at := m.at
	for at += by; at > 0 && at < len(list); at += by {
		if list[at].group != list[at-1].group {
			break
		}
	}
	return max(0, min(at, len(list)))
}

// moved chooses another field, reads on in the plan, or gives a field back what it had.
func (m Model) moved(name string) Model {
	last := len(m.draft.fields())
	switch name {
	case "up", "k", "down", "j", "home", "end":
		m.at, _ = widget.Move(m.at, last+1, name, 1)
	case "tab":
		m.at = m.byGroup(1)
	case "shift+tab":
		m.at = m.byGroup(-1)
	case "pgdown":
		m.scrolled += scrollBy
		if p := m.draft.result.plan; p != nil {
			m.scrolled = min(m.scrolled, len(p.Steps)+2*len(p.Cautions)+scrollBy)
		}
	case "pgup":
		m.scrolled = max(0, m.scrolled-scrollBy)
	case "backspace", "delete":
		if m.at < last {
			m = m.of(m.draft.without(m.draft.fields()[m.at].id))
		}
	}
	return m
}

// enter opens a typed field; of one with choices it goes on to the next.
func (m Model) enter() Model {
	f := m.draft.fields()[m.at]
	if len(f.choices) > 0 {
		m.at++
		return m
	}
	m.typing = widget.NewPrompt("", "", m.draft.value(f))
	return m
}

// typed takes a key of a value. Enter takes the value and goes on to the next field, where it
// can be read; esc leaves the field as it was.
func (m Model) typed(msg tea.KeyMsg) Model {
	switch msg.String() {
	case "esc":
		m.typing = nil
		return m
	case "enter":
		f := m.draft.fields()[m.at]
		value := strings.TrimSpace(m.typing.Value())
		r := cloned(m.draft.result.recipe)
		if err := f.put(&r, value); err != nil {
			m.typing = m.typing.Faulted(plain(err))
			return m
		}
		m.typing = nil
		if value != f.get(&m.draft.result.recipe) || m.draft.result.faults[f.id] != "" {
			m = m.of(m.draft.with(f.id, value))
		}
		if m.draft.result.faults[f.id] == "" {
			m.at++
		}
		return m
	}
	m.typing = m.typing.Typed(msg)
	return m
}

// turned goes to the next choice of a field or the one before.
func (m Model) turned(by int) (screen.Screen, screen.Action, tea.Cmd) {
	list := m.draft.fields()
	if m.at >= len(list) || len(list[m.at].choices) == 0 {
		return m, nil, nil
	}
	d, err := m.draft.turned(m.b, list[m.at], by)
	if err != nil {
		return m, screen.Message{Text: err.Error(), Fault: true}, nil
	}
	return m.of(d), nil, nil
}

// About is what stands around it.
func (m Model) About() screen.About {
	title := "New recipe"
	if m.draft.inPlace {
		title = "Change " + m.draft.from.Name
	}
	return screen.About{Title: title, Right: m.place(), Foot: m.foot(), Typing: m.typing != nil, Help: widget.Help{
		About: "A recipe, field by field, in the order in which a box of film is opened. Each field says what it means and what is usual. " +
			"The plan that comes of it stands beside and changes with every value.",
		Guides: []string{"recipe", "wet-time", "wash"},
		Groups: []widget.KeyGroup{
			{Purpose: "A field", Keys: []key.Binding{widget.Bind("↑↓", "choose"), widget.Bind("tab", "the next group; shift+tab the one before"), widget.Bind("enter", "type its value, and take it"),
				widget.Bind("0-9", "type a number anew; in a name or a title letters do so too"), widget.Bind("←→", "the next choice, or the one before"),
				widget.Bind("backspace", "as it was at first"), widget.Bind("esc", "while typing: leave it as it was")}},
			{Purpose: "The recipe, from a field that holds no words", Keys: []key.Binding{widget.Bind("s", "save it and see its plan"),
				widget.Bind("e", "save it and open it in your own editor; leave that as you always do (nano: ctrl+o enter ctrl+x, vi: esc :wq enter) and its plan is shown")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("pgup pgdn", "read on in the plan")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back to the recipes; asks where something was changed")}},
		}}}
}

func (m Model) foot() []key.Binding {
	switch {
	case m.typing != nil:
		return []key.Binding{widget.Bind("enter", "take the value"), widget.Bind("esc", "leave it"), widget.Bind("ctrl+u", "clear")}
	case m.asking:
		return []key.Binding{widget.Bind("y", "leave without saving"), widget.Bind("esc", "stay")}
	}
	list := m.draft.fields()
	act := widget.Bind("enter", "save")
	if m.at < len(list) {
		if act = widget.Bind("enter", "type"); len(list[m.at].choices) > 0 {
			act = widget.Bind("←→", "change")
		}
	}
	foot := []key.Binding{act, widget.Bind("↑↓", "choose"), widget.Bind("tab", "group")}
	if m.at < len(list) && list[m.at].words { // letters are typed here
		return append(foot, widget.Bind("end", "save"), widget.Bind("esc", "recipes"))
	}
	if m.at < len(list) {
		foot = append(foot, widget.Bind("s", "save"))
	}
	return append(foot, widget.Bind("e", "save, then editor"), widget.Bind("esc", "recipes"))
}
