package newrecipe

// The form, what the chosen field means, and the plan that comes of it.

import (
	"fmt"
	"strings"

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

// place says where in the form one is.
func (m Model) place() string {
	n := len(m.draft.fields())
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
		right := strings.Join(append(meaning, m.draft.result.answer(m.env.Units(), m.scrolled, rw, h-len(meaning))...), "\n")
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
	if m.at >= len(m.draft.fields()) {
		return m.draft.result.answer(m.env.Units(), m.scrolled, w, room)
	}
	list := m.meaning(w)
	if p := m.draft.result.plan; p != nil {
		list = append(list, widget.PlanAnswer(p, m.env.Units(), w)...)
	} else {
		list = append(list, m.draft.result.noPlan(w)...)
	}
	return list[:min(len(list), room, h/2)]
}

// meaning is what the chosen field means and what is usual.
func (m Model) meaning(w int) []string {
	list := m.draft.fields()
	if m.at >= len(list) {
		return nil
	}
	f := list[m.at]
	var rows []string
	if fault := m.draft.result.faults[f.id]; fault != "" {
		rows = widget.Painted(say.Sentence(safetext.Clean(fault)), min(w, prose), func(s string) string { return style.Danger.Render(s) })
	}
	if f.id == startsFrom {
		whose := "the shipped recipe"
		if m.draft.from.IsOwn {
			whose = "your own recipe"
		}
		rows = append(rows, widget.Painted("It starts from "+whose+" "+safetext.Clean(m.draft.from.Title)+".", min(w, prose), style.Heading)...)
	}
	rows = append(rows, widget.Painted(f.meaning, min(w, prose), style.Value)...)
	if f.usual != "" {
		rows = append(rows, widget.Painted("Usual: "+f.usual, min(w, prose), style.Label)...)
	}
	return append(rows, "")
}

// form is the fields around the chosen one, under the headings of their groups.
func (m Model) form(w, h int) string {
	var rows []string
	at, group := 0, ""
	list := m.draft.fields()
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
		save = widget.Chosen(save, w-2)
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
func (m Model) fieldRows(f field, chosen bool, w int) []string {
	w -= 2 // of the bar where the form scrolls
	room := max(1, w-labelWidth-4)
	values := m.valueRows(f, chosen, room)
	if chosen && m.typing != nil {
		values = []string{m.typing.View(room)}
	}
	rows := widget.Hanging("  "+style.Label(widget.Truncate(f.label, labelWidth)), labelWidth+4, values, w)
	for i := range rows {
		if chosen {
			rows[i] = widget.Chosen(rows[i], w)
		}
	}
	return rows
}

// valueRows is what stands behind a label; between the signs of a choice where it is turned.
func (m Model) valueRows(f field, chosen bool, room int) []string {
	before, after := "", ""
	if len(f.choices) > 0 && chosen {
		before, after = "‹ ", " ›"
	}
	rows := []string{m.draft.shown(f)}
	fault := m.draft.result.faults[f.id]
	const leastRoom = 16
	if text := ansi.Strip(rows[0]); fault == "" && room >= leastRoom && widget.Width(before+text+after) > room {
		rows = widget.Painted(text, room-widget.Width(before+after), style.Value)
	}
	if before != "" {
		for i := range rows {
			rows[i] = "  " + rows[i]
		}
		rows[0] = style.Label(before) + strings.TrimPrefix(rows[0], "  ")
	}
	rows[len(rows)-1] += style.Label(after)
	if fault != "" {
		rows[0] += "   " + style.Danger.Render(safetext.Clean(fault))
	}
	return rows
}
