package tui

// Two sessions of the notebook beside each other: their strips on one scale, then
// row by row what was done and what came of it.

import (
	"cmp"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// twoModel is two sessions compared.
type twoModel struct {
	deaf
	still
	a, b  notebook.Session
	rows  []notebook.Row
	first int // row at the top
}

func newTwoOlds(a, b notebook.Session, h sequence.Habits) twoModel {
	return twoModel{a: a, b: b, rows: notebook.Compare(&a, &b, h)}
}

func (twoModel) is() screen { return twoOlds }

func (t twoModel) keyed(m Model, key string) (Model, tea.Cmd) {
	switch actionOf(twoOlds, key) {
	case up:
		t.first = max(0, t.first-1)
		return m.changed(t), nil
	case down:
		l := oldOf(frameOf(m.w, m.h, 1).body)
		t.first = scroll(t.lines(l.lines.w), l.lines.h, t.first+1)
		return m.changed(t), nil
	case back:
		return m.back(), nil
	case leave:
		return m, tea.Quit
	}
	return m, nil
}

func (t twoModel) draw(g grid, f frame) {
	g.text(f.head, "Two sessions", strong)
	l := oldOf(f.body)
	if t.a.Plan != nil && t.b.Plan != nil {
		a, b := oldStrip(&t.a), oldStrip(&t.b)
		a.name, b.name, a.limit, b.limit = recipes.Clean(t.a.ID), recipes.Clean(t.b.ID), 0, 0
		a.scale, b.scale = b.end, a.end
		a.draw(g, l.planned)
		b.draw(g, l.actual)
	}
	lines := l.lines
	lines.w = f.body.w
	g.scrolled(lines, t.lines(lines.w), t.first)
}

// lines are the rows in columns; those that differ stand out.
func (t twoModel) lines(w int) []prepLine {
	const what, arrow, none = 12, 2, "-"
	column := max(8, (w-what-arrow)/2)
	var list []prepLine
	for _, r := range t.rows {
		l := dim
		if r.Differs() {
			l = strong
		}
		left, right := wrapped(recipes.Clean(cmp.Or(r.A, none)), column-2), wrapped(recipes.Clean(cmp.Or(r.B, none)), column-2)
		name := cut(recipes.Clean(r.What), what-1)
		for i := range max(len(left), len(right), 1) {
			list = append(list, prepLine{fmt.Sprintf("%-*s%-*s%s", what, name, column, nth(left, i), nth(right, i)), l})
			name = ""
		}
	}
	return list
}

func nth(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}
