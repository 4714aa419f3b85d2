package run

// Where each sheet is: in which bath, until when, in which place of its stack, and whether it is
// late.

import (
	"slices"
	"sort"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
)

// film is the session's, at a moment.
type film struct{ moment }

// placed is sheets that are at one place until one moment.
type placed struct {
	sheets []int
	where  string
	out    sequence.Elapsed // Never for unknown
	late   bool
}

func (g placed) name(p *sequence.Plan) string {
	if len(g.sheets) > 1 {
		return "sheets " + say.Ranged(g.sheets)
	}
	return safetext.Clean(p.Recipe.Load.SheetName(g.sheets[0]))
}

// wet is how long those have been wet that were so the longest.
func (g placed) wet(l engine.Snapshot) string {
	most := sequence.Elapsed(0)
	for _, n := range g.sheets {
		most = max(most, l.Sheets[n-1].Wet)
	}
	return sequence.FormatElapsed(strips.ShownSecond(most))
}

// used is that as a share of their limit.
func (g placed) used(l engine.Snapshot) string {
	most := 0.0
	for _, n := range g.sheets {
		most = max(most, l.Sheets[n-1].Used)
	}
	if most > 1 {
		return style.Danger.Render("over " + say.Share(most))
	}
	return say.Share(most)
}

// places are where the sheets are: those of the stack first, from its bottom.
func (m film) places() []placed {
	p, l := m.plan, m.look
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
func (m film) outAt(n int) sequence.Elapsed {
	s := m.look.Sheets[n-1]
	for _, y := range m.look.Passages {
		if y.Sheet == n && y.Step == s.Step && !s.Aside && (m.look.Overdue == 0 || y.Out > m.look.Now) {
			return y.Out
		}
	}
	return sequence.Never
}

// stackStep is the step whose sheets lie in a stack; -1 for none.
func (m film) stackStep() int {
	for _, s := range m.look.Sheets {
		if p := m.plan; !s.Aside && s.Step >= 0 && s.Step < len(p.Steps) && p.Steps[s.Step].Stack {
			return s.Step
		}
	}
	return -1
}

// stack is the sheets of the stack from its bottom: each that came in lay on top, and each
// shuffle put the bottom one there.
func (m film) stack() []int {
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
		if e.Kind == sequence.CueGiven && e.Cue == sequence.CueShuffle && e.Step == m.plan.StepName(step) {
			list = append(list, change{at: e.At})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].at < list[j].at })
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
func (m film) lateSheets() (list []int) {
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
