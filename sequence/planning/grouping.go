package planning

// Sheets that wait, sorted into few sessions: each as many sheets as its vessel
// takes, all of one time or pulled from one developer at their own times, and none
// of them wet for longer than the film stands. A plain greedy rule (our own): by
// developing time, each sheet into the session before it where that still can be
// carried out, else into a new one.

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// DevelopmentWanted is a sheet that waits, and the development it wants.
type DevelopmentWanted struct {
	Sheet    int // which of the caller's sheets it is
	Name     string
	Time     sequence.Elapsed // of developing, at the recipe's reference temperature
	Gradient float64          // average gradient that this gives; 0 where it is not known
	Gain     float64          // by what its long exposure multiplies contrast, which Time makes up for; 0 or 1: none
	Print    *PrintWanted     // nil where the film's response did not tell Time
}

// PrintWanted is the print that a sheet's time was found for.
type PrintWanted struct {
	Subject, Paper float64          // log ranges: of the subject from where the shadow stands, and the paper's
	Low, High      sequence.Elapsed // within which the time lies nine times of ten
	Chance, Near   float64          // that it prints on the grade aimed at, and within half a grade of it
	More           *float64         // exposure over that of N, in stops; nil where N cannot be had
}

// Grouping is how sheets may be put together.
type Grouping struct {
	Tolerance float64 // in average gradient, within which sheets share one time
	Most      int     // sheets in a session; 0 for as many as the recipe's load has
}

// The tolerances where none is given, and where no gradients are known (our own rule:
// what hands and thermometers can hold).
const (
	DefaultTolerance = 0.03
	timeTolerance    = 0.05 // of the time
)

// Proposal is one session of a group. Its plan has the sheets in the order in which they
// go in, each by its name.
type Proposal struct {
	Sheets []DevelopmentWanted
	Plan   sequence.Plan
}

// Given is the developing time of the k-th of its sheets, from 0, at the reference
// temperature.
func (b *Proposal) Given(k int) sequence.Elapsed {
	i := slices.IndexFunc(b.Plan.Steps, func(st sequence.PlanStep) bool { return st.Kind == sequence.Develop })
	if st := &b.Plan.Steps[i]; len(st.Doses) > 0 {
		return st.Fresh(st.Doses[k])
	}
	return b.Plan.Steps[i].Fresh(b.Plan.Steps[i].Dose)
}

// Ungrouped is a sheet that no session can take, and why.
type Ungrouped struct {
	Sheet DevelopmentWanted
	Err   error
}

// Group sorts sheets of one film and recipe into sessions.
func Group(wants []DevelopmentWanted, r sequence.Recipe, c sequence.Conditions, g Grouping) ([]Proposal, []Ungrouped) {
	wants = slices.Clone(wants)
	SortByTime(wants)
	var batches []Proposal
	var left []Ungrouped
	var now []DevelopmentWanted
	for _, w := range wants {
		if err := g.check(append(now, w), r, c); err == nil {
			now = append(now, w)
			continue
		}
		if err := g.check([]DevelopmentWanted{w}, r, c); err != nil {
			left = append(left, Ungrouped{w, err})
			continue
		}
		batches, left = g.close(batches, left, now, r, c)
		now = []DevelopmentWanted{w}
	}
	return g.close(batches, left, now, r, c)
}

// SortByTime puts those that are developed for less time first.
func SortByTime(wants []DevelopmentWanted) {
	sort.SliceStable(wants, func(i, j int) bool { return wants[i].Time.Milliseconds() < wants[j].Time.Milliseconds() })
}

// close makes a session of sheets that go together.
func (g Grouping) close(batches []Proposal, left []Ungrouped, wants []DevelopmentWanted, r sequence.Recipe, c sequence.Conditions) ([]Proposal, []Ungrouped) {
	if len(wants) == 0 {
		return batches, left
	}
	b, err := g.Together(wants, r, c)
	if err != nil {
		for _, w := range wants {
			left = append(left, Ungrouped{w, err})
		}
		return batches, left
	}
	return append(batches, b), left
}

