package plan

// Many sheets as rounds: how many there are in all is said once, and each round is planned
// with the baths that it finds.

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// divided gives the conditions the sheets of the round that is planned. A number of sheets
// that is typed is the most at once.
func (m Model) divided(c sequence.Conditions) (Model, sequence.Conditions, error) {
	m.rounds = nil
	if m.conditions.TotalSheets == "" {
		return m, c, nil
	}
	all, err := strconv.Atoi(m.conditions.TotalSheets)
	if err != nil || all < 1 {
		return m, c, fmt.Errorf("%q; expected a number of sheets", m.conditions.TotalSheets)
	}
	b, err := planning.DivideIntoRounds(m.recipe, c, planning.RoundsOrder{Sheets: all, MostInRound: c.Sheets, Between: planning.BetweenRounds, Over: m.round})
	if err != nil {
		return m, c, err
	}
	m.rounds = b.Rounds
	c.Sheets = m.rounds[m.planned()].Sheets
	return m, c, nil
}

// planned is the round that is planned: the next one, or the last where there are no more.
func (m Model) planned() int { return min(m.round, len(m.rounds)-1) }

// roundLine tells of the round that is planned, and which baths are mixed for it.
func (m Model) roundLine() string {
	if len(m.rounds) == 0 {
		return ""
	}
	r := m.rounds[m.planned()]
	var fresh []string
	for _, b := range r.Baths {
		if b.Fresh {
			fresh = append(fresh, safetext.Clean(b.ID))
		}
	}
	line := fmt.Sprintf("Round %d of %d: %s", m.planned()+1, len(m.rounds), say.Sheets(r.Sheets))
	if len(fresh) == 0 {
		return line + ", no bath fresh"
	}
	return line + ", mixed fresh: " + strings.Join(fresh, ", ")
}

// Next is how the round that follows this one is planned; false where there is none.
func (m Model) Next() (screen.OpenPlan, bool) {
	if m.fault.text != "" || m.round+1 >= len(m.rounds) {
		return screen.OpenPlan{}, false
	}
	r := m.recipe
	return screen.OpenPlan{Name: r.Title, Recipe: &r, Conditions: m.conditions, Round: m.round + 1,
		Text: "The next round: read the temperature anew."}, true
}
