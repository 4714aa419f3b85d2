package tui

// Waiting sheets sorted into sessions: each session with its time line on one scale,
// its sheets beneath. A sheet may be moved by hand where the limits let it.

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// groupingModel is the sessions proposed.
type groupingModel struct {
	deaf
	sheets []notebook.Exposed
	films  []filmRecipe
	by     notebook.Sorting
	list   []notebook.Proposed
	left   []notebook.Unplaced
	curves map[string]curve.Results // of each film, from the newest readings that there are
	at     int                      // row under the cursor
	asking *asking
}

// The print that sheets are made for unless it is told: a paper's log exposure scale
// for a diffusion enlarger (Stroebel et al., from memory).
const usualPaper = 1.05

func (groupingModel) is() screen { return grouping }

// enterGrouping sorts sheets into sessions.
func (m Model) enterGrouping(sheets []notebook.Exposed) (Model, tea.Cmd) {
	if len(sheets) == 0 {
		return m.sorry("no sheet waits"), nil
	}
	q := groupingModel{sheets: slices.Clone(sheets), films: filmRecipes(m.o.Host, sheets),
		by: notebook.Sorting{Printing: notebook.Printing{Paper: usualPaper, Flare: curve.UsualFlare}}}
	c, err := m.o.Usual.Conditions()
	if err != nil {
		return m.sorry(err.Error()), nil
	}
	q.by.Conditions, q.curves = c, filmCurves(m.o.Host, sheets)
	q, err = q.sorted(m.o.Host)
	if err != nil {
		return m.sorry(err.Error()), nil
	}
	return m.enter(q), nil
}

// filmCurves are the curves of the films' newest readings: they tell how the index
// shifts with development.
func filmCurves(h Host, sheets []notebook.Exposed) map[string]curve.Results {
	found := map[string]curve.Results{}
	for _, k := range h.Densities() {
		film := k.Readings.Film
		_, have := found[film]
		if k.Err != nil || have || !slices.ContainsFunc(sheets, func(e notebook.Exposed) bool { return e.Film == film }) {
			continue
		}
		f, _ := k.Readings.Family(k.Name)
		if out, err := curve.Evaluate(f, curve.Request{}); err == nil {
			found[film] = out
		}
	}
	return found
}

// sorted proposes the sessions anew.
func (q groupingModel) sorted(h Host) (groupingModel, error) {
	q.by.Recipes = nil
	for _, f := range q.films {
		if len(f.names) == 0 {
			continue
		}
		r, err := h.Recipe(f.names[f.at])
		if err != nil {
			return q, err
		}
		q.by.Recipes = append(q.by.Recipes, r)
	}
	q.list, q.left = q.by.Propose(q.sheets)
	q.at = min(q.at, max(0, len(q.rows())-1))
	return q, nil
}

// groupRow is a row of the list: a session, a sheet in it, or one that has none.
type groupRow struct{ session, sheet int } // sheet -1 for the session itself; session -1 for a sheet without one

func (q groupingModel) rows() []groupRow {
	var rows []groupRow
	for i, s := range q.list {
		rows = append(rows, groupRow{i, -1})
		for k := range s.Wants {
			rows = append(rows, groupRow{i, k})
		}
	}
	for k := range q.left {
		rows = append(rows, groupRow{-1, k})
	}
	return rows
}

func (q groupingModel) typing() string {
	if q.asking == nil {
		return ""
	}
	return q.asking.line()
}

func (q groupingModel) keyed(m Model, key string) (Model, tea.Cmd) {
	if q.asking != nil {
		return q.typed(m, key)
	}
	rows := q.rows()
	switch a := actionOf(grouping, key); a {
	case up:
		q.at = max(0, q.at-1)
	case down:
		q.at = min(q.at+1, max(0, len(rows)-1))
	case left, right:
		return q.move(m, a == right)
	case otherRecipe:
		return q.other(m)
	case printing, tolerance, mostSheets:
		q.asking = &asking{prompt: groupPrompts[a], of: a}
	case enter:
		return q.plan(m)
	case back:
		return m.back(), nil
	case leave:
		return m, tea.Quit
	}
	return m.changed(q), nil
}

var groupPrompts = map[action]string{
	printing:   "the paper's log exposure scale and the flare, such as 1.05 0.4:",
	tolerance:  "sheets share a time within this much average gradient:",
	mostSheets: "sheets at once at most; 0 for as many as the recipe has:",
}

