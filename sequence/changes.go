package sequence

// What could be changed about a plan so that film is wet for less long, or is
// handled less; kindest first, each with what it costs. Which of them help is
// for shorten.go to find out.

import (
	"fmt"
	"slices"
	"time"

	"example.org/wetside/chem"
)

// warmest is how far the developer may be warmed to save time: above it the
// gelatin softens more than the minutes are worth (our own rule).
const warmest chem.Celsius = 22

// change is one way of shortening a plan.
type change struct {
	Shortening // Saves is not known yet
	of         *Plan
	edit       func(*Recipe, *Conditions)
}

// made is the recipe and the conditions with the change.
func (c change) made() (Recipe, Conditions) {
	r, today := c.of.Recipe, c.of.Conditions
	r.Steps = slices.Clone(r.Steps)
	c.edit(&r, &today)
	return r, today
}

// changes lists what could be changed about a plan, kindest first; a developer that is
// too cold to work is warmed before anything else.
func changes(p *Plan) []change {
	kindest := []func(*Plan) []change{intoHangers, washAid, atLeast, cradle, fewer, leaveOut, warmer}
	if p.tooCold() {
		kindest = append([]func(*Plan) []change{warmer}, kindest[:len(kindest)-1]...)
	}
	var list []change
	for _, propose := range kindest {
		list = append(list, propose(p)...)
	}
	return list
}

// tooCold reports whether a developer is so cold that it hardly works: warming it comes
// before all else.
func (p *Plan) tooCold() bool {
	return slices.ContainsFunc(p.Steps, func(st PlanStep) bool {
		return st.Works != nil && st.Temperature != nil && *st.Temperature < hydroquinoneStops
	})
}

// intoHangers takes a stack apart as soon as there is light: into hangers or single trays.
func intoHangers(p *Plan) []change {
	fixed := false
	if slices.ContainsFunc(p.Steps, func(st PlanStep) bool { return st.tests() && st.Stack }) {
		return []change{{Shortening{Code: "vessel", Text: "the film test in hangers: sheets hang apart, and none is shuffled",
			Price: "hangers and tanks, and more of each bath", Caution: "the times hold for hangers then, not for a tray"}, p,
			func(_ *Recipe, c *Conditions) { c.Vessel = Hangers }}}
	}
	for i := range p.Steps {
		st := &p.Steps[i]
		if !fixed || !st.Stack || st.RoomLight != White {
			fixed = fixed || st.Kind == Fix
			continue
		}
		apart := p.apart()
		into, price := "hangers", "more handling once: each wet sheet is hung by its edges"
		if apart == Single {
			into, price = "single trays", "a tray for each sheet, and more handling once"
		}
		return []change{change{Shortening{Code: "vessel", Step: st.Name,
			Text:    fmt.Sprintf("%s: into %s once the light is on", st.Name, into),
			Price:   price,
			Caution: "wet gelatin tears at the corners: hold sheets by the rim"}, p,
			func(r *Recipe, _ *Conditions) { r.Steps[i].Vessel = apart }}}
	}
	return nil
}

// apart is where the sheets of a stack are taken apart to: hangers, or single trays
// where the film's limit is known for these alone.
func (p *Plan) apart() Vessel {
	_, hung := p.Limits.For(Hangers)
	if _, single := p.Limits.For(Single); single && !hung {
		return Single
	}
	return Hangers
}

// aidWarm is water in which a wash is not slowed down (70 F and more): what is
// assumed where the wash says no temperature.
const aidWarm chem.Celsius = 24

// washAid puts a clearing aid before a long wash.
func washAid(p *Plan) []change {
	steps := p.Recipe.Steps
	if slices.ContainsFunc(steps, func(s Step) bool { return s.Kind == WashAid }) {
		return nil
	}
	for i, st := range steps {
		water := aidWarm
		if st.Temperature != nil {
			water = st.Temperature.At // in the cold the wash is longer with the aid too
		}
		with, _ := chem.WashTimes(true, water)
		wash := max(with.Wash, st.AtLeast)
		if st.Kind != Wash || st.Time <= with.Rinse+with.Aid+wash {
			continue
		}
		s := Shortening{Code: "wash-aid", Step: st.Name,
			Text: fmt.Sprintf("rinse %s, wash-aid %s, then %s for %s (SS0509 p. 24)",
				chem.FormatDuration(with.Rinse), chem.FormatDuration(with.Aid), st.Name, chem.FormatDuration(wash)),
			Price:   "more washing aid to mix, and less stain where the developer stains",
			Caution: "in water under 21 C (70 F) the wash takes longer (T.O. 33B-1-1 6.7.10.1)"}
		return []change{change{s, p, func(r *Recipe, _ *Conditions) {
			rinse, aid, short := st, st, st
			rinse.Kind, rinse.Name, rinse.Time, rinse.AtLeast, rinse.Drain = Rinse, "rinse before wash-aid", with.Rinse, 0, 0
			aid.Kind, aid.Name, aid.Time, aid.AtLeast, aid.Drain, aid.Bath = WashAid, "wash-aid", with.Aid, 0, 0, ""
			short.Time, short.Vessel = wash, ""
			r.Steps = slices.Concat(steps[:i], []Step{rinse, aid, short}, steps[i+1:])
		}}}
	}
	return nil
}

// leastFix is how long film is fixed at least, in all baths in a row, where no clearing
// time was measured (our own rule: film fixed too briefly looks clear, and fades).
const leastFix = 5 * time.Minute

