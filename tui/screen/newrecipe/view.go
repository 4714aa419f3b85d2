package newrecipe

// The form, what the chosen field means, and the plan that comes of it.

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	wide        = 100 // from this width on the plan stands beside the form
	leastBeside = 40
	leastForm   = 44
	mostForm    = 66
	prose       = 72
)

func trimmed(s string) string { return strings.TrimFunc(s, unicode.IsSpace) }

// place says where in the form one is.
func (m Model) place() string {
	n := len(m.fields())
	if m.at >= n {
		return "ready to save"
	}
	return fmt.Sprintf("field %d of %d", m.at+1, n)
}

// View draws the body.
func (m Model) View(w, h int) string {
	var rows []string
	if m.asking {
		rows = append(widget.Painted("What was changed is not saved. y leaves without saving it, any other key stays here.", w, style.Heading), "")
		h -= len(rows)
	}
	if w >= wide {
		c := widget.Columns{Width: w, Left: min(mostForm, max(leastForm, w*3/7)), Least: leastBeside}
		lw, rw, _ := c.Widths()
		meaning := m.meaning(rw)
		right := strings.Join(append(meaning, m.answer(rw, h-len(meaning))...), "\n")
		return strings.Join(append(rows, c.Join(m.form(lw, h), right)), "\n")
	}
	below := m.below(w, h)
	form := h - len(below) - 1
	rows = append(rows, m.form(w, form))
	if len(below) > 0 {
		rows = append(append(rows, ""), below...)
	}
	return strings.Join(rows, "\n")
}

// below is what stands under the form in a narrow window: of a field what it means and the
// plan's answer, and of the last row the plan.
func (m Model) below(w, h int) []string {
	const leastRows = 4
	room := h - leastRows - 1
	if room < 1 {
		return nil
	}
	if m.at >= len(m.fields()) {
		return m.answer(w, room)
	}
	list := m.meaning(w)
	if p := m.result.plan; p != nil {
		list = append(list, widget.PlanAnswer(p, m.env.Units(), w)...)
	} else {
		list = append(list, m.wrong(w)...)
	}
	return list[:min(len(list), room, h/2)]
}

// meaning is what the chosen field means and what is usual.
func (m Model) meaning(w int) []string {
	list := m.fields()
	if m.at >= len(list) {
		return nil
	}
	f := list[m.at]
	var rows []string
	if fault := m.result.faults[f.id]; fault != "" {
		rows = widget.Painted(say.Sentence(safetext.Clean(fault)), min(w, prose), func(s string) string { return style.Danger.Render(s) })
	}
	if f.id == startsFrom {
		whose := "the shipped recipe"
		if m.from.IsOwn {
			whose = "your own recipe"
		}
		rows = append(rows, widget.Painted("It starts from "+whose+" "+safetext.Clean(m.from.Title)+".", min(w, prose), style.Heading)...)
	}
	rows = append(rows, widget.Painted(f.meaning, min(w, prose), style.Value)...)
	if f.usual != "" {
		rows = append(rows, widget.Painted("Usual: "+f.usual, min(w, prose), style.Label)...)
	}
	return append(rows, "")
}

// answer is the plan: how long it develops, how long the film is wet, its strip and steps; or
// what stands in its way.
func (m Model) answer(w, h int) []string {
	if h <= 0 {
		return nil
	}
	p := m.result.plan
	if p == nil {
		rows := m.wrong(w)
		return rows[:min(len(rows), h)]
	}
	s := widget.Scroll{Width: w, Height: h, First: m.scrolled}
	for range 2 { // where it is too long the bar takes two columns
		s.Text = strings.Join(m.planRows(w, h), "\n")
		if s.Whole() {
			break
		}
		w = s.Inner()
	}
	return strings.Split(s.Moved(0).View(), "\n")
}

func (m Model) planRows(w, h int) []string {
	const airy = 14
	p := m.result.plan
	strip, gap := 2, []string(nil)
	if h >= airy {
		strip, gap = widget.StripRows, []string{""}
	}
	rows := append(widget.PlanAnswer(p, m.env.Units(), w), gap...)
	rows = append(rows, strings.Split(widget.PlanStrip(p, w, strip).View(), "\n")...)
	rows = append(append(rows, gap...), strings.Split(widget.PlanSteps(p, w).View(), "\n")...)
	if cautions := widget.PlanCautions(p, m.env.Units(), min(w, prose)); len(cautions) > 0 {
		rows = append(append(rows, ""), cautions...)
	}
	return rows
}

