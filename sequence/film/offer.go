package film

// The film's own time for a plan, and what a session taught: both from the same belief as the page.

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// Offer is the film's own time beside what a plan gives. It changes nothing.
type Offer struct {
	Step            string           `json:"step"`
	Development     string           `json:"development"` // N, N-1
	AverageGradient float64          `json:"average_gradient"`
	Temperature     sequence.Celsius `json:"temperature_c"` // steady, under which the plan's time does the same
	Time            *float64         `json:"time_s"`        // null where half of what is believed never reaches the gradient
	Low             *float64         `json:"low_s"`
	High            *float64         `json:"high_s"`
	Confidence      float64          `json:"confidence"`
	Recipe          float64          `json:"recipe_s"`    // the recipe's time today, without a factor
	Factor          *float64         `json:"time_factor"` // that makes the plan's time the film's; null for none
	Tests           int              `json:"tests"`
	Looks           int              `json:"sessions"` // that were looked at
	Borrowed        int              `json:"borrowed"`

	rests  restsOn
	belief *growthbelief.Belief
}

// restsOn is what a belief was made of.
type restsOn struct {
	known *Known
	aim   float64
}

// byHand is what times that a hand keeps differ by at least, in seconds.
const byHand = 5

// Fits reports whether the recipe's time lies where nine in ten next sessions need it.
func (o *Offer) Fits() bool {
	return o.Low != nil && o.Recipe >= *o.Low && (o.High == nil || o.Recipe <= *o.High)
}

// OfferTime is the film's time for a plan; nil for a film test, and where nothing that is known says anything of its
// development. Before is what was offered for another plan, whose belief serves again where it rests on the same; nil
// for none.
func OfferTime(known []Known, p *sequence.Plan, before *Offer) *Offer {
	k, step := knownFor(known, p)
	if k == nil || len(p.Steps[step].Doses) > 0 {
		return nil
	}
	st, aim := &p.Steps[step], aimOf(p, step)
	e := k.evidence(aim)
	if len(e.Tests)+len(e.Sessions)+len(e.Borrowed) == 0 {
		return nil
	}
	o := &Offer{Step: st.Name, Development: cmp.Or(p.Conditions.Development, "N"), Temperature: steadyTemperature(st.TimeByTemperature, st.Given, st.Dose, st.Temperature),
		Confidence: growthbelief.Confidence, Tests: len(e.Tests), Looks: len(e.Sessions), Borrowed: len(e.Borrowed)}
	o.AverageGradient = wanted(aim, o.Development)
	if o.rests = (restsOn{k, aim}); before != nil && before.rests == o.rests {
		o.belief = before.belief
	} else {
		o.belief = growthbelief.Believe(growthbelief.Weak, e)
	}
	v := o.belief.Time(o.AverageGradient, o.Temperature)
	o.Time, o.Low, o.High = seconds(v.Middle), seconds(v.Low), seconds(v.High)
	o.Recipe = st.Given.Seconds() / cmp.Or(p.Conditions.Factor, 1)
	if o.Time != nil && math.Abs(*o.Time-st.Given.Seconds()) >= byHand {
		if factor := math.Round(100**o.Time/o.Recipe) / 100; factor > 0 && factor != cmp.Or(p.Conditions.Factor, 1) {
			o.Factor = &factor
		}
	}
	return o
}

// knownFor is what is known of a plan's film as the plan handles it, and the step that develops: nil where it develops
// nothing. A borrowed time holds for every handling in its developer.
func knownFor(known []Known, p *sequence.Plan) (*Known, int) {
	h, ok := densities.TestConditionsOf(p)
	if !ok {
		return nil, -1
	}
	step := notebook.FilmDeveloper(p)
	own := Known{Handling: h}
	for i := range known {
		if known[i].Key() == h.Key() {
			return &known[i], step
		}
		for _, b := range known[i].Borrowed {
			if b.holdsFor(h) && !slices.Contains(own.Borrowed, b) {
				own.Borrowed = append(own.Borrowed, b)
			}
		}
	}
	return &own, step
}

// holdsFor reports whether a borrowed time is for a film handled so.
func (b *BorrowedTime) holdsFor(h Handling) bool {
	return strings.EqualFold(b.Film, h.Film) && (b.Developer == "" || strings.EqualFold(b.Developer, h.Developer))
}

// aimOf is the gradient of N: that of the recipe's own film test where it says one, else the usual.
func aimOf(p *sequence.Plan, step int) float64 {
	st := &p.Steps[step].Step
	g, n := st.Growth, st.TimeOf("N")
	if g == nil || n == 0 || !g.Covers(n) {
		return usualAim
	}
	return math.Round(100*g.At(n)) / 100
}