// typed takes what the sessions are sorted by.
func (q groupingModel) typed(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := q.asking.edit(key)
	q.asking = &next
	if done {
		q.asking = nil
	}
	if !kept || strings.TrimSpace(next.typed) == "" {
		return m.changed(q), nil
	}
	by, err := sortedBy(q.by, next.of, strings.Fields(next.typed))
	if err != nil {
		return m.changed(q).sorry(err.Error()), nil
	}
	q.by = by
	if q, err = q.sorted(m.o.Host); err != nil {
		return m.changed(q).sorry(err.Error()), nil
	}
	return m.changed(q), nil
}

// sortedBy reads one of the answers to groupPrompts.
func sortedBy(by notebook.Sorting, of action, words []string) (notebook.Sorting, error) {
	var numbers []float64
	for _, w := range words {
		n, err := strconv.ParseFloat(w, 64)
		if err != nil {
			return by, fmt.Errorf("%q is no number", w)
		}
		numbers = append(numbers, n)
	}
	first := numbers[0]
	switch {
	case of == printing && len(numbers) == 2 && first > 0 && first <= 5 && numbers[1] >= 0 && numbers[1] < 3:
		by.Printing = notebook.Printing{Paper: curve.LogH(first), Flare: curve.LogH(numbers[1])}
	case of == tolerance && first > 0 && first < 1:
		by.Tolerance = first
	case of == mostSheets && first >= 0 && first <= 200 && first == float64(int(first)):
		by.Most = int(first)
	default:
		return by, fmt.Errorf("%s: not that", strings.Join(words, " "))
	}
	return by, nil
}

// move puts the sheet under the cursor into the session before or after; after the last
// it gets one of its own.
func (q groupingModel) move(m Model, on bool) (Model, tea.Cmd) {
	row := q.row()
	if row.session < 0 || row.sheet < 0 {
		return m.changed(q).sorry("put the cursor on a sheet of a session to move it"), nil
	}
	to := row.session - 1
	if on {
		to = row.session + 1
	}
	name, before := q.list[row.session].Wants[row.sheet].Name, len(q.list)
	list, err := q.by.Move(q.list, row.session, row.sheet, to)
	if err != nil {
		return m.changed(q).sorry(name + ": " + err.Error()), nil
	}
	if len(list) < before && to > row.session {
		to--
	}
	q.list = list
	q.at = slices.IndexFunc(q.rows(), func(r groupRow) bool {
		return r.session == to && r.sheet >= 0 && q.list[to].Wants[r.sheet].Name == name
	})
	return m.changed(q), nil
}

// row is the one under the cursor.
func (q groupingModel) row() groupRow {
	if rows := q.rows(); q.at < len(rows) {
		return rows[q.at]
	}
	return groupRow{-1, -1}
}

// other takes the next recipe for the film under the cursor.
func (q groupingModel) other(m Model) (Model, tea.Cmd) {
	row := q.row()
	if row.session < 0 {
		return m.changed(q), nil
	}
	film := q.list[row.session].Recipe.Film.Name
	i := slices.IndexFunc(q.films, func(f filmRecipe) bool { return f.film == film })
	q.films = slices.Clone(q.films)
	f := &q.films[i]
	if len(f.names) < 2 {
		return m.changed(q).sorry("there is one recipe for " + film), nil
	}
	f.at = (f.at + 1) % len(f.names)
	name := f.names[f.at]
	q, err := q.sorted(m.o.Host)
	if err != nil {
		return m.changed(q).sorry(err.Error()), nil
	}
	return m.changed(q).say(film + " by " + name), nil
}

// plan plans the session under the cursor.
func (q groupingModel) plan(m Model) (Model, tea.Cmd) {
	row := q.row()
	if row.session < 0 {
		return m.changed(q), nil
	}
	r := q.list[row.session].Plan.Recipe
	p := planRecipe(m.o.Host, r.Title, r, m.o.Usual)
	if p.plan == nil {
		return m.changed(q).sorry(p.fault), nil
	}
	m.plan, m.screen, m.sides = p, planning, nil
	return m, nil
}

func (q groupingModel) draw(g grid, f frame) {
	g.text(f.head, "Sessions for the sheets", strong)
	g.right(f.head, fmt.Sprintf("%s, %s", plural(len(q.sheets), "sheet"), plural(len(q.list), "session")), dim)
	l := listOf(f.body, len(q.rows()))
	row := q.row()
	if row.session >= 0 && l.strip.h > 0 {
		planStrip(&q.list[row.session].Plan).draw(g, l.strip)
	}
	q.drawRows(g, l.list)
	g.paragraphs(l.about, q.about(row))
}

