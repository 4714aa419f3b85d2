package scan

// The picture of the picture: its cells with the strips outlined, which strips there are, and the
// light along the chosen one.

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/chem"
	"example.org/wetside/chem/scan"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// besideWidth is what stands beside the picture, in columns at least.
const besideWidth = 32

// View draws the body.
func (m Model) View(w, h int) string {
	if m.picture == nil {
		if m.busy != "" {
			return strings.Join(widget.Painted(m.busy, w, style.Value), "\n")
		}
		return m.form.View(w, h)
	}
	c := widget.Columns{Width: w, Left: w - max(besideWidth, w*4/10) - 4, Least: besideWidth}
	lw, rw, beside := c.Widths()
	if !beside {
		p := m.drawn(w, h/2, m.env.Depth)
		rows := strings.Count(p, "\n") + 1
		return p + "\n" + strings.Join(m.beside(w, h-rows), "\n")
	}
	return c.Join(m.drawn(lw, h, m.env.Depth), strings.Join(m.beside(rw, h), "\n"))
}

// drawn is the picture with its outlines.
func (l look) drawn(w, h int, depth widget.Depth) string {
	p := widget.Picture{W: l.small.W, H: l.small.H, Pix: l.small.Pix, Depth: depth, Width: w, Height: h}
	scale := float64(l.small.W) / float64(l.picture.Width)
	for i := range l.marks {
		if i != l.at {
			p.Lines = append(p.Lines, l.outline(i, scale)...)
		}
	}
	p.Lines = append(p.Lines, l.outline(l.at, scale)...)
	return p.View()
}

// outline is a strip's edge, the chosen one's whole and with its steps, and crosses on doubtful steps.
func (l look) outline(i int, scale float64) (lines []widget.PictureLine) {
	s := l.marks[i].at
	length := math.Hypot(s.X2-s.X1, s.Y2-s.Y1)
	ux, uy := (s.X2-s.X1)/length, (s.Y2-s.Y1)/length
	colour, dotted := style.InkMark, true
	if i == l.at {
		colour, dotted = style.NowMark, false
	}
	at := func(along, across float64) (x, y float64) {
		return (s.X1 + along*ux - across*uy) * scale, (s.Y1 + along*uy + across*ux) * scale
	}
	line := func(a1, c1, a2, c2 float64, colour [3]uint8, dotted bool) {
		x1, y1 := at(a1, c1)
		x2, y2 := at(a2, c2)
		lines = append(lines, widget.PictureLine{X1: x1, Y1: y1, X2: x2, Y2: y2, Colour: colour, Dotted: dotted})
	}
	half := s.Across / 2
	line(0, -half, length, -half, colour, dotted)
	line(0, half, length, half, colour, dotted)
	line(0, -half, 0, half, colour, dotted)
	line(length, -half, length, half, colour, dotted)
	for k := 1; k < s.Steps && i == l.at && s.Pitch()*scale >= leastShownStep; k++ {
		a := float64(k) * s.Pitch()
		line(a, -half, a, -half*(1-tick), colour, false)
		line(a, half, a, half*(1-tick), colour, false)
	}
	if i == l.at && l.part != whole { // the end that the arrows move is drawn thick
		for _, off := range []float64{0.25, 0.5} {
			a := off * s.Pitch()
			if l.part == lastEnd {
				a = length - a
			}
			line(a, -half, a, half, colour, false)
		}
	}
	if l.isRead(i) {
		for _, p := range l.result.Strips[i-1].Patches {
			if p.Doubt[l.channel] == scan.Spotted {
				r := 0.3 * s.Pitch()
				lines = append(lines, widget.PictureLine{X1: (p.X - r) * scale, Y1: (p.Y - r) * scale, X2: (p.X + r) * scale, Y2: (p.Y + r) * scale, Colour: style.CareMark, Sign: doubtSign},
					widget.PictureLine{X1: (p.X - r) * scale, Y1: (p.Y + r) * scale, X2: (p.X + r) * scale, Y2: (p.Y - r) * scale, Colour: style.CareMark, Sign: doubtSign})
			}
		}
	}
	return lines
}

// doubtSign is what the cross on a doubtful step is made of, in characters and along the strip.
const doubtSign = '!'

// leastShownStep is from how many pixels of the small picture on the steps are drawn.
const leastShownStep = 6

// tick is how far a mark between two steps reaches inwards, of half the strip.
const tick = 0.4

