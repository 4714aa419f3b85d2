// Package compare is the screen of two sessions side by side: like beside like, and a sign
// where they differ.
package compare

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
	"example.org/wetside/tui/widget"
)

// Model is the screen.
type Model struct {
	env   screen.Env
	a, b  notebook.Session
	rows  []say.ComparedRow // but when they began, which stands above
	began say.ComparedRow
	only  bool // only what differs is shown
	first int  // row at the top
	w, h  int  // room for the body
}

// New makes it.
func New(env screen.Env, first, second notebook.Session) Model {
	rows := say.Compared(&first, &second, env.Units())
	for i := range rows {
		if rows[i].Label == "vessel" {
			rows[i].A, rows[i].B = in(first.Vessel), in(second.Vessel)
		}
		rows[i].Label = say.StepName(rows[i].Label)
		rows[i].A, rows[i].B = say.Percentages(safetext.Clean(rows[i].A)), say.Percentages(safetext.Clean(rows[i].B))
	}
	return Model{env: env, a: first, b: second, began: rows[0], rows: rows[1:]}
}

// in is a vessel as one says it, "in trays"; "" where none is known.
func in(v sequence.Vessel) string {
	if v == "" {
		return ""
	}
	return v.In()
}

// Sized tells how much room there is.
func (m Model) Sized(w, h int) screen.Screen {
	m.w, m.h = w, h
	return m
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	k, ok := msg.(tea.KeyMsg)
	if !ok {
		return m, nil, nil
	}
	s, _ := m.scroll(m.w, m.h).Key(k.String())
	m.first = s.First
	switch k.String() {
	case "o":
		m.only, m.first = !m.only, 0
	case "s":
		next := New(m.env, m.b, m.a)
		next.only, next.first, next.w, next.h = m.only, m.first, m.w, m.h
		return next, nil, nil
	case "q":
		return m, screen.Quit{}, nil
	case "esc":
		return m, screen.Back{}, nil
	}
	return m, nil, nil
}

// About is what stands around it.
func (m Model) About() screen.About {
	only := "only differences"
	if m.only {
		only = "show all"
	}
	return screen.About{Title: "Two sessions compared", Right: "≠ stands where they differ",
		Foot: []key.Binding{widget.Bind("o", only), widget.Bind("s", "swap sides"), widget.Bind("↑↓", "read on"), widget.Bind("esc", "notebook")},
		Help: widget.Help{About: "Two sessions side by side: what was planned, each step's time, what came of it. ≠ marks what differs. The strips have one scale.",
			Guides: []string{"temperature"},
			Groups: []widget.KeyGroup{
				{Purpose: "Looking", Keys: []key.Binding{widget.Bind("o", "show only what differs, or all"), widget.Bind("s", "swap the sides"), widget.Bind("↑↓", "read on"), widget.Bind("pgup pgdn", "page by page"), widget.Bind("home end", "beginning, end")}},
				{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back to the notebook"), widget.Bind("q", "leave wetside")}},
			}}}
}

const rowsHigh = 6 // of the strips

// View draws the body: the answer, the strips, and then the rows.
func (m Model) View(w, h int) string {
	rows := append(m.head(w, h), strings.Split(m.scroll(w, h).View(), "\n")...)
	return strings.Join(rows[max(0, len(rows)-h):], "\n")
}

// scroll is the rows in the window that the head leaves.
func (m Model) scroll(w, h int) widget.Scroll {
	return widget.Flowing(w, max(1, h-len(m.head(w, h))), m.text).Moved(m.first)
}

// head is what differs, in a sentence, and the strips where there is room for them.
func (m Model) head(w, h int) []string {
	rows := widget.Wrap(m.answer(), w)
	if len(rows) > 2 {
		rows = []string{rows[0], widget.Truncate(rows[1]+" "+rows[2], w)}
	}
	for i, r := range rows {
		rows[i] = style.Heading(r)
	}
	if h < 7 {
		return rows[:1]
	}
	rows = append(rows, "")
	if m.a.Plan == nil || m.b.Plan == nil || h < 14 {
		return rows
	}
	pair := widget.Pair{Names: [2]string{m.began.A, m.began.B}, Width: w, Rows: rowsHigh, BothWet: true}
	for i, s := range []*notebook.Session{&m.a, &m.b} {
		pair.Lines[i] = timeline.OfRecord(s.Plan, s.Passages, s.At, s.Wet.LimitAt)
	}
	if strips := pair.View(); strips != "" {
		rows = append(append(rows, strings.Split(strips, "\n")...), "")
	}
	return rows
}

// answer is what they differ in.
func (m Model) answer() string {
	var names []string
	things, step := 0, false
	for _, r := range m.rows {
		differs, ofSheet := r.Differs(), strings.HasPrefix(r.Label, " ")
		switch {
		case !ofSheet:
			step = differs
		case step || !differs:
			continue // its step says it
		}
		things++
		if differs {
			names = append(names, strings.TrimSpace(safetext.Clean(r.Label)))
		}
	}
	if len(names) == 0 {
		return fmt.Sprintf("Alike in all %d things compared.", things)
	}
	return fmt.Sprintf("They differ in %d of %d: %s.", len(names), things, strings.Join(names, ", "))
}

// text is the rows in columns: what, the sign, the first, the second.
func (m Model) text(w int) []string {
	const gap, sign, least, most = 2, 1, 8, 16
	label := 0
	for _, r := range m.rows {
		label = max(label, widget.Width(r.Label))
	}
	label = min(label, most, max(least, w/5))
	column := max(1, (w-label-sign-3*gap)/2)
	lay := func(what, mark, a, b string) string {
		return widget.Truncate(widget.Pad(what, label)+"  "+widget.Pad(mark, sign)+"  "+widget.Pad(a, column)+"  "+widget.Truncate(b, column), w)
	}
	list := []string{lay("", "", style.Heading(m.began.A), style.Heading(m.began.B))}
	for _, r := range m.rows {
		differs := r.Differs()
		if !differs && m.only {
			continue
		}
		ink, mark := style.Value, ""
		if differs {
			mark = style.Heading("≠")
		}
		a, b := widget.Wrap(cmp.Or(r.A, "–"), column), widget.Wrap(cmp.Or(r.B, "–"), column)
		what := style.Label(safetext.Clean(r.Label))
		n := max(len(a), len(b))
		a, b = append(a, make([]string, n-len(a))...), append(b, make([]string, n-len(b))...)
		for i := range n {
			list = append(list, lay(what, mark, ink(a[i]), ink(b[i])))
			what, mark = "", ""
		}
	}
	return list
}
