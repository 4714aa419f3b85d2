package widget

// Two sessions to one scale, planned above actual.

import (
	"math"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
)

// Pair is two sessions to one scale, one above the other: what was planned and what was
// done, or two that are compared.
type Pair struct {
	Names       [2]string
	Lines       [2]timeline.Timeline
	BothWet     bool // each with its wet line; else that of the second, with its limit
	Width, Rows int  // Rows below what it has: the bands alone
}

// View draws it: steps' names of the first, the bands, steps' times of the second, wet lines.
func (p Pair) View() string {
	head := max(ansi.StringWidth(p.Names[0]), ansi.StringWidth(p.Names[1]), len(wetLabel)) + tableGap
	width := p.Width - head
	if width < 10 || p.Rows < 2 {
		return ""
	}
	first, second := p.strip(0, width), p.strip(1, width)
	type row struct{ label, line string }
	rows := []row{{"", first[0]}, {p.Names[0], first[1]}}
	if p.BothWet {
		rows = append(rows, row{"", first[3]})
	}
	rows = append(rows, row{p.Names[1], second[1]})
	if p.BothWet {
		rows = append(rows, row{"", second[3]}, row{"", second[2]})
	} else {
		rows = append(rows, row{"", second[2]}, row{wetLabel, second[3]}, row{"", second[4]})
	}
	if p.Rows < len(rows) {
		rows = []row{{p.Names[0], first[1]}, {p.Names[1], second[1]}}
	}
	var list []string
	for _, r := range rows {
		list = append(list, Truncate(style.Label(Pad(r.label, head))+r.line, p.Width))
	}
	return strings.TrimRight(strings.Join(list, "\n"), "\n ")
}

const wetLabel = "wet"

// strip is one of them, in its rows, as wide as it is long beside the other.
func (p Pair) strip(i, width int) []string {
	span := func(l timeline.Timeline) time.Duration { d, _ := l.Span(); return d }
	longest := max(span(p.Lines[0]), span(p.Lines[1]))
	rows := make([]string, StripRows)
	if longest <= 0 {
		return rows
	}
	own := int(math.Round(float64(width) * float64(span(p.Lines[i])) / float64(longest)))
	copy(rows, strings.Split(Strip{Timeline: Named(p.Lines[i]), Width: own, Rows: StripRows}.View(), "\n"))
	return rows
}