// beside is the strips, what is wrong or asked, and the profile.
func (m Model) beside(w, h int) []string {
	rows := []string{style.Label(widget.Truncate(safetext.Clean(m.of.Name), w))}
	for i := range m.marks {
		row := widget.Truncate("  "+m.row(i, w-2), w)
		if i == m.at {
			row = widget.Chosen(row, w)
		}
		rows = append(rows, row)
	}
	if m.typing != nil {
		rows = append(rows, "", widget.Chosen("  "+m.typing.Faulted("").View(w-2), w))
		if m.typing.Fault != "" {
			rows = append(rows, widget.Painted(m.typing.Fault, w, style.Heading)...)
		}
	}
	switch k := m.doubtful(m.at); {
	case m.fault != "":
		rows = append(append(rows, ""), widget.Painted(say.Sentence(m.fault), w, style.Heading)...)
	case m.result == nil:
		rows = append(rows, "", style.Label(m.busy))
	case k >= 0:
		p := m.result.Strips[m.at-1].Patches[k]
		rows = append(append(rows, ""), widget.Painted(fmt.Sprintf("Step %d, %.2f: dust, a scratch or an edge in it. k keeps it, x leaves it out.", k+1, p.Density[m.channel]), w, style.Heading)...)
	default:
		rows = append(append(append(rows, ""), m.sheet()...), m.told(w)...)
	}
	rows = rows[:min(len(rows), h)]
	if room := h - len(rows) - 1; room >= 6 && m.result != nil {
		rows = append(rows, "")
		rows = append(rows, strings.Split(m.profile(w, room), "\n")...)
	}
	return rows
}

// row is one of the marks in words, with its densities where there is room for them.
func (l look) row(i, w int) string {
	if i == 0 {
		return style.Value("tablet") + style.Label(fmt.Sprintf("   %d steps", len(l.tablet)))
	}
	s := style.Value(fmt.Sprintf("strip %d  ", i))
	if t := l.marks[i].time; t > 0 {
		s += style.Value(chem.FormatDuration(t))
	} else {
		s += style.Label("no time yet")
	}
	if l.marks[i].at.Unsure {
		s += "  " + style.Care.Render("a step off?")
	}
	if !l.isRead(i) {
		return s
	}
	open, none := 0, 0
	for k, p := range l.result.Strips[i-1].Patches {
		if l.isDoubtful(i, k) {
			open++
		} else if !p.Known(l.channel) {
			none++
		}
	}
	switch {
	case open > 0:
		s += "  " + style.Care.Render(fmt.Sprintf("%d asked about", open))
	case none > 0:
		s += "  " + style.Label(fmt.Sprintf("%d without density", none))
	}
	if d := l.densities(i); d != "" && ansi.StringWidth(s)+3+ansi.StringWidth(d) <= w {
		s += strings.Repeat(" ", max(3, densitiesAt-ansi.StringWidth(s))) + style.Value(d)
	}
	return s
}

// densitiesAt is the column from which a strip's densities stand in its row.
const densitiesAt = 22

// densities is from which to which a strip's go, with the largest of their standard errors; "" where there
// are none.
func (l look) densities(i int) string {
	worst, low, high := 0.0, math.Inf(1), math.Inf(-1)
	for _, p := range l.result.Strips[i-1].Patches {
		if p.Known(l.channel) {
			worst, low, high = max(worst, p.Error[l.channel]), min(low, p.Density[l.channel]), max(high, p.Density[l.channel])
		}
	}
	if high < low {
		return ""
	}
	return fmt.Sprintf("%.2f to %.2f, ±%.3f", low, high, max(worst, 0.001))
}

// sheet is which one of the session the chosen strip is, and how long that was developed.
func (m Model) sheet() []string {
	session, sheets, err := m.developed()
	if err != nil || session == "" || !m.isRead(m.at) {
		return nil
	}
	one := sheets[m.at-1]
	return []string{style.Label("developed  ") + style.Value(fmt.Sprintf("sheet %d, %s", one.Sheet, sequence.FormatElapsed(one.Actual)))}
}

