package prepare

// The picture: the list in one column or two, the cursor's line in view.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	twoFrom    = 110 // columns from which baths stand beside the rest
	labelWidth = 16
	levelWidth = 8
	airy       = 30 // rows from which the baths of Mix stand apart
)

// View draws the body.
func (m Model) View(w, h int) string { return m.page().draw(w, h) }

func (m Model) page() page { return page{m.lines(), m.at, m.done, m.questions(), m.thermometer} }

// page is the list as it is drawn.
type page struct {
	list        []line
	at          int // the line under the cursor
	done        [sections]bool
	questions   questions
	thermometer thermometer
}

func (m page) draw(w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	if w < twoFrom {
		return m.pane(w, h, knowSection, roomSection).View()
	}
	c := widget.Columns{Width: w}
	lw, rw, _ := c.Widths()
	return c.Join(m.pane(lw, h, knowSection, mixSection).View(), m.pane(rw, h, setOutSection, roomSection).View())
}

// above is the line to which a page back leads: the first one whose own page goes on, without a
// gap, to the page that is shown.
func (m page) above(w, h int) int {
	from, to := knowSection, roomSection
	if w >= twoFrom {
		w, _, _ = widget.Columns{Width: w}.Widths()
		if to = mixSection; m.list[m.at].section > mixSection {
			from, to = setOutSection, roomSection
		}
	}
	top, there := m.pane(w, h, from, to).First, m.at-1 // out of the pane, where nothing is above in it
	for i := m.at - 1; i >= 0 && m.list[i].section >= from; i-- {
		one := m
		if one.at = i; top-one.pane(w, h, from, to).First > max(1, h-1) {
			break
		}
		there = i
	}
	return there
}

// pane is the parts from one to another, around the cursor where it is in them.
func (m page) pane(w, h, from, to int) widget.Scroll {
	var seen cursorRows
	s := widget.Flowing(w, h, func(w int) (rows []string) {
		rows, seen = m.rows(w, from, to, h >= airy)
		return rows
	})
	if seen.at >= 0 { // from its part's title on, as long as there is room for that
		s.First = seen.title
		s = s.Moved(0).Shows(seen.end).Shows(seen.at)
	}
	return s
}

// cursorRows is where the cursor's line begins and ends, and the title of its part; -1 for none.
type cursorRows struct{ title, at, end int }

// rows are the lines under their parts' titles, baths apart from each other where there is room.
func (m page) rows(w, from, to int, apart bool) (rows []string, seen cursorRows) {
	seen.at = -1
	section, title := -1, 0
	for i, l := range m.list {
		if l.section < from || l.section > to {
			continue
		}
		if l.section != section {
			if section >= 0 {
				rows = append(rows, "")
			}
			section, title = l.section, len(rows)
			rows = append(rows, m.title(section, w))
		} else if apart && l.group {
			rows = append(rows, "")
		}
		text := m.lineRows(l, w-2)
		if i == m.at {
			seen = cursorRows{title, len(rows), len(rows) + len(text) - 1}
		}
		for _, r := range text {
			row := widget.Truncate("  "+r, w)
			if i == m.at {
				row = widget.Chosen("  "+r, w)
			}
			rows = append(rows, row)
		}
	}
	return rows, seen
}

// title is a part's, and whether it is done.
func (m page) title(section, w int) string {
	state := ""
	if m.done[section] && section < laptopSection || section == laptopSection && m.questions.laptopAnswered() {
		state = style.Done.Render("done")
	}
	return widget.Spread(style.Heading(titles[section]), state, w)
}

