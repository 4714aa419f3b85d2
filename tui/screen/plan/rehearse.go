package plan

// Rehearsals: the one that a single key begins, and the choice of how the dark is practised.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// practice is one way to rehearse.
type practice struct {
	means string
	how   screen.Rehearsal
}

// What holds of all that is practised without light.
const (
	inTheDark   = "the screen goes black%s: one press of %s speaks, two move on, %s is the menu, which also ends it."
	twoBegin    = "; two presses begin, as with film"
	beginsAlone = ", and it begins at once"
)

// practices are the ways to rehearse a plan. Without a dark step there is no dark to practise.
func practices(p *sequence.Plan, env screen.Env) []practice {
	begins := beginsAlone
	if p.Steps[0].RoomLight == sequence.Dark {
		begins = twoBegin
	}
	dark := fmt.Sprintf(inTheDark, begins, env.Keys.BigName(), env.Keys.MenuName())
	list := []practice{{"The screen stays lit and says what each step asks for.", screen.Rehearsal{Speed: env.Speed()}}}
	if !p.HasDark() {
		return append(list, practice{"Every act takes its real time; the quiet between is skipped.", screen.Rehearsal{Speed: 1, SkipQuiet: true}})
	}
	return append(list, practice{"In darkness: " + dark, screen.Rehearsal{Speed: env.Speed(), Dark: true}},
		practice{"Every act takes its real time, the quiet between is skipped; " + dark, screen.Rehearsal{Speed: 1, SkipQuiet: true, Dark: true}})
}

// rehearse begins the plan without film.
func (m Model) rehearse(how screen.Rehearsal) screen.Action {
	if m.form.broken() {
		return m.form.sayFault()
	}
	return m.env.Rehearse(m.form.plan, how)
}

// choice is the ways to rehearse, and the one that is chosen.
type choice struct {
	list   []practice
	at     int
	silent string // that there is no sound; "" where there is
}

// chooses opens the choice.
func (m Model) chooses() (Model, screen.Action) {
	if m.form.broken() {
		return m, m.form.sayFault()
	}
	c := choice{list: practices(m.form.plan, m.env), at: 1} // the light is r's
	if sound := m.b.Sound(); !strings.HasPrefix(sound, "sound") {
		c.silent = say.NoSound(sound)
	}
	m.form.typing, m.rehearsal = nil, &c
	return m, nil
}

// practiceKey is a key while the choice is open.
func (m Model) practiceKey(name string) (Model, screen.Action) {
	c := *m.rehearsal
	switch name {
	case "enter":
		m.rehearsal = nil
		return m, m.rehearse(c.list[c.at].how)
	case "esc":
		m.rehearsal = nil
		return m, nil
	case "q":
		return m, screen.Quit{}
	case "left", "up":
		c.at += len(c.list) - 1
	case "right", "down":
		c.at++
	}
	c.at %= len(c.list)
	m.rehearsal = &c
	return m, nil
}

// rows are the choice and what the chosen one means.
func (c choice) rows(w int) []string {
	one := c.list[c.at]
	row := style.Label("rehearse  ") + style.Now.Render("◂ "+named(one.how)+" ▸") + style.Label(fmt.Sprintf("  %d of %d", c.at+1, len(c.list)))
	rows := append([]string{widget.Truncate(row, w)}, widget.Painted(one.means, w, style.Value)...)
	if one.how.Dark && c.silent != "" {
		rows = append(rows, widget.Painted(c.silent+" In the dark you would hear nothing.", w, func(s string) string { return style.Care.Render(s) })...)
	}
	return rows
}

// left tells the screen that is come back to which recipe was planned.
type left struct{ name string }

// Planned is its name.
func (l left) Planned() string { return l.name }

// named is a rehearsal in words.
func named(how screen.Rehearsal) string {
	switch {
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