// least is how far step i may be cut: to what the recipe says that still does its work,
// of a fixing bath no further than its clearing time allows, of a stack's bath no further
// than its turns need. 0 where it may not be cut.
func (p *Plan) least(i int) Elapsed {
	st := &p.Steps[i]
	d := st.AtLeast
	if d <= 0 {
		return 0
	}
	if st.Kind == Fix {
		d = max(d, p.fixedAtLeast(i))
	}
	return p.turnedIn(i, d)
}

// fixedAtLeast is the least time of fixing step i: by the clearing time measured, in the
// bottle too; without one what is missing from leastFix in the other baths in a row.
func (p *Plan) fixedAtLeast(i int) Elapsed {
	if p.Conditions.Clearing > 0 {
		return p.fixedFor(i, p.Conditions.Clearing)
	}
	if k, ok := p.Bottle(p.Steps[i].Bath); ok && k.Clearing > 0 {
		return p.fixedFor(i, k.Clearing)
	}
	others := Elapsed(0)
	for j := i - 1; j >= 0 && p.Steps[j].Kind == Fix; j-- {
		others += p.Steps[j].Dose
	}
	for j := i + 1; j < len(p.Steps) && p.Steps[j].Kind == Fix; j++ {
		others += p.Steps[j].Dose
	}
	return leastFix - others
}

// atLeast cuts a step to the least that still does its work.
func atLeast(p *Plan) []change {
	var list []change
	for i, st := range p.Recipe.Steps {
		least := p.least(i)
		if least <= 0 || least >= st.Time {
			continue
		}
		s := Shortening{Code: "at-least", Step: st.Name, Price: "nothing in reserve",
			Text: fmt.Sprintf("%s for %s instead of %s, the least that does its work",
				st.Name, chem.FormatDuration(least), chem.FormatDuration(st.Time))}
		switch st.Kind {
		case Fix:
			s.Caution = "twice the clearing time is needed: measure it in this fixer (NAVEDTRA 14209 p. 249)"
		case Wash:
			s.Caution = "full changes of water; a test for residual fixer tells whether it was enough"
		}
		list = append(list, change{s, p, func(r *Recipe, _ *Conditions) { r.Steps[i].Time = least }})
	}
	return list
}

// cradle moves a stack as one.
func cradle(p *Plan) []change {
	if p.Vessel != Tray || p.Sheets < 2 {
		return nil
	}
	return []change{change{Shortening{Code: "cradle", Text: "a cradle: all sheets move together and none is handled",
		Price:   "a flat tray holds fewer sheets apart, and agitation is another",
		Caution: "develop one test sheet first"}, p,
		func(_ *Recipe, c *Conditions) { c.Vessel = Cradle }}}
}

// fewer halves a stack.
func fewer(p *Plan) []change {
	if p.Vessel != Tray || p.Sheets < 2 || slices.ContainsFunc(p.Steps, func(s PlanStep) bool { return s.tests() }) {
		return nil
	}
	n := (p.Sheets + 1) / 2
	return []change{change{Shortening{Code: "fewer", Text: fmt.Sprintf("%d sheets instead of %d: less to load, turn and move", n, p.Sheets),
		Price: "another round for the rest"}, p,
		func(_ *Recipe, c *Conditions) { c.Sheets = n }}}
}

// leftOut is what leaving a kind of step out costs.
var leftOut = map[Kind]string{
	Presoak:  "developing starts less evenly, and the time may differ",
	StopBath: "developer is carried into the fixer, which tires sooner",
	Rinse:    "more is carried into the next bath",
	WashAid:  "the wash alone must do the work",
	Wetting:  "drying marks",
}

// leaveOut drops a step that is optional; never the presoak of a stack, which
// keeps its sheets from sticking together.
func leaveOut(p *Plan) []change {
	var list []change
	for i, st := range p.Recipe.Steps {
		if !st.Optional || len(p.Recipe.Steps) == 1 || st.Kind == Presoak && p.Steps[i].Stack {
			continue
		}
		price, ok := leftOut[st.Kind]
		if !ok {
			price = "what that bath was for"
		}
		list = append(list, change{Shortening{Code: "leave-out", Step: st.Name, Text: "leave out " + st.Name, Price: price}, p, func(r *Recipe, _ *Conditions) {
			if i+1 < len(r.Steps) && r.Steps[i+1].Vessel == "" {
				r.Steps[i+1].Vessel = st.Vessel
			}
			r.Steps = slices.Delete(r.Steps, i, i+1)
		}})
	}
	return list
}

// warmer warms the developer, last of all and never above 22 C.
func warmer(p *Plan) []change {
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Works == nil || st.Temperature == nil {
			continue
		}
		to := warmest
		if len(st.Works.Range) == 2 {
			to = min(to, st.Works.Range[1])
		}
		if *st.Temperature >= to-0.05 {
			return nil
		}
		s := Shortening{Code: "warmer", Step: st.Name, Text: fmt.Sprintf("%s at %s: shorter", st.Name, Habits{}.Temperature(to)), To: &to,
			Price: "softer gelatin", Caution: "all baths as warm, within 2.8 K, 5 F (NAVEDTRA 14262 p. 7-11)"}
		return []change{change{s, p, func(_ *Recipe, c *Conditions) { c.Temp, c.ReadBefore, c.ToRead = &to, 0, false }}}
	}
	return nil
}
