package page

// The time line: the session to scale, thick where it is dark, thin where there
// is light, the wet limit beneath it.

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// TimeLine draws the plan in four rows of at most width columns: the names of
// the steps, the line, the times at which they begin, the wet limit. A name stands
// whole and with its time, or neither does. Rows with nothing on them are left out.
func TimeLine(p *sequence.Plan, width int) []string {
	end := p.Steps[len(p.Steps)-1].End
	limit, mark := limitAt(p)
	if end <= 0 {
		return nil
	}
	span, beyond := max(end, limit), false
	if limit > end+end/4 {
		span, beyond = end, true
	}
	last := width - 1
	at := func(t sequence.Elapsed) int { return int(math.Round(float64(t) / float64(span) * float64(last))) }
	names, line, times, limits := blankRow(width), blankRow(width), blankRow(width), blankRow(width)
	for i := range p.Steps {
		st := &p.Steps[i]
		to := end
		if i+1 < len(p.Steps) {
			to = p.Steps[i+1].Start
		}
		stroke := '━'
		if st.RoomLight != sequence.Dark {
			stroke = '─'
		}
		a, z := at(st.Start), at(to)
		for x := a; x <= z; x++ {
			line[x] = stroke
		}
		line[a] = '┃'
	}
	line[at(end)] = '┃'
	for _, i := range longestFirst(p) {
		st := &p.Steps[i]
		name, begins := say.StepName(st.Name), clock(st.Start)
		if a := at(st.Start); fits(names, a, name) && fits(times, a, begins) {
			copy(names[a:], []rune(name))
			copy(times[a:], []rune(begins))
		}
	}
	putText(times, min(at(end), width-len(clock(end))), width, clock(end))
	if mark != "" && beyond {
		putText(limits, width-len(mark)-2, width, mark+" ▶")
	} else if mark != "" {
		x := at(limit)
		limits[x] = '▲'
		if n := len([]rune(mark)); x+1+n < width {
			putText(limits, x+2, width, mark)
		} else {
			putText(limits, x-n-1, width, mark)
		}
	}
	var rows []string
	for _, r := range [][]rune{names, line, times, limits} {
		if text := strings.TrimRight(string(r), " "); text != "" {
			rows = append(rows, text)
		}
	}
	return rows
}

// longestFirst is the steps in the order in which they are named.
func longestFirst(p *sequence.Plan) []int {
	list := make([]int, len(p.Steps))
	long := func(i int) sequence.Elapsed {
		if i+1 < len(p.Steps) {
			return p.Steps[i+1].Start - p.Steps[i].Start
		}
		return p.Steps[i].End - p.Steps[i].Start
	}
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(i, j int) int { return cmp.Compare(long(j), long(i)) })
	return list
}

// limitAt is where the wet limit stands; the mark is "" where none is known.
func limitAt(p *sequence.Plan) (sequence.Elapsed, string) {
	if p.Wet.LimitAt == nil {
		return 0, ""
	}
	return max(0, *p.Wet.LimitAt), "wet limit at " + clock(*p.Wet.LimitAt)
}

func blankRow(width int) []rune { return []rune(strings.Repeat(" ", width)) }

// putText puts text from column a on if it ends before column z and touches
// nothing that is there already.
func putText(row []rune, a, z int, text string) {
	if a+len([]rune(text)) <= z+1 && fits(row, a, text) {
		copy(row[a:], []rune(text))
	}
}

// fits tells whether a text has room from column a on, and touches nothing.
func fits(row []rune, a int, text string) bool {
	n := len([]rune(text))
	if a < 0 || a+n > len(row) {
		return false
	}
	for _, r := range row[max(0, a-1):min(len(row), a+n+1)] {
		if r != ' ' {
			return false
		}
	}
	return true
}
