package session

// The tables of a session: its steps as planned and as they went, and each sheet's times.

import (
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// steps are the steps as planned and as they went.
func (g page) steps(w int) string {
	t := widget.Table{Plain: true, Width: w, Selected: -1, Columns: []widget.Column{{Title: style.Heading("Steps")},
		{Title: "start", Right: true}, {Title: "planned", Right: true}, {Title: "actual", Right: true}, {Title: "differs", Right: true}}}
	for i := range g.session.Steps {
		st := &g.session.Steps[i]
		var planned, actual span
		var off sequence.Elapsed // of the sheet that differs most
		for _, y := range g.session.Plan.Passages {
			if y.Step == i {
				planned = planned.with(y.Out - y.In)
			}
		}
		for _, y := range st.Sheets {
			actual = actual.with(y.Given)
			if d := y.Given - g.planned(i, y.Sheet); max(d, -d) > max(off, -off) {
				off = d
			}
		}
		start, was := "", "not reached"
		if actual.any {
			start, was = sequence.FormatElapsed(st.Start), actual.String()
		}
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(say.StepName(st.Plan.Name))), style.Label(start),
			style.Label(planned.String()), style.Value(was), style.Value(signed(off))})
	}
	return t.View()
}

// planned is how long the plan has a sheet in a step.
func (g page) planned(step, sheet int) sequence.Elapsed {
	for _, y := range g.session.Plan.Passages {
		if y.Step == step && y.Sheet == sheet {
			return y.Out - y.In
		}
	}
	return g.session.Plan.Steps[step].Given
}

// span is the shortest and the longest of several times.
type span struct {
	least, most sequence.Elapsed
	any         bool
}

func (s span) with(d sequence.Elapsed) span {
	if !s.any {
		return span{d, d, true}
	}
	return span{min(s.least, d), max(s.most, d), true}
}

// String is "7:30", or "6:01–6:04" where sheets differ.
func (s span) String() string {
	least, most := sequence.FormatElapsed(s.least), sequence.FormatElapsed(s.most)
	switch {
	case !s.any:
		return ""
	case least == most:
		return least
	}
	return least + "–" + most
}

// signed is a difference with its sign; "" within a second.
func signed(d sequence.Elapsed) string {
	switch {
	case d >= time.Second:
		return "+" + sequence.FormatElapsed(d)
	case d <= -time.Second:
		return "−" + sequence.FormatElapsed(-d)
	}
	return ""
}

// sheets are each sheet's developing time, its equivalent at the reference temperature, and wet time.
func (g page) sheets(w int) string {
	s := &g.session
	t := widget.Table{Plain: true, Width: w, Selected: -1, Columns: []widget.Column{{Title: style.Heading("Sheets")},
		{Title: "developed", Right: true}, {Title: g.reference(), Right: true}, {Title: "of plan", Right: true}, {Title: "wet", Right: true}, {Title: "of limit", Right: true}}}
	for _, x := range s.Wet.Sheets {
		row := []string{style.Value(safetext.Clean(s.Plan.Recipe.Load.SheetName(x.Sheet))), "", "", "", sequence.FormatElapsed(x.Total), ""}
		for _, st := range s.Steps {
			for _, y := range st.Sheets {
				if d := y.Developed; d != nil && y.Sheet == x.Sheet && row[1] == "" {
					row[1], row[2], row[3] = sequence.FormatElapsed(y.Given), sequence.FormatElapsed(d.Done), say.Percent(d.Share())
					if d.Uncertain { // the bath was outside the recipe's table
						row[3] = "about " + row[3]
					}
				}
			}
		}
		if x.Used != nil {
			row[5] = say.Share(*x.Used)
		}
		for i := 1; i < len(row); i++ {
			row[i] = style.Value(row[i])
		}
		if x.Aside {
			row[5] = style.Value("set aside")
		} else if x.Used != nil && *x.Used > 1 {
			row[5] = style.Danger.Render("over " + say.Share(*x.Used))
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		return ""
	}
	if len(s.Plan.Recipe.Load.Names) == 0 {
		t.Rows = widget.Alike(t.Rows, func(places []int) string {
			var sheets []int
			for _, i := range places {
				sheets = append(sheets, s.Wet.Sheets[i].Sheet)
			}
			return style.Value("sheets " + say.Ranged(sheets))
		})
	}
	rows := []string{t.View(), ""}
	for i := range s.Plan.Steps {
		if s.Plan.Steps[i].Kind == sequence.Develop {
			rows = append(rows, wrapped(say.Capital(say.Developer(s.Plan, i)), w, style.Label)...)
		}
	}
	return strings.Join(rows, "\n")
}

// reference heads the column of times as at the reference temperature.
func (g page) reference() string {
	for i := range g.session.Plan.Steps {
		st := &g.session.Plan.Steps[i]
		if st.Kind == sequence.Develop && st.TimeByTemperature != nil {
			return "at " + say.Temperature(st.TimeByTemperature.At, g.units)
		}
	}
	return "counted"
}
