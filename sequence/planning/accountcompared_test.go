package planning

// A plan held against the second account: times, cues, wet time.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// wet is a sheet's wet time and share of the limits up to t.
func (a *account) wet(k int, t float64) (wet, used float64) {
	for s := range a.r.Steps {
		if a.r.Steps[s].OutsideWetTime || a.in[s][k] > t {
			continue
		}
		d := min(t, a.out[s][k]) - a.in[s][k]
		wet += d
		if limit, ok := a.limit(a.vessel(s)); ok {
			used += d / limit
		}
	}
	return wet, used
}

func (a *account) limit(v sequence.Vessel) (float64, bool) {
	if a.r.Film.WetLimit.All > 0 {
		return a.r.Film.WetLimit.All.Seconds(), true
	}
	d, ok := a.r.Film.WetLimit.ByVessel[v]
	return d.Seconds(), ok
}

// worst is the greatest share used by any sheet up to t.
func (a *account) worst(t float64) float64 {
	used := 0.0
	for k := range a.n {
		_, u := a.wet(k, t)
		used = max(used, u)
	}
	return used
}

// warning is when the worst sheet has wet_warning left, NaN where it never has:
// found by halving, since the share only ever grows.
func (a *account) warning(end float64) float64 {
	limit, ok := a.limit(a.r.Load.Vessel)
	if !ok {
		return math.NaN()
	}
	left := func(t float64) float64 { return (1 - a.worst(t)) * limit }
	warn := a.r.Film.WetWarning.Seconds()
	if left(end) > warn+1e-9 { // reached at the very end counts, in spite of rounding
		return math.NaN()
	}
	lo, hi := 0.0, end
	for range 80 {
		if mid := (lo + hi) / 2; left(mid) <= warn+1e-9 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// LimitAt is when the worst sheet has used its limit: as warning; beyond the last sheet out
// as if what is wet last went on. NaN where that is nowhere.
func (a *account) limitAt(end float64) float64 {
	if _, ok := a.limit(a.r.Load.Vessel); !ok {
		return math.NaN()
	}
	if a.worst(end) >= 1-1e-12 {
		lo, hi := 0.0, end
		for range 80 {
			if mid := (lo + hi) / 2; a.worst(mid) >= 1-1e-12 {
				hi = mid
			} else {
				lo = mid
			}
		}
		return hi
	}
	at := math.NaN()
	for k := range a.n {
		for s := len(a.r.Steps) - 1; s >= 0; s-- {
			if a.r.Steps[s].OutsideWetTime {
				continue
			}
			if limit, ok := a.limit(a.vessel(s)); ok {
				_, used := a.wet(k, end)
				if t := a.out[s][k] + (1-used)*limit; !(t >= at) {
					at = t
				}
			}
			break
		}
	}
	return at
}

// compare holds a plan against the account.
func (a *account) compare(p *sequence.Plan) error {
	var faults []string
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	same := func(got sequence.Elapsed, want float64, format string, args ...any) {
		if math.Abs(got.Seconds()-want) > 2e-6 {
			fault("%s: %.6f; expected %.6f", fmt.Sprintf(format, args...), got.Seconds(), want)
		}
	}
	for _, y := range p.Passages {
		same(y.In, a.in[y.Step][y.Sheet-1], "step %d sheet %d in", y.Step, y.Sheet)
		same(y.Out, a.out[y.Step][y.Sheet-1], "step %d sheet %d out", y.Step, y.Sheet)
	}
	if want := a.n * len(a.r.Steps); len(p.Passages) != want {
		fault("%d passages; expected %d", len(p.Passages), want)
	}
	for s := range a.r.Steps {
		same(p.Steps[s].Start, slices.Min(a.in[s]), "step %d start", s)
		same(p.Steps[s].FirstOut, slices.Min(a.out[s]), "step %d moves", s)
		same(p.Steps[s].End, slices.Max(a.out[s]), "step %d end", s)
		same(p.Steps[s].Given, a.given(s), "step %d time", s)
		a.compareCues(p, s, fault)
		if pulls := p.Pulls(s); len(pulls) != len(a.r.Steps[s].PullTimes) {
			fault("step %d: %d times of its sheets; expected %d", s, len(pulls), len(a.r.Steps[s].PullTimes))
		} else {
			for k, d := range pulls {
				same(d, a.out[s][k]-a.in[s][k], "step %d sheet %d pulled after", s, k+1)
			}
		}
	}
	a.compareWet(p, same, fault)
	if len(faults) == 0 {
		return nil
	}
	return fmt.Errorf("%s", strings.Join(faults, "\n"))
}

// given is what each sheet gets at least; of a developer exactly, which while the
// bath drifts is the least among its sheets; of a film test the longest.
func (a *account) given(s int) float64 {
	st := &a.r.Steps[s]
	if st.Kind != sequence.Develop {
		return a.lasts(s)
	}
	last, _ := a.lastIn(s)
	shortest, longest := math.Inf(1), 0.0
	for k := range a.n {
		from := last
		if a.stack(s) || len(st.PullTimes) > 0 {
			from = a.in[s][k]
		}
		stay := a.out[s][k] - from
		if st.WaitForPerson && a.out[s][k] == slices.Min(a.out[s]) {
			stay -= st.Drain.Seconds() // it drains when it has had its time
		}
		shortest, longest = min(shortest, stay), max(longest, stay)
	}
	if len(st.PullTimes) > 0 {
		return longest
	}
	return shortest
}

// compareCues looks at turns, drains and moves of one step.
func (a *account) compareCues(p *sequence.Plan, s int, fault func(string, ...any)) {
	name := p.Steps[s].Name
	list := func(what string, got []float64, want []float64) {
		slices.Sort(want)
		ok := len(got) == len(want)
		for i := 0; ok && i < len(want); i++ {
			ok = math.Abs(got[i]-want[i]) < 2e-6
		}
		if !ok {
			fault("%s: %s at %.3f; expected %.3f", name, what, got, want)
		}
	}
	if a.gathers(s) {
		a.turns[s] = a.waitingTurns(s)
	}
	if len(a.r.Steps[s].PullTimes) == 0 && !a.parts(s) && !a.joins(s) {
		list("turns", recipetest.Instants(recipetest.CuesOf(p.Cues, sequence.CueShuffle, name)), a.turns[s])
	}
	a.compareStands(p, s, list)
	together := (!a.stack(s) || a.gathers(s)) && !a.parts(s) && !(a.passes(s) && a.n > 1) || a.r.Steps[s].LeaveTogether
	var leave, drains []float64
	for k := range a.n {
		if together && k > 0 && !a.takesOut(s) {
			break
		}
		leave = append(leave, a.out[s][k])
		if d := a.r.Steps[s].Drain.Seconds(); d > 0 {
			drains = append(drains, a.out[s][k]-d)
		}
	}
	list("drains", recipetest.Instants(recipetest.CuesOf(p.Cues, sequence.CueDrain, name)), drains)
	kind := sequence.CueTransfer
	if a.takesOut(s) {
		kind = sequence.CuePull
	}
	moves := recipetest.CuesOf(p.Cues, kind, name)
	if a.gathers(s) { // the way into plain water is a move of its own, for one sheet
		moves = slices.DeleteFunc(moves, func(c sequence.Cue) bool { return c.Sheet != 0 })
	}
	if s == len(a.r.Steps)-1 {
		leave = nil // no move at the last sheet out
	}
	list("moves", recipetest.Instants(moves), leave)
	for _, c := range moves {
		if c.Sheet != 0 && math.Abs(c.At.Seconds()-a.out[s][c.Sheet-1]) > 2e-6 {
			fault("%s: sheet %d is called at %v; expected %.3f", name, c.Sheet, c.At, a.out[s][c.Sheet-1])
		}
		if (c.Sheet == 0) != (together && kind == sequence.CueTransfer) {
			fault("%s: a %s calls sheet %d", name, kind, c.Sheet)
		}
	}
}

// compareStands wants a rest where the bath's agitation ends and does not begin again.
func (a *account) compareStands(p *sequence.Plan, s int, list func(string, []float64, []float64)) {
	if a.gathers(s) || a.passes(s) {
		return // each sheet has an agitation of its own
	}
	name := p.Steps[s].Name
	cycles := recipetest.CuesOf(p.Cues, sequence.CueAgitate, name)
	var ends []float64
	for i, c := range cycles {
		if end := c.At + c.For; i+1 == len(cycles) || cycles[i+1].At > end {
			ends = append(ends, end.Seconds())
		}
	}
	list("rests", recipetest.Instants(recipetest.CuesOf(p.Cues, sequence.CueStand, name)), ends)
}

// waitingTurns: what waits in plain water is turned over each minute from when the
// second is put there until all go on.
func (a *account) waitingTurns(s int) []float64 {
	end, first, second := a.out[s][0], math.Inf(1), math.Inf(1)
	for k := range a.n {
		if into := a.in[s][k] + a.r.Steps[s].Time.Seconds(); into < end-1e-9 {
			first, second = min(first, into), min(second, max(first, into))
		}
	}
	var list []float64
	for at := second + 60; at < end-1e-9; at += 60 {
		list = append(list, at)
	}
	return list
}

func (a *account) compareWet(p *sequence.Plan, same func(sequence.Elapsed, float64, string, ...any), fault func(string, ...any)) {
	total, used, first, end := 0.0, 0.0, math.Inf(1), 0.0
	for k := range a.n {
		w, u := a.wet(k, math.Inf(1))
		total, used = max(total, w), max(used, u)
		for s := range a.r.Steps {
			if !a.r.Steps[s].OutsideWetTime {
				first, end = min(first, a.in[s][k]), max(end, a.out[s][k])
			}
		}
	}
	same(p.Wet.Total, total, "wet.total")
	if !math.IsInf(first, 1) {
		same(p.Wet.Session, end-first, "wet.session")
	}
	limit, ok := a.limit(a.r.Load.Vessel)
	if (p.Wet.Limit != nil) != ok || (p.Wet.Used != nil) != ok || (p.Wet.Margin != nil) != ok {
		fault("wet: limit %v used %v margin %v; expected all or none", p.Wet.Limit, p.Wet.Used, p.Wet.Margin)
	}
	if ok && p.Wet.Used != nil {
		same(*p.Wet.Limit, limit, "wet.limit")
		same(*p.Wet.Margin, (1-used)*limit, "wet.margin")
		if math.Abs(*p.Wet.Used-used) > 1e-8 { // this account's own integration is good to about that
			fault("wet.used %g; expected %g", *p.Wet.Used, used)
		}
	}
	lastOut := 0.0
	for k := range a.n {
		lastOut = max(lastOut, a.out[len(a.r.Steps)-1][k])
	}
	switch want := a.limitAt(lastOut); {
	case math.IsNaN(want) != (p.Wet.LimitAt == nil):
		fault("limit at %v; expected %.3f", p.Wet.LimitAt, want)
	case !math.IsNaN(want):
		same(*p.Wet.LimitAt, want, "limit")
	}
	switch want := a.warning(lastOut); {
	case math.IsNaN(want) && p.Wet.WarningAt != nil:
		fault("warning at %v; expected never", *p.Wet.WarningAt)
	case !math.IsNaN(want) && p.Wet.WarningAt == nil:
		fault("no warning; expected at %.3f", want)
	case !math.IsNaN(want):
		same(*p.Wet.WarningAt, want, "warning")
	}
}
