package page

// Two time lines of one scale: planned above actual, and where the wet limit is.

import (
	"math"
	"strings"

	"example.org/wetside/sequence"
)

// actualPlan is the session as if it had been planned as it went, for the time line:
// the steps that film came into. It has none where film came into none.
func (s *SessionPage) actualPlan() *sequence.Plan {
	p := *s.Plan
	p.Steps, p.Cues, p.Wet = nil, nil, sequence.Wet{}
	for i := range s.Plan.Steps {
		if t := s.stepSpan(i); t.sheets > 0 {
			st := s.Plan.Steps[i]
			st.Start, st.FirstOut, st.End = max(0, t.in), max(0, min(t.first, t.end)), max(0, t.end)
			p.Steps = append(p.Steps, st)
		}
	}
	return &p
}

// scale is what both lines share.
type scale struct {
	planned, actual *sequence.Plan
	span            sequence.Elapsed
	limit           sequence.Elapsed // where the mark stands
	mark            string           // "" where no limit is known
	beyond          bool             // the limit is off the line
}

// end is when the last step of a plan ends; 0 where it has none.
func end(p *sequence.Plan) sequence.Elapsed {
	if len(p.Steps) == 0 {
		return 0
	}
	return p.Steps[len(p.Steps)-1].End
}

// timelineScale finds the scale: as long as the longer line, and the limit where it is near.
func (s *SessionPage) timelineScale() scale {
	planned := *s.Plan
	c := scale{planned: &planned, actual: s.actualPlan()}
	c.span = max(end(c.planned), end(c.actual))
	c.limit, c.mark = s.limitOf(c.actual)
	if c.mark != "" {
		c.beyond = c.limit > c.span+c.span/4
		if !c.beyond {
			c.span = max(c.span, c.limit)
		}
	}
	planned.Wet, planned.Cues = sequence.Wet{}, nil // each line without a mark of its own
	return c
}

// limitOf is where the mark of the wet limit stands, and its text. Where nothing has
// been wet the plan says it.
func (s *SessionPage) limitOf(actual *sequence.Plan) (sequence.Elapsed, string) {
	switch {
	case len(actual.Steps) == 0 || len(s.Wet) == 0:
		return limitAt(s.Plan)
	case s.LimitAt == nil:
		return 0, ""
	}
	return max(0, *s.LimitAt), "wet limit at " + clock(*s.LimitAt)
}

// sessionLines draws both, and the limit beneath.
func sessionLines(s *SessionPage, width int) []string {
	c := s.timelineScale()
	if c.span <= 0 {
		return nil
	}
	at := func(t sequence.Elapsed) int {
		return int(math.Round(float64(t) / float64(c.span) * float64(width-1)))
	}
	rows := append([]string{"planned"}, TimeLine(c.planned, at(end(c.planned))+1)...)
	if len(c.actual.Steps) > 0 && end(c.actual) > 0 {
		rows = append(append(rows, "actual"), TimeLine(c.actual, at(end(c.actual))+1)...)
	}
	if c.mark == "" {
		return rows
	}
	row := blankRow(width)
	switch n := len([]rune(c.mark)); {
	case c.beyond:
		putText(row, width-n-2, width, c.mark+" ▶")
	case at(c.limit)+2+n <= width:
		row[at(c.limit)] = '▲'
		copy(row[at(c.limit)+2:], []rune(c.mark))
	default:
		row[at(c.limit)] = '▲'
		putText(row, at(c.limit)-n-1, width, c.mark)
	}
	return append(rows, strings.TrimRight(string(row), " "))
}
