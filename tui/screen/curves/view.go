package curves

// The picture: the answer, the plot, and beside it or on a page of their own the fields and
// the figures.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// The widths and heights from which there is room to spare.
const (
	wide = 100 // plot and figures beside each other
	airy = 14  // a blank row beneath the answer

	leastDensity = 0.5 // that the plot goes up to
)

// View draws the body.
func (m Model) View(w, h int) string {
	rows := m.answer(w, max(1, h/3))
	if h >= airy {
		rows = append(rows, "")
	}
	rest := h - len(rows)
	switch {
	case w >= wide && !m.alone:
		c := widget.Columns{Width: w, Left: w * 58 / 100, Least: 36}
		left, right, _ := c.Widths()
		rows = append(rows, c.Join(m.plot(left, rest), m.side(right, rest)))
	case m.table && w < wide:
		rows = append(rows, m.side(w, rest))
	default:
		rows = append(rows, m.plot(w, rest))
	}
	return strings.Join(rows, "\n")
}

// answer is the developing time, or why there is none, in so many rows at most.
func (m Model) answer(w, most int) (rows []string) {
	f := m.found
	t := f.normal()
	switch {
	case f == nil && m.form.unread() != "":
		return []string{style.Label(widget.Truncate("No developing time: what stands in "+m.form.unread()+" cannot be read.", w))}
	case f == nil:
		return []string{style.Label(widget.Truncate("The developing time is being worked out.", w))}
	case t == nil:
		text := f.fault
		if text == "" {
			text = fmt.Sprintf("No developing time: a gradient of %.2f lies outside tested times.", f.gradient)
		}
		rows = widget.Painted(text, w, style.Heading)
		return rows[:min(len(rows), most)]
	}
	line := style.Heading("Develop "+seconds(t.Time)+" for N") + style.Value(fmt.Sprintf("   %s (%.0f%%)", bounds(t.Low, t.High), 100*t.Confidence))
	if f.one != nil {
		line += style.Value(", from one sheet alone")
	}
	side := f.aimed()
	if i := f.index(); i != nil {
		side = fmt.Sprintf("EI %.0f   ", *i) + side
	}
	if widget.Width(line)+2+len(side) > w {
		side = ""
	}
	rows = []string{widget.Spread(line, style.Label(side), w)}
	if of := f.ofPrint(); of != "" && most > 1 {
		rows = append(rows, style.Value(widget.Truncate(of, w)))
	}
	return rows
}

func seconds(s float64) string { return sequence.FormatElapsed(sequence.Elapsed(s * 1e9)) }

// side is the fields, and beneath them the figures.
func (m Model) side(w, h int) string {
	fields := strings.Split(m.form.View(w, min(h, max(len(m.form.Fields), min(m.formRows(w), h*2/3)))), "\n")
	rest := h - len(fields) - 1
	if rest < 3 {
		return strings.Join(fields, "\n")
	}
	s := widget.Scroll{Width: w, Height: rest}
	s.Text = m.figures(s.Inner())
	return strings.Join(append(fields, "", s.Moved(m.first).View()), "\n")
}

// formRows is how many rows the fields take with what any of them means: the figures do not
// move as the cursor does.
func (m Model) formRows(w int) (n int) {
	f := m.form.Form
	for f.At = range f.Fields {
		n = max(n, len(f.Fields)+1+len(f.Means(w)))
	}
	return n
}

// figuresRows is about how many rows the figures take.
func (m Model) figuresRows() int { return strings.Count(m.figures(72), "\n") - pageRows }

// plot is all curves: that which is nearest to the target bright and last, and the triangle of
// ISO 6:1993 at its speed point.
func (m Model) plot(w, h int) string {
	p := widget.Plot{X: widget.Axis{Name: "relative log exposure"}, Y: widget.Axis{Name: "density", To: leastDensity}, Width: w, Height: h}
	bright := m.found.nearest(m.family)
	for i, c := range m.family.Curves {
		line := c.Interpolant()
		if line == nil {
			continue
		}
		p.Y.To = max(p.Y.To, math.Ceil(line.MaxDensity()*10+1)/10)
		drawn := widget.Curve{Label: m.family.Label(i), Points: points(line)}
		if i == bright && m.found.met == nil {
			drawn.Ink = &style.Strong
		}
		p.Curves = append(p.Curves, drawn)
	}
	p.Curves, p.Signs = m.behind(p.Curves, bright)
	if m.found != nil && m.found.met != nil {
		p.Curves, p.Signs = m.found.chosen(p.Curves, p.Signs)
	}
	p.X.Name += meaning(p.Signs)
	view := p.View()
	if view == "" {
		return style.Label(widget.Truncate("No room for the plot here; tab shows the figures.", w))
	}
	return view
}