// lineRows is one line, broken to the width.
func (m page) lineRows(l line, w int) []string {
	switch l.kind {
	case readingLine:
		return m.thermometer.rows(l, w)
	case questionLine:
		return m.questions.rows(l, w)
	case dangerLine:
		return hanging(style.Danger.Render("danger"), levelWidth, l.text, w, style.Heading)
	case careLine:
		return hanging(style.Care.Render("care"), levelWidth, l.text, w, style.Value)
	case noteLine:
		return hanging(style.Label("note"), levelWidth, l.text, w, style.Value)
	case bathLine:
		return hanging(style.Value(l.label), min(labelWidth, max(1, w/2)), l.text, w, style.Heading)
	case setOutLine:
		return setOutRows(l, w)
	case quietLine:
		if l.section == setOutSection { // beneath the bath's name, so that its number stands alone
			return hanging("", 1, l.text, w, style.Label)
		}
	}
	paint := map[kind]func(string) string{valueLine: style.Value, strongLine: style.Heading, quietLine: style.Label}[l.kind]
	if l.label == "" {
		return hanging("", 0, l.text, w, paint)
	}
	return hanging(style.Label(l.label), min(labelWidth, max(1, w/2)), l.text, w, paint)
}

// setOutRows is a bath that is set out, its figures in columns where there is room.
func setOutRows(l line, w int) []string {
	const temperatures, times, fewest = 9, 8, 52
	label := min(labelWidth, max(1, w/2))
	if w < fewest {
		parts := slices.DeleteFunc([]string{l.text, l.bath.temperature, "for " + l.bath.time}, func(s string) bool { return s == "" })
		return hanging(style.Label(l.label), label, strings.Join(parts, ", "), w, style.Value)
	}
	head := widget.Pad(style.Label(l.label), label) + style.Value(fmt.Sprintf("%*s%*s", temperatures, l.bath.temperature, times, l.bath.time))
	return hanging(head+" ", label+temperatures+times+1, l.text, w, style.Label)
}

// hanging is a text that hangs from a head of a width.
func hanging(head string, width int, text string, w int, paint func(string) string) []string {
	if width > 0 {
		head, width = widget.Pad(head, width), width+1
	}
	return widget.Hanging(head, width, widget.Painted(text, w-width, paint), w)
}

// rows is the field, and what is wrong with it beneath.
func (t thermometer) rows(l line, w int) []string {
	unit := "°" + string(rune(t.units.Scale()))
	value := style.Heading(safetext.Clean(t.reading)) + " " + style.Label(unit)
	switch {
	case t.typing != nil:
		value = t.typing.View(max(1, w-labelWidth-4)) + " " + style.Label(unit)
	case t.reading == "" && t.plan.Conditions.BathTemperature != nil:
		value = style.Value(say.Temperature(*t.plan.Conditions.BathTemperature, t.units)) + style.Label("  planned; type what it reads")
	case t.reading == "":
		value = style.Label("type it; the plan follows")
	}
	rows := []string{widget.Truncate(widget.Pad(style.Label(l.label), labelWidth)+" "+value, w)}
	if t.fault != "" {
		rows = append(rows, hanging("", labelWidth, safetext.Clean(t.fault), w, func(s string) string { return style.Danger.Render(s) })...)
	}
	return rows
}

// rows is the keys that answer, in as many rows as they take, or what was answered.
func (q questions) rows(l line, w int) []string {
	label, width := l.label, 0
	if label != "" {
		width = min(labelWidth, max(1, w/3))
	}
	head := widget.Pad(style.Label(label), width)
	if width > 0 {
		head += " "
	}
	if text := q.answers[l.ask]; text != "" {
		if l.ask == askDanger {
			text = "danger accepted"
		}
		return hanging(style.Label(label), width, text, w, func(s string) string { return style.Done.Render(s) })
	}
	var rows []string
	row := head
	for i, a := range answersTo[l.ask] {
		part := style.Key.Render(a.key) + " " + style.Value(a.word)
		if i > 0 && widget.Width(row)+3+widget.Width(part) > w {
			rows, row = append(rows, widget.Truncate(row, w)), strings.Repeat(" ", widget.Width(head))+part
			continue
		}
		if i > 0 {
			row += "   "
		}
		row += part
	}
	return append(rows, widget.Truncate(row, w))
}
