package holders

// The list's picture.

import (
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// View draws the body.
func (m Model) View(w, h int) string {
	if m.sheet != nil {
		return m.sheet.View(min(w, 100), h)
	}
	var rows []string
	if m.fault != "" {
		rows = append(widget.Painted(m.fault, w, style.Heading), "")
		rows = rows[:min(len(rows), max(1, h/3))]
	}
	rest := h - len(rows)
	if !m.read {
		return style.Label(widget.Truncate("The list is being read.", w))
	}
	const least, between = 34, 4
	t := m.table(w)
	c := widget.Columns{Width: w, Left: max(64, w*6/10, min(t.Natural(), w-least-between)), Least: least, Ruled: true}
	lw, rw, beside := c.Widths()
	t.Width = lw
	if beside {
		t.Height = rest
		about := m.about(rw)
		return strings.Join(append(rows, c.Join(m.pager.Draw(t), strings.Join(about[:min(len(about), rest)], "\n"))), "\n")
	}
	about := m.about(w)
	if room := rest - len(about) - 1; len(about) > 0 && room >= min(len(m.list)+1, 6) {
		t.Height = room
		return strings.Join(append(append(rows, m.pager.Draw(t), ""), about...), "\n")
	}
	t.Height = rest
	return strings.Join(append(rows, m.pager.Draw(t)), "\n")
}

// table is the sheets: those that wait with what they want, the others with their session.
func (m Model) table(w int) widget.Table {
	t := widget.Table{Width: w, Selected: m.at, Columns: []widget.Column{{Title: "holder", Least: 4}, {Title: "film"}, {Title: "exposed", Least: 10}, {Title: "EI", Right: true, Least: 2}, {Title: "wants", Least: 5}, {Title: "develop", Right: true, Least: 5}},
		Empty: "No sheet waits. Exposed sheets stand here with what they want, until a session has developed them; g then sorts them into sessions. a puts one on the list; wetside holders import FILE reads a list typed as CSV."}
	noted := w >= 64
	if noted {
		t.Columns = append(t.Columns, widget.Column{Title: "note"})
	}
	for i := range m.list {
		e := &m.list[i]
		cells := []string{safetext.Clean(e.Name()), safetext.Clean(e.Film), dayTyped(e.Exposed)}
		if i < m.waits {
			cells = append(cells, index(e.index), say.Minus(safetext.Clean(wants(&e.ExposedSheet))), "–")
			if e.time > 0 {
				cells[5] = sequence.FormatElapsed(e.time)
			}
		} else {
			cells = append(cells, "", "developed", share(e.share))
			for k := range cells {
				cells[k] = style.Label(cells[k])
			}
		}
		if noted {
			cells = append(cells, style.Label(safetext.Clean(e.Note)))
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

func index(x *float64) string {
	if x == nil {
		return "–"
	}
	return fmt.Sprintf("%.0f", *x)
}

func share(x *float64) string {
	if x == nil {
		return "–"
	}
	return fmt.Sprintf("%.0f%%", 100**x)
}

// about is what was written down of the sheet under the cursor, and what became of it.
func (m Model) about(w int) (rows []string) {
	if m.at >= len(m.list) {
		return nil
	}
	e := &m.list[m.at]
	rows = widget.Painted(e.Name()+", "+e.Film, w, style.Heading)
	if words := sheetNotes(&e.ExposedSheet); words != "" {
		rows = append(rows, widget.Painted(words, w, style.Value)...)
	}
	switch {
	case m.at < m.waits && e.why != "":
		rows = append(rows, widget.Painted("No time: "+e.why+".", w, style.Value)...)
		rows = append(rows, widget.Painted("No EI: it follows from the time.", w, style.Value)...)
	case m.at < m.waits && e.whyNoIndex != "":
		rows = append(rows, widget.Painted("No EI: "+e.whyNoIndex+".", w, style.Value)...)
	case m.at >= m.waits && e.share != nil:
		rows = append(rows, widget.Painted(fmt.Sprintf("Sheet %d of session %s, developed to %s of what was planned.", e.outcome.Sheet, e.outcome.Session, share(e.share)), w, style.Value)...)
	case m.at >= m.waits:
		rows = append(rows, widget.Painted(fmt.Sprintf("Sheet %d of session %s.", e.outcome.Sheet, e.outcome.Session), w, style.Value)...)
	}
	return rows
}

// sheetNotes is what was written down of a sheet beside its film.
func sheetNotes(e *holders.ExposedSheet) string {
	var words []string
	add := func(format, text string) {
		if text != "" {
			words = append(words, fmt.Sprintf(format, text))
		}
	}
	add("%s", e.Note)
	if !e.Exposed.IsZero() {
		add("exposed %s", e.Exposed.Local().Format(time.DateOnly))
	}
	add("%s", e.Exposure)
	add("subject of %s stops", rangeTyped(e.Range))
	add("shadow placed %s", e.Shadow)
	add("meant for %s", say.Minus(e.Development))
	return strings.Join(words, "; ")
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Holders", Help: widget.Help{
		About:  "Exposed sheets that wait for their development. EI and develop are what each sheet wants, by the newest readings of its film and the first recipe for it. A sheet is developed as soon as a session has brought its name into the fixer; the session then stands here.",
		Guides: []string{"sharing", "reciprocity"},
		Groups: []widget.KeyGroup{
			{Purpose: "The list", Keys: []key.Binding{widget.Bind("a", "add a sheet"), widget.Bind("enter", "change the sheet; of one developed, its session"), widget.Bind("x", "take it off the list: asks first")}},
			{Purpose: "Sessions", Keys: []key.Binding{widget.Bind("g", "sort those that wait into sessions")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "from sheet to sheet"), widget.Bind("pgup pgdn", "page by page"), widget.Bind("home end", "first, last")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back; in a form, without a change"), widget.Bind("q", "leave wetside")}},
		}}}
	if m.read {
		a.Right = fmt.Sprintf("%d wait, %d developed", m.waits, len(m.list)-m.waits)
	}
	switch {
	case m.sheet != nil:
		a.Title, a.Typing = "A sheet", m.sheet.Typing()
		a.Foot = []key.Binding{widget.Bind("↑↓", "field"), widget.Bind("←→", "choose"), widget.Bind("enter", "next, at last take it"), widget.Bind("esc", "leave it")}
	case m.waits == 0:
		a.Foot = []key.Binding{widget.Bind("a", "add a sheet"), widget.Bind("esc", "back")}
	default:
		a.Foot = []key.Binding{widget.Bind("a", "add"), widget.Bind("enter", "change"), widget.Bind("g", "sort into sessions"), widget.Bind("x", "take off"), widget.Bind("esc", "back")}
	}
	return a
}
