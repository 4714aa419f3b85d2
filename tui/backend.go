package tui

// What the screens need of the world, given by cmd: what each of them needs, and what is
// the root's own.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/bottles"
	"example.org/wetside/tui/screen/curves"
	"example.org/wetside/tui/screen/film"
	"example.org/wetside/tui/screen/filmtest"
	"example.org/wetside/tui/screen/holders"
	"example.org/wetside/tui/screen/newrecipe"
	"example.org/wetside/tui/screen/notebook"
	"example.org/wetside/tui/screen/plan"
	"example.org/wetside/tui/screen/prepare"
	"example.org/wetside/tui/screen/reading"
	"example.org/wetside/tui/screen/recipes"
	"example.org/wetside/tui/screen/scan"
	"example.org/wetside/tui/screen/session"
	"example.org/wetside/tui/screen/sounds"
	"example.org/wetside/tui/screen/summary"
)

// Backend finds recipes and starts sessions. Begin and Resume may take a while; they are
// called outside Update. Light is called at once, before the frame that it is for.
type Backend interface {
	recipes.Backend
	plan.Backend
	prepare.Backend
	session.Backend
	summary.Backend
	notebook.Backend
	bottles.Backend
	holders.Backend
	film.Backend
	filmtest.Backend
	reading.Backend
	curves.Backend
	scan.Backend
	sounds.Backend
	newrecipe.Backend

	Begin(screen.SessionStart) (screen.Session, error)
	Resume(screen.Resume) (screen.Session, error)
	Light(light.Light) // what the screen may show from now on
	Guide(topic string) (string, error)
	// Edit finds the person's editor for a recipe of their own, of a shipped one for a copy
	// that it makes, and tells its name. The editor has the terminal until it is left, or
	// errs where there may be no light but the room's.
	Edit(recipe string) (name string, editor tea.ExecCommand, err error)
}
