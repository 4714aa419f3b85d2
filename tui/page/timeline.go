package page

// The time line: the session to scale, thick where it is dark, thin where there
// is light, the wet limit beneath it.

import (
	"math"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// TimeLine draws the plan in four rows of at most width columns: the names of
// the steps, the line, the times at which they begin, the wet limit. Rows with
// nothing on them are left out.
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
		if z-a > 3 {
			putText(names, a, z-1, widget.Truncate(say.StepName(st.Name), z-a-1))
		}
		putText(times, a, z-1, clock(st.Start))
	}
	line[at(end)] = '┃'
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
	r := []rune(text)
	if a < 0 || a+len(r) > min(z+1, len(row)) {
		return
	}
	for i := max(0, a-1); i < min(len(row), a+len(r)+1); i++ {
		if row[i] != ' ' {
			return
		}
	}
	copy(row[a:], r)
}