// meaning says what the signs on a plot are.
func meaning(signs []widget.Sign) (text string) {
	for _, of := range []struct {
		sign rune
		what string
	}{{'o', "shadow"}, {'x', "highlight"}} {
		if slices.ContainsFunc(signs, func(s widget.Sign) bool { return s.Sign == of.sign }) {
			text += "   " + string(of.sign) + " " + of.what
		}
	}
	return text
}

// behind puts the bright curve last and the triangle first, and marks the speed points.
func (m Model) behind(list []widget.Curve, bright int) (out []widget.Curve, signs []widget.Sign) {
	var last []widget.Curve
	for _, c := range list {
		if c.Ink != nil {
			last = append(last, c)
		} else {
			out = append(out, c)
		}
	}
	out = append(out, last...)
	if m.found == nil {
		return out, nil
	}
	for i, c := range m.found.out.Curves {
		at, ok := c.SpeedReading()
		if !ok {
			continue
		}
		ink := &style.Quiet
		if i == bright && m.found.met == nil {
			ink = &style.Strong
			t := curve.ISOTriangle(at)
			side := widget.Curve{Ink: &style.Rule}
			for k := range 4 {
				side.Points = append(side.Points, widget.Point{X: float64(t[k%3].LogH), Y: float64(t[k%3].Density)})
			}
			out = append([]widget.Curve{side}, out...)
			out, signs = m.paper(out, signs, c)
		}
		signs = append(signs, widget.Sign{At: widget.Point{X: float64(at.LogH), Y: float64(at.Density)}, Sign: 'o', Ink: ink})
	}
	return out, signs
}

// paperRangeAt is the paper's range as an upright line, its name at the upper end.
func paperRangeAt(x, shadows, highlights float64) widget.Curve {
	return widget.Curve{Label: "paper", Ink: &style.Strong, Points: []widget.Point{{X: x, Y: shadows}, {X: x, Y: highlights}}}
}

// paper marks where the highlight of the print stands on the chosen curve, and draws the paper's range beside the density
// axis: from the shadow at the speed point up to there.
func (m Model) paper(list []widget.Curve, signs []widget.Sign, c curve.Result) ([]widget.Curve, []widget.Sign) {
	shadows, highlights := m.found.wanted.AimDensities(c.BaseFog)
	drawn := points(c.Curve)
	if m.found.wanted.Paper == 0 || len(drawn) == 0 {
		return list, signs
	}
	list = append([]widget.Curve{paperRangeAt(drawn[0].X, float64(shadows), float64(highlights))}, list...)
	for _, p := range drawn {
		if p.Y >= float64(highlights) {
			return list, append(signs, widget.Sign{At: p, Sign: 'x', Ink: &style.Strong})
		}
	}
	return list, signs
}

// points are a curve's, close enough for any window.
func points(c *curve.Interpolant) (list []widget.Point) {
	for _, x := range c.Drawn(160) {
		list = append(list, widget.Point{X: float64(x.LogH), Y: float64(x.Density)})
	}
	return list
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Curves", Right: "readings " + m.name, Typing: m.form.Typing(), Help: help()}
	if m.readings.Film != "" {
		a.Title += ": " + m.readings.Film
	}
	if m.form.Typing() {
		a.Foot = []key.Binding{widget.Bind("enter", "take it"), widget.Bind("esc", "leave it as it was")}
		return a
	}
	a.Foot = []key.Binding{widget.Bind("w", "write recipe"), widget.Bind("tab", "plot or figures"), widget.Bind("enter", "change"), widget.Bind("esc", "back"), widget.Bind("↑↓", "fields")}
	if m.written != "" {
		a.Foot = []key.Binding{widget.Bind("p", "plan it"), a.Foot[0], a.Foot[2], a.Foot[3], a.Foot[1], a.Foot[4]}
	}
	return a
}

func help() widget.Help {
	return widget.Help{
		About:  "At the top stands the developing time for your aim, and the interval in which it lies nine times of ten, whatever session comes next. Beneath are the curves of the sheets. The bright one is the curve at that time; for an average gradient, that of the sheet nearest to it. o marks the shadow, x the highlight, and the upright line at the left is the paper's range between the two. The triangle is that of ISO 6:1993: 1.30 of log H on, 0.80 up. A home test gives a speed by ISO arithmetic, never an ISO speed.",
		Guides: []string{"curves", "print"},
		Groups: []widget.KeyGroup{
			{Purpose: "What is aimed at", Keys: []key.Binding{widget.Bind("↑↓", "from field to field"), widget.Bind("←→", "another choice: the first field chooses gradient, contrast index or print"), widget.Bind("enter", "type a value, then take it")}},
			{Purpose: "The recipe", Keys: []key.Binding{widget.Bind("w", "write a recipe of your own with the times found"), widget.Bind("p", "plan the recipe that was written")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("tab", "plot or figures; in a wide window the plot alone"), widget.Bind("pgup pgdn", "read the figures on")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back; the readings stay as they are"), widget.Bind("q", "leave wetside")}},
		},
	}
}
