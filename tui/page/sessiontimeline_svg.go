package page

// A session's two time lines as SVG, for its HTML page.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// svgTimeline is both time lines in units of the picture.
type svgTimeline struct {
	Width, Height int
	Bars          []bar
	Texts         []label
	Limit         *label // the mark of the wet limit; nil where none is known
	On            bool   // the limit is on the picture, not beyond it
}

type bar struct {
	X, Y, Width, Height float64
	Light               string
	Title               string
}

type label struct {
	X, Y   float64
	Anchor string
	Text   string
}

// The measures of the picture.
const (
	lineWidth  = 960.0
	lineMargin = 20.0
	barHeight  = 26.0
	letter     = 6.5 // about as wide as one is at 12 units
)

// drawing lays out planned above actual; nil where there is nothing to draw.
func (s *SessionPage) drawing() *svgTimeline {
	c := s.timelineScale()
	if c.span <= 0 {
		return nil
	}
	d := &svgTimeline{Width: lineWidth + 2*lineMargin, Height: 190}
	x := func(t sequence.Elapsed) float64 { return lineMargin + lineWidth*float64(t)/float64(c.span) }
	d.line("planned", c.planned, x, 22)
	if end(c.actual) > 0 {
		d.line("actual", c.actual, x, 96)
	}
	if c.mark != "" {
		at, anchor := c.limit, "start"
		if c.beyond {
			at = c.span
		}
		if x(at) > lineWidth/2 {
			anchor = "end"
		}
		text := c.mark
		if c.beyond {
			text += " ▶"
		}
		d.On = !c.beyond
		d.Limit = &label{X: x(at), Y: 184, Anchor: anchor, Text: text}
	}
	return d
}

// line draws the steps of one plan from y on.
func (d *svgTimeline) line(name string, p *sequence.Plan, x func(sequence.Elapsed) float64, y float64) {
	d.Texts = append(d.Texts, label{X: lineMargin, Y: y - 6, Anchor: "start", Text: name})
	last, free := end(p), 0.0
	for i := range p.Steps {
		st, to := &p.Steps[i], last
		if i+1 < len(p.Steps) {
			to = p.Steps[i+1].Start
		}
		from, width := x(st.Start), x(to)-x(st.Start)
		d.Bars = append(d.Bars, bar{X: from, Y: y, Width: width, Height: barHeight, Light: string(st.RoomLight),
			Title: fmt.Sprintf("%s, %s to %s", say.StepName(st.Name), clock(st.Start), clock(st.End))})
		if n := int(width / letter); n > 3 {
			d.Texts = append(d.Texts, label{X: from + 4, Y: y + 17, Anchor: "start", Text: widget.Truncate(say.StepName(st.Name), n-1)})
		}
		if from >= free {
			d.Texts = append(d.Texts, label{X: from, Y: y + barHeight + 14, Anchor: "start", Text: clock(st.Start)})
			free = from + letter*float64(len(clock(st.Start))+2)
		}
	}
	if at := x(last) - letter*float64(len(clock(last))); at >= free {
		d.Texts = append(d.Texts, label{X: x(last), Y: y + barHeight + 14, Anchor: "end", Text: clock(last)})
	}
}

func (d *svgTimeline) write(b *strings.Builder) {
	fmt.Fprintf(b, "<svg class=\"times\" viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"time line, planned above actual\">\n", d.Width, d.Height)
	for _, r := range d.Bars {
		fmt.Fprintf(b, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"><title>%s</title></rect>\n",
			escapeHTML(r.Light), r.X, r.Y, r.Width, r.Height, escapeHTML(r.Title))
	}
	for _, t := range d.Texts {
		t.write(b)
	}
	if d.On {
		fmt.Fprintf(b, "<line x1=\"%.1f\" y1=\"8\" x2=\"%.1f\" y2=\"170\"></line>\n", d.Limit.X, d.Limit.X)
	}
	if d.Limit != nil {
		d.Limit.write(b)
	}
	b.WriteString("</svg>\n")
}

func (t label) write(b *strings.Builder) {
	fmt.Fprintf(b, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", t.X, t.Y, t.Anchor, escapeHTML(t.Text))
}
