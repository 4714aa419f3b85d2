package plan

// The picture: the answer and the strip, then the form beside what follows from it.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	labelWidth = 20
	formWidth  = 38  // the form in two columns
	besideFrom = 74  // columns from which the steps stand beside the form
	threeFrom  = 150 // and from which the steps stand between it and the rest
	hintFrom   = 14  // rows from which it is said what a field means
	hintLines  = 4
	hintBeside = 28 // and from which that stands beneath the form
)

// View draws the body.
func (m Model) View(w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	foot := m.question(w)
	if foot == nil && h >= hintFrom && (h < hintBeside || w < besideFrom) {
		foot = m.hint(w)
	}
	if len(foot) > max(0, h-4) {
		foot = foot[:max(0, h-4)]
	}
	h -= len(foot)
	head := m.answer(w, h)
	if len(head) > h-4 {
		head = head[:max(0, h-4)]
	}
	rows := append(head, m.body(w, h-len(head))...)
	return strings.Join(append(rows, foot...), "\n")
}

// question is what stands at the foot while a rehearsal is chosen, and before typed conditions
// are left.
func (m Model) question(w int) []string {
	if m.choosing {
		return m.practiceRows(w)
	}
	if !m.leaving {
		return nil
	}
	return wrapped("Leave this plan? Today's conditions, as they were typed, are not kept. y leaves, any other key stays.", w, style.Heading)
}

// hint is what the field under the cursor means, always in as many rows.
func (m Model) hint(w int) []string {
	n := 1
	if w < besideFrom {
		n = 3
	}
	var rows []string
	if m.at < len(fields) {
		rows = wrapped(fields[m.at].means, w, style.Label)
	}
	for len(rows) < n {
		rows = append(rows, "")
	}
	return rows[:n]
}

// answer is how long to develop, how long the film is wet, and the strip; blank while
// what is typed makes no plan.
func (m Model) answer(w, h int) []string {
	const airy, tall = 20, 24
	strip := 0
	switch {
	case h >= tall:
		strip = widget.StripRows
	case h >= 15:
		strip = widget.StripRows - 1
	case h >= 10:
		strip = 2
	}
	var rows []string
	if m.fault.text != "" {
		rows = append(rows, style.Label(widget.Truncate("No plan yet: see "+fields[m.fault.field].label+".", w)))
		rows = append(rows, make([]string, strip)...)
	} else {
		rows = widget.PlanAnswer(m.plan, m.conditions.Units, w)
		if h >= tall+4 {
			rows = append(rows, "")
		}
		if strip > 0 {
			rows = append(rows, strings.Split(widget.PlanStrip(m.plan, w, strip).View(), "\n")...)
		}
	}
	if h >= airy {
		rows = append(rows, "")
	}
	return rows
}

// body is the form and what follows from it, in as many columns as there is room for.
func (m Model) body(w, h int) []string {
	var text string
	switch {
	case w >= threeFrom:
		text = m.inThree(w, h)
	case w >= besideFrom:
		c := widget.Columns{Width: w, Left: formWidth}
		if w < 2*formWidth+30 {
			c.Left = 37
		}
		lw, rw, _ := c.Widths()
		text = c.Join(m.formPane(lw, h), m.pane(rw, h, m.follows))
	default:
		text = m.pane(w, h, func(w int) ([]string, int) {
			form, at := m.form(w)
			rest, way := m.follows(w)
			if way >= 0 {
				at = len(form) + 1 + way
			}
			return append(append(form, ""), rest...), at
		})
	}
	return strings.Split(text, "\n")
}

// inThree is the form, the steps, and then all else.
func (m Model) inThree(w, h int) string {
	outer := widget.Columns{Width: w, Left: formWidth + 6}
	lw, rw, _ := outer.Widths()
	inner := widget.Columns{Width: rw, Left: min(76, rw*55/100)}
	mw, ww, _ := inner.Widths()
	steps := m.pane(mw, h, func(w int) ([]string, int) { return m.steps(w), -1 })
	return outer.Join(m.formPane(lw, h), inner.Join(steps, m.pane(ww, h, m.besides)))
}

// formPane is the form alone, around its cursor.
func (m Model) formPane(w, h int) string {
	s := widget.Scroll{Width: w, Height: h}
	rows, at := m.form(w)
	if len(rows) <= h-2 {
		rows, at = append([]string{style.Heading("Today")}, rows...), at+1
	}
	if m.at < len(fields) && len(rows)+hintLines < h {
		rows = append(append(rows, ""), wrapped(fields[m.at].means, w, style.Label)...)
	}
	s.Text = strings.Join(rows, "\n")
	if !s.Whole() {
		rows, at = m.form(s.Inner())
		s.Text = strings.Join(rows, "\n")
	}
	if at < 0 {
		return s.View()
	}
	return s.Shows(at).View()
}

// pane is rows that may be more than there is room for; the cursor's is shown until they are
// moved by hand.
func (m Model) pane(w, h int, draw func(int) ([]string, int)) string {
	s := widget.Scroll{Width: w, Height: h}
	rows, at := draw(w)
	s.Text = strings.Join(rows, "\n")
	if !s.Whole() {
		rows, at = draw(s.Inner())
		s.Text = strings.Join(rows, "\n")
	}
	if at >= 0 {
		s = s.Shows(at)
	}
	return s.Moved(m.scrolled).View()
}

// pageRows is about how many rows stand beside the form.
func (m Model) pageRows() int {
	rows, _ := m.follows(formWidth)
	return len(rows)
}

// form is the fields, each in a row, with what is wrong beneath it. It tells the cursor's row.
func (m Model) form(w int) (rows []string, at int) {
	at = -1
	for i := range fields {
		if i == m.at {
			at = len(rows)
		}
		rows = append(rows, m.fieldRows(i, w)...)
		if m.fault.text != "" && m.fault.field == i {
			for _, r := range wrapped(safetext.Clean(m.fault.text), w-4, danger) {
				rows = append(rows, "    "+r)
			}
		}
	}
	if line := m.roundLine(); line != "" && m.fault.text == "" {
		rows = append(append(rows, ""), wrapped(line, w, style.Value)...)
	}
	return rows, at
}

func danger(s string) string { return style.Danger.Render(s) }

// fieldRows is one field: what was typed is brighter than what holds anyway. A value that is
// long goes on beneath itself.
func (m Model) fieldRows(i, w int) []string {
	f, chosen := fields[i], i == m.at
	label := min(labelWidth, max(8, w-2-8))
	room := max(1, w-2-label-1)
	value, typed := m.value(i)
	paint := style.Value
	if typed {
		paint = style.Heading
	}
	if f.label == "wet limit" && widget.Width(value) > room { // a vessel a row
		value = strings.NewReplacer(", ", "\n", " in a ", " ", " in ", " ").Replace(value)
	}
	list := wrapped(value, room, paint)
	if chosen && m.typing != nil {
		list = []string{m.typing.View(room)}
	}
	for j, text := range list {
		head := style.Label(f.label)
		if j > 0 {
			head = ""
		}
		row := "  " + widget.Pad(head, label) + " " + text
		if chosen {
			row = style.SelectedRow(widget.Truncate(style.Now.Render("▌")+strings.TrimPrefix(row, " "), w), w)
		}
		list[j] = widget.Truncate(row, w)
	}
	return list
}

func wrapped(s string, w int, paint func(string) string) []string {
	rows := widget.Wrap(s, max(1, w))
	for i := range rows {
		rows[i] = paint(rows[i])
	}
	return rows
}
