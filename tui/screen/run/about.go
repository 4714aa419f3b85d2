package run

// What stands around the body: the head, the keys at the foot, and the help.

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// About is the head, the foot and the help.
func (m Model) About() screen.About {
	a := screen.About{Title: m.title(), Right: m.right(), Typing: m.form.open(), Help: m.help()}
	big := m.env.Keys.BigName()
	hold := bind("h", "hold")
	if m.look.Held {
		hold = bind("h", "go on")
	}
	switch {
	case m.form.choosing():
		a.Foot = []key.Binding{bind("enter", "take"), bind("←→", "choose"), bind("esc", "leave it")}
	case m.form.open():
		a.Foot = []key.Binding{bind("enter", "take"), bind("esc", "leave it")}
	case m.look.CanUndo:
		a.Foot = []key.Binding{bind(big, "move on"), bind("u", "undo"), hold, bind("s", "end session"), bind("l", "late"), bind("t", "temperature")}
	default:
		a.Foot = []key.Binding{bind(big, "move on"), hold, bind("s", "end session"), bind("l", "late"), bind("t", "temperature"), bind("n", "note")}
	}
	return a
}

func bind(keys, word string) key.Binding {
	return key.NewBinding(key.WithKeys(keys), key.WithHelp(keys, word))
}

func (m Model) help() widget.Help {
	big, menu := m.env.Keys.BigName(), m.env.Keys.MenuName()
	return widget.Help{
		About: "A session goes on. The word is what the hands do now, the number how long until what stands beneath it. " +
			"The chemistry never waits: a hold only keeps the film where it is.",
		Groups: []widget.KeyGroup{
			{Purpose: "The hands", Keys: []key.Binding{bind(big, "the transfer is done now"), bind("u", "undo, for 10 s"),
				bind("h", "hold the film where it is; again to go on"), bind("l", "a sheet is late: still where it was"),
				bind("x", "a sheet is lost, or set aside in plain water")}},
			{Purpose: "The record", Keys: []key.Binding{bind("t", "the developer's temperature"), bind("n", "a note"), bind("a", "advice about the wet time")}},
			{Purpose: "In the dark", Keys: []key.Binding{bind(big, "one press speaks, two move on; in a row of transfers two pause it; where light is offered two bring it"),
				bind(menu, "the spoken menu; "+big+" takes what was offered")}},
			{Purpose: "Looking and leaving", Keys: []key.Binding{bind("w", "white or red screen, where the room has white light"), bind(menu, "speak how it stands"),
				bind("s", "end the session, after a question")}},
		}}
}
