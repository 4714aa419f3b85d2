package plan

// The keys: of the form, of the field that is being typed into, of the whole plan.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

func (m Model) key(k tea.KeyMsg) (Model, screen.Action) {
	name := k.String()
	switch {
	case m.leaving:
		if m.leaving = false; name == "y" {
			return m, screen.Back{Tell: left{m.name}}
		}
		return m, nil
	case m.rehearsal != nil:
		return m.practiceKey(name)
	case m.reading && name == "esc":
		m.reading = false
		return m, nil
	case m.form.typing == nil:
		if next, action, ok := m.letter(name); ok {
			return next, action
		}
	}
	if next, action, ok := m.anyTime(name); ok {
		return next, action
	}
	if m.form.typing != nil {
		m.form = m.form.typingKey(k)
	} else if !m.reading {
		m.form = m.form.begins(k)
	}
	return m, nil
}

// letter are the keys that a value may be typed or left with.
func (m Model) letter(name string) (Model, screen.Action, bool) {
	var action screen.Action
	switch name {
	case "left":
		m.form = m.form.change(-1)
	case "right":
		m.form = m.form.change(1)
	case "enter":
		action = m.prepare()
	case "i":
		m = m.reads(!m.reading)
	case "r":
		action = m.rehearse(m.env.UsualRehearsal())
	case "R":
		m, action = m.chooses()
	case "f":
		m, action = m.takesFilmTime()
	case "b":
		action = screen.OpenBottles{Recipe: &m.form.recipe}
	case "q":
		action = screen.Quit{}
	case "esc":
		if m.leaving = m.Unsaved(); !m.leaving {
			action = screen.Back{Tell: left{m.name}}
		}
	default:
		return m, nil, false
	}
	return m, action, true
}

// takesFilmTime gives the plan the factor that makes its time the film's own.
func (m Model) takesFilmTime() (Model, screen.Action) {
	o := m.filmTime.of(m.form)
	if o == nil || o.Factor == nil {
		return m, nil
	}
	factor := say.Factor(*o.Factor)
	m.form = m.form.of(m.form.with(fieldOf("factor"), factor))
	return m, screen.Message{Text: "Developing time × " + factor + " today: the film's own. The recipe stays as it is."}
}

// anyTime are the keys that no value is typed with.
func (m Model) anyTime(name string) (Model, screen.Action, bool) {
	if m.reading && !m.form.broken() {
		if s, ok := m.page().reading(m.first, m.read.w, m.read.h).Key(name); ok {
			m.first = s.First
			return m, nil, true
		}
	}
	var action screen.Action
	d := m.form.draft
	switch name {
	case "up", "shift+tab":
		m.form = m.form.moved(-1)
		return m, nil, true
	case "down", "tab":
		m.form = m.form.moved(1)
		return m, nil, true
	case "pgdown":
		return m.reads(true), nil, true
	case "+":
		d, action = d.shortened(m.form.way())
	case "-":
		d, action = d.undone()
	case "=":
		d, action = d.startedAsSuggested()
	case "f5":
		action = m.rehearse(m.env.UsualRehearsal())
	default:
		return m, nil, false
	}
	m.form = m.form.of(d)
	return m, action, true
}

// reads opens or closes the page of all that follows, in place of the form.
func (m Model) reads(all bool) Model {
	m.reading, m.first, m.form.typing = all && !m.form.broken(), 0, nil
	return m
}

// Rehearse begins the rehearsal that the command line asks for.
func (m Model) Rehearse() screen.Action {
	if m.form.broken() {
		return m.form.sayFault()
	}
	s := screen.SessionStart{Plan: m.form.plan, RehearsalSpeed: m.env.Rehearsal.Speed, SkipQuiet: m.env.Rehearsal.SkipQuiet}
	if s.SkipQuiet {
		s.Countdown = m.env.Countdown
	}
	return screen.Begin{Start: s}
}

// prepare goes on to the list that is worked off before film is opened.
func (m Model) prepare() screen.Action {
	if m.form.broken() {
		return m.form.sayFault()
	}
	return screen.OpenPrepare{Plan: m.form.plan}
}

// About is what stands around it.
func (m Model) About() screen.About {
	return screen.About{Title: m.form.recipe.Title, Right: m.form.facts(), Foot: m.foot(), Typing: m.form.typing != nil, Help: widget.Help{
		About:  "Today's plan. What is typed here changes the plan at once, never the recipe. " + say.TwoVessels,
		Guides: []string{"wet-time", "temperature", "wash"},
		Groups: []widget.KeyGroup{
			{Purpose: "The plan", Keys: []key.Binding{widget.Bind("↑↓", "choose a field, or a way to shorten"), widget.Bind("←→", "change a number or a choice"),
				widget.Bind("0-9", "type a value; enter takes it, esc puts the old one back"), widget.Bind("backspace", "change what is typed; ctrl+u empties it")}},
			{Purpose: "Proposals", Keys: []key.Binding{widget.Bind("+", "apply the way to shorten wet time that is chosen"), widget.Bind("-", "undo the last one"),
				widget.Bind("=", "use the suggested start temperature"), widget.Bind("f", "use the film's own time, as a factor; the recipe stays as it is")}},
			{Purpose: "Going on", Keys: []key.Binding{widget.Bind("enter", "prepare: mix, set out, check the room"), widget.Bind("r f5", "rehearse without film, "+named(m.env.UsualRehearsal())),
				widget.Bind("R", "choose how to rehearse: in the light, dark, with real hands")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("i", "all that follows: hands, cautions, notes; i or esc closes it"), widget.Bind("pgdn pgup", "read on there"), widget.Bind("b", "bottles for this recipe")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back to the recipes"), widget.Bind("q", "leave wetside")}},
		}}}
}

// rehearsals are its keys, behind others: in fewer words where they would push the way back off an
// ordinary window.
func rehearsals(behind int) []key.Binding {
	switch behind {
	case 1:
		return []key.Binding{widget.Bind("r", "rehearse"), widget.Bind("R", "in the dark")}
	case 2:
		return []key.Binding{widget.Bind("r", "rehearse"), widget.Bind("R", "dark")}
	}
	return []key.Binding{widget.Bind("r R", "rehearse")}
}

// foot are the keys that matter now.
func (m Model) foot() []key.Binding {
	switch {
	case m.leaving:
		return []key.Binding{widget.Bind("y", "leave"), widget.Bind("esc", "stay")}
	case m.rehearsal != nil:
		return []key.Binding{widget.Bind("enter", "rehearse"), widget.Bind("←→", "choose"), widget.Bind("esc", "back to the plan")}
	case m.reading:
		return []key.Binding{widget.Bind("↑↓", "read on"), widget.Bind("i", "the form"), widget.Bind("enter", "prepare"), widget.Bind("r", "rehearse")}
	case m.form.typing != nil:
		return []key.Binding{widget.Bind("enter", "take it"), widget.Bind("esc", "as it was"), widget.Bind("↑↓", "next field")}
	}
	list := []key.Binding{widget.Bind("enter", "prepare")}
	if len(m.form.ways()) > 0 {
		list = append(list, widget.Bind("+", "shorten"))
	}
	if len(m.form.applied) > 0 {
		list = append(list, widget.Bind("-", "undo"))
	}
	list = append(append(list, rehearsals(len(list))...), widget.Bind("esc", "recipes"), widget.Bind("↑↓", "field"))
	if m.form.suggests() && len(list) < 5 {
		list = append(list, widget.Bind("=", "suggested temperature"))
	}
	list = append(list, widget.Bind("←→", "change"))
	return list[:min(len(list), 6)]
}