// told is what should be known before the densities are believed: of the picture for the tablet, else of
// the chosen strip.
func (l look) told(w int) (rows []string) {
	if !l.isRead(l.at) {
		for _, note := range say.ScanNotes(l.result, l.channel, l.flat != nil) {
			rows = append(rows, widget.Painted(note, w, style.Label)...)
		}
		return rows
	}
	s := l.result.Strips[l.at-1]
	if s.Base != nil && s.Base.Known(l.channel) {
		rows = append(rows, style.Label("base plus fog  ")+style.Value(fmt.Sprintf("%.2f", s.Base.Density[l.channel])))
	}
	if d := l.densities(l.at); d != "" {
		span, worst, _ := strings.Cut(d, ", ")
		rows = append(rows, style.Label("densities  ")+style.Value(span), style.Label("standard error  ")+style.Value(worst)+style.Label(" or less"))
	}
	return rows
}

// profile is the light along the chosen strip, with what was read of its steps.
func (l look) profile(w, h int) string {
	if l.at >= len(l.along) {
		return ""
	}
	q := widget.Plot{Width: w, Height: h, X: widget.Axis{Name: "step   + density read", From: 0, To: float64(len(l.tablet) + 1)}, Y: widget.Axis{Name: "density"}}
	line := widget.Curve{Ink: &style.Ink}
	for i, d := range l.along[l.at] {
		if !math.IsNaN(d) {
			line.Points = append(line.Points, widget.Point{X: (float64(i)+0.5)/placesAlong - 0.5, Y: d})
			q.Y.To = max(q.Y.To, math.Ceil(d*2)/2)
		}
	}
	q.Curves = []widget.Curve{line}
	patches := l.result.Tablet
	if l.at > 0 {
		patches = l.result.Strips[l.at-1].Patches
	}
	for _, p := range patches {
		if p.Known(l.channel) {
			sign, ink := '+', &style.Now
			if p.Doubt[l.channel] == scan.Spotted {
				sign, ink = doubtSign, &style.Care
			}
			q.Signs = append(q.Signs, widget.Sign{At: widget.Point{X: float64(p.Step), Y: p.Density[l.channel]}, Sign: sign, Ink: ink})
		}
	}
	return q.View()
}

// About is what stands around it.
func (m Model) About() screen.About {
	a := screen.About{Title: "Densities off a picture", Typing: m.typing != nil || m.picture == nil && m.form.Typing()}
	if m.picture == nil {
		a.Foot = []key.Binding{widget.Bind("↑↓", "field"), widget.Bind("←→", "choose"), widget.Bind("enter", "type, at last read"), widget.Bind("esc", "back")}
		a.Help = help("Which picture is read, and with which tablet.", widget.KeyGroup{Purpose: "The form", Keys: []key.Binding{widget.Bind("↑↓ tab", "from field to field"),
			widget.Bind("←→", "another picture, tablet or channel"), widget.Bind("enter", "type in a field; at Read the picture, read it")}})
		return a
	}
	a.Right = []string{"arrows move the strip", "arrows move its first end", "arrows move its last end"}[m.part]
	a.Foot = []key.Binding{widget.Bind("enter", "keep"), widget.Bind("tab", "next strip"), widget.Bind("←→↑↓", "move"), widget.Bind("e", "one end"), widget.Bind("t", "time"), widget.Bind("esc", "back")}
	if m.typing != nil {
		a.Foot = []key.Binding{widget.Bind("enter", "take it"), widget.Bind("esc", "as it was")}
	} else if m.doubtful(m.at) >= 0 {
		a.Foot = append([]key.Binding{widget.Bind("k", "keep the step"), widget.Bind("x", "leave it out")}, a.Foot[:4]...)
	}
	a.Help = help("The strips that were found, outlined: the chosen one whole, the others dotted; the line beside is the light along it, + what was read. Where an outline lies wrong, move it: all is read anew.",
		widget.KeyGroup{Purpose: "Strips", Keys: []key.Binding{widget.Bind("tab", "the next strip, then the tablet"), widget.Bind("←→↑↓", "move it"), widget.Bind("e", "move all of it, its first end, its last end"),
			widget.Bind("n", "one more strip"), widget.Bind("d", "leave this strip out")}},
		widget.KeyGroup{Purpose: "Readings", Keys: []key.Binding{widget.Bind("t", "how long it was developed"), widget.Bind("k x", "keep a doubtful step, or leave it out"), widget.Bind("enter", "keep the readings")}})
	return a
}

func help(about string, groups ...widget.KeyGroup) widget.Help {
	return widget.Help{About: about, Guides: []string{"scan"}, Groups: append(groups, widget.KeyGroup{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "one level back; nothing is kept"), widget.Bind("q", "leave wetside")}})}
}
