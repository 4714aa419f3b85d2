package planning

// What the hands do, against the second account of the contract: at each second of drawn
// plans the recipe's agitation is read naively, one question after the other.

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// aTouchOf is how long an act that is over at once is shown (our own rule).
const aTouchOf = 3

// wanted is what the hands do at a moment, by the account: every answer that is right
// where two acts are asked for at one instant.
func (a *account) wanted(t float64) []sequence.Doing {
	for _, ask := range []func(int, float64) []sequence.Doing{a.pulled, a.carried, a.lifted, a.reversed} {
		for s := range a.r.Steps {
			if do := ask(s, t); len(do) > 0 {
				return do
			}
		}
	}
	var apart []sequence.Doing
	for s := range a.r.Steps {
		switch do := a.rhythm(s, t); {
		case len(do) == 0:
		case a.gathers(s) || a.passes(s) || a.joins(s) || a.parts(s):
			apart = append(apart, do...)
		default:
			return do
		}
	}
	if len(apart) > 0 {
		return apart
	}
	return []sequence.Doing{sequence.Standing}
}

// between reports whether t lies in [from, to).
func between(t, from, to float64) bool { return from <= t && t < to }

// pulled: one sheet of a film test is lifted, drips, and is carried over.
func (a *account) pulled(s int, t float64) []sequence.Doing {
	for k := range a.n {
		if o := a.out[s][k]; a.takesOut(s) && between(t, o-a.r.Steps[s].Drain.Seconds(), o+aTouchOf) {
			return []sequence.Doing{sequence.Pulling}
		}
	}
	return nil
}

// apartly: sheets leave step s one after the other, and not for a film test.
func (a *account) apartly(s int) bool {
	if a.n == 1 || a.gathers(s) || a.takesOut(s) || a.parts(s) || a.passes(s) || a.r.Steps[s].LeaveTogether {
		return false
	}
	return a.stack(s) || s+1 < len(a.r.Steps) && a.stack(s+1)
}

// carried: dry sheets into the first bath, or sheets into the next, one by one.
func (a *account) carried(s int, t float64) []sequence.Doing {
	if s == 0 && a.stack(0) && t < slices.Max(a.in[0]) {
		return []sequence.Doing{sequence.Loading}
	}
	if a.apartly(s) && between(t, slices.Min(a.out[s]), slices.Max(a.out[s])) {
		return []sequence.Doing{sequence.Transfer}
	}
	for k := range a.n {
		if (a.parts(s) || a.passes(s)) && a.n > 1 && between(t, a.out[s][k], a.out[s][k]+aTouchOf) {
			return []sequence.Doing{sequence.Transfer}
		}
	}
	return nil
}

// lifted: out of the bath, or the bath out of a closed vessel.
func (a *account) lifted(s int, t float64) []sequence.Doing {
	do := sequence.Draining
	if a.vessel(s).Closed() {
		do = sequence.Pouring
	}
	for k := range a.n {
		if !a.takesOut(s) && between(t, a.out[s][k]-a.r.Steps[s].Drain.Seconds(), a.out[s][k]) {
			return []sequence.Doing{do}
		}
	}
	return nil
}

// reversed: the drum's turns the other way, from when the bath is in.
func (a *account) reversed(s int, t float64) []sequence.Doing {
	every := a.r.Load.ReverseEvery.Seconds()
	if a.vessel(s) != sequence.Drum || every == 0 {
		return nil
	}
	stop := slices.Min(a.out[s]) - a.r.Steps[s].Drain.Seconds()
	if at := a.in[s][0] + every*math.Floor((t-a.in[s][0])/every); at > a.in[s][0] && at < stop && between(t, at, min(at+aTouchOf, stop)) {
		return []sequence.Doing{sequence.Reversing}
	}
	return nil
}

// rhythm: the recipe's agitation of step s, read at one moment.
func (a *account) rhythm(s int, t float64) []sequence.Doing {
	st := &a.r.Steps[s]
	last, _ := a.lastIn(s)
	start, stop := last, slices.Min(a.out[s])
	if st.LeaveTogether || a.joins(s) {
		start = slices.Min(a.in[s])
	}
	if a.takesOut(s) || a.parts(s) {
		stop = slices.Max(a.out[s])
	}
	length := stop - start
	if st.WaitForPerson && stop == slices.Min(a.out[s]) {
		length -= st.Drain.Seconds() // it drains when its time is over
	}
	stop -= st.Drain.Seconds()
	switch {
	case a.gathers(s) || a.passes(s):
		return a.apartFrom(s, t)
	case st.Agitate.Mode == sequence.Still || !between(t, start, stop):
		return nil
	case st.Agitate.Mode == sequence.Shuffle && a.stack(s):
		return a.piles(s, t)
	case st.Agitate.Mode != sequence.Pattern:
		return []sequence.Doing{sequence.Agitating}
	}
	g, since := st.Agitate, t-start
	if since < g.Initial.Seconds() {
		return []sequence.Doing{sequence.Agitating}
	}
	for _, x := range g.At {
		if between(since, x*length, x*length+g.For.Seconds()) {
			return []sequence.Doing{sequence.Agitating}
		}
	}
	for m := 0.0; g.Every > 0 && m*g.Every.Seconds() <= since; m++ {
		if at := m * g.Every.Seconds(); at >= g.Initial.Seconds() && between(since, at, at+g.For.Seconds()) {
			return []sequence.Doing{sequence.Agitating}
		}
	}
	return nil
}

