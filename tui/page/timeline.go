package page

// A time line in text: the session to scale, thick where it is dark, thin where there is light, the wet
// limit beneath it.

import (
	"math"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/timeline"
)

// TimeLine draws the plan in four rows of at most width columns: the names of the steps, the line, the
// times at which they begin, the wet limit. Rows with nothing on them are left out.
func TimeLine(p *sequence.Plan, width int) []string {
	l := timeline.OfPlan(p)
	return append(lineRows(l, width), limitRow(l, width)...)
}

// lineRows is a line with its names and times, its whole span as wide as width. A name stands whole and
// with its time where its step begins, or neither does.
func lineRows(l timeline.Timeline, width int) (rows []string) {
	if l.End() <= 0 {
		return nil
	}
	at := columnsOf(l, width)
	names, line, times := blankRow(width), blankRow(width), blankRow(width)
	for _, s := range l.Segments {
		stroke := '━'
		if s.Lit() {
			stroke = '─'
		}
		for x := at(s.From); x <= at(s.To); x++ {
			line[x] = stroke
		}
		line[at(s.From)] = '┃'
	}
	line[at(l.End())] = '┃'
	for _, b := range labelsOf(l, 1, float64(width), func(t sequence.Elapsed) float64 { return float64(at(t)) }) {
		s := l.Segments[b.Segment]
		copy(names[at(s.From):], []rune(say.StepName(s.Name)))
		copy(times[at(s.From):], []rune(clock(s.From)))
	}
	end := clock(l.End())
	putText(times, min(at(l.End()), width-len(end)), width, end)
	for _, r := range [][]rune{names, line, times} {
		if text := strings.TrimRight(string(r), " "); text != "" {
			rows = append(rows, text)
		}
	}
	return rows
}

// columnsOf is the column of each moment on a line so wide.
func columnsOf(l timeline.Timeline, width int) func(sequence.Elapsed) int {
	return func(t sequence.Elapsed) int { return int(math.Round(l.At(t, float64(width-1)))) }
}

// labelsOf are the steps that are named right where they begin, a letter free between two, none over the
// right end.
func labelsOf(l timeline.Timeline, letter, end float64, x func(sequence.Elapsed) float64) []timeline.Label {
	size := func(s timeline.Segment) float64 {
		return letter * float64(max(len([]rune(say.StepName(s.Name))), len(clock(s.From))))
	}
	return l.LabelsAt(letter, size, func(s timeline.Segment) (float64, bool) { return x(s.From), x(s.From)+size(s) <= end })
}

// limitRow is the mark of the wet limit beneath a line; nothing where none is known, or where it has no
// room.
func limitRow(l timeline.Timeline, width int) []string {
	mark := limitMark(l)
	if mark == "" {
		return nil
	}
	row, x, n := blankRow(width), columnsOf(l, width)(*l.Limit), len([]rune(mark))
	switch _, beyond := l.Span(); {
	case beyond:
		putText(row, width-n-2, width, mark+" ▶")
	case x+2+n <= width:
		row[x] = '▲'
		putText(row, x+2, width, mark)
	default:
		row[x] = '▲'
		putText(row, x-n-1, width, mark)
	}
	if text := strings.TrimRight(string(row), " "); text != "" {
		return []string{text}
	}
	return nil
}

// limitMark says when the wet limit is used up; "" where none is known.
func limitMark(l timeline.Timeline) string {
	if l.Limit == nil {
		return ""
	}
	return "wet limit at " + clock(*l.Limit)
}

func blankRow(width int) []rune { return []rune(strings.Repeat(" ", width)) }

// putText puts text from column a on if it ends before column z and touches
// nothing that is there already.
func putText(row []rune, a, z int, text string) {
	n := len([]rune(text))
	taken := func(r rune) bool { return r != ' ' }
	if a >= 0 && a+n <= min(z+1, len(row)) && !slices.ContainsFunc(row[max(0, a-1):min(len(row), a+n+1)], taken) {
		copy(row[a:], []rune(text))
	}
}
