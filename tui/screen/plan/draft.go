package plan

// The recipe under today's conditions as they are typed, and the plan that comes of them.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// draft is a plan in the making.
type draft struct {
	recipe     sequence.Recipe
	conditions sequence.RawConditions // as typed
	round      int                    // the one that is planned
	bottles    []sequence.OpenBottle  // that stand open for its baths
	stock      []sequence.Stock
	applied    []proposal
	changed    int // the field that was changed last

	rounds []planning.Round // of all sheets; nil where they are one session's
	plan   *sequence.Plan   // the last that could be made
	fault  fault            // why the words as they are make no plan
}

// fault is what is wrong with a field; none where it says nothing.
type fault struct {
	field int
	text  string
}

func (d draft) broken() bool { return d.fault.text != "" }

// drawnOn reads which bottles there are.
func (d draft) drawnOn(b Backend) draft {
	d.bottles, d.stock = b.OpenBottlesFor(d.recipe), planning.StockUsed(&d.recipe, b.Stock())
	return d
}

// resolved makes the plan anew; what makes none is said beside its field, and the last plan is
// kept unseen for what it says of the fields.
func (d draft) resolved() draft {
	if d.fault = d.unreadable(); d.broken() {
		return d
	}
	c, err := d.conditions.Conditions()
	if err != nil {
		return d.failed(d.changed, err)
	}
	c.Stock = d.stock
	if c.OpenBottles, err = bottles.Choose(d.conditions, d.bottles); err != nil {
		return d.failed(fieldOf("baths"), err)
	}
	if d, c, err = d.divided(c); err != nil {
		return d.failed(fieldOf("total sheets"), err)
	}
	plan, err := planning.Resolve(d.recipe, c)
	if err != nil {
		return d.failed(d.changed, err)
	}
	d.plan = &plan
	return d
}

func (d draft) failed(field int, err error) draft {
	d.fault = fault{field, d.inWords(err)}
	return d
}

// inWords is the first thing that is wrong, without the command line's name of the field.
func (d draft) inWords(err error) string {
	var f sequence.FieldError
	if errors.As(err, &f) {
		err = f.Err
	}
	first, _, _ := strings.Cut(say.Error(err, d.conditions.Units), "\n")
	return first
}

// unreadable is the first field whose word cannot be read, each looked at alone. Where a bath
// drifts to and how fast belong together.
func (d draft) unreadable() fault {
	for i, f := range fields {
		w := d.conditions
		if *f.of(&w) == "" {
			continue
		}
		one := sequence.RawConditions{Units: w.Units}
		if i <= fieldOf("time constant") {
			one.SettlesAt, one.TimeConstant = "20C", "1h"
		}
		*f.of(&one) = *f.of(&w)
		if _, err := one.Conditions(); err != nil {
			return fault{i, d.inWords(err)}
		}
	}
	switch w := d.conditions; {
	case w.SettlesAt == "" && w.TimeConstant != "":
		return fault{fieldOf("drifts towards"), "belongs together with the time constant: give both or neither"}
	case w.SettlesAt != "" && w.TimeConstant == "":
		return fault{fieldOf("time constant"), "belongs together with the temperature above: give both or neither"}
	}
	return fault{}
}

// with is the draft with another word in a field.
func (d draft) with(i int, word string) draft {
	*fields[i].of(&d.conditions), d.changed = word, i
	return d.resolved()
}

// divided gives the conditions the sheets of the round that is planned: how many there are in
// all is said once, and each round is planned with the baths that it finds. A number of sheets
// that is typed is the most at once.
func (d draft) divided(c sequence.Conditions) (draft, sequence.Conditions, error) {
	d.rounds = nil
	if d.conditions.TotalSheets == "" {
		return d, c, nil
	}
	all, err := strconv.Atoi(d.conditions.TotalSheets)
	if err != nil || all < 1 {
		return d, c, fmt.Errorf("%q; expected a number of sheets", d.conditions.TotalSheets)
	}
	b, err := planning.DivideIntoRounds(d.recipe, c, planning.RoundsOrder{Sheets: all, MostInRound: c.Sheets, Between: planning.BetweenRounds, Over: d.round})
	if err != nil {
		return d, c, err
	}
	d.rounds = b.Rounds
	c.Sheets = d.rounds[d.planned()].Sheets
	return d, c, nil
}

// planned is the round that is planned: the next one, or the last where there are no more.
func (d draft) planned() int { return min(d.round, len(d.rounds)-1) }

// roundLine tells of the round that is planned, and which baths are mixed for it.
func (d draft) roundLine() string {
	if len(d.rounds) == 0 || d.broken() {
		return ""
	}
	r := d.rounds[d.planned()]
	var fresh []string
	for _, b := range r.Baths {
		if b.Fresh {
			fresh = append(fresh, safetext.Clean(b.ID))
		}
	}
	line := fmt.Sprintf("Round %d of %d: %s", d.planned()+1, len(d.rounds), say.Sheets(r.Sheets))
	if len(fresh) == 0 {
		return line + ", no bath fresh"
	}
	return line + ", mixed fresh: " + strings.Join(fresh, ", ")
}

// next is how the round that follows this one is planned; false where there is none.
func (d draft) next() (screen.OpenPlan, bool) {
	if d.broken() || d.round+1 >= len(d.rounds) {
		return screen.OpenPlan{}, false
	}
	r := d.recipe
	return screen.OpenPlan{Name: r.Title, Recipe: &r, Conditions: d.conditions, Round: d.round + 1,
		Text: "The next round: read the temperature anew."}, true
}

// otherVessel says that the time was not found for the vessel; "" where it was.
func (d draft) otherVessel() string {
	if d.broken() {
		return ""
	}
	for _, c := range say.Cautions(d.plan, d.conditions.Units) {
		if c.Code == "other-vessel" {
			return say.Sentence(c.Text)
		}
	}
	return ""
}

// facts is what the plan is for, where the title does not say so already.
func (d draft) facts() string {
	if d.broken() {
		return d.recipe.Film.Name
	}
	facts := d.recipe.Film.Name + ", " + say.Sheets(d.plan.Sheets) + " " + d.plan.Vessel.In()
	if facts == d.recipe.Title {
		return ""
	}
	return facts
}

// sayFault says why there is no plan, with the name of the field.
func (d draft) sayFault() screen.Action {
	return screen.Message{Text: say.Sentence(fields[d.fault.field].label + ": " + d.fault.text), Fault: true}
}
