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
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// holderGroupsModel is the sessions proposed.
type holderGroupsModel struct {
	noMessages
	sheets []holders.ExposedSheet
	films  []filmRecipe
	by     holders.Grouper
	list   []holders.ProposedSession
	left   []holders.Unplaced
	curves map[string]curve.Results // of each film, from the newest readings that there are
	at     int                      // row under the cursor
	asking *prompt
}

// The print that sheets are made for unless it is told: a paper's log exposure scale
// for a diffusion enlarger (Stroebel et al., from memory).
const usualPaper = 1.05

func (holderGroupsModel) id() screenID { return holderGroupsScreen }

// enterHolderGroups sorts sheets into sessions.
func (m Model) enterHolderGroups(sheets []holders.ExposedSheet) (Model, tea.Cmd) {
	if len(sheets) == 0 {
		return m.showError("no sheet waits"), nil
	}
	q := holderGroupsModel{sheets: slices.Clone(sheets), films: filmRecipes(m.o.Backend, sheets),
		by: holders.Grouper{Printing: holders.PaperAndFlare{Paper: usualPaper, Flare: curve.DefaultFlare}}}
	c, err := m.o.Defaults.Conditions()
	if err != nil {
		return m.showError(err.Error()), nil
	}
	q.by.Conditions, q.curves = c, filmCurves(m.o.Backend, sheets)
	q, err = q.sorted(m.o.Backend)
	if err != nil {
		return m.showError(err.Error()), nil
	}
	return m.enter(q), nil
}

