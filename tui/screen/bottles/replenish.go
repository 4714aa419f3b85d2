package bottles

// Replenisher that was added to a developer: how much is typed.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// askReplenisher asks how much was added; what the bottle wants stands there.
func (m Model) askReplenisher(c *bottles.Bottle) Model {
	owed := ""
	if v := c.ReplenisherOwed(); v > 0 {
		owed = chem.FormatMillilitres(v)
	}
	m.asked, m.typing = replenishIt, widget.NewPrompt("added", "", owed).Hint("80ml")
	return m
}

// typed takes a key while the volume is typed.
func (m Model) typed(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	c := m.list.chosen()
	switch {
	case k.String() == "esc", c == nil:
		m.asked, m.typing = nothing, nil
		return m, nil, nil
	case k.String() != "enter":
		m.typing = m.typing.Typed(k)
		return m, nil, nil
	}
	added, err := bottles.ParseReplenisher(m.typing.Value())
	if err != nil {
		m.typing = m.typing.Faulted(err.Error())
		return m, nil, nil
	}
	name := c.Name
	m.asked, m.typing, m.busy = nothing, nil, true
	done := "Written down: " + say.Volume(added, m.env.Units()) + " of replenisher in " + name + "."
	return m, nil, m.do(func() error { return m.b.Replenish(name, added) }, done)
}

// replenishRows are what is asked.
func replenishRows(m Model, c *bottles.Bottle, w int) []string {
	rows := wrapped("How much replenisher was added to "+c.Name+", as much poured off?", w, style.Heading)
	rows = append(rows, "", m.typing.View(w), "")
	if used := say.BottleReuse(c, m.env.Units()); used != "" {
		rows = append(rows, wrapped("It "+used+".", w, style.Value)...)
	}
	means := "By the recipe's reuse the sheets that it was added for no longer lengthen developing."
	if c.Bath.Reuse == nil {
		means = "Its recipe does not say how it is used again: the volume is written down, and changes no time."
	}
	return append(rows, wrapped(means, w, style.Value)...)
}