// Together makes one session of the sheets, or says why it would break a limit.
func (g Grouping) Together(wants []DevelopmentWanted, r sequence.Recipe, c sequence.Conditions) (Proposal, error) {
	if err := g.check(wants, r, c); err != nil {
		return Proposal{}, err
	}
	joint, err := g.recipeFor(wants, r, cmp.Or(c.Vessel, r.Load.Vessel))
	if err != nil {
		return Proposal{}, err
	}
	c.Sheets = 0
	plan, err := Resolve(joint, c)
	return Proposal{Sheets: slices.Clone(wants), Plan: plan}, err
}

// check is nil where the sheets can go through one session.
func (g Grouping) check(wants []DevelopmentWanted, r sequence.Recipe, c sequence.Conditions) error {
	most := cmp.Or(g.Most, r.Load.Sheets)
	if len(wants) > most {
		return sequence.Refuse("session-full", sequence.Values{Sheets: len(wants), Room: most})
	}
	last := wants[len(wants)-1]
	if slices.ContainsFunc(wants[:len(wants)-1], func(w DevelopmentWanted) bool { return w.Name == last.Name }) {
		return sequence.Refuse("session-same-name", sequence.Values{Words: last.Name})
	}
	joint, err := g.recipeFor(wants, r, cmp.Or(c.Vessel, r.Load.Vessel))
	if err != nil {
		return err
	}
	c.Sheets = 0
	p, f, err := planTimes(joint, c)
	if err != nil {
		return err
	}
	p.Passages = f.Passages(&p)
	if p.Wet = schedule.WorstWet(&p, f); p.Wet.Margin != nil && *p.Wet.Margin < 0 {
		return sequence.Refuse("session-too-wet", sequence.Values{Time: p.Wet.Total, Of: *p.Wet.Limit})
	}
	for _, caution := range cautions(&p, f) {
		switch v := caution.Values; caution.Code {
		case "stock-short", "capacity", "stale":
			v.Sheets = p.Sheets
			return sequence.Refuse("session-"+caution.Code, v)
		}
	}
	return nil
}

// recipeFor is the recipe for these sheets alone: one time where their gradients are near
// enough, else one for each, all out of the developer together.
func (g Grouping) recipeFor(wants []DevelopmentWanted, r sequence.Recipe, v sequence.Vessel) (sequence.Recipe, error) {
	r.Steps = slices.Clone(r.Steps)
	r.Load.Sheets, r.Load.Names = len(wants), nil
	for _, w := range wants {
		r.Load.Names = append(r.Load.Names, w.Name)
	}
	at := slices.IndexFunc(r.Steps, func(st sequence.Step) bool { return st.Kind == sequence.Develop })
	if at < 0 {
		return r, sequence.Refuse("session-no-developer", sequence.Values{})
	}
	st := &r.Steps[at]
	st.Time, st.Times, st.PullTimes, st.LeaveTogether, st.StraightOn = 0, nil, nil, false, false
	if t, ok := g.sharedTime(wants, st.Growth); ok {
		st.Time = t
		return r, nil
	}
	if v.Closed() {
		return r, sequence.Refuse("session-closed", sequence.Values{})
	}
	for _, w := range wants {
		st.PullTimes = append(st.PullTimes, w.Time)
	}
	st.LeaveTogether = at > 0 // from the bath before, each at its own time
	return r, nil
}

// sharedTime is the one time that suits all of the sheets; false where none does.
func (g Grouping) sharedTime(wants []DevelopmentWanted, growth *sequence.Growth) (sequence.Elapsed, bool) {
	least, most := wants[0].Time, wants[0].Time
	for _, w := range wants {
		least, most = min(least, w.Time), max(most, w.Time)
	}
	t := least
	if most > least { // as a hand can keep it
		t = sequence.Elapsed(math.Sqrt(float64(least) * float64(most))).Round(time.Second)
	}
	tolerance := cmp.Or(g.Tolerance, DefaultTolerance)
	for _, w := range wants {
		if growth != nil && w.Gradient > 0 {
			if math.Abs(growth.At(t)-w.Gradient) > tolerance {
				return 0, false
			}
		} else if math.Abs(math.Log(float64(w.Time)/float64(t))) > timeTolerance {
			return 0, false
		}
	}
	return t, true
}
