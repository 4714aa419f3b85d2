package run

// What stands around the body: the head, the keys at the foot, and the help.

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// About is the head, the foot and the help.
func (m Model) About() screen.About {
	a := screen.About{Title: m.title(), Of: m.plan.Recipe.Title, Right: m.right(), Typing: m.form.open(), Help: m.help()}
	big := m.env.Keys.BigName()
	hold := widget.Bind("h", "hold")
	if m.look.Held {
		hold = widget.Bind("h", "go on")
	}
	switch {
	case m.form.choosing():
		a.Foot = []key.Binding{widget.Bind("enter", "take"), widget.Bind("←→", "choose"), widget.Bind("esc", "leave it")}
	case m.form.open():
		a.Foot = []key.Binding{widget.Bind("enter", "take"), widget.Bind("esc", "leave it")}
	case m.look.CanUndo:
		a.Foot = []key.Binding{widget.Bind(big, "move on"), widget.Bind("u", "undo"), hold, widget.Bind("s", "end session"), widget.Bind("l", "late"), widget.Bind("t", "temperature")}
	default:
		a.Foot = []key.Binding{widget.Bind(big, "move on"), hold, widget.Bind("s", "end session"), widget.Bind("l", "late"), widget.Bind("t", "temperature"), widget.Bind("n", "note")}
	}
	return a
}

func (m Model) help() widget.Help {
	big, menu := m.env.Keys.BigName(), m.env.Keys.MenuName()
	return widget.Help{
		About: "A session goes on. The word is what the hands do now, the number how long until what stands beneath it. " +
			"The chemistry never waits: a hold only keeps the film where it is.",
		Guides: []string{"dark", "voice"},
		Groups: []widget.KeyGroup{
			{Purpose: "The hands", Keys: []key.Binding{widget.Bind(big, "the transfer is done now"), widget.Bind("u", "undo, for 10 s"),
				widget.Bind("h", "hold the film where it is; again to go on"), widget.Bind("l", "a sheet is late: still where it was"),
				widget.Bind("x", "a sheet is lost, or set aside in plain water")}},
			{Purpose: "The record", Keys: []key.Binding{widget.Bind("t", "the developer's temperature"), widget.Bind("n", "a note"), widget.Bind("a", "advice about the wet time")}},
			{Purpose: "In the dark", Keys: []key.Binding{widget.Bind(big, "one press speaks, two move on; in a row of transfers two pause it; where light is offered two bring it"),
				widget.Bind(menu, "the spoken menu; "+big+" takes what was offered")}},
			{Purpose: "Looking and leaving", Keys: []key.Binding{widget.Bind("w", "white or red screen, where the room has white light"), widget.Bind(menu, "speak how it stands"),
				widget.Bind("s", "end the session, after a question")}},
		}}
}
