package run

// The right half of a wide window: where each sheet is, the temperature's course, and
// what is heard next.

import (
	"cmp"
	"slices"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	plotRows  = 9
	cueRows   = 7 // heading and the next five, and a blank row
	fewSheets = 3
)

// beside is drawn from the top: the sheets, the next cues, and with the room that is left
// the temperature.
func (m Model) beside(w, h int) []string {
	rows := m.sheets(w, max(fewSheets+2, h-cueRows))
	if cues := m.cues(w); len(rows)+1+len(cues) <= h {
		rows = append(append(rows, ""), cues...)
	}
	if plot := m.course(w, min(plotRows+3, h-len(rows)-1)); plot != nil && len(rows)+1+len(plot) <= h {
		rows = append(append(rows, ""), plot...)
	}
	return rows
}

// cues are the next five with their times.
func (m Model) cues(w int) []string {
	t := widget.Table{Columns: []widget.Column{{Title: "at", Right: true}, {Title: "next to be heard"}}, Plain: true, Selected: -1, Width: w}
	for _, c := range m.look.Cues {
		t.Rows = append(t.Rows, []string{sequence.FormatElapsed(c.At), safetext.Clean(say.CueOfSheet(c))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return lines(t.View())
}

// placed is sheets that are at one place until one moment.
type placed struct {
	sheets []int
	where  string
	out    sequence.Elapsed // Never for unknown
	late   bool
}

// sheets is the table of them: a stack from its bottom, a row each; others together.
func (m Model) sheets(w, h int) []string {
	title := "film"
	if m.stackStep() >= 0 {
		title = "stack, from the bottom"
	} else if len(m.look.Sheets) > 1 {
		title = "sheets"
	}
	t := widget.Table{Columns: []widget.Column{{Title: title}, {Title: "where"}, {Title: "out at", Right: true}}, Plain: true, Selected: -1, Width: w, Height: h}
	for _, g := range m.places() {
		out := ""
		if g.out != sequence.Never {
			out = sequence.FormatElapsed(g.out)
		}
		name, where := g.name(m.session.Plan()), safetext.Clean(g.where)
		if g.late {
			where += ", late"
		}
		if g.late || g.where == "set aside" {
			name, where = style.Title(name), style.Title(where)
		}
		t.Rows = append(t.Rows, []string{name, where, out})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return lines(t.View())
}

func (g placed) name(p *sequence.Plan) string {
	name := p.Recipe.Load.SheetName(g.sheets[0])
	if n := len(g.sheets); n > 1 {
		name = say.Sheets(n) + ", " + say.Ranged(g.sheets)
	}
	return safetext.Clean(name)
}

// places are where the sheets are: those of the stack first, from its bottom.
func (m Model) places() []placed {
	p, l := m.session.Plan(), m.look
	order := m.stack()
	for k := range l.Sheets {
		if !slices.Contains(order, k+1) {
			order = append(order, k+1)
		}
	}
	late := m.lateSheets()
	var list []placed
	for _, n := range order {
		s := l.Sheets[n-1]
		g := placed{sheets: []int{n}, where: say.Where(p, s), out: m.outAt(n), late: slices.Contains(late, n)}
		if i := len(list) - 1; i >= 0 && s.Step != m.stackStep() && g.where == list[i].where && g.out == list[i].out && g.late == list[i].late {
			list[i].sheets = append(list[i].sheets, n)
			continue
		}
		list = append(list, g)
	}
	return list
}

// outAt is when a sheet leaves the bath that it is in; Never where nobody knows.
func (m Model) outAt(n int) sequence.Elapsed {
	s := m.look.Sheets[n-1]
	for _, y := range m.look.Passages {
		if y.Sheet == n && y.Step == s.Step && !s.Aside && (m.look.Overdue == 0 || y.Out > m.look.Now) {
			return y.Out
		}
	}
	return sequence.Never
}

// stackStep is the step whose sheets lie in a stack; -1 for none.
func (m Model) stackStep() int {
	for _, s := range m.look.Sheets {
		if p := m.session.Plan(); !s.Aside && s.Step >= 0 && s.Step < len(p.Steps) && p.Steps[s.Step].Stack {
			return s.Step
		}
	}
	return -1
}

// stack is the sheets of the stack from its bottom: each that came in lay on top, and each
// shuffle put the bottom one there.
func (m Model) stack() []int {
	step := m.stackStep()
	if step < 0 {
		return nil
	}
	type change struct {
		at    sequence.Elapsed
		sheet int // 0: shuffled
		in    bool
	}
	var list []change
	for _, y := range m.look.Passages {
		if s := m.look.Sheets[y.Sheet-1]; y.Step == step && y.In <= m.look.Now && !s.Aside {
			list = append(list, change{y.In, y.Sheet, true})
			if s.Step != step {
				list = append(list, change{at: y.Out, sheet: y.Sheet})
			}
		}
	}
	for _, e := range m.events {
		if e.Kind == sequence.CueGiven && e.Cue == sequence.CueShuffle && e.Step == m.session.Plan().StepName(step) {
			list = append(list, change{at: e.At})
		}
	}
	slices.SortStableFunc(list, func(a, b change) int { return cmp.Compare(a.at, b.at) })
	var order []int
	for _, c := range list {
		switch i := slices.Index(order, c.sheet); {
		case c.in:
			order = append(order, c.sheet)
		case i >= 0:
			order = slices.Delete(order, i, i+1)
		case c.sheet == 0 && len(order) > 1:
			order = append(order[1:], order[0])
		}
	}
	return order
}

// lateSheets are those that were said to be late and were not transferred since.
func (m Model) lateSheets() (list []int) {
	act := 0
	for _, e := range m.events {
		switch e.Kind {
		case sequence.LateReported:
			list, act = append(list, e.Sheet), e.Act
		case sequence.Transferred, sequence.Pulled, sequence.SetAside:
			list = slices.DeleteFunc(list, func(n int) bool { return e.Sheet == 0 || n == e.Sheet })
		case sequence.Undone:
			if n := len(list); n > 0 && act > 0 {
				list, act = list[:n-1], 0
			}
		}
		if e.Act > act {
			act = 0 // something else is what would be undone
		}
	}
	return list
}
