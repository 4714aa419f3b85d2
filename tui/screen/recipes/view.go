package recipes

// The list, with its headings, and where it stands in the window.

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	wide        = 100 // from this width on the chosen one stands beside the list
	listWidth   = 44
	mostList    = 60
	leastBeside = 40
	fewList     = 9  // rows of the list over the chosen one, with the one that counts them
	leastBelow  = 7  // and of what stands below it, before the list is shorter
	vesselsFrom = 64 // columns of a list that also shows vessels
)

// View draws the body.
func (m Model) View(w, h int) string {
	rows := m.notice(w, h)
	h -= len(rows)
	if w >= wide {
		c := widget.Columns{Width: w, Left: min(mostList, max(listWidth, w*3/7)), Least: leastBeside, Ruled: true}
		lw, rw, _ := c.Widths()
		rows = append(rows, c.Join(m.list(lw, h), m.beside(rw, h)))
		return strings.Join(rows, "\n")
	}
	lines := len(m.lines(w))
	list := min(lines, max(3, min(fewList, h-leastBelow), h*2/5))
	below := h - list - 1
	if below < 3 {
		list, below = h, 0
	}
	rows = append(rows, m.list(w, list))
	if below > 0 {
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
		if u, _ := m.session(); u.Running {
			text = runningText
		}
	case m.asking == asksEditor:
		text, paint = editorText, style.Heading
	case m.rehearsed:
		text = "So a session goes. Next: enter plans the recipe for today's temperature, then leads through mixing, setting out and " +
			"darkening the room; film is opened only after that. r rehearses it again."
	case m.newcomer:
		text = fmtSpeed("Welcome: press r to rehearse a session without film, %g times as fast, and meet its sounds and its one big key.", m.env.Speed())
	default:
		return nil
	}
	rows := widget.Painted(text, min(w, prose), paint)
	if most := max(1, h-4); len(rows) > most {
		rows = rows[:most]
	}
	return append(rows, "")
}

func fmtSpeed(format string, speed float64) string { return fmt.Sprintf(format, speed) }

// count is how many recipes there are.
func (m Model) count() string {
	own := 0
	for _, e := range m.recipes {
		if e.IsOwn {
			own++
		}
	}
	text := fmt.Sprintf("%d recipes", len(m.recipes))
	if len(m.recipes) == 1 {
		text = "1 recipe"
	}
	switch {
	case own == 0:
		return text + ", all shipped"
	case own == len(m.recipes):
		return text + ", your own"
	}
	return fmt.Sprintf("%s, %d of your own", text, own)
}

// line is one row of the list: a heading, or something that can be chosen.
type line struct {
	text string
	item int // -1 for a heading
}

// lines are all rows of the list, drawn for so many columns.
func (m Model) lines(w int) []line {
	var list []line
	heading := func(name string) {
		if len(list) > 0 {
			list = append(list, line{"", -1})
		}
		list = append(list, line{m.columns(style.Heading(name), style.Label("vessel"), style.Label("sheets"), w), -1})
	}
	for i := range m.unfinished {
		if i == 0 {
			list = append(list, line{widget.Truncate(style.Heading("Unfinished"), w), -1})
		}
		list = append(list, line{m.sessionLine(i, w), i})
	}
	for i, e := range m.recipes {
		switch {
		case i == 0 && e.IsOwn:
			heading("Yours")
		case !e.IsOwn && (i == 0 || m.recipes[i-1].IsOwn):
			heading("Shipped")
		}
		list = append(list, line{m.recipeLine(i, w), len(m.unfinished) + i})
	}
	return list
}

func (m Model) sessionLine(i, w int) string {
	u := m.unfinished[i]
	what := say.DayAndTime(u.Began, m.env.Units())
	switch {
	case u.Running:
		what = "running in another wetside, " + what
	case u.Elsewhere:
		what = "on another laptop, " + what
	case u.Rehearsal:
		what = "rehearsal, " + what
	}
	return widget.Spread("  "+style.Value(safetext.Clean(u.Recipe)), style.Label(what), w)
}

func (m Model) recipeLine(i, w int) string {
	e := m.recipes[i]
	if e.Fault != nil {
		return widget.Spread("  "+style.Value(safetext.Clean(e.Name)), style.Danger.Render("cannot be used"), w)
	}
	return m.columns("  "+style.Value(safetext.Clean(e.Title)), style.Value(say.Vessel(e.Vessel)), style.Value(strconv.Itoa(e.Sheets)), w)
}

// columns puts a title, a vessel where there is room, and the number of sheets in a row.
func (m Model) columns(title, vessel, sheets string, w int) string {
	const gap, vesselWidth, sheetsWidth = 2, 13, 6
	room := w - gap - sheetsWidth
	if w >= vesselsFrom {
		room -= gap + vesselWidth
		title = widget.Pad(title, room) + "  " + widget.Pad(vessel, vesselWidth)
	} else {
		title = widget.Pad(title, max(0, room))
	}
	return widget.Truncate(title+"  "+widget.PadLeft(sheets, sheetsWidth), w)
}

// list is the rows around the cursor; where not all fit the last one says so.
func (m Model) list(w, h int) string {
	lines := m.lines(w)
	at := 0
	for i, l := range lines {
		if l.item == m.at {
			at = i
		}
	}
	first, n, foot := 0, len(lines), ""
	if n > h {
		n = h
		if h >= 4 {
			n--
		}
		first = max(0, min(at-n/2, len(lines)-n))
		foot = fmt.Sprintf("  %d of %d", m.at+1, m.rows())
		switch {
		case first == 0:
			foot += "  ↓ more"
		case first+n == len(lines):
			foot += "  ↑ more"
		default:
			foot += "  ↑↓ more"
		}
	}
	var rows []string
	for i := first; i < first+n; i++ {
		row := lines[i].text
		if i == at && lines[i].item == m.at {
			row = style.SelectedRow(style.Now.Render("▌")+strings.TrimPrefix(row, " "), w)
		}
		rows = append(rows, row)
	}
	if n < h && foot != "" {
		rows = append(rows, style.Label(widget.Truncate(foot, w)))
	}
	return strings.Join(rows, "\n")
}
