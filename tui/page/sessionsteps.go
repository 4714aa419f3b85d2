package page

// The table of a session's steps: planned, actual, developed.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// stepRow is one step of a session in words.
type stepRow struct {
	Name                                       string
	PlannedStart, PlannedEnd, Planned          string
	Start, FirstOut, LastOut, Given, Developed string // "" where it has not come to that
}

// steps puts planned and actual beside each other.
func (s *SessionPage) steps() []stepRow {
	rows := make([]stepRow, len(s.Plan.Steps))
	for i := range rows {
		st := &s.Plan.Steps[i]
		rows[i] = stepRow{Name: say.StepName(st.Name), PlannedStart: clock(st.Start), PlannedEnd: clock(st.End), Planned: clock(st.Given)}
		r, t := &rows[i], s.stepSpan(i)
		if t.sheets == 0 {
			continue
		}
		r.Start, r.Given = clock(t.in), fromTo(clock(t.least), clock(t.most), " to ")
		if t.first != sequence.Never {
			r.FirstOut = clock(t.first)
		}
		if t.last != sequence.Never {
			r.LastOut = clock(t.last)
		}
		r.Developed = s.developed(i)
	}
	return rows
}

// stepSpan is a step as it went.
type stepSpan struct {
	sheets          int
	in, first, last sequence.Elapsed // first and last out; Never where it has not come to that
	end             sequence.Elapsed // as far as is known
	least, most     sequence.Elapsed // given
}

func (s *SessionPage) stepSpan(i int) stepSpan {
	t := stepSpan{in: sequence.Never, first: sequence.Never, least: sequence.Never}
	for _, y := range s.Passages {
		if y.Step != i {
			continue
		}
		out := min(y.Out, max(s.At, y.In))
		t.sheets++
		t.in, t.first, t.last = min(t.in, y.In), min(t.first, y.Out), max(t.last, y.Out)
		t.end, t.least, t.most = max(t.end, out), min(t.least, out-y.In), max(t.most, out-y.In)
	}
	if t.sheets < s.Plan.Sheets {
		t.last = sequence.Never
	}
	return t
}

// developed is how far development came in step i: "98 to 101 %".
func (s *SessionPage) developed(i int) string {
	var least, most float64
	found, doubt := false, ""
	for _, d := range s.Developed {
		if d.Step != i {
			continue
		}
		if !found {
			least, most, found = d.Share(), d.Share(), true
		}
		least, most = min(least, d.Share()), max(most, d.Share())
		if d.Uncertain {
			doubt = " (uncertain)"
		}
	}
	if !found {
		return ""
	}
	return fromTo(fmt.Sprintf("%.0f", 100*least), fmt.Sprintf("%.0f", 100*most), "–") + "%" + doubt
}

// fromTo is a range, or the one value where both are alike.
func fromTo(a, b, between string) string {
	if a == b {
		return a
	}
	return a + between + b
}

// tableWidth is how many columns the table needs.
const tableWidth = 76

// stepTable is a table, or where that is too wide a line for each step.
func stepTable(b *strings.Builder, s *SessionPage, width int) {
	rows, name := s.steps(), 4
	if width < tableWidth {
		for _, r := range rows {
			hangingText(b, "", r.line(), width)
		}
		return
	}
	for _, r := range rows {
		name = max(name, len([]rune(r.Name)))
	}
	name = min(name, 14)
	line := func(step, start, first, last, given, planned, developed string) {
		text := fmt.Sprintf("%-*s %8s %9s %8s  %-16s %8s  %s", name, widget.Truncate(step, name), start, first, last, given, planned, developed)
		fmt.Fprintln(b, strings.TrimRight(text, " "))
	}
	line("step", "start", "first out", "last out", "given", "planned", "developed")
	for _, r := range rows {
		line(r.Name, r.Start, r.FirstOut, r.LastOut, r.Given, r.Planned, r.Developed)
	}
}
