package holders

// The picture of the sessions: a table of all with their sheets, and what is told of the one
// under the cursor.

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// View draws the body.
func (g Groups) View(w, h int) string {
	switch {
	case g.rules != nil:
		return g.rules.View(min(w, 100), h)
	case !g.sorted:
		return style.Label(widget.Truncate("The sheets are being sorted.", w))
	}
	c := widget.Columns{Width: w, Left: max(72, w*55/100), Least: 40, Ruled: true}
	lw, rw, beside := c.Widths()
	t := g.table(lw)
	if beside {
		t.Height = h
		about := g.about(rw, 5)
		if row := g.row(); row.session >= 0 {
			about = append(append(about, ""), strings.Split(widget.PlanSteps(&g.list[row.session].Plan, rw).View(), "\n")...)
		}
		return c.Join(g.pager.Draw(t), strings.Join(about[:min(len(about), h)], "\n"))
	}
	about := g.about(w, min(3, max(0, h/5)))
	room := h - len(about) - 1
	if room < min(len(t.Rows)+1, max(5, h/2)) {
		room = max(min(len(t.Rows)+1, 5), h-min(len(about), h/2)-1)
		if room > h-3 {
			t.Height = h
			return g.pager.Draw(t)
		}
		about = about[:min(len(about), h-room-1)]
	}
	t.Height = room
	return g.pager.Draw(t) + "\n\n" + strings.Join(about, "\n")
}

// table is the sessions, each with its sheets, then the sheets without one.
func (g Groups) table(w int) widget.Table {
	t := widget.Table{Width: w, Selected: g.at, Columns: []widget.Column{{Title: "session", Least: 10}, {Title: "", Least: 6}, {Title: "gradient", Right: true, Least: 4},
		{Title: "develop", Right: true, Least: 5}, {Title: "wet", Right: true, Least: 5}, {Title: "of limit", Right: true, Least: 4}}}
	for _, row := range g.rows() {
		switch {
		case row.session < 0:
			e := &g.sheets[g.left[row.sheet].Sheet]
			t.Rows = append(t.Rows, []string{"–  " + safetext.Clean(e.Film), safetext.Clean(e.Name()) + ", no session", "", "", "", ""})
		case row.sheet < 0:
			t.Rows = append(t.Rows, g.sessionCells(row.session))
		default:
			t.Rows = append(t.Rows, g.sheetCells(row))
		}
	}
	return t
}

func (g Groups) sessionCells(i int) []string {
	p, used, paint := &g.list[i].Plan, "–", style.Strong
	if u := p.Wet.Used; u != nil {
		if used = say.Share(*u); *u > 1 {
			paint = style.Danger
		}
	}
	cells := []string{fmt.Sprintf("%d  %s", i+1, safetext.Clean(p.Recipe.Film.Name)), say.Sheets(p.Sheets) + ", " + say.Vessel(p.Vessel), "", "",
		sequence.FormatElapsed(p.Wet.Total)}
	for k := range cells {
		cells[k] = style.Strong.Render(cells[k])
	}
	return append(cells, paint.Render(used))
}

func (g Groups) sheetCells(row groupRow) []string {
	s := g.list[row.session]
	w := s.Sheets[row.sheet]
	cells := []string{"   " + safetext.Clean(w.Name), safetext.Clean(g.sheets[w.Sheet].Note), "–", sequence.FormatElapsed(planning.TimeOf(&s.Plan, row.sheet)), "", ""}
	if w.Gradient > 0 {
		cells[2] = fmt.Sprintf("%.2f", w.Gradient)
	}
	return cells
}

// about is what is told of the row under the cursor; of a session with its strip where there
// are rows for that.
func (g Groups) about(w, strip int) (rows []string) {
	row := g.row()
	switch {
	case row.session < 0 && row.sheet < 0:
		return widget.Painted("No sheet waits.", w, style.Label)
	case row.session < 0:
		u := g.left[row.sheet]
		e := &g.sheets[u.Sheet]
		rows = widget.Painted("No session for "+e.Name()+": "+say.Unplaced(u, e, g.env.Units())+".", w, style.Heading)
		return append(rows, widget.Painted(sheetNotes(e), w, style.Value)...)
	}
	s := g.list[row.session]
	if strip > 1 {
		rows = append(strings.Split(widget.PlanStrip(&s.Plan, w, strip).View(), "\n"), "")
	}
	if row.sheet >= 0 {
		rows = append(rows, widget.Painted(g.aboutSheet(row), w, style.Value)...)
	}
	total, limit := say.Wet(&s.Plan)
	rows = append(rows, widget.Painted("Wet time "+total+": "+limit, w, style.Heading)...)
	rows = append(rows, widget.Painted(s.Recipe.Title+". "+g.why(&s), w, style.Value)...)
	rows = append(rows, g.unplaced(w)...)
	p := g.by.Printing.Of(&s.Recipe)
	return append(rows, widget.Painted(fmt.Sprintf("By a paper range of %.2f and a flare of %.2f; sheets within %.2f of a gradient share a time. s changes this.", p.Paper, p.Flare, g.by.Tolerance), w, style.Label)...)
}

