package page

// A session as one HTML file that needs no other: to keep, to print. Everything
// that a person or a recipe wrote is escaped.

import (
	"fmt"
	"html"
	"strings"
	"unicode"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/widget"
)

// SessionHTML is the session as a file.
func SessionHTML(s *SessionPage) string {
	head := s.head()
	view := htmlPage{Title: head[0], Head: head[1:], Sections: s.sections(), Curves: s.Curves}
	if s.Plan != nil {
		view.Steps, view.Drawing = s.steps(), s.drawing()
	}
	b := &strings.Builder{}
	view.write(b)
	return strings.Map(printableRune, b.String())
}

// printableRune replaces what neither a printer nor a reader can see: control and
// format characters. The file's own text has none but newlines.
func printableRune(r rune) rune {
	if r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) {
		return unicode.ReplacementChar
	}
	return r
}

// htmlPage is what the file shows.
type htmlPage struct {
	Title    string
	Head     []string
	Steps    []stepRow
	Drawing  *svgTimeline
	Sections []section
	Curves   []CurveFamily
}

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
			Title: fmt.Sprintf("%s, %s to %s", st.Name, clock(st.Start), clock(st.End))})
		if n := int(width / letter); n > 3 {
			d.Texts = append(d.Texts, label{X: from + 4, Y: y + 17, Anchor: "start", Text: widget.Truncate(st.Name, n-1)})
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

// style is the file's own; no other file is needed.
const style = `body { font: 15px/1.45 sans-serif; color: #111; background: #fff; max-width: 62em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.4em; margin: 0 0 .3em; }
h2 { font-size: 1.05em; margin: 1.4em 0 .3em; }
p { margin: 0; overflow-wrap: anywhere; }
table { border-collapse: collapse; margin-top: 1em; font-variant-numeric: tabular-nums; }
th, td { text-align: right; padding: .15em .6em; border-bottom: 1px solid #bbb; font-weight: normal; }
th { vertical-align: bottom; }
th:first-child, td:first-child { text-align: left; padding-left: 0; }
ul { margin: 0; padding-left: 1.2em; }
li { overflow-wrap: anywhere; white-space: pre-wrap; }
svg { max-width: 100%; height: auto; margin-top: 1em; }
svg.times { width: 100%; }
svg.times text { font: 12px sans-serif; fill: #111; }
svg.times rect { stroke: #111; stroke-width: 1; fill: #fff; }
svg.times rect.dark { fill: #bbb; }
svg.times rect.safelight { fill: #e4e4e4; }
svg.times line { stroke: #111; stroke-width: 1.5; stroke-dasharray: 5 3; }
@media print {
  body { margin: 0; max-width: none; font-size: 10pt; }
  h2, svg, tr, li { break-inside: avoid; }
  h2 { break-after: avoid; }
  svg.times rect { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`

// write puts the sheet into HTML. A template library would cost the program four
// megabytes; what people wrote passes through esc, all else is ours.
func (v htmlPage) write(b *strings.Builder) {
	fmt.Fprintf(b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width\">\n<title>%s</title>\n<style>\n%s</style>\n</head>\n<body>\n<h1>%s</h1>\n",
		escapeHTML(v.Title), style, escapeHTML(v.Title))
	for _, line := range v.Head {
		fmt.Fprintf(b, "<p>%s</p>\n", escapeHTML(line))
	}
	if v.Drawing != nil {
		v.Drawing.write(b)
	}
	if len(v.Steps) > 0 {
		writeSteps(b, v.Steps)
	}
	for _, sec := range v.Sections {
		fmt.Fprintf(b, "<h2>%s</h2>\n<ul>\n", escapeHTML(sec.Title))
		for _, line := range sec.Lines {
			fmt.Fprintf(b, "<li>%s</li>\n", escapeHTML(line))
		}
		b.WriteString("</ul>\n")
		if sec.Title == densities {
			for _, c := range v.Curves {
				c.write(b)
			}
		}
	}
	b.WriteString("</body>\n</html>\n")
}

// write puts the picture of the curves into the page, as it is drawn for a file but for
// the line that only a file begins with.
func (c CurveFamily) write(b *strings.Builder) {
	drawn := &strings.Builder{}
	if err := Curves(drawn, c.Family, c.Results); err != nil {
		return // it has been told in the section that there are readings
	}
	text := drawn.String()
	b.WriteString(text[max(0, strings.Index(text, "<svg")):])
}

// escapeHTML makes a text safe inside an element and inside a quoted attribute.
func escapeHTML(s string) string { return html.EscapeString(s) }

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

func writeSteps(b *strings.Builder, rows []stepRow) {
	b.WriteString("<table>\n<tr><th>step</th><th>start,<br>planned</th><th>start</th><th>first out</th><th>last out</th>" +
		"<th>last out,<br>planned</th><th>given</th><th>planned</th><th>developed</th></tr>\n")
	for _, r := range rows {
		b.WriteString("<tr>")
		for _, cell := range []string{r.Name, r.PlannedStart, r.Start, r.FirstOut, r.LastOut, r.PlannedEnd, r.Given, r.Planned, r.Developed} {
			fmt.Fprintf(b, "<td>%s</td>", escapeHTML(cell))
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</table>\n")
}