// filmCurves are the curves of the films' newest readings: they tell how the index
// shifts with development.
func filmCurves(h Backend, sheets []holders.ExposedSheet) map[string]curve.Results {
	found := map[string]curve.Results{}
	for _, k := range h.Densities() {
		film := k.Readings.Film
		_, have := found[film]
		if k.Err != nil || have || !slices.ContainsFunc(sheets, func(e holders.ExposedSheet) bool { return e.Film == film }) {
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
func (q holderGroupsModel) sorted(h Backend) (holderGroupsModel, error) {
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

func (q holderGroupsModel) rows() []groupRow {
	var rows []groupRow
	for i, s := range q.list {
		rows = append(rows, groupRow{i, -1})
		for k := range s.Sheets {
			rows = append(rows, groupRow{i, k})
		}
	}
	for k := range q.left {
		rows = append(rows, groupRow{-1, k})
	}
	return rows
}

func (q holderGroupsModel) typing() string {
	if q.asking == nil {
		return ""
	}
	return q.asking.line()
}

func (q holderGroupsModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	if q.asking != nil {
		return q.typed(m, key)
	}
	rows := q.rows()
	switch a := actionOf(holderGroupsScreen, key); a {
	case up:
		q.at = max(0, q.at-1)
	case down:
		q.at = min(q.at+1, max(0, len(rows)-1))
	case left, right:
		return q.move(m, a == right)
	case otherRecipe:
		return q.other(m)
	case printing, tolerance, mostSheets:
		q.asking = &prompt{prompt: groupPrompts[a], kind: a}
	case enter:
		return q.plan(m)
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m.changed(q), nil
}

var groupPrompts = map[keyAction]string{
	printing:   "the paper's log exposure scale and the flare, such as 1.05 0.4:",
	tolerance:  "sheets share a time within this much average gradient:",
	mostSheets: "sheets at once at most; 0 for as many as the recipe has:",
}

// typed takes what the sessions are sorted by.
func (q holderGroupsModel) typed(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := q.asking.edit(key)
	q.asking = &next
	if done {
		q.asking = nil
	}
	if !kept || strings.TrimSpace(next.text) == "" {
		return m.changed(q), nil
	}
	by, err := sortedBy(q.by, next.kind, strings.Fields(next.text))
	if err != nil {
		return m.changed(q).showError(err.Error()), nil
	}
	q.by = by
	if q, err = q.sorted(m.o.Backend); err != nil {
		return m.changed(q).showError(err.Error()), nil
	}
	return m.changed(q), nil
}

// sortedBy reads one of the answers to groupPrompts.
func sortedBy(by holders.Grouper, of keyAction, words []string) (holders.Grouper, error) {
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
		by.Printing = holders.PaperAndFlare{Paper: curve.LogH(first), Flare: curve.LogH(numbers[1])}
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
func (q holderGroupsModel) move(m Model, on bool) (Model, tea.Cmd) {
	row := q.row()
	if row.session < 0 || row.sheet < 0 {
		return m.changed(q).showError("put the cursor on a sheet of a session to move it"), nil
	}
	to := row.session - 1
	if on {
		to = row.session + 1
	}
	name, before := q.list[row.session].Sheets[row.sheet].Name, len(q.list)
	list, err := q.by.Move(q.list, row.session, row.sheet, to)
	if err != nil {
		return m.changed(q).showError(name + ": " + err.Error()), nil
	}
	if len(list) < before && to > row.session {
		to--
	}
	q.list = list
	q.at = slices.IndexFunc(q.rows(), func(r groupRow) bool {
		return r.session == to && r.sheet >= 0 && q.list[to].Sheets[r.sheet].Name == name
	})
	return m.changed(q), nil
}

// row is the one under the cursor.
func (q holderGroupsModel) row() groupRow {
	if rows := q.rows(); q.at < len(rows) {
		return rows[q.at]
	}
	return groupRow{-1, -1}
}

// other takes the next recipe for the film under the cursor.
func (q holderGroupsModel) other(m Model) (Model, tea.Cmd) {
	row := q.row()
	if row.session < 0 {
		return m.changed(q), nil
	}
	film := q.list[row.session].Recipe.Film.Name
	i := slices.IndexFunc(q.films, func(f filmRecipe) bool { return f.film == film })
	q.films = slices.Clone(q.films)
	f := &q.films[i]
	if len(f.names) < 2 {
		return m.changed(q).showError("there is one recipe for " + film), nil
	}
	f.at = (f.at + 1) % len(f.names)
	name := f.names[f.at]
	q, err := q.sorted(m.o.Backend)
	if err != nil {
		return m.changed(q).showError(err.Error()), nil
	}
	return m.changed(q).showMessage(film + " by " + name), nil
}

// plan plans the session under the cursor.
func (q holderGroupsModel) plan(m Model) (Model, tea.Cmd) {
	row := q.row()
	if row.session < 0 {
		return m.changed(q), nil
	}
	r := q.list[row.session].Plan.Recipe
	p := planRecipe(m.o.Backend, r.Title, r, m.o.Defaults)
	if p.plan == nil {
		return m.changed(q).showError(p.fault), nil
	}
	m.plan, m.screen, m.subscreens = p, planScreen, nil
	return m, nil
}

func (q holderGroupsModel) draw(g grid, f frame) {
	g.text(f.head, "Sessions for the sheets", strong)
	g.right(f.head, fmt.Sprintf("%s, %s", pluralise(len(q.sheets), "sheet"), pluralise(len(q.list), "session")), dim)
	l := listOf(f.body, len(q.rows()))
	row := q.row()
	if row.session >= 0 && l.strip.h > 0 {
		planTimeline(&q.list[row.session].Plan).draw(g, l.strip)
	}
	q.drawRows(g, l.list)
	g.paragraphs(l.about, q.about(row))
}

// drawRows draws the list; a session's row has its time line, all on one scale.
func (q holderGroupsModel) drawRows(g grid, r rect) {
	rows := q.rows()
	longest := sequence.Elapsed(0)
	for i := range q.list {
		longest = max(longest, planTimeline(&q.list[i].Plan).end)
	}
	g.listed(r, len(rows), q.at, func(i int) (string, string, brightness) {
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
		s := planTimeline(&q.list[rows[i].session].Plan)
		s.scale, s.limit = longest, 0
		s.draw(g, r.row(i-first).beside(min(headingWidth, r.w*2/3)))
	}
}

// headingWidth is where a session's time line begins.
const headingWidth = 30

// heading is a session in a few words, beside its time line.
func (q holderGroupsModel) heading(i int) string {
	s := q.list[i]
	return cut(fmt.Sprintf("%d %s, %s, %d", i+1, s.Plan.Recipe.Film.Name, s.Plan.Vessel, s.Plan.Sheets), headingWidth-4)
}

func (q holderGroupsModel) sheetLine(row groupRow) string {
	w := q.list[row.session].Sheets[row.sheet]
	return fmt.Sprintf("%-6s %s", w.Name, q.sheets[w.Sheet].Note)
}

// wantLine is what a sheet is given, and what it wants where that is something else.
func (q holderGroupsModel) wantLine(row groupRow) string {
	s := q.list[row.session]
	w := s.Sheets[row.sheet]
	given, today := s.Given(row.sheet), planning.TimeOf(&s.Plan, row.sheet)
	line := sequence.FormatElapsed(today)
	if line != sequence.FormatElapsed(given) {
		line += " (" + sequence.FormatElapsed(given) + " in the recipe)"
	}
	if w.Gradient > 0 {
		line = fmt.Sprintf("gradient %.2f, %s", w.Gradient, line)
	}
	if sequence.FormatElapsed(given) != sequence.FormatElapsed(w.Time) {
		line += " (wants " + sequence.FormatElapsed(w.Time) + ")"
	}
	usual, err := (&holders.ExposedSheet{Holder: "0"}).DevelopmentWanted(&s.Recipe, q.by.Printing)
	if out, ok := q.curves[s.Recipe.Film.Name]; ok && err == nil && usual.Time != w.Time {
		if stops := out.IndexShift(w.Time, usual.Time); stops != nil {
			line = fmt.Sprintf("index %+.1f, %s", *stops, line)
		}
	}
	return line
}

// about is what is told of the row under the cursor.
func (q holderGroupsModel) about(row groupRow) []prepLine {
	if row.session < 0 {
		if row.sheet < 0 {
			return nil
		}
		u := q.left[row.sheet]
		e := &q.sheets[u.Sheet]
		return append([]prepLine{{safetext.Clean("no session for " + e.Name() + ": " + u.Why), strong}}, aboutSheet(e)...)
	}
	p := &q.list[row.session].Plan
	list := []prepLine{{safetext.Clean(p.Recipe.Title) + ": " + say.WetTime(p), text}}
	if row.sheet >= 0 {
		e := &q.sheets[q.list[row.session].Sheets[row.sheet].Sheet]
		list = append(aboutSheet(e), list...)
	}
	if len(q.left) > 0 {
		list = append(list, prepLine{pluralise(len(q.left), "sheet") + " without a session, beneath", strong})
	}
	return append(list, prepLine{fmt.Sprintf("paper %.2f, flare %.2f; tolerance %.2f", float64(q.by.Printing.Paper), float64(q.by.Printing.Flare),
		cmp.Or(q.by.Tolerance, planning.DefaultTolerance)), dim})
}

// aboutSheet is what was written down of a sheet; nothing where that is nothing.
func aboutSheet(e *holders.ExposedSheet) []prepLine {
	said := *e
	said.Note = "" // stands in its row
	if words := strings.TrimPrefix(sheetNotes(&said), "; "); words != "" {
		return []prepLine{{safetext.Clean(e.Name() + ": " + words), text}}
	}
	return nil
}
