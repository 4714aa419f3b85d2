package page

// A session's two time lines as SVG, for its HTML page.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
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
	d.line("planned", c.planned, x, 36)
	if end(c.actual) > 0 {
		d.line("actual", c.actual, x, 120)
	}
	if c.mark != "" {
		d.limit(c, x)
	}
	return fmt.Sprintf("<svg class=\"times\" viewBox=\"0 0 %d 204\" role=\"img\" aria-label=\"time line, planned above actual\">\n%s%s</svg>\n",
		int(lineWidth+2*lineMargin), d.bars.String(), d.texts.String())
}

// limit is the mark of the wet limit, with a line through both where it is not beyond them.
func (d *svgTimeline) limit(c scale, x func(sequence.Elapsed) float64) {
	at, mark, anchor := x(c.limit), c.mark, "start"
	if c.beyond {
		at, mark = x(c.span), c.mark+" ▶"
	} else {
		fmt.Fprintf(&d.texts, "<line x1=\"%.1f\" y1=\"8\" x2=\"%.1f\" y2=\"184\"></line>\n", at, at)
	}
	if at > lineWidth/2 {
		anchor = "end"
	}
	d.text(at, 198, anchor, mark)
}

// line draws the steps of one plan from y on: over each its name, whole, and beneath when it begins, both or neither. The
// longest steps are named first.
func (d *svgTimeline) line(name string, p *sequence.Plan, x func(sequence.Elapsed) float64, y float64) {
	d.text(lineMargin, y-22, "start", name)
	last := end(p)
	for i := range p.Steps {
		st, to := &p.Steps[i], last
		if i+1 < len(p.Steps) {
			to = p.Steps[i+1].Start
		}
		title := fmt.Sprintf("%s, %s to %s", say.StepName(st.Name), clock(st.Start), clock(st.End))
		fmt.Fprintf(&d.bars, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"><title>%s</title></rect>\n",
			escapeHTML(string(st.RoomLight)), x(st.Start), y, x(to)-x(st.Start), barHeight, escapeHTML(title))
	}
	var taken [][2]float64
	free := func(from, to float64) bool {
		return !slices.ContainsFunc(taken, func(t [2]float64) bool { return from < t[1] && t[0] < to })
	}
	for _, i := range longestFirst(p) {
		step, begins := say.StepName(p.Steps[i].Name), clock(p.Steps[i].Start)
		from := x(p.Steps[i].Start)
		to := from + letter*float64(max(len([]rune(step)), len(begins))+1)
		if to <= lineMargin*2+lineWidth && free(from, to) {
			taken = append(taken, [2]float64{from, to})
			d.text(from, y-5, "start", step)
			d.text(from, y+barHeight+14, "start", begins)
		}
	}
	if at := x(last); free(at-letter*float64(len(clock(last))), at) {
		d.text(at, y+barHeight+14, "end", clock(last))
	}
}

func (d *svgTimeline) text(x, y float64, anchor, s string) {
	fmt.Fprintf(&d.texts, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", x, y, anchor, escapeHTML(s))
}
