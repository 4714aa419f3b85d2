package tui

// Two sessions of the notebook beside each other: their strips on one scale, then
// row by row what was done and what came of it.

import (
	"cmp"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// compareModel is two sessions compared.
type compareModel struct {
	noMessages
	noInput
	a, b  notebook.Session
	rows  []notebook.Row
	first int // row at the top
}

func newCompare(a, b notebook.Session, h sequence.Units) compareModel {
	return compareModel{a: a, b: b, rows: notebook.Compare(&a, &b, h)}
}

func (compareModel) id() screenID { return compareScreen }

func (t compareModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	switch actionOf(compareScreen, key) {
	case up:
		t.first = max(0, t.first-1)
		return m.changed(t), nil
	case down:
		l := oldOf(frameOf(m.w, m.h, 1).body)
		t.first = scroll(t.lines(l.lines.w), l.lines.h, t.first+1)
		return m.changed(t), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m, nil
}

func (t compareModel) draw(g grid, f frame) {
	g.text(f.head, "Two sessions", strong)
	l := oldOf(f.body)
	if t.a.Plan != nil && t.b.Plan != nil {
		a, b := sessionTimeline(&t.a), sessionTimeline(&t.b)
		a.name, b.name, a.limit, b.limit = safetext.Clean(t.a.ID), safetext.Clean(t.b.ID), 0, 0
		a.scale, b.scale = b.end, a.end
		a.draw(g, l.planned)
		b.draw(g, l.actual)
	}
	lines := l.lines
	lines.w = f.body.w
	g.scrolled(lines, t.lines(lines.w), t.first)
}

// lines are the rows in columns; those that differ stand out.
func (t compareModel) lines(w int) []prepLine {
	const what, arrow, none = 12, 2, "-"
	column := max(8, (w-what-arrow)/2)
	var list []prepLine
	for _, r := range t.rows {
		l := dim
		if r.Differs() {
			l = strong
		}
		left, right := wrapText(safetext.Clean(cmp.Or(r.A, none)), column-2), wrapText(safetext.Clean(cmp.Or(r.B, none)), column-2)
		name := cut(safetext.Clean(r.Label), what-1)
		for i := range max(len(left), len(right), 1) {
			list = append(list, prepLine{fmt.Sprintf("%-*s%-*s%s", what, name, column, lineAt(left, i), lineAt(right, i)), l})
			name = ""
		}
	}
	return list
}

func lineAt(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}
