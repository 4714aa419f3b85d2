package page

// A session's two time lines as SVG, for its HTML page.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/timeline"
)

// svgTimeline is both time lines as they are drawn, in units of the picture: texts over the bars.
type svgTimeline struct {
	scale       timeline.Timeline
	bars, texts strings.Builder
}

// The measures of the picture.
const (
	lineWidth  = 960.0
	lineMargin = 20.0
	barHeight  = 26.0
	letter     = 6.5 // about as wide as one is at 12 units
)

// drawing is planned above actual; "" where there is nothing to draw.
func (s *SessionPage) drawing() string {
	planned, actual, scale := s.timelines()
	if scale.End() <= 0 {
		return ""
	}
	d := &svgTimeline{scale: scale}
	d.line("planned", planned, 36)
	if actual.End() > 0 {
		d.line("actual", actual, 120)
	}
	d.limit()
	return fmt.Sprintf("<svg class=\"times\" viewBox=\"0 0 %d 204\" role=\"img\" aria-label=\"time line, planned above actual\">\n%s%s</svg>\n",
		int(lineWidth+2*lineMargin), d.bars.String(), d.texts.String())
}

// x is where a moment lies.
func (d *svgTimeline) x(t sequence.Elapsed) float64 { return lineMargin + d.scale.At(t, lineWidth) }

// limit is the mark of the wet limit, with a line through both where it is not beyond them.
func (d *svgTimeline) limit() {
	mark, anchor := limitMark(d.scale), "start"
	if mark == "" {
		return
	}
	at := d.x(*d.scale.Limit)
	if _, beyond := d.scale.Span(); beyond {
		mark += " ▶"
	} else {
		fmt.Fprintf(&d.texts, "<line x1=\"%.1f\" y1=\"8\" x2=\"%.1f\" y2=\"184\"></line>\n", at, at)
	}
	if at > lineWidth/2 {
		anchor = "end"
	}
	d.text(at, 198, anchor, mark)
}

// line draws the steps from y on: over each its name, whole, and beneath when it begins, both or neither.
func (d *svgTimeline) line(name string, l timeline.Timeline, y float64) {
	d.text(lineMargin, y-22, "start", name)
	for _, s := range l.Segments {
		title := fmt.Sprintf("%s, %s to %s", say.StepName(s.Name), clock(s.From), clock(s.To))
		fmt.Fprintf(&d.bars, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"><title>%s</title></rect>\n",
			escapeHTML(string(cmp.Or(s.Light, sequence.Dark))), d.x(s.From), y, d.x(s.To)-d.x(s.From), barHeight, escapeHTML(title))
	}
	named := labelsOf(l, letter, lineMargin*2+lineWidth, d.x)
	for _, b := range named {
		s := l.Segments[b.Segment]
		d.text(d.x(s.From), y-5, "start", say.StepName(s.Name))
		d.text(d.x(s.From), y+barHeight+14, "start", clock(s.From))
	}
	end := clock(l.End())
	from := d.x(l.End()) - letter*float64(len(end)+1)
	if !slices.ContainsFunc(named, func(b timeline.Label) bool {
		return d.x(l.Segments[b.Segment].From)+letter*float64(len(clock(l.Segments[b.Segment].From))) > from
	}) {
		d.text(d.x(l.End()), y+barHeight+14, "end", end)
	}
}

func (d *svgTimeline) text(x, y float64, anchor, s string) {
	fmt.Fprintf(&d.texts, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", x, y, anchor, escapeHTML(s))
}