// Learnt is what a session taught of its film's time: what is believed with all up to it, beside what was believed
// before.
type Learnt struct {
	From            string           `json:"from"` // test, look; "" while its densities are not read and it is not looked at
	Test            bool             `json:"test"` // a film test
	AverageGradient float64          `json:"average_gradient"`
	Temperature     sequence.Celsius `json:"temperature_c"`
	Before          *LearntTime      `json:"before"` // null where nothing was known before
	After           LearntTime       `json:"after"`
	Narrower        *float64         `json:"narrower"` // share by which the interval got narrower, below zero wider; null where it had no end
	Expected        *float64         `json:"expected"` // of a session that has taught nothing yet: by how much narrower a reading, or a good look, would make it
}

// LearntTime is a time with its interval.
type LearntTime struct {
	Time *float64 `json:"time_s"`
	Low  *float64 `json:"low_s"`
	High *float64 `json:"high_s"`
}

// Learnt is what a session taught; nil for a rehearsal, one that was not finished, and where nothing is known.
func (s Sources) Learnt(one *notebook.Session) *Learnt {
	if one.Plan == nil || one.Rehearsal || one.Status != journal.Done {
		return nil
	}
	k, step := knownFor(s.Collect(one.Film), one.Plan)
	if k == nil {
		return nil
	}
	aim := aimOf(one.Plan, step)
	before, with := k.before(one), k.before(one)
	l := &Learnt{Test: len(one.Plan.Steps[step].Doses) > 0, AverageGradient: aim, Temperature: growthbelief.Reference}
	if by := one.Plan.Steps[step].TimeByTemperature; by != nil {
		l.Temperature = by.At
	}
	for _, t := range k.Tests {
		if t.Session == one.ID && len(t.Sheets) > 0 {
			with.Tests, l.From = append(with.Tests, t), "test"
		}
	}
	look := Session{Appearances: []notebook.Appearance{notebook.Good}}
	for _, s := range k.Sessions {
		if s.ID == one.ID {
			look.Time, look.Temperature, look.Development = s.Time, s.Temperature, s.Development
			if _, told := s.look(); told {
				with.Sessions = append(with.Sessions, s)
				l.From = cmp.Or(l.From, "look")
			}
		}
	}
	e, was := with.evidence(aim), before.evidence(aim)
	if len(e.Tests)+len(e.Sessions)+len(e.Borrowed) == 0 {
		return nil
	}
	belief := growthbelief.Believe(growthbelief.Weak, e)
	after := belief.Time(aim, l.Temperature)
	l.After = learntTime(after)
	switch {
	case l.From != "":
		first := growthbelief.Believe(growthbelief.Weak, was).Time(aim, l.Temperature)
		if len(was.Tests)+len(was.Sessions)+len(was.Borrowed) > 0 {
			l.Before = new(learntTime(first))
		}
		l.Narrower = narrower(first, after)
	case l.Test:
		sum := 0.0
		for _, g := range belief.NextSheets([]float64{aim}, l.Temperature, 0, one.Plan.Steps[step].Doses).Usual {
			sum += g.Gain
		}
		l.Expected = &sum
	case look.Time > 0:
		with.Sessions = append(with.Sessions, look)
		l.Expected = narrower(after, growthbelief.Believe(growthbelief.Weak, with.evidence(aim)).Time(aim, l.Temperature))
	}
	return l
}

func learntTime(v growthbelief.Interval) LearntTime {
	return LearntTime{seconds(v.Middle), seconds(v.Low), seconds(v.High)}
}

// narrower is the share by which an interval got narrower; nil where one of both has no end.
func narrower(before, after growthbelief.Interval) *float64 {
	if seconds(before.High) == nil || seconds(after.High) == nil {
		return nil
	}
	return new(1 - after.Narrowness()/before.Narrowness())
}

// before is what was known when a session began. Identifiers begin with the day and the time.
func (k *Known) before(one *notebook.Session) Known {
	b := Known{Handling: k.Handling}
	for _, t := range k.Tests {
		if t.Session != "" && t.Session < one.ID || t.Session == "" && t.Day < one.Day() {
			b.Tests = append(b.Tests, t)
		}
	}
	for _, s := range k.Sessions {
		if s.ID < one.ID {
			b.Sessions = append(b.Sessions, s)
		}
	}
	for _, x := range k.Borrowed {
		if x.Written.Format(time.DateOnly) <= one.Day() {
			b.Borrowed = append(b.Borrowed, x)
		}
	}
	return b
}
