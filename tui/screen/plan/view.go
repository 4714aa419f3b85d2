package plan

// The picture: the answer and the strip, then the form beside what follows from it.

import (
	"strings"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	formWidth  = 38  // the form in two columns
	besideFrom = 74  // columns from which the steps stand beside the form
	threeFrom  = 150 // and from which the steps stand between it and the rest
	hintFrom   = 14  // rows from which it is said what a field means
	hintBeside = 28  // and from which that stands beneath the form
)

// View draws the body.
func (m Model) View(w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	foot := m.question(w)
	if foot == nil && !m.reading && h >= hintFrom && (h < hintBeside || w < besideFrom) {
		foot = m.form.hint(w)
	}
	const leastBody = 4
	foot = foot[:min(len(foot), max(0, h-leastBody))]
	h -= len(foot)
	head := m.answer(w, h)
	head = head[:min(len(head), max(0, h-leastBody))]
	rows := append(head, strings.Split(m.body(w, h-len(head)), "\n")...)
	return strings.Join(append(rows, foot...), "\n")
}

// question is what stands at the foot while a rehearsal is chosen, and before typed conditions
// are left.
func (m Model) question(w int) []string {
	switch {
	case m.rehearsal != nil:
		return m.rehearsal.rows(w)
	case m.leaving:
		return widget.Painted("Leave this plan? Today's conditions, as they were typed, are not kept. y leaves, any other key stays.", w, style.Heading)
	}
	return nil
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
	if m.form.broken() {
		rows = append(rows, style.Label(widget.Truncate("No plan yet: see "+fields[m.form.fault.field].label+".", w)))
		rows = append(rows, make([]string, strip)...)
	} else {
		rows = append(widget.PlanAnswer(m.form.plan, m.form.conditions.Units, w), m.filmTime.rows(w, m.form)...)
		if h >= tall+4 {
			rows = append(rows, "")
		}
		if strip > 0 {
			rows = append(rows, strings.Split(widget.PlanStrip(m.form.plan, w, strip).View(), "\n")...)
		}
	}
	if h >= airy {
		rows = append(rows, "")
	}
	return rows
}

// rows is the film's own time beneath the plan's, in a row, and the key that takes it.
func (t filmTime) rows(w int, f form) []string {
	o := t.of(f)
	switch {
	case o != nil:
	case t.offered.offer != nil && t.offered.plan != f.plan: // its row stays while it is worked out anew
		return []string{style.Label("Film's time")}
	default:
		return nil
	}
	text, _ := say.FilmTime(o, f.conditions.Units)
	row := style.Value(text)
	if o.Factor != nil {
		row += "  " + style.Key.Render("f") + style.Label(" takes it")
	}
	return []string{widget.Truncate(row, w)}
}

// page is what follows from the form as it is.
func (m Model) page() page {
	return page{m.form.draft, m.form.way(), m.form.onWay(), m.risk.text, m.filmTime.of(m.form)}
}

// body is the form and what follows from it, in as many columns as there is room for.
func (m Model) body(w, h int) string {
	switch {
	case m.reading:
		*m.read = extent{w, h}
		return m.page().reading(m.first, w, h).View()
	case m.form.broken():
		return m.form.pane(w, h)
	case w >= threeFrom:
		return inThree(m.form, m.page(), w, h)
	case w < besideFrom:
		return stacked(m.form, m.page(), w, h)
	}
	c := widget.Columns{Width: w, Left: formWidth}
	if w < 2*formWidth+30 {
		c.Left = formWidth - 1
	}
	lw, rw, _ := c.Widths()
	return c.Join(m.form.pane(lw, h), m.page().pane(rw, h, m.page().whole))
}

// inThree is the form, the steps, and then all else.
func inThree(f form, p page, w, h int) string {
	outer := widget.Columns{Width: w, Left: formWidth + 6}
	lw, rw, _ := outer.Widths()
	inner := widget.Columns{Width: rw, Left: min(76, rw*55/100)}
	mw, ww, _ := inner.Widths()
	steps := p
	steps.chosen = false // the cursor is never in them
	return outer.Join(f.pane(lw, h), inner.Join(
		steps.pane(mw, h, func(w int) []section { return []section{p.steps(w), p.budget(w)} }),
		p.pane(ww, h, func(w int) []section { return append([]section{p.dangers(w)}, p.besides(w)...) })))
}

// stacked is the form over what follows from it, around the cursor.
func stacked(f form, p page, w, h int) string {
	s := widget.Scroll{Width: w, Height: h}
	w = s.Inner()
	rows, at := f.rows(w)
	rows = append(rows, "")
	if p.chosen {
		ways, way, _ := p.wayRows(w)
		rows, at = append(rows, ways...), len(rows)+way
	} else {
		rows = append(rows, joined(p.whole(w))...)
	}
	s.Text = strings.Join(rows, "\n")
	return s.Shows(at).View()
}
