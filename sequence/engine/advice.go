package engine

// While a session runs: the one best thing that can still be done about its wet time.
// Each possibility is laid out to the end from where the film is now, overruns and
// holds included.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Action is what an Advice says to do.
type Action string

// The deeds.
const (
	MoveOnNow   Action = "go-on"      // what is held, or waits, is overdue
	IntoHangers Action = "in-hangers" // from Step on; or into single trays, as In says
	LeastTime   Action = "least"      // Step for For alone; its sheets move on at At
	LeaveOut    Action = "leave-out"  // Step
)

// Advice is one thing to do, and what it comes to.
type Advice struct {
	Action Action
	Step   int // index into the plan's steps; -1 for loading
	For    sequence.Elapsed
	At     sequence.Elapsed
	In     sequence.Vessel
	Margin *sequence.Elapsed // that it leaves by the limit; nil where no limit is known
}

// option is one thing that could still be done.
type option struct {
	Advice // what is not known before the film is laid out with it left open
	plan   *sequence.Plan
	doses  []sequence.Elapsed
}

// Advise is the kindest thing that still brings the wet time under its limit, with
// the film's warning to spare where that can be had; where nothing does, what helps
// most. False where nothing helps, or the session does not run.
func (s State) Advise(now sequence.Elapsed) (Advice, bool) {
	if s.forecastNow.change.at == sequence.Never {
		return Advice{}, false
	}
	before := schedule.WorstWet(s.plan, s.layOut(s.floor(now)))
	if s.filmState.overdue {
		over := max(0, now-s.filmState.since)
		return Advice{Action: MoveOnNow, Step: s.forecastNow.change.from, For: over, Margin: before.Margin}, true
	}
	var best Advice
	found, most := false, 0.0
	for _, margin := range []sequence.Elapsed{s.plan.Recipe.Film.WetWarning, 0} {
		for _, o := range options(s) {
			a, wet, ok := weigh(s, o, before, now)
			if !ok {
				continue
			}
			if wet.Margin != nil && *wet.Margin >= margin {
				return a, true
			}
			if helps := improvement(before, wet); helps > most {
				best, found, most = a, true, helps
			}
		}
	}
	return best, found
}

// improvement is by how much a wet time is better: in shares of the limit, in seconds where
// none is known.
func improvement(a, b sequence.Wet) float64 {
	if a.Used != nil && b.Used != nil {
		return *a.Used - *b.Used
	}
	return sequence.Seconds(a.Total - b.Total)
}

// weigh lays the film out with an option; false where it gains nothing.
func weigh(s State, o option, before sequence.Wet, now sequence.Elapsed) (Advice, sequence.Wet, bool) {
	t := s
	t.plan, t.filmState.doses = o.plan, o.doses
	laid := t.layOut(t.floor(now))
	wet := schedule.WorstWet(o.plan, laid)
	if !schedule.LessWet(wet, before) {
		return Advice{}, wet, false
	}
	a := o.Advice
	a.Margin = wet.Margin
	if a.Action == LeastTime {
		_, _, a.At, _ = schedule.Bounds(laid.Row(o.plan, a.Step))
	}
	return a, wet, true
}

// options are what can still be done, kindest first: hangers where a stack comes into
// the light, the least that does its work, leaving out what is optional.
func options(s State) []option {
	var hang, least, leave []option
	for i := range s.plan.Steps {
		st, row := &s.plan.Steps[i], s.filmState.film.Row(s.plan, i)
		begun := slices.ContainsFunc(row, func(y schedule.Stay) bool { return y.In != sequence.Never })
		left := slices.ContainsFunc(row, func(y schedule.Stay) bool { return y.Out != sequence.Never })
		if !begun && st.Stack && st.RoomLight == sequence.White && i > 0 {
			hang = append(hang, inHangersFrom(s, i))
		}
		if d := schedule.LeastTime(s.plan, i); !left && st.Kind != sequence.Develop && d > 0 && d < s.filmState.doses[i] {
			least = append(least, leastTimeOption(s, i, d))
		}
		if !begun && st.Optional && i > 0 && !(st.Kind == sequence.Presoak && st.Stack) {
			leave = append(leave, withoutStep(s, i))
		}
	}
	return slices.Concat(hang, least, leave)
}

// inHangers is the rest in hangers, or single trays, from step i on.
func inHangersFrom(s State, i int) option {
	p := *s.plan
	p.Steps = slices.Clone(p.Steps)
	apart := p.SeparateVessel()
	for k := i; k < len(p.Steps) && p.Steps[k].Stack; k++ {
		p.Steps[k].Vessel, p.Steps[k].Stack = apart, false
	}
	return option{Advice{Action: IntoHangers, Step: i, In: apart}, &p, s.filmState.doses}
}

// leastTimeOf is the least of step i.
func leastTimeOption(s State, i int, least sequence.Elapsed) option {
	doses := slices.Clone(s.filmState.doses)
	doses[i] = least
	return option{Advice{Action: LeastTime, Step: i, For: least}, s.plan, doses}
}

// without is step i left out: film passes through it in no time.
func withoutStep(s State, i int) option {
	doses := slices.Clone(s.filmState.doses)
	doses[i] = 0
	return option{Advice{Action: LeaveOut, Step: i}, s.plan, doses}
}
