package page

// A session's two time lines as SVG, for its HTML page.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// svgTimeline is both time lines as they are drawn, in units of the picture: texts over the bars.
type svgTimeline struct{ bars, texts strings.Builder }

// The measures of the picture.
const (
	lineWidth  = 960.0
	lineMargin = 20.0
	barHeight  = 26.0
	letter     = 6.5 // about as wide as one is at 12 units
)

// drawing is planned above actual; "" where there is nothing to draw.
func (s *SessionPage) drawing() string {
	c := s.timelineScale()
	if c.span <= 0 {
		return ""
	}
	d := &svgTimeline{}
	x := func(t sequence.Elapsed) float64 { return lineMargin + lineWidth*float64(t)/float64(c.span) }
	d.line("planned", c.planned, x, 22)
	if end(c.actual) > 0 {
		d.line("actual", c.actual, x, 96)
	}
	if c.mark != "" {
		d.limit(c, x)
	}
	return fmt.Sprintf("<svg class=\"times\" viewBox=\"0 0 %d 190\" role=\"img\" aria-label=\"time line, planned above actual\">\n%s%s</svg>\n",
		int(lineWidth+2*lineMargin), d.bars.String(), d.texts.String())
}

// limit is the mark of the wet limit, with a line through both where it is not beyond them.
func (d *svgTimeline) limit(c scale, x func(sequence.Elapsed) float64) {
	at, mark, anchor := x(c.limit), c.mark, "start"
	if c.beyond {
		at, mark = x(c.span), c.mark+" ▶"
	} else {
		fmt.Fprintf(&d.texts, "<line x1=\"%.1f\" y1=\"8\" x2=\"%.1f\" y2=\"170\"></line>\n", at, at)
	}
	if at > lineWidth/2 {
		anchor = "end"
	}
	d.text(at, 184, anchor, mark)
}

// line draws the steps of one plan from y on.
func (d *svgTimeline) line(name string, p *sequence.Plan, x func(sequence.Elapsed) float64, y float64) {
	d.text(lineMargin, y-6, "start", name)
	last, free := end(p), 0.0
	for i := range p.Steps {
		st, to := &p.Steps[i], last
		if i+1 < len(p.Steps) {
			to = p.Steps[i+1].Start
		}
		from, width := x(st.Start), x(to)-x(st.Start)
		title := fmt.Sprintf("%s, %s to %s", say.StepName(st.Name), clock(st.Start), clock(st.End))
		fmt.Fprintf(&d.bars, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"><title>%s</title></rect>\n",
			escapeHTML(string(st.RoomLight)), from, y, width, barHeight, escapeHTML(title))
		if n := int(width / letter); n > 3 {
			d.text(from+4, y+17, "start", widget.Truncate(say.StepName(st.Name), n-1))
		}
		if from >= free {
			d.text(from, y+barHeight+14, "start", clock(st.Start))
			free = from + letter*float64(len(clock(st.Start))+2)
		}
	}
	if at := x(last) - letter*float64(len(clock(last))); at >= free {
		d.text(x(last), y+barHeight+14, "end", clock(last))
	}
}

func (d *svgTimeline) text(x, y float64, anchor, s string) {
	fmt.Fprintf(&d.texts, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", x, y, anchor, escapeHTML(s))
}
