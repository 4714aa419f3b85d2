package holders

import (
	"errors"
	"fmt"
	"strconv"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
	tea "github.com/charmbracelet/bubbletea"
)

// What the sessions are sorted by: the paper, flare, how far sheets may differ, how many at once.

// The rules' fields.
const (
	rulePaper = iota
	ruleFlare
	ruleTolerance
	ruleMost
)

// rulesForm asks what the sessions are sorted by.
func (g Groups) rulesForm() form.Form {
	most := ""
	if g.by.Most > 0 {
		most = strconv.Itoa(g.by.Most)
	}
	return form.Form{Live: true, Fields: []form.Field{
		{Label: "paper", Text: fmt.Sprintf("%.2f", float64(g.by.Printing.Paper)), Means: "The paper's log exposure range: about 1.05 for grade 2 with a diffusion enlarger. Until another is typed, a recipe that was found for a print goes by its own."},
		{Label: "flare", Text: fmt.Sprintf("%.2f", float64(g.by.Printing.Flare)), Means: "What flare takes from a subject's log range, usually 0.40."},
		{Label: "tolerance", Text: fmt.Sprintf("%.2f", g.by.Tolerance), Means: "Sheets share one developing time where that is within this much of the average gradient that each wants, usually 0.03."},
		{Label: "most at once", Text: most, Usual: "as many as the recipe has", Means: "Sheets in one session at most."},
		{Label: "Sort by these", Do: true, Means: "What was moved by hand is sorted anew too."},
	}}
}

func (g Groups) rulesKey(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	f, event := g.rules.Update(k)
	g.rules = &f
	switch event {
	case form.Left:
		g.rules = nil
	case form.Done:
		by, at, err := g.typedRules()
		if err != nil {
			f = f.Faulted(at, err)
			return g, nil, nil
		}
		g.by, g.rules = by, nil
		g.turn++
		return g, nil, g.sort("")
	}
	return g, nil, nil
}

// typedRules reads what was typed; with an error the field that it is of.
func (g Groups) typedRules() (holders.Grouper, int, error) {
	by := g.by
	var x [3]float64
	for at, bounds := range [3]struct {
		from, to float64
		usual    string
	}{{0.1, 5, "1.05"}, {0, 3, "0.40"}, {0.001, 1, "0.03"}} {
		var err error
		if x[at], err = form.NumberIn(bounds.from, bounds.to, bounds.usual)(g.rules.Fields[at].Value()); err != nil {
			return by, at, err
		}
	}
	asked := holders.PaperAndFlare{Paper: curve.LogH(x[rulePaper]), Flare: curve.LogH(x[ruleFlare])}
	asked.Stated = by.Printing.Stated || asked != by.Printing
	by.Printing = asked
	by.Tolerance, by.Most = x[ruleTolerance], 0
	if text := g.rules.Fields[ruleMost].Value(); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 200 {
			return by, ruleMost, errors.New("expected a number of sheets up to 200, or nothing")
		}
		by.Most = n
	}
	return by, 0, nil
}