// apartFrom: in the bath after a film test's developer each sheet is agitated for its
// time and goes into plain water, where those that wait are turned once a minute.
func (a *account) apartFrom(s int, t float64) (all []sequence.Doing) {
	st := &a.r.Steps[s]
	for k := range a.n {
		into := a.in[s][k] + st.Time.Seconds()
		if st.Agitate.Mode != sequence.Still && between(t, a.in[s][k], into-st.Drain.Seconds()) {
			all = append(all, sequence.Agitating)
		}
		if a.gathers(s) && into < a.out[s][k]-1e-9 && between(t, into, into+aTouchOf) {
			all = append(all, sequence.Transfer)
		}
	}
	if a.passes(s) {
		return all
	}
	for _, at := range a.waitingTurns(s) {
		if between(t, at, min(at+aTouchOf, a.out[s][0])) {
			all = append(all, sequence.Shuffling)
		}
	}
	return all
}

// piles: a stack is turned while as many sheets are in it, where there is time for it.
func (a *account) piles(s int, t float64) []sequence.Doing {
	last, _ := a.lastIn(s)
	if len(a.r.Steps[s].PullTimes) == 0 && !a.parts(s) && (!a.joins(s) || t >= last) {
		return []sequence.Doing{sequence.Shuffling}
	}
	marks := []float64{last}
	for k := range a.n {
		if a.r.Steps[s].LeaveTogether || a.joins(s) {
			marks = append(marks, a.in[s][k], a.out[s][k])
		} else {
			marks = append(marks, a.out[s][k])
		}
	}
	slices.Sort(marks)
	for i := 1; i < len(marks); i++ {
		from, until, n := marks[i-1], marks[i], 0
		for k := range a.n {
			if a.in[s][k] <= from && a.out[s][k] > from {
				n++
			}
		}
		if slices.Contains(a.out[s], until) {
			until -= a.r.Steps[s].Drain.Seconds()
		}
		if between(t, from, until) && until-from >= float64(n)*aTouchOf-1e-6 {
			return []sequence.Doing{sequence.Shuffling}
		}
	}
	return nil
}

// handAt is what a list says of a moment.
func handAt(list []sequence.Hand, t sequence.Elapsed) (sequence.Hand, bool) {
	i := slices.IndexFunc(list, func(h sequence.Hand) bool { return h.At <= t && t < h.Until })
	if i < 0 {
		return sequence.Hand{}, false
	}
	return list[i], true
}

// Second by second the plan's hands do what the account says, without a gap.
func TestHandsAgreeWithTheAccount(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p, err := Resolve(recipetest.AnyRecipe(r), recipetest.RandomConditions(r))
		if err != nil {
			r.Skip(err)
		}
		recipe := p.Recipe
		recipe.Load.Sheets = p.Sheets
		a := accountOf(recipe, p.Conditions)
		if a.failed != "" {
			return
		}
		list, end := schedule.PlannedHands(&p), p.Steps[len(p.Steps)-1].End
		at := p.Steps[0].Start
		for _, h := range list {
			if h.At != at || h.Until <= h.At {
				r.Fatalf("from %v to %v after %v", h.At, h.Until, at)
			}
			at = h.Until
		}
		if at != end {
			r.Fatalf("the hands rest at %v; the last sheet is out at %v", at, end)
		}
		for now := 137 * recipetest.Second / 1000; now < end; now += recipetest.Second {
			h, _ := handAt(list, now)
			if want := a.wanted(now.Seconds()); !slices.Contains(want, h.Do) && settled(a, now.Seconds()) {
				r.Fatalf("at %v %s in %s; the recipe says %v", now, h.Do, h.Step, want)
			}
		}
	})
}

// settled reports whether no edge is so near that rounding decides.
func settled(a *account, t float64) bool {
	return slices.Equal(a.wanted(t-1e-4), a.wanted(t+1e-4))
}
