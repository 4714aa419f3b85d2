package plan

// Rehearsals: the one that a single key begins, and the choice of how the dark is practised.

import (
	"fmt"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// practice is one way to rehearse.
type practice struct {
	name, means string
	how         screen.Rehearsal
}

// inTheDark is what holds of all that is practised without light.
const inTheDark = "the screen goes black, as with film: one press of %s speaks, two move on, %s is the menu, which also ends it. Needs sound."

// practices are the ways to rehearse this plan. Without a dark step there is no dark to practise.
func (m Model) practices() []practice {
	speed, keys := m.env.Speed(), m.env.Keys
	menu := screen.UsualMenu[0]
	if len(keys.Menu) > 0 {
		menu = keys.Menu[0]
	}
	dark := fmt.Sprintf(inTheDark, keys.BigName(), menu)
	list := []practice{{fmt.Sprintf("in the light, %g×", speed), "The screen stays lit and says what each step asks for.", screen.Rehearsal{Speed: speed}}}
	if !m.plan.HasDark() {
		return append(list, practice{"with real hands", "Every act takes its real time; the quiet between them is passed over.",
			screen.Rehearsal{Speed: 1, SkipQuiet: true}})
	}
	return append(list, practice{fmt.Sprintf("dark, %g×", speed), "In darkness: " + dark, screen.Rehearsal{Speed: speed, Dark: true}},
		practice{"with real hands, dark", "Every act takes its real time, the quiet is passed over; " + dark,
			screen.Rehearsal{Speed: 1, SkipQuiet: true, Dark: true}})
}

// asked is the rehearsal that one key begins: in the light, unless another was asked for on
// the command line.
func (m Model) asked() screen.Rehearsal {
	how := m.env.Rehearsal
	if how.Speed == 0 {
		how.Speed = m.env.Speed()
	}
	return how
}

// rehearse begins the plan without film.
func (m Model) rehearse(how screen.Rehearsal) screen.Action {
	if m.fault.text != "" {
		return m.sayFault()
	}
	return screen.Begin{Start: screen.SessionStart{Plan: m.plan, Countdown: m.env.Countdown,
		RehearsalSpeed: how.Speed, SkipQuiet: how.SkipQuiet, Dark: how.Dark}}
}

// chooses opens the choice.
func (m Model) chooses() (Model, screen.Action) {
	if m.fault.text != "" {
		return m, m.sayFault()
	}
	m.typing, m.choosing, m.practice = nil, true, 0
	return m, nil
}

// practiceKey is a key while the choice is open.
func (m Model) practiceKey(name string) (Model, screen.Action) {
	list := m.practices()
	switch name {
	case "left", "up":
		m.practice = (m.practice + len(list) - 1) % len(list)
	case "right", "down":
		m.practice = (m.practice + 1) % len(list)
	case "enter":
		m.choosing = false
		return m, m.rehearse(list[m.practice].how)
	case "esc":
		m.choosing = false
	case "q":
		return m, screen.Quit{}
	}
	return m, nil
}

// practiceRows are the choice and what the chosen one means.
func (m Model) practiceRows(w int) []string {
	list := m.practices()
	one := list[m.practice]
	row := style.Label("rehearse  ") + style.Now.Render("◂ "+one.name+" ▸") + style.Label(fmt.Sprintf("  %d of %d", m.practice+1, len(list)))
	return append([]string{widget.Truncate(row, w)}, widget.Painted(one.means, w, style.Value)...)
}

// left tells the screen that is come back to which recipe was planned.
type left struct{ name string }

// Planned is its name.
func (l left) Planned() string { return l.name }

// back leaves the plan.
func (m Model) back() screen.Action { return screen.Back{Tell: left{m.name}} }

// askedFor is that rehearsal in words.
func (m Model) askedFor() string {
	switch how := m.asked(); {
	case how.SkipQuiet && how.Dark:
		return "with real hands, dark"
	case how.SkipQuiet:
		return "with real hands"
	case how.Dark:
		return fmt.Sprintf("dark, %g×", how.Speed)
	default:
		return fmt.Sprintf("in the light, %g×", how.Speed)
	}
}
