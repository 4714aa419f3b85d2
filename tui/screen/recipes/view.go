package recipes

// The picture: what is said over the list, the list, and the chosen one beside or below it.

import (
	"fmt"
	"strings"

	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	wide        = 100 // from this width on the chosen one stands beside the list
	listWidth   = 44
	mostList    = 60
	leastBeside = 40
	fewList     = 9 // rows of the list over the chosen one, with the one that counts them
	leastBelow  = 7 // and of what stands below it, before the list is shorter
)

// View draws the body.
func (m Model) View(w, h int) string {
	rows := m.notice(w, h)
	h -= len(rows)
	if w >= wide {
		c := widget.Columns{Width: w, Left: min(mostList, max(listWidth, w*3/7)), Least: leastBeside, Ruled: true}
		lw, rw, _ := c.Widths()
		rows = append(rows, c.Join(m.list.view(lw, h, m.env.Units()), m.beside(rw, h)))
		return strings.Join(rows, "\n")
	}
	lines := len(m.list.lines(w, m.env.Units()))
	list := min(lines, max(3, min(fewList, h-leastBelow), h*2/5))
	below := h - list - 1
	if below < 3 {
		list, below = h, 0
	}
	drawn := m.list.view(w, list, m.env.Units())
	rows = append(rows, drawn)
	if below > 0 {
		below = h - strings.Count(drawn, "\n") - 2 // what the list did not take is the chosen one's
		rows = append(rows, "", m.beside(w, below))
	}
	return strings.Join(rows, "\n")
}

// notice is what stands over the list: a question, what comes after a rehearsal, a
// newcomer's greeting.
func (m Model) notice(w, h int) []string {
	text, paint := "", style.Value
	switch {
	case m.asking == asksTakeOver:
		text, paint = takeOverText, style.Heading
		if u, _ := m.list.session(); u.Running {
			text = runningText
		}
	case m.asking == asksDamaged:
		text, paint = damagedText, style.Heading
	case m.asking == asksEditor:
		text, paint = editorText, style.Heading
	case m.rehearsed:
		text = "So a session goes. Next: enter plans the recipe for today's temperature, then leads through mixing, setting out and " +
			"darkening the room; film is opened only after that. r rehearses it again."
	case m.newcomer:
		text = fmt.Sprintf("Welcome: press r to rehearse a session without film, %g times as fast, and meet its sounds and its one big key.", m.env.Speed())
	default:
		return nil
	}
	rows := widget.Painted(text, min(w, prose), paint)
	if most := max(1, h-4); len(rows) > most {
		rows = rows[:most]
	}
	return append(rows, "")
}
