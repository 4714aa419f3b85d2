package tui

// Many sheets as rounds: how many there are in all is said once when planning; after
// a session the next round starts from it.

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// divided gives the conditions the sheets of the round that is planned. A number of
// sheets that is typed is the most at once.
func (p planModel) divided(c sequence.Conditions) (planModel, sequence.Conditions, error) {
	p.rounds = nil
	if p.conditions.TotalSheets == "" {
		return p, c, nil
	}
	all, err := strconv.Atoi(p.conditions.TotalSheets)
	if err != nil || all < 1 {
		return p, c, fmt.Errorf("in all: %q; expected a number of sheets", p.conditions.TotalSheets)
	}
	b, err := planning.DivideIntoRounds(p.recipe, c, planning.RoundsOrder{Sheets: all, MostInRound: c.Sheets, Between: planning.BetweenRounds, Over: p.round})
	if err != nil {
		return p, c, err
	}
	p.rounds, p.round = b.Rounds, min(p.round, len(b.Rounds)-1)
	c.Sheets = p.rounds[p.round].Sheets
	return p, c, nil
}

// roundLine tells of the round that is planned, and which baths are mixed for it.
func (p planModel) roundLine() string {
	if len(p.rounds) == 0 {
		return ""
	}
	r := p.rounds[p.round]
	var fresh []string
	for _, b := range r.Baths {
		if b.Fresh {
			fresh = append(fresh, b.ID)
		}
	}
	line := fmt.Sprintf("round %d of %d: %d sheets", p.round+1, len(p.rounds), r.Sheets)
	if len(fresh) == 0 {
		return line + ", no bath fresh"
	}
	return line + ", fresh: " + strings.Join(fresh, ", ")
}

// nextRound plans the round after the one that is over.
func (m Model) nextRound() Model {
	p := m.plan
	if p.plan == nil || p.round+1 >= len(p.rounds) {
		return m.showError("there is no further round: when planning, say how many sheets there are in all")
	}
	p.round++
	p.bottles, p.stock = m.o.Backend.OpenBottlesFor(p.recipe), planning.StockUsed(&p.recipe, m.o.Backend.Stock())
	m.plan, m.screen = p.again(), planScreen
	return m.showMessage(m.plan.roundLine())
}
