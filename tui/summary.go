package tui

// After: planned against actual, notes, where the record lies.

import (
	"fmt"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

type summaryModel struct {
	session SessionView
	strip   timeline
	stays   []plannedStay
	lines   []prepLine // beneath the table
	first   int        // row at the top
}

func newSummary(s SessionView, h sequence.Units) summaryModel {
	l := s.Snapshot()
	a := summaryModel{session: s, strip: summaryTimeline(s.Plan(), l), stays: stays(s.Plan(), l.Passages)}
	a.lines = append(leads(s.Plan()), prepLine{fitting(textWidth, say.WetTimeNow(s.Plan(), l)...), text}, prepLine{})
	for _, e := range s.Events() {
		if say.Afterwards(e) {
			a.lines = append(a.lines, prepLine{say.EventLine(s.Plan(), e, h), text})
		}
	}
	a.lines = append(a.lines, prepLine{}, prepLine{"n, l and e note what came of it: now, or when the film is dry, in the notebook.", dim}, recordLine(s))
	return a
}

// leads is what a film test is followed by; nothing after other sessions.
func leads(p *sequence.Plan) []prepLine {
	if !slices.ContainsFunc(p.Steps, func(st sequence.PlanStep) bool { return len(st.Doses) > 0 }) {
		return []prepLine{{}}
	}
	return []prepLine{{}, {"A film test: when the negatives are dry, d reads their densities, here or in the notebook.", strong}, {}}
}

// plannedStay is a bath as it was planned and as it was.
type plannedStay struct {
	name         string
	planned, was sequence.Elapsed // the longest among the sheets
	least        sequence.Elapsed // the shortest
	exact        bool             // each sheet must have had the same
	never        bool             // no film was in it
	given        sequence.Elapsed // what each sheet was to have, without the moving of others; 0 where that is all
}

// stays are the steps in order; each sheet of a film test has a line of its own.
func stays(p *sequence.Plan, film []sequence.Passage) []plannedStay {
	var list []plannedStay
	for i := range p.Steps {
		st := &p.Steps[i]
		all := plannedStay{name: st.Name, exact: st.Kind == sequence.Develop, never: true}
		if withMoving(p, i) != "" {
			all.given = st.Given
		}
		var each []plannedStay
		for sheet := 1; sheet <= p.Sheets; sheet++ {
			planned, _ := spent(p.Passages, i, sheet)
			was, ok := spent(film, i, sheet)
			each = append(each, plannedStay{name: p.Recipe.Load.SheetName(sheet) + ", " + st.Name, planned: planned, was: was, least: was, never: !ok})
			all.planned = max(all.planned, planned)
			if !ok {
				continue
			}
			if all.never || was < all.least {
				all.least = was
			}
			all.was, all.never = max(all.was, was), false
		}
		if len(st.Doses) > 0 {
			list = append(list, each...)
		} else {
			list = append(list, all)
		}
	}
	return list
}

// spent is how long a sheet was in a step; false where it was not, or still is.
func spent(film []sequence.Passage, step, sheet int) (sequence.Elapsed, bool) {
	for _, y := range film {
		if y.Step == step && y.Sheet == sheet && y.Out != sequence.Never {
			return y.Out - y.In, true
		}
	}
	return 0, false
}

// table is the stays in columns that fit a width.
func table(list []plannedStay, w int) []prepLine {
	const longest, numbers = 24, 27
	name := min(longest, w-numbers)
	rows := []prepLine{{fmt.Sprintf("%-*s %8s %8s %8s", name, "", "planned", "was", "change"), dim}}
	for _, s := range list {
		line := fmt.Sprintf("%-*s %8s", name, cut(safetext.Clean(s.name), name), sequence.FormatElapsed(s.planned))
		if s.never {
			rows = append(rows, prepLine{line + fmt.Sprintf(" %8s", "-"), dim})
			continue
		}
		l, change := text, s.was-s.planned
		if change.Abs() > minShownChange {
			l = strong
		}
		rows = append(rows, prepLine{line + fmt.Sprintf(" %8s %8s", sequence.FormatElapsed(s.was), signed(change)), l})
		if s.given > 0 {
			rows = append(rows, prepLine{"  with moving; given " + sequence.FormatElapsed(s.given), dim})
		}
		if s.exact && s.was-s.least > minShownChange {
			rows = append(rows, prepLine{"  not all alike: the shortest had " + sequence.FormatElapsed(s.least), strong})
		}
	}
	return rows
}

// signed is a change with its sign.
func signed(d sequence.Elapsed) string {
	d = d.Round(time.Second)
	if d > 0 {
		return "+" + sequence.FormatElapsed(d)
	}
	return sequence.FormatElapsed(d)
}

// minShownChange is a difference that stands out in the table.
const minShownChange = 1500 * time.Millisecond

// recordLine tells where the record lies, or why it lies nowhere.
func recordLine(s SessionView) prepLine {
	if why := s.UnsavedBecause(); why != "" {
		return prepLine{why, bright}
	}
	return prepLine{"kept in " + s.Record(), dim}
}

func (m Model) afterKey(a keyAction) (tea.Model, tea.Cmd) {
	at := &m.summary
	switch a {
	case up, down:
		by := 1
		if a == up {
			by = -1
		}
		l := afterOf(frameOf(m.w, m.h, 1).body)
		at.first = scroll(at.rows(l), l.lines.h, at.first+by)
	case goBack:
		m.list, m.screen = newRecipeList(m.o), recipeListScreen
		return m.setWhite(false)
	case readings, remark, looks, emulsion:
		return m.inNotebook(a)
	case again:
		return m.nextRound(), nil
	case quit:
		return m, tea.Quit
	}
	return m, nil
}

// inNotebook opens the session's page in the notebook and does there what was asked for.
func (m Model) inNotebook(a keyAction) (tea.Model, tea.Cmd) {
	s, err := m.o.Backend.Read(m.summary.session.ID())
	if s.Plan == nil {
		if err == nil {
			err = unreadable(s.ID)
		}
		return m.showError(err.Error()), nil
	}
	o := newSession(m.o.Backend, s, m.o.Defaults.Units)
	return o.act(m.enter(o), a)
}

// rows are the table and the lines beneath it.
func (a summaryModel) rows(l afterLayout) []prepLine {
	const arrow = 2
	return append(table(a.stays, l.lines.w-arrow), broken(a.lines, l.lines.w-arrow)...)
}

func (a summaryModel) draw(g grid, f frame) {
	g.text(f.head, "After: "+safetext.Clean(a.session.Plan().Recipe.Title), strong)
	l := afterOf(f.body)
	a.strip.draw(g, l.strip)
	g.scrolled(l.lines, a.rows(l), a.first)
}
