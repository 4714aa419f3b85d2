package tui

// After: planned against actual, notes, where the record lies.

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

type afterModel struct {
	session Session
	strip   strip
	lines   []prepLine
	first   int
}

func newAfter(s Session) afterModel {
	l := s.Look()
	l.Now = min(l.Now, l.End)
	a := afterModel{session: s, strip: runStrip(s.Plan(), l)}
	a.lines = append(a.lines, compared(s.Plan(), l)...)
	a.lines = append(a.lines, prepLine{}, prepLine{runModel{session: s, look: l}.wet(), text}, prepLine{})
	for _, e := range s.Events() {
		if line, ok := eventLine(e); ok {
			a.lines = append(a.lines, prepLine{fmt.Sprintf("%8s  %s", sequence.Clock(e.At), line), text})
		}
	}
	a.lines = append(a.lines, prepLine{}, prepLine{"kept in " + s.Record(), dim})
	return a
}

// compared is each step as it was planned and as it was.
func compared(p *sequence.Plan, l sequence.Look) []prepLine {
	list := []prepLine{{fmt.Sprintf("%-20s %8s %8s %8s", "", "planned", "was", "change"), dim}}
	stays := map[int][2]sequence.Elapsed{} // shortest and longest stay in a step
	for _, y := range l.Film {
		if y.Out == sequence.Never {
			continue
		}
		d := y.Out - y.In
		s, seen := stays[y.Step]
		if !seen {
			s = [2]sequence.Elapsed{d, d}
		}
		stays[y.Step] = [2]sequence.Elapsed{min(s[0], d), max(s[1], d)}
	}
	planned := map[int]sequence.Elapsed{}
	for _, y := range p.Passages {
		planned[y.Step] = max(planned[y.Step], y.Out-y.In)
	}
	for i := range p.Steps {
		s, ok := stays[i]
		if !ok {
			list = append(list, prepLine{fmt.Sprintf("%-20s %8s %8s", cut(p.Steps[i].Name, 20), sequence.Clock(planned[i]), "-"), text})
			continue
		}
		lv := text
		change := s[1] - planned[i]
		if change.Abs() > changeWorthSeeing {
			lv = strong
		}
		list = append(list, prepLine{fmt.Sprintf("%-20s %8s %8s %8s", cut(p.Steps[i].Name, 20),
			sequence.Clock(planned[i]), sequence.Clock(s[1]), sequence.Clock(change)), lv})
	}
	return list
}

// changeWorthSeeing is a difference that stands out in the table.
const changeWorthSeeing = 1_500_000_000

// eventLine is what is told afterwards of an event; most are not.
func eventLine(e sequence.Event) (string, bool) {
	switch e.Kind {
	case sequence.Noted:
		return "note: " + e.Text, true
	case sequence.ReadingTaken:
		return fmt.Sprintf("the developer read %.4g C", float64(*e.Temperature)), true
	case sequence.Held:
		return "held", true
	case sequence.WentOn:
		return "went on", true
	case sequence.Undone:
		return "taken back", true
	case sequence.LateTold:
		return fmt.Sprintf("sheet %d was late", e.Sheet), true
	case sequence.GapFound:
		return "nothing ran since " + sequence.Clock(*e.Since), true
	case sequence.Trouble, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped:
		return e.Text, true
	case sequence.WetWarned:
		return "wet time ran short", true
	case sequence.WetPassed:
		return "wet time passed the limit", true
	case sequence.SessionStopped:
		return "stopped", true
	}
	return "", false
}

func (m Model) afterKey(a action) (tea.Model, tea.Cmd) {
	switch a {
	case up:
		m.after.first = max(0, m.after.first-1)
	case down:
		m.after.first = min(len(m.after.lines)-1, m.after.first+1)
	case back:
		m.list, m.screen, m.white = newOpening(m.o.Host), opening, false
		m.o.Host.Light(m.light())
		return m, tea.ClearScreen
	case leave:
		return m, tea.Quit
	}
	return m, nil
}

func (a afterModel) draw(g grid, f frame) {
	p := a.session.Plan()
	g.text(f.head, "After: "+recipes.Clean(p.Recipe.Title), strong)
	l := planOf(f.body)
	a.strip.draw(g, l.strip)
	room := f.body.from(l.strip.h + 1)
	for i := 0; i < room.h && a.first+i < len(a.lines); i++ {
		line := a.lines[a.first+i]
		g.text(room.row(i), recipes.Clean(line.text), line.l)
	}
	if a.first+room.h < len(a.lines) {
		g.right(room.row(room.h-1), "↓", bright)
	}
}
