package notebook

// The picture of the notebook: the table, and the chosen session beside it.

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
	"example.org/wetside/tui/widget"
)

const (
	wide      = 108 // from this width on the chosen session stands beside the table
	leastFor  = 12  // rows from which there is something of it below
	mostBelow = 9   // rows that it has there
	tableWide = 72  // columns of the table beside it
)

// View draws the body.
func (m Model) View(w, h int) string {
	var rows []string
	switch {
	case m.asking != nil:
		rows = append(rows, m.asking.View(w))
	case m.search != "":
		rows = append(rows, widget.Truncate(style.Label("Search  ")+style.Value(safetext.Clean(m.search)), w))
	}
	if len(rows) > 0 && h > leastFor {
		rows = append(rows, "")
	}
	h -= len(rows)
	if len(m.shown()) == 0 {
		rows = append(rows, widget.Painted(m.nothing(), min(w, 72), style.Value)...)
		return widget.CutRows(strings.Join(rows, "\n"), h+len(rows))
	}
	return strings.Join(append(rows, m.body(w, h)), "\n")
}

func (m Model) body(w, h int) string {
	if w >= wide {
		const least, between = 32, 4 // columns of the chosen session, and between both
		whole := m.built(w, true).Natural()
		if whole > w-least-between { // the film stands beside it too
			whole = m.built(w, false).Natural()
		}
		c := widget.Columns{Width: w, Left: max(tableWide, w*11/20, min(whole, w-least-between)), Ruled: true}
		lw, rw, _ := c.Widths()
		t := m.table(lw, h, true)
		t += strings.Repeat("\n", max(0, h-1-strings.Count(t, "\n"))) // the rule goes all the way down
		return widget.CutRows(c.Join(t, m.details(rw, h)), h)
	}
	if h < leastFor {
		return m.table(w, h, false)
	}
	below := min(mostBelow, h/2)
	t := m.table(w, h-below-1, false)
	below = h - strings.Count(t, "\n") - 2
	return t + "\n\n" + m.details(w, below)
}

// column is a column of the table, left out below a width.
type column struct {
	widget.Column
	from int
	cell func(Model, *notebook.Summary) string
}

const filmTitle = "film"

var columns = []column{
	{widget.Column{Title: "day", Least: 10}, 0, func(_ Model, s *notebook.Summary) string { return style.Value(s.Day()) }},
	{widget.Column{Title: "recipe", Least: 12, Named: true}, 0, Model.title},
	{widget.Column{Title: filmTitle}, 62, func(_ Model, s *notebook.Summary) string { return style.Value(safetext.Clean(s.Film)) }},
	{widget.Column{Title: "result", Least: 12}, 44, Model.result},
	{widget.Column{Title: "wet", Right: true}, 54, func(m Model, s *notebook.Summary) string { return style.Value(m.known[s.ID].wet) }},
}

// table is the sessions; beside the chosen one without the film where a recipe's name would
// be cut for it.
func (m Model) table(w, h int, beside bool) string {
	t := m.built(w, true)
	if beside && t.Natural() > w {
		t = m.built(w, false)
	}
	t.Height = h
	return m.pager.Draw(t)
}

func (m Model) built(w int, film bool) widget.Table {
	t := widget.Table{Selected: m.at, Width: w}
	shown := func(c column) bool { return w >= c.from && (film || c.Title != filmTitle) }
	for _, c := range columns {
		if shown(c) {
			t.Columns = append(t.Columns, c.Column)
		}
	}
	for _, s := range m.shown() {
		var cells []string
		for _, c := range columns {
			if shown(c) {
				cells = append(cells, c.cell(m, &s))
			}
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// title is the recipe's; of the first of two to be compared that too.
func (m Model) title(s *notebook.Summary) string {
	name := safetext.Clean(cmp.Or(s.Recipe, s.ID))
	if s.ID == m.first {
		return style.Heading("first: ") + style.Value(name)
	}
	return style.Value(name)
}

// result is what is out of the ordinary with it, or what came of it.
func (m Model) result(s *notebook.Summary) string {
	if state := say.RecordState(s); state != "" && s.Problem != "" {
		return style.Care.Render(state)
	} else if state != "" {
		return style.Value(state)
	}
	if f, ok := m.known[s.ID]; ok {
		return style.Value(f.result)
	}
	return style.Label("…")
}

// short leaves of a sentence about development what the table has room for.
var short = strings.NewReplacer("every sheet developed to ", "", "developed to ", "", "developed ", "", " of plan", "", " to ", "–")

// factsOf is what the table shows of a session.
func factsOf(s *notebook.Session, err error) facts {
	if s.Plan == nil && err != nil {
		return facts{result: "cannot be read"}
	}
	f := facts{result: "done"}
	if s.Wet.Total > 0 {
		f.wet = sequence.FormatElapsed(s.Wet.Total)
	}
	if s.Wet.Used != nil {
		f.wet += fmt.Sprintf("  %4s", say.Share(*s.Wet.Used))
	}
	if looks := s.NotesAfter.Appearances(); len(looks) > 0 {
		f.result = say.Looks(looks)
	} else if d := say.RecordDevelopment(s); d != "" && s.Status == journal.Done {
		f.result = short.Replace(d)
	}
	return f
}

// details is what is told of the chosen session.
func (m Model) details(w, h int) string {
	c := m.chosen()
	if c == nil || h < 1 {
		return ""
	}
	var rows []string
	add := func(ink func(string) string, text string) {
		rows = append(rows, widget.Painted(text, w, ink)...)
	}
	s := m.open
	if s == nil || s.ID != c.ID {
		add(style.Label, "Reading this session.")
		return widget.CutRows(strings.Join(rows, "\n"), h)
	}
	add(style.Heading, say.RecordResult(s))
	if c.Film != "" {
		add(style.Value, c.Film+", "+say.FilmIn(c.Sheets, c.Vessel))
	}
	if c.Problem != "" {
		add(style.Value, c.Problem)
	}
	if s.Plan != nil && h >= 7 {
		strip := widget.Strip{Timeline: widget.Named(timeline.OfRecord(s.Plan, s.Passages, s.At, s.Wet.LimitAt)), Width: w, Rows: 4}
		if h >= 14 {
			strip.Rows = widget.StripRows
			rows = append(rows, "")
		}
		rows = append(rows, strings.Split(strip.View(), "\n")...)
	}
	group := func(title string, list []string) {
		if len(list) > 0 && h >= 14 {
			rows = append(rows, "", style.Heading(title))
		}
		for _, text := range list {
			add(style.Value, text)
		}
	}
	group("Notes", noted(s))
	var next []string
	for _, t := range say.Findings(s, m.env.Units()) {
		next = append(next, say.Tidy(t))
	}
	group("For next time", next)
	return widget.CutRows(strings.Join(rows, "\n"), h)
}

// noted is what was noted while it ran, and afterwards.
func noted(s *notebook.Session) (list []string) {
	for _, e := range s.Notes {
		list = append(list, say.Capital(e.Text))
	}
	for _, n := range s.NotesAfter.List {
		list = append(list, say.LateNote(n))
	}
	return list
}