// drawRows draws the list; a session's row has its time line, all on one scale.
func (q groupingModel) drawRows(g grid, r rect) {
	rows := q.rows()
	longest := sequence.Elapsed(0)
	for i := range q.list {
		longest = max(longest, planStrip(&q.list[i].Plan).end)
	}
	g.listed(r, len(rows), q.at, func(i int) (string, string, level) {
		row := rows[i]
		switch {
		case row.session < 0:
			u := q.left[row.sheet]
			return "  no session: " + q.sheets[u.Sheet].Name(), u.Why, bright
		case row.sheet < 0:
			return q.heading(row.session), "", strong
		}
		return "   " + q.sheetLine(row), q.wantLine(row), text
	})
	first := max(0, min(q.at-r.h/2, len(rows)-r.h))
	for i := first; i < len(rows) && i-first < r.h; i++ {
		if rows[i].sheet >= 0 || rows[i].session < 0 {
			continue
		}
		s := planStrip(&q.list[rows[i].session].Plan)
		s.scale, s.limit = longest, 0
		s.draw(g, r.row(i-first).beside(min(headingWidth, r.w*2/3)))
	}
}

// headingWidth is where a session's time line begins.
const headingWidth = 30

// heading is a session in a few words, beside its time line.
func (q groupingModel) heading(i int) string {
	s := q.list[i]
	return cut(fmt.Sprintf("%d %s, %s, %d", i+1, s.Plan.Recipe.Film.Name, s.Plan.Vessel, s.Plan.Sheets), headingWidth-4)
}

func (q groupingModel) sheetLine(row groupRow) string {
	w := q.list[row.session].Wants[row.sheet]
	return fmt.Sprintf("%-6s %s", w.Name, q.sheets[w.Sheet].Note)
}

// wantLine is what a sheet is given, and what it wants where that is something else.
func (q groupingModel) wantLine(row groupRow) string {
	s := q.list[row.session]
	w := s.Wants[row.sheet]
	given, today := s.Given(row.sheet), s.Plan.TimeOf(row.sheet)
	line := sequence.Clock(today)
	if line != sequence.Clock(given) {
		line += " (" + sequence.Clock(given) + " in the recipe)"
	}
	if w.Gradient > 0 {
		line = fmt.Sprintf("gradient %.2f, %s", w.Gradient, line)
	}
	if sequence.Clock(given) != sequence.Clock(w.Time) {
		line += " (wants " + sequence.Clock(w.Time) + ")"
	}
	usual, err := (&notebook.Exposed{Holder: "0"}).Want(&s.Recipe, q.by.Printing)
	if out, ok := q.curves[s.Recipe.Film.Name]; ok && err == nil && usual.Time != w.Time {
		if stops := out.IndexShift(w.Time, usual.Time); stops != nil {
			line = fmt.Sprintf("index %+.1f, %s", *stops, line)
		}
	}
	return line
}

// about is what is told of the row under the cursor.
func (q groupingModel) about(row groupRow) []prepLine {
	if row.session < 0 {
		if row.sheet < 0 {
			return nil
		}
		u := q.left[row.sheet]
		e := &q.sheets[u.Sheet]
		return append([]prepLine{{recipes.Clean("no session for " + e.Name() + ": " + u.Why), strong}}, aboutSheet(e)...)
	}
	p := &q.list[row.session].Plan
	list := []prepLine{{recipes.Clean(p.Recipe.Title) + ": " + wetLine(p), text}}
	if row.sheet >= 0 {
		e := &q.sheets[q.list[row.session].Wants[row.sheet].Sheet]
		list = append(aboutSheet(e), list...)
	}
	if len(q.left) > 0 {
		list = append(list, prepLine{plural(len(q.left), "sheet") + " without a session, beneath", strong})
	}
	return append(list, prepLine{fmt.Sprintf("paper %.2f, flare %.2f; tolerance %.2f", float64(q.by.Printing.Paper), float64(q.by.Printing.Flare),
		cmp.Or(q.by.Tolerance, sequence.UsualTolerance)), dim})
}

// aboutSheet is what was written down of a sheet; nothing where that is nothing.
func aboutSheet(e *notebook.Exposed) []prepLine {
	said := *e
	said.Note = "" // stands in its row
	if words := strings.TrimPrefix(sheetNotes(&said), "; "); words != "" {
		return []prepLine{{recipes.Clean(e.Name() + ": " + words), text}}
	}
	return nil
}