// unplaced names the sheets without a session, each reason once and whole.
func (g Groups) unplaced(w int) (rows []string) {
	var reasons []string
	names := map[string][]string{}
	for _, u := range g.left {
		why := say.Unplaced(u, &g.sheets[u.Sheet], g.env.Units())
		if names[why] == nil {
			reasons = append(reasons, why)
		}
		names[why] = append(names[why], g.sheets[u.Sheet].Name())
	}
	for _, why := range reasons {
		rows = append(rows, widget.Painted("No session for "+strings.Join(names[why], ", ")+": "+why+".", w, style.Heading)...)
	}
	return rows
}

// why says why these sheets go together.
func (g Groups) why(s *holders.ProposedSession) string {
	least, most := s.Sheets[0].Time, s.Sheets[0].Time
	for _, w := range s.Sheets {
		least, most = min(least, w.Time), max(most, w.Time)
	}
	own := slices.ContainsFunc(s.Plan.Steps, func(st sequence.PlanStep) bool { return len(st.Doses) > 0 })
	switch {
	case len(s.Sheets) == 1:
		return "A session of its own."
	case own:
		return "Each sheet has its own time in one developer."
	case least == most:
		return "All want the same time."
	}
	return fmt.Sprintf("They want %s to %s: near enough to share one time.", sequence.FormatElapsed(least), sequence.FormatElapsed(most))
}

// aboutSheet is what a sheet wants and is given, and what was written down of it.
func (g Groups) aboutSheet(row groupRow) string {
	s := g.list[row.session]
	w := s.Sheets[row.sheet]
	given, now := sequence.FormatElapsed(s.Given(row.sheet)), sequence.FormatElapsed(planning.TimeOf(&s.Plan, row.sheet))
	line := w.Name + ": develop " + now
	if now != given {
		line += ", " + given + " in the recipe"
	}
	if wanted := sequence.FormatElapsed(w.Time); wanted != given {
		line += ", wanted " + wanted
	}
	if w.Gradient > 0 {
		line += fmt.Sprintf(", gradient %.2f", w.Gradient)
	}
	if w.Gain > 1 {
		line += ", " + say.ContrastGain(w.Gain)
	}
	usual, err := g.by.Wanted(&holders.ExposedSheet{Holder: "0"}, &s.Recipe)
	if w.Print != nil {
		line += ", " + say.Minus(say.SheetPrint(w.Print))
	} else if out, ok := g.curves[s.Recipe.Film.Name]; ok && err == nil && usual.Time != w.Time {
		if stops := out.IndexShift(w.Time, usual.Time); stops != nil {
			line += say.Minus(fmt.Sprintf(", index %+.1f stops", *stops))
		}
	}
	if notes := sheetNotes(&g.sheets[w.Sheet]); notes != "" {
		line += "; " + notes
	}
	return line
}

// About is what stands around it.
func (g Groups) About() screen.About {
	a := screen.About{Title: "Sessions for the sheets", Help: widget.Help{
		About:  "The sheets that wait, sorted into few sessions: by film, then by developing time; each session with as many sheets as its vessel takes, none wet for longer than its limit. develop is today's time, under today's conditions.",
		Guides: []string{"print", "sharing"},
		Groups: []widget.KeyGroup{
			{Purpose: "Sorting", Keys: []key.Binding{widget.Bind("←→", "move the sheet to the session before or after; after the last it gets one of its own"), widget.Bind("o", "another recipe for this film"), widget.Bind("s", "paper, flare, tolerance, most at once")}},
			{Purpose: "The session", Keys: []key.Binding{widget.Bind("enter", "plan it"), widget.Bind("w", "write it as a recipe of your own")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "from row to row"), widget.Bind("pgup pgdn", "page by page"), widget.Bind("home end", "first, last")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back to the list; nothing is changed there"), widget.Bind("q", "leave wetside")}},
		}}}
	if g.rules != nil {
		a.Title, a.Typing = "How sheets are sorted", g.rules.Typing()
		a.Foot = []key.Binding{widget.Bind("↑↓", "field"), widget.Bind("enter", "next, at last sort"), widget.Bind("esc", "leave it")}
		return a
	}
	if g.sorted {
		a.Right = say.Sheets(len(g.sheets)) + ", " + say.Count(len(g.list), "session")
	}
	a.Foot = []key.Binding{widget.Bind("enter", "plan it"), widget.Bind("←→", "move the sheet"), widget.Bind("o", "other recipe"), widget.Bind("s", "sort by"), widget.Bind("w", "write"), widget.Bind("esc", "back")}
	return a
}
