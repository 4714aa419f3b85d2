package page

// A session as one HTML file that needs no other: to keep, to print. Everything
// that a person or a recipe wrote is escaped by html/template.

import (
	"fmt"
	"html/template"
	"strings"
	"unicode"

	"example.org/wetside/sequence"
)

// SessionHTML is the session as a file.
func SessionHTML(s *Session) (string, error) {
	head := s.head()
	view := sheet{Title: head[0], Head: head[1:], Sections: s.sections()}
	if s.Plan != nil {
		view.Steps, view.Drawing = s.steps(), s.drawing()
	}
	b := &strings.Builder{}
	if err := sheetTemplate.Execute(b, view); err != nil {
		return "", fmt.Errorf("session as HTML: %w", err)
	}
	return strings.Map(visible, b.String()), nil
}

// visible replaces what neither a printer nor a reader can see: control and
// format characters. The file's own text has none but newlines.
func visible(r rune) rune {
	if r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) {
		return unicode.ReplacementChar
	}
	return r
}

// sheet is what the template shows.
type sheet struct {
	Title    string
	Head     []string
	Steps    []stepRow
	Drawing  *drawing
	Sections []section
}

// drawing is both time lines in units of the picture.
type drawing struct {
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
func (s *Session) drawing() *drawing {
	c := s.scaled()
	if c.span <= 0 {
		return nil
	}
	d := &drawing{Width: lineWidth + 2*lineMargin, Height: 190}
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
func (d *drawing) line(name string, p *sequence.Plan, x func(sequence.Elapsed) float64, y float64) {
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
			d.Texts = append(d.Texts, label{X: from + 4, Y: y + 17, Anchor: "start", Text: cut(st.Name, n-1)})
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

var sheetTemplate = template.Must(template.New("session").Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{{.Title}}</title>
<style>
body { font: 15px/1.45 sans-serif; color: #111; background: #fff; max-width: 62em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.4em; margin: 0 0 .3em; }
h2 { font-size: 1.05em; margin: 1.4em 0 .3em; }
p { margin: 0; overflow-wrap: anywhere; }
table { border-collapse: collapse; margin-top: 1em; font-variant-numeric: tabular-nums; }
th, td { text-align: right; padding: .15em .6em; border-bottom: 1px solid #bbb; font-weight: normal; }
th { vertical-align: bottom; }
th:first-child, td:first-child { text-align: left; padding-left: 0; }
ul { margin: 0; padding-left: 1.2em; }
li { overflow-wrap: anywhere; white-space: pre-wrap; }
svg { width: 100%; height: auto; margin-top: 1em; }
svg text { font: 12px sans-serif; fill: #111; }
rect { stroke: #111; stroke-width: 1; fill: #fff; }
rect.dark { fill: #bbb; }
rect.safelight { fill: #e4e4e4; }
line { stroke: #111; stroke-width: 1.5; stroke-dasharray: 5 3; }
@media print {
  body { margin: 0; max-width: none; font-size: 10pt; }
  h2, svg, tr, li { break-inside: avoid; }
  h2 { break-after: avoid; }
  rect { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
</style>
</head>
<body>
<h1>{{.Title}}</h1>
{{range .Head}}<p>{{.}}</p>
{{end}}{{with .Drawing}}<svg viewBox="0 0 {{.Width}} {{.Height}}" role="img" aria-label="time line, planned above actual">
{{range .Bars}}<rect class="{{.Light}}" x="{{printf "%.1f" .X}}" y="{{printf "%.1f" .Y}}" width="{{printf "%.1f" .Width}}" height="{{printf "%.1f" .Height}}"><title>{{.Title}}</title></rect>
{{end}}{{range .Texts}}<text x="{{printf "%.1f" .X}}" y="{{printf "%.1f" .Y}}" text-anchor="{{.Anchor}}">{{.Text}}</text>
{{end}}{{if .On}}<line x1="{{printf "%.1f" .Limit.X}}" y1="8" x2="{{printf "%.1f" .Limit.X}}" y2="170"></line>
{{end}}{{with .Limit}}<text x="{{printf "%.1f" .X}}" y="{{printf "%.1f" .Y}}" text-anchor="{{.Anchor}}">{{.Text}}</text>
{{end}}</svg>
{{end}}{{if .Steps}}<table>
<tr><th>step</th><th>start,<br>planned</th><th>start</th><th>first out</th><th>last out</th><th>last out,<br>planned</th><th>given</th><th>planned</th><th>developed</th></tr>
{{range .Steps}}<tr><td>{{.Name}}</td><td>{{.PlannedStart}}</td><td>{{.Start}}</td><td>{{.FirstOut}}</td><td>{{.LastOut}}</td><td>{{.PlannedEnd}}</td><td>{{.Given}}</td><td>{{.Planned}}</td><td>{{.Developed}}</td></tr>
{{end}}</table>
{{end}}{{range .Sections}}<h2>{{.Title}}</h2>
<ul>
{{range .Lines}}<li>{{.}}</li>
{{end}}</ul>
{{end}}</body>
</html>
`))