// wrong is why there is no plan.
func (m Model) wrong(w int) []string {
	rows := []string{style.Heading("No plan yet")}
	for _, s := range m.result.others {
		rows = append(rows, widget.Painted(safetext.Clean(s), min(w, prose), style.Value)...)
	}
	if n := len(m.result.faults); n == 1 {
		rows = append(rows, widget.Painted("One field is wrong; what is, stands beside it.", w, style.Value)...)
	} else if n > 1 {
		rows = append(rows, widget.Painted(fmt.Sprintf("%d fields are wrong; what is, stands beside each.", n), w, style.Value)...)
	}
	return rows
}

// form is the fields around the chosen one, under the headings of their groups.
func (m Model) form(w, h int) string {
	var rows []string
	at, group := 0, ""
	list := m.fields()
	for i, f := range list {
		if f.group != group {
			if group = f.group; len(rows) > 0 {
				rows = append(rows, "")
			}
			rows = append(rows, widget.Truncate(style.Heading(group), w))
		}
		if i == m.at {
			at = len(rows)
		}
		rows = append(rows, m.fieldRows(f, i == m.at, w)...)
	}
	save := "  " + style.Value("Save this recipe")
	if m.at >= len(list) {
		at = len(rows) + 1
		save = style.SelectedRow(style.Now.Render("▌")+" "+style.Value("Save this recipe"), w-2)
	}
	rows = append(rows, "", widget.Truncate(save, w))
	if h <= 0 {
		return ""
	}
	s := widget.Scroll{Text: strings.Join(rows, "\n"), Width: w, Height: h}
	return s.Moved(at - h/2).View()
}

const labelWidth = 17

// fieldRows is one field: its label, its value in as many rows as it needs, and what is wrong
// with it.
func (m Model) fieldRows(f field, chosen bool, w int) (rows []string) {
	w -= 2 // of the bar where the form scrolls
	room := max(1, w-labelWidth-4)
	values := m.valueRows(f, chosen, room)
	if chosen && m.typing != nil {
		values = []string{m.typing.View(room)}
	}
	label := f.label
	for _, value := range values {
		row := widget.Truncate("  "+style.Label(widget.Pad(label, labelWidth))+"  "+value, w)
		if label = ""; chosen {
			row = style.SelectedRow(style.Now.Render("▌")+strings.TrimPrefix(row, " "), w)
		}
		rows = append(rows, row)
	}
	return rows
}

// valueRows is what stands behind a label; between arrows where it is turned.
func (m Model) valueRows(f field, chosen bool, room int) []string {
	before, after := "", ""
	if len(f.choices) > 0 && chosen {
		before, after = "← ", " →"
	}
	rows := []string{m.shown(f)}
	fault := m.result.faults[f.id]
	const leastRoom = 16
	if text := ansi.Strip(rows[0]); fault == "" && room >= leastRoom && widget.Width(before+text+after) > room {
		rows = widget.Wrap(text, room-widget.Width(before+after))
		for i := range rows {
			rows[i] = style.Value(rows[i])
		}
	}
	if before != "" {
		for i := range rows {
			rows[i] = "  " + rows[i]
		}
		rows[0] = style.Now.Render(before) + strings.TrimPrefix(rows[0], "  ")
	}
	rows[len(rows)-1] += style.Now.Render(after)
	if fault != "" {
		rows[0] += "   " + style.Danger.Render(safetext.Clean(fault))
	}
	return rows
}

// shown is a field's value as it is read: a choice by its word, nothing as a dash.
func (m Model) shown(f field) string {
	v := m.value(f)
	if i := slices.IndexFunc(f.choices, func(c choice) bool { return c.value == v }); i >= 0 {
		return style.Value(safetext.Clean(f.choices[i].word))
	}
	if f.show != nil && m.result.faults[f.id] == "" {
		v = f.show(&m.result.recipe)
	}
	if v == "" {
		return style.Label("none")
	}
	return style.Value(safetext.Clean(v))
}
