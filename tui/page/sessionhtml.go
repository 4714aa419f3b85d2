package page

// A session as one HTML file that needs no other: to keep, to print. Everything
// that a person or a recipe wrote is escaped.

import (
	"fmt"
	"html"
	"slices"
	"strings"
	"unicode"

	"example.org/wetside/tui/say"
)

// SessionHTML is the session as a file.
func SessionHTML(s *SessionPage) string {
	head := s.head()
	view := htmlPage{Title: head[0], Head: head[1:], Sections: s.sections(), Curves: s.Curves}
	if s.Plan != nil {
		view.Steps, view.Picture = s.steps(), s.drawing()
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
	Picture  string // as SVG; "" for none
	Steps    []stepRow
	Sections []say.Section
	Curves   []CurveFamily
}

// style is the file's own; no other file is needed.
const style = `body { font: 15px/1.45 sans-serif; color: #111; background: #fff; max-width: 62em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.4em; margin: 0 0 .3em; }
h2 { font-size: 1.05em; margin: 1.4em 0 .3em; }
p { margin: 0; overflow-wrap: anywhere; }
p.answer { font-weight: bold; margin-bottom: .3em; }
table { border-collapse: collapse; margin-top: 1em; font-variant-numeric: tabular-nums; }
th, td { text-align: right; padding: .15em .6em; border-bottom: 1px solid #bbb; font-weight: normal; }
th { vertical-align: bottom; }
th:first-child, td:first-child { text-align: left; padding-left: 0; }
table.text td { text-align: left; overflow-wrap: anywhere; }
th[colspan] { text-align: center; }
th.below:first-child { text-align: right; padding-left: .6em; }
h2 + table { margin-top: 0; }
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
	writeHead(b, v.Title, style)
	for i, line := range v.Head {
		class := ""
		if i == 0 {
			class = " class=\"answer\""
		}
		fmt.Fprintf(b, "<p%s>%s</p>\n", class, escapeHTML(line))
	}
	b.WriteString(v.Picture)
	if len(v.Steps) > 0 {
		writeSteps(b, v.Steps)
	}
	for _, sec := range v.Sections {
		writeSection(b, sec)
		if sec.Title == densities {
			for _, c := range v.Curves {
				b.WriteString(curveChart(c.Family, c.Results).inline())
			}
		}
	}
	b.WriteString("</body>\n</html>\n")
}

// writeHead begins a page up to its heading.
func writeHead(b *strings.Builder, title, style string) {
	fmt.Fprintf(b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width\">\n<title>%[1]s</title>\n<style>\n%[2]s</style>\n</head>\n<body>\n<h1>%[1]s</h1>\n",
		escapeHTML(title), style)
}

// writeList is a heading with what stands under it; nothing where there is nothing.
func writeList(b *strings.Builder, title, attributes string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(b, "<h2>%s</h2>\n<ul%s>\n", escapeHTML(title), attributes)
	for _, line := range lines {
		fmt.Fprintf(b, "<li>%s</li>\n", escapeHTML(line))
	}
	b.WriteString("</ul>\n")
}

// writeSection is a section's table, or its lines.
func writeSection(b *strings.Builder, s say.Section) {
	if len(s.Rows) == 0 {
		writeList(b, s.Title, "", s.Lines)
		return
	}
	class := ""
	if len(s.Columns) == 0 {
		class = " class=\"text\""
	}
	fmt.Fprintf(b, "<h2>%s</h2>\n<table%s>\n", escapeHTML(s.Title), class)
	writeRow(b, "th", s.Columns)
	for _, r := range s.Rows {
		writeRow(b, "td", r)
	}
	b.WriteString("</table>\n")
}

// writeRow is one row of a table, of headings or of values; none without cells.
func writeRow(b *strings.Builder, cell string, texts []string) {
	if len(texts) == 0 {
		return
	}
	b.WriteString("<tr>")
	for _, text := range texts {
		fmt.Fprintf(b, "<%s>%s</%s>", cell, escapeHTML(text), cell)
	}
	b.WriteString("</tr>\n")
}

// escapeHTML makes a text safe inside an element and inside a quoted attribute.
func escapeHTML(s string) string { return html.EscapeString(s) }

// writeSteps is the steps, planned beside actual. When the first sheet left is told where sheets leave one by one.
func writeSteps(b *strings.Builder, rows []stepRow) {
	one := slices.ContainsFunc(rows, func(r stepRow) bool { return r.FirstOut != r.LastOut })
	first := ""
	if one {
		first = "<th rowspan=\"2\">first sheet<br>out</th>"
	}
	b.WriteString("<table>\n<tr><th rowspan=\"2\">step</th><th colspan=\"2\">in</th>" + first + "<th colspan=\"2\">out</th><th colspan=\"2\">time</th>" +
		"<th rowspan=\"2\">developed</th></tr>\n<tr><th class=\"below\">planned</th><th>actual</th><th>planned</th><th>actual</th><th>planned</th><th>actual</th></tr>\n")
	for _, r := range rows {
		cells := []string{r.Name, r.PlannedStart, r.Start, r.FirstOut, r.PlannedEnd, r.LastOut, r.Planned, r.Given, r.Developed}
		if !one {
			cells = slices.Delete(cells, 3, 4)
		}
		writeRow(b, "td", cells)
	}
	b.WriteString("</table>\n")
}
