package film

// The picture: the films, the answer, the growth with its band, and the page.

import (
	"fmt"
	"math"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	wide      = 100 // columns from which picture and page stand beside each other
	mostFilms = 5   // rows of the list
)

// View draws the body.
func (m Model) View(w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	rows := m.head(w, h)
	rest := h - len(rows)
	if rest > 0 && m.page != nil {
		rows = append(rows, strings.Split(m.body(w, rest), "\n")...)
	}
	return strings.Join(rows[:min(len(rows), h)], "\n")
}

// head is the list, and the answer for the one chosen.
func (m Model) head(w, h int) []string {
	switch {
	case !m.read:
		return []string{style.Label(widget.Truncate("Sessions and readings are being read.", w))}
	case len(m.known) == 0:
		return widget.Painted("No film is known yet. Develop one: a session, the densities of a film test (t on a recipe), or a time borrowed from elsewhere makes a film known.", w, style.Value)
	}
	rows := m.list(w, min(mostFilms, max(1, h/5)))
	if h >= 12 {
		rows = append(rows, "")
	}
	switch {
	case m.fault != "":
		return append(rows, widget.Painted(safetext.Clean(m.fault), w, style.Heading)...)
	case m.page == nil:
		return append(rows, style.Label(widget.Truncate("It is being worked out.", w)))
	}
	answer := say.FilmAnswer(m.page, m.env.Units())
	rows = append(rows, widget.Painted(safetext.Clean(answer[0]), w, style.Heading)...)
	if h >= 20 && (w >= wide || m.table) { // else the picture has the room
		for _, line := range answer[1:] {
			rows = append(rows, widget.Painted(safetext.Clean(line), w, style.Value)...)
		}
	}
	if h >= 20 {
		rows = append(rows, "")
	}
	return rows
}

// list is the films around the cursor.
func (m Model) list(w, most int) (rows []string) {
	from := min(max(0, m.at-most/2), max(0, len(m.known)-most))
	for i := from; i < min(len(m.known), from+most); i++ {
		k := &m.known[i]
		film := widget.Truncate(safetext.Clean(say.FilmHandling(k.Handling)), max(1, w-widget.Width(counts(k))-4))
		row := widget.Spread("  "+style.Value(film), style.Label(counts(k)), w)
		if i == m.at {
			row = widget.Chosen(row, w)
		}
		rows = append(rows, row)
	}
	return rows
}

// body is picture and page.
func (m Model) body(w, h int) string {
	if w >= wide {
		c := widget.Columns{Width: w, Left: w * 55 / 100, Least: 40}
		left, right, _ := c.Widths()
		return c.Join(m.plot(left, h), m.scroll(right, h).View())
	}
	if picture := m.plot(w, h); picture != "" && !m.table {
		return picture
	}
	return m.scroll(w, h).View()
}

// pageRoom is how much room the page has.
func (m Model) pageRoom() (w, h int) {
	h = max(1, m.h-len(m.head(m.w, m.h)))
	if m.w < wide {
		return m.w, h
	}
	_, right, _ := (widget.Columns{Width: m.w, Left: m.w * 55 / 100, Least: 40}).Widths()
	return right, h
}

// scroll is the page in its window.
func (m Model) scroll(w, h int) widget.Scroll {
	s := widget.Scroll{Width: w, Height: h, First: m.first}
	if m.page == nil {
		return s
	}
	var rows []string
	for i, sec := range say.FilmSections(m.page, m.env.Units()) {
		if i > 0 {
			rows = append(rows, "")
		}
		rows = append(rows, widget.Truncate(style.Heading(sec.Title), s.Inner()))
		for i, row := range widget.SectionRows(sec, s.Inner()) {
			paint := style.Value
			if i == 0 && len(sec.Columns) > 0 {
				paint = style.Label
			}
			rows = append(rows, paint(row))
		}
	}
	s.Text = strings.Join(rows, "\n")
	return s.Moved(0)
}

// plot is the growth with its band, and what stands upon it.
func (m Model) plot(w, h int) string {
	p := widget.Plot{X: widget.Axis{Name: "minutes at " + say.Temperature(m.page.Target.Temperature, m.env.Units()) + "   o test sheet   + session"},
		Y: widget.Axis{Name: "average gradient"}, Width: w, Height: h}
	var low, middle, high, aim widget.Curve
	for _, g := range m.page.Curve {
		low.Points = append(low.Points, widget.Point{X: g.Minutes, Y: g.Low})
		middle.Points = append(middle.Points, widget.Point{X: g.Minutes, Y: g.Middle})
		high.Points = append(high.Points, widget.Point{X: g.Minutes, Y: g.High})
		p.Y.To = max(p.Y.To, g.High)
		aim.Points = append(aim.Points, widget.Point{X: g.Minutes, Y: m.page.Target.AverageGradient})
	}
	p.Y.To = math.Ceil(10*p.Y.To) / 10
	middle.Ink, high.Label, low.Label = &style.Strong, "90%", "90%"
	aim.Label = fmt.Sprintf("%.2f", m.page.Target.AverageGradient)
	p.Curves = []widget.Curve{aim, low, high, middle}
	for _, x := range m.page.Points {
		sign := '+'
		if x.Test {
			sign = 'o'
		}
		p.Signs = append(p.Signs, widget.Sign{At: widget.Point{X: x.Minutes, Y: x.Gradient}, Sign: sign, Ink: &style.Strong})
	}
	return p.View()
}
