package filmtest

import (
	"strings"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
	"github.com/charmbracelet/bubbles/key"
)

// The picture: what the test comes to, the choices, and what to know before it.

// View draws the body: what the test is, the fields, and what to know before it.
func (m Model) View(w, h int) string {
	rows := m.answer(w)
	rows = rows[:min(len(rows), max(1, h-len(m.form.Fields)))]
	if h >= 14 {
		rows = append(rows, "")
	}
	return strings.Join(append(rows, m.body(w, h-len(rows))), "\n")
}

func (m Model) body(w, h int) string {
	c := widget.Columns{Width: w, Left: 48, Least: 48, Ruled: true}
	lw, rw, beside := c.Widths()
	toRead := func(w, h int) string {
		s := widget.Scroll{Width: w, Height: h}
		s.Text = strings.Join(m.about(s.Inner()), "\n")
		return s.Moved(m.first).View()
	}
	if beside {
		return c.Join(m.form.View(lw, h), toRead(min(rw, 84), h))
	}
	fields := len(m.form.Fields)
	if h >= 11 {
		fields += 4
	}
	top := strings.Split(m.form.View(w, fields), "\n")
	rest := h - len(top) - 1
	if rest < 2 {
		return strings.Join(top[:min(len(top), h)], "\n")
	}
	return strings.Join(append(top, "", toRead(w, rest)), "\n")
}

// answer is what the test comes to, or why there is none.
func (m Model) answer(w int) []string {
	switch {
	case m.made == nil:
		return widget.Painted("The test is being worked out.", w, style.Label)
	case m.form.Fields[fieldGuess].Fault != "":
		return widget.Painted("No test: the guess cannot be used.", w, style.Heading)
	case m.made.err != nil:
		return widget.Painted("No such test: "+say.Error(m.made.err, m.env.Units()), w, style.Heading)
	}
	rows := widget.Painted(m.made.Told[0], w, style.Heading)
	if p := m.made.plan; p != nil {
		total, limit := say.Wet(p)
		rows = append(rows, widget.Painted("Wet time "+total+": "+limit, w, style.Value)...)
	}
	return rows
}

// about is which sheets would say most, how well the usual series will tell the time by itself, and what to know before
// the test.
func (m Model) about(w int) (rows []string) {
	if m.made == nil || m.made.err != nil {
		return nil
	}
	for _, line := range say.NextSheets(&m.made.Advice, m.env.Units()) {
		rows = append(rows, widget.Painted(say.Sentence(line), w, style.Value)...)
	}
	switch {
	case m.made.order.Proposed:
		return m.toKnow(rows, w)
	case len(rows) > 0:
		rows = append(rows, "")
	}
	if m.sure == "" {
		rows = append(rows, widget.Painted("How well it will tell the time is being worked out.", w, style.Label)...)
	} else {
		rows = append(rows, widget.Painted(m.sure, w, style.Value)...)
	}
	return m.toKnow(rows, w)
}

// toKnow is what to know before the test, and its steps.
func (m Model) toKnow(rows []string, w int) []string {
	for _, part := range m.made.Told[1:] {
		rows = append(append(rows, ""), widget.Painted(part, w, style.Value)...)
	}
	if p := m.made.plan; p != nil {
		rows = append(append(rows, ""), strings.Split(widget.PlanSteps(p, w).View(), "\n")...)
	}
	return rows
}

// About is what stands around it.
func (m Model) About() screen.About {
	return screen.About{Title: "Film test: " + m.from.Title, Typing: m.form.Typing(),
		Foot: []key.Binding{widget.Bind("↑↓", "field"), widget.Bind("←→", "choose"), widget.Bind("enter", "next, at last plan it"), widget.Bind("pgdn", "read on"), widget.Bind("esc", "back")},
		Help: widget.Help{
			About:  "A film test spends a few sheets, each developed for a time of its own. Their curves tell the developing time that fits your film, developer and hands. What to know before it stands beneath the choices.",
			Guides: []string{"film-test", "curves"},
			Groups: []widget.KeyGroup{
				{Purpose: "The test", Keys: []key.Binding{widget.Bind("↑↓ tab", "from field to field"), widget.Bind("←→", "another choice"), widget.Bind("enter", "take it and go on; at Write the test, write and plan it")}},
				{Purpose: "Looking", Keys: []key.Binding{widget.Bind("pgup pgdn", "read on what to know before it")}},
				{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back; nothing is written"), widget.Bind("q", "leave wetside, where nothing is typed")}},
			}}}
}
