package reading

// An entry taken: asked about where it is doubtful, kept, undone, left out, turned round.

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/tui/screen"
)

const endReached = "That was the last step of the last sheet; c shows the curves."

// take takes what is typed, or asks about it. Nothing typed leaves the step as it is.
func (m Model) take() (Model, screen.Action, tea.Cmd) {
	a, err := curve.ParseDensity(m.typed.Value(), m.r.Stops)
	if err != nil {
		m.typed = m.typed.Faulted(err.Error())
		return m, nil, nil
	}
	if a.Empty {
		next, more := m.next()
		if !more {
			return next, say(endReached), nil
		}
		return next, nil, nil
	}
	if ask := a.Confirm; !m.confirmed {
		if ask == "" {
			ask = m.turnsRound(a.Density)
		}
		if ask != "" {
			m.confirmed = true
			return m, say(ask), nil
		}
	}
	return m.put(&a.Density, a.TakenAs)
}

// put enters a density, or nothing, keeps all and goes on.
func (m Model) put(x *curve.Density, said string) (Model, screen.Action, tea.Cmd) {
	m.undone = append(m.undone[:len(m.undone):len(m.undone)], entry{m.col, m.row, *m.cell(), m.r.Sheets[m.col].Error(m.row)})
	before, reversed := m.doubtful, m.reversed
	m.place = m.set(x, 0).looked()
	slip := fresh(before, m.doubtful)
	next, more := m.next()
	switch {
	case x != nil && m.reversed && !reversed:
		said = "Was this strip read from its other end? " + "Here " + m.firstStep() + ". r turns the sheet round."
		next = m.to(m.col, next.row) // r turns this sheet, not the next
	case slip >= 0:
		said = fmt.Sprintf("Step %d, %.2f, does not fit its neighbours: read it again, or x there leaves it out.", slip+1, float64(*m.r.Sheets[m.col].Steps[slip]))
	case !more:
		said = endReached
	}
	next, cmd := next.keep(said)
	return next, nil, cmd
}

// fresh is the first doubtful step that was none before; -1 for none.
func fresh(before, now []int) int {
	for _, i := range now {
		if !slices.Contains(before, i) {
			return i
		}
	}
	return -1
}

// leaveOut empties the entry under the cursor: a doubtful one, or a step that cannot be read.
func (m Model) leaveOut() (Model, screen.Action, tea.Cmd) {
	if *m.cell() == nil {
		return m.to(m.col, m.row), say("Nothing is read here."), nil
	}
	return m.put(nil, capital(m.rowName())+" is left out; u brings it back.")
}

// undo takes the last entry back, and goes there; what is being typed first.
func (m Model) undo() (Model, screen.Action, tea.Cmd) {
	if m.typed.Value() != "" {
		return m.to(m.col, m.row), nil, nil
	}
	n := len(m.undone)
	if n == 0 {
		return m, say("Nothing was entered yet."), nil
	}
	was := m.undone[n-1]
	m.undone = m.undone[: n-1 : n-1]
	m = m.to(was.col, was.row)
	m.place = m.set(was.was, was.err).looked()
	m, cmd := m.keep("Undone: " + m.rowName() + ".")
	return m, nil, cmd
}

// turnRound turns a sheet that was read from its other end. The entries before it can no
// longer be undone one by one: r again turns all back.
func (m Model) turnRound() (Model, screen.Action, tea.Cmd) {
	if m.r.Sheets[m.col].Count() == 0 {
		return m, say("Nothing is read of this sheet yet."), nil
	}
	m.r, m.undone = m.r.TurnRound(m.col), nil
	m, cmd := m.to(m.col, m.row).keep("The sheet is turned round: its last step is step 1 now. r turns it back.")
	return m, nil, cmd
}

func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
