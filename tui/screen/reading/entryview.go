package reading

// The entry's picture: the step's number and what is typed stand large, the curve grows
// beside them.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	entryWidth = 30 // columns of the step, what is typed, and the steps around
	plotLeast  = 30
	roomy      = 22 // blank rows between the parts
	largeFrom  = 14 // rows from which numerals are large
)

// View draws the body.
func (m Model) View(w, h int) string {
	if len(m.r.Sheets) == 0 {
		return strings.Join(widget.Painted("These readings name no sheet. esc goes back, n there begins new ones.", w, style.Value), "\n")
	}
	left := max(entryWidth, min(44, w*3/10))
	c := widget.Columns{Width: w, Left: left, Least: plotLeast}
	lw, rw, beside := c.Widths()
	if !beside {
		return strings.Join(m.entry(w, h), "\n")
	}
	return c.Join(strings.Join(m.entry(lw, h), "\n"), m.plot(m.name, rw, h))
}

// entry is the step's number and what is typed, large where there is room, then the steps
// around.
func (m Model) entry(w, h int) []string {
	rows := []string{style.Label(widget.Truncate(m.where(), w))}
	numeral, large := m.numeral(), h >= largeFrom
	if large {
		d := widget.BigDigits{Text: numeral, Width: w, Height: 4 * scale(h), Most: 2, Ink: style.Quiet}
		rows = append(rows, strings.Split(d.View(), "\n")...)
		if h >= roomy {
			rows = append(rows, "")
		}
	}
	rows = append(rows, m.typedRow(w))
	if m.typed.Fault != "" {
		rows = append(rows, widget.Painted(m.typed.Fault, w, style.Heading)...)
	}
	if slices.Contains(m.doubtful, m.row) {
		rows = append(rows, style.Care.Render(widget.Truncate("does not fit its neighbours", w)))
	}
	if h >= roomy {
		rows = append(rows, "")
	}
	if m.reversed {
		rows = append(rows, widget.Painted("This strip falls: was it read from its other end? r turns it round.", w, style.Heading)...)
	}
	rows = append(rows, style.Value(widget.Truncate(fmt.Sprintf("%s (%d of %d)", sheetName(&m.r, m.col), m.col+1, len(m.r.Sheets)), w)))
	about := widget.Painted(m.firstStep(), w, style.Label)
	for _, origin := range densities.Origins(m.r) {
		about = append(about, widget.Painted("read off "+origin, w, style.Label)...)
	}
	for _, r := range about {
		if len(rows) < h-3 {
			rows = append(rows, r)
		}
	}
	rows = rows[:min(len(rows), h)]
	var value []string // beneath all, in rows kept free for it, so that nothing moves when typing begins
	kept := 0
	if large {
		value, kept = m.largeRows(w, h), 4*scale(h)+1
	}
	if room := h - len(rows) - 1 - kept; room >= 3 {
		rows = append(append(rows, ""), m.around(w, room)...)
	}
	if len(rows)+1+len(value) <= h && len(value) > 0 {
		rows = append(append(rows, ""), value...)
	}
	return rows
}

// largeRows is what is typed or read there, large.
func (m Model) largeRows(w, h int) []string {
	v := m.large()
	if v == "" {
		return nil
	}
	d := widget.BigDigits{Text: v, Width: w, Height: 4 * scale(h), Most: 2, Ink: style.Strong}
	return strings.Split(d.View(), "\n")
}

// scale is how large the numerals are.
func scale(h int) int {
	if h >= 30 {
		return 2
	}
	return 1
}

// typedRow is the place where one types, filled across the column.
func (m Model) typedRow(w int) string {
	p := m.typed.Faulted("")
	p.Label = m.unit()
	if was := *m.cell(); was != nil {
		hint := fmt.Sprintf("%.2f as read", float64(*was))
		if e := m.r.Sheets[m.col].Error(m.row); e > 0 {
			hint = fmt.Sprintf("%.2f ±%.3f off the picture", float64(*was), float64(e))
		}
		p = p.Hint(hint)
	}
	return widget.Chosen("  "+p.View(w-2), w)
}

// large is what stands large beneath it: what is typed, else what is read there.
func (m Model) large() string {
	if v := strings.ReplaceAll(m.typed.Value(), "+", " "); v != "" {
		return v
	}
	if x := *m.cell(); x != nil {
		return fmt.Sprintf("%.2f", float64(*x))
	}
	return ""
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Reading", Right: m.unit() + ", " + channelName(cmp.Or(m.r.Channel, curve.Visual)), Help: entryHelp()}
	if m.r.Film != "" {
		a.Title += ": " + m.r.Film
	}
	if m.lost != "" {
		a.Right = "NOT KEPT"
	}
	a.Foot = []key.Binding{widget.Bind("enter", "take it"), widget.Bind("u", "undo"), widget.Bind("x", "leave out"), widget.Bind("c", "curves"), widget.Bind("esc", "back"), widget.Bind("↑↓", "step")}
	if m.reversed {
		a.Foot = append([]key.Binding{widget.Bind("r", "turn round")}, a.Foot[:5]...)
	}
	return a
}

func entryHelp() widget.Help {
	return widget.Help{
		About:  "Densities are typed step after step: base plus fog first, from the part that a mask kept dark, then from step 1 on. Every value is on the disk before the next is taken. 0.56 may be typed as 56, a spot meter's stops as 4.3 or 4 1/3. What does not fit its neighbours is marked, and asked about where the curve would turn round.",
		Guides: []string{"film-test", "curves"},
		Groups: []widget.KeyGroup{
			{Purpose: "Entering", Keys: []key.Binding{widget.Bind("enter", "take what is typed and go on; with nothing typed, pass this step"), widget.Bind("u", "undo the last entry"), widget.Bind("x", "leave this step out"), widget.Bind("r", "turn round a sheet that was read from its other end")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "another step"), widget.Bind("←→ tab", "another sheet"), widget.Bind("pgup pgdn", "five steps on"), widget.Bind("c", "curves: the developing time that follows")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "forget what is typed; else back"), widget.Bind("q", "leave wetside")}},
		},
	}
}
