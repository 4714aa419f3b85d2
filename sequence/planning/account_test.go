package planning

// A second account of the contract's "Meaning of time", to hold plans against:
// written from its text alone and shaped differently. Sheets are actors, the next
// thing that happens is taken one at a time, and the pile in the tray is a list
// that a hand turns over.

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/wetside/sequence"
)

// account is what happened to the film, in seconds.
type account struct {
	r      sequence.Recipe
	c      sequence.Conditions
	n      int
	step   []int       // where each sheet is: -1 dry, len(Steps) out
	in     [][]float64 // by step, then sheet; NaN where not yet
	out    [][]float64
	due    [][]float64 // when its time was over
	pile   []int       // of the stack being turned, bottom first
	turns  map[int][]float64
	failed string // why the contract refuses it
}

func (a *account) vessel(s int) sequence.Vessel {
	v := a.r.Load.Vessel
	for i := 0; i <= s; i++ {
		if a.r.Steps[i].Vessel != "" {
			v = a.r.Steps[i].Vessel
		}
	}
	return v
}

func (a *account) stack(s int) bool { return a.vessel(s) == sequence.Tray && a.n >= 2 }

// gathers: sheets pulled from step s-1 wait here for each other.
func (a *account) gathers(s int) bool { return s > 0 && a.takesOut(s-1) && !a.r.Steps[s-1].StraightOn }

// passes: each sheet pulled from step s-1 has its time here and goes on by itself.
func (a *account) passes(s int) bool { return s > 0 && a.takesOut(s-1) && a.r.Steps[s-1].StraightOn }

// joins: sheets that went on by themselves come together in step s.
func (a *account) joins(s int) bool { return s > 0 && a.passes(s-1) }

// takesOut: sheets leave step s each at its own time.
func (a *account) takesOut(s int) bool {
	st := &a.r.Steps[s]
	return len(st.PullTimes) > 0 && !st.LeaveTogether
}

// parts: sheets leave step s so that all of the next, a film test's, can end at once.
func (a *account) parts(s int) bool { return s+1 < len(a.r.Steps) && a.r.Steps[s+1].LeaveTogether }

// longest is the sheet with the longest of a film test's times, the first of several.
func (a *account) longest(s int) int {
	times := a.r.Steps[s].PullTimes
	return slices.Index(times, slices.Max(times))
}

// temperature of the developer, t seconds after the first sheet goes in.
func (a *account) temperature(st *sequence.Step, t float64) float64 {
	from := float64(st.Temperature.At)
	if a.c.BathTemperature != nil {
		from = float64(*a.c.BathTemperature)
	}
	since := t + a.c.ReadBefore.Seconds()
	if a.c.SettlesAt == nil || since < 0 {
		return from
	}
	ts := float64(*a.c.SettlesAt)
	return ts + (from-ts)*math.Exp(-since/a.c.TimeConstant.Seconds())
}

// developed is when a sheet that came in at from has had dose seconds at the
// reference temperature: midpoint sums in small steps, then one line.
func (a *account) developed(st *sequence.Step, from, dose float64) float64 {
	if a.c.Factor != 0 {
		dose *= a.c.Factor
	}
	if st.Temperature == nil {
		return from + dose
	}
	rate := func(t float64) float64 {
		return math.Pow(st.Temperature.Coefficient, (a.temperature(st, t)-float64(st.Temperature.At))/10)
	}
	if a.c.SettlesAt == nil {
		return from + dose/rate(from)
	}
	const h = 0.05
	sum, t := 0.0, from
	for {
		d := h * rate(t+h/2)
		if sum+d >= dose {
			return t + h*(dose-sum)/d
		}
		sum, t = sum+d, t+h
	}
}

// entered is when a sheet must have come in to have had dose seconds at the
// reference temperature at end: as developed, backwards.
func (a *account) entered(st *sequence.Step, end, dose float64) float64 {
	if a.c.Factor != 0 {
		dose *= a.c.Factor
	}
	if st.Temperature == nil {
		return end - dose
	}
	rate := func(t float64) float64 {
		return math.Pow(st.Temperature.Coefficient, (a.temperature(st, t)-float64(st.Temperature.At))/10)
	}
	const h = 0.05
	sum, t := 0.0, end
	for {
		d := h * rate(t-h/2)
		if sum+d >= dose {
			return t - h*(dose-sum)/d
		}
		sum, t = sum+d, t-h
	}
}

// parting is when sheet k may leave step s for a film test that all leave at once:
// the longest as soon as all have had their time; the others when that one is in, each
// in time for the common end; in a tray one hand takes them one by one.
func (a *account) parting(s, k int) (float64, bool) {
	last, all := a.lastIn(s)
	next := &a.r.Steps[s+1]
	lead := a.longest(s + 1)
	if !all || k != lead && math.IsNaN(a.in[s+1][lead]) {
		return 0, false
	}
	ready := last + a.r.Steps[s].Time.Seconds()
	if k == lead {
		return ready, true
	}
	end := a.developed(next, a.in[s+1][lead], next.PullTimes[lead].Seconds())
	wants := func(j int) float64 { return max(ready, a.entered(next, end, next.PullTimes[j].Seconds())) }
	due := wants(k)
	if !a.stack(s) && !a.stack(s+1) {
		return due, true
	}
	for j := range a.n {
		if t := a.out[s][j]; !math.IsNaN(t) {
			due = max(due, t+a.r.Load.TransferEvery.Seconds())
		} else if w, mine := wants(j), wants(k); w < mine || w == mine && (a.in[s][j] < a.in[s][k] || a.in[s][j] == a.in[s][k] && j < k) {
			return 0, false
		}
	}
	return due, true
}

// lastIn is when the sheet that entered step s last did so, and whether all have.
func (a *account) lastIn(s int) (float64, bool) {
	last := 0.0
	for _, t := range a.in[s] {
		if math.IsNaN(t) {
			return 0, false
		}
		last = max(last, t)
	}
	return last, true
}

// leaves is when sheet k may leave where it is, as things stand; false where that depends on what
// has not happened yet. Where the person is waited for, they press when its time is up, and what
// goes first drains then; the others follow as after a hand that was late.
func (a *account) leaves(k int) (float64, bool) {
	at, ok := a.finished(k)
	s := a.step[k]
	if !ok || s < 0 {
		return at, ok
	}
	st := &a.r.Steps[s]
	first, previous := math.Inf(1), math.Inf(-1)
	late := false
	for j := range a.n {
		if out := a.out[s][j]; known(out) {
			if first = min(first, out); out > previous {
				previous, late = out, out > a.due[s][j]+1
			}
		}
	}
	drain := st.Drain.Seconds()
	switch {
	case !st.WaitForPerson || drain == 0:
		return at, true
	case math.IsInf(first, 1):
		return at + drain, true
	case a.ownTimes(s) && a.stack(s):
		if at = max(at, first); late {
			at = max(at, previous+a.r.Load.TransferEvery.Seconds())
		}
	case a.stack(s) && !a.gathers(s) && !a.parts(s):
		return at + drain, true // in a row, from the first on
	}
	return max(at, first), true
}

// ownTimes: each sheet of step s has a time of its own from its entry.
func (a *account) ownTimes(s int) bool {
	st := &a.r.Steps[s]
	return a.takesOut(s) || a.passes(s) || a.stack(s) && st.Kind == sequence.Develop && !st.LeaveTogether
}

// finished is when sheet k has had its time where it is.
func (a *account) finished(k int) (float64, bool) {
	s := a.step[k]
	if s < 0 {
		if a.stack(0) {
			return float64(k) * a.r.Load.LoadEvery.Seconds(), true
		}
		return 0, true
	}
	st := &a.r.Steps[s]
	switch {
	case a.parts(s):
		return a.parting(s, k)
	case st.LeaveTogether:
		_, all := a.lastIn(s)
		lead := a.longest(s)
		return a.developed(st, a.in[s][lead], st.PullTimes[lead].Seconds()), all
	case len(st.PullTimes) > 0:
		return a.developed(st, a.in[s][k], st.PullTimes[k].Seconds()), true
	case a.passes(s):
		return a.in[s][k] + st.Time.Seconds(), true
	case st.Kind == sequence.Develop && a.stack(s) && !a.gathers(s):
		return a.developed(st, a.in[s][k], st.Time.Seconds()), true
	}
	last, all := a.lastIn(s)
	if !all {
		return 0, false
	}
	due := last + a.lasts(s)
	if st.Kind == sequence.Develop {
		due = a.developed(st, last, st.Time.Seconds())
	}
	oneByOne := a.stack(s) && !a.gathers(s)
	if !oneByOne {
		return due, true
	}
	gone, earlier := 0, 0
	for j := range a.n {
		if !math.IsNaN(a.out[s][j]) {
			gone++
		} else if a.in[s][j] < a.in[s][k] || a.in[s][j] == a.in[s][k] && j < k {
			earlier++
		}
	}
	return due + float64(gone)*a.r.Load.TransferEvery.Seconds(), earlier == 0
}

// run lets one thing happen after the other until the film is out.
func (a *account) run() {
	for {
		next, when := -1, math.Inf(1)
		for k, s := range a.step {
			if s == len(a.r.Steps) {
				continue
			}
			if t, ok := a.leaves(k); ok && t < when {
				next, when = k, t
			}
		}
		if next < 0 {
			return
		}
		a.carry(next, when)
	}
}

// carry takes one sheet into the next bath.
func (a *account) carry(k int, t float64) {
	s := a.step[k]
	if s >= 0 {
		if _, all := a.lastIn(s); !all && !a.passes(s) {
			a.failed = "window" // its time is up before the last sheet is in
		} else if a.failed == "" && a.turned(s) && !slices.ContainsFunc(a.out[s], known) && a.pile[0] != k {
			a.failed = fmt.Sprintf("sheet %d is to leave step %d first, but sheet %d lies at the bottom", k+1, s, a.pile[0]+1)
		}
		a.due[s][k], _ = a.finished(k)
		a.out[s][k] = t
	}
	a.step[k]++
	if s+1 == len(a.r.Steps) {
		return
	}
	a.in[s+1][k] = t
	if _, all := a.lastIn(s + 1); all && a.stack(s+1) && !a.gathers(s+1) && !a.passes(s+1) {
		a.shuffle(s + 1)
	}
}

func known(t float64) bool { return !math.IsNaN(t) }

func (a *account) turned(s int) bool {
	return a.stack(s) && !a.gathers(s) && !a.passes(s) && a.r.Steps[s].Agitate.Mode == sequence.Shuffle && len(a.r.Steps[s].PullTimes) == 0 && !a.parts(s)
}

// rounds of turns that a window is nearest to; a tie goes up, in spite of rounding.
func (a *account) rounds(window float64) float64 {
	return max(1, math.Floor(window/(float64(a.n)*a.r.Load.ShuffleEvery.Seconds())+0.5+1e-9))
}

// lasts is the time in a bath that is no developer: longer than the recipe's where a hand
// could not turn the stack in it.
func (a *account) lasts(s int) float64 {
	given, drain := a.r.Steps[s].Time.Seconds(), a.r.Steps[s].Drain.Seconds()
	if a.turned(s) {
		given = max(given, drain+a.rounds(given-drain)*float64(a.n)*a.nearest())
	}
	return given
}

// nearest is how near to each other turns may come: 8 s, or what the recipe asks for.
func (a *account) nearest() float64 { return min(8, a.r.Load.ShuffleEvery.Seconds()) }

// shuffle turns the pile over in whole rounds, from when the last sheet is in
// until the drain before the first one moves on.
func (a *account) shuffle(s int) {
	st := &a.r.Steps[s]
	last, _ := a.lastIn(s)
	first := math.Inf(1)
	for k := range a.n {
		if t, ok := a.leaves(k); ok {
			first = min(first, t)
		}
	}
	window := first - st.Drain.Seconds() - last
	if st.Kind == sequence.Develop && window < float64(a.n)*3 {
		a.failed = "window"
	}
	if !a.turned(s) {
		return
	}
	a.pile = a.pile[:0]
	for k := range a.n {
		a.pile = append(a.pile, k)
	}
	slices.SortStableFunc(a.pile, func(i, j int) int { return cmp.Compare(a.in[s][i], a.in[s][j]) })
	rounds := a.rounds(window)
	for rounds > 1 && window/(rounds*float64(a.n)) < a.nearest()-1e-9 {
		rounds--
	}
	for i := range int(rounds) * a.n {
		a.turns[s] = append(a.turns[s], last+window*float64(i)/(rounds*float64(a.n)))
		a.pile = append(a.pile[1:], a.pile[0]) // bottom to top
	}
}

// accountOf follows the film through a recipe.
func accountOf(r sequence.Recipe, c sequence.Conditions) *account {
	a := &account{r: r, c: c, n: r.Load.Sheets, turns: map[int][]float64{}}
	for range a.n {
		a.step = append(a.step, -1)
	}
	for range r.Steps {
		in, out := make([]float64, a.n), make([]float64, a.n)
		a.due = append(a.due, make([]float64, a.n))
		for k := range in {
			in[k], out[k] = math.NaN(), math.NaN()
		}
		a.in, a.out = append(a.in, in), append(a.out, out)
	}
	for s := range r.Steps {
		if a.stack(s) && !a.gathers(s) && !a.passes(s) && r.Steps[s].Drain >= r.Load.TransferEvery {
			a.failed = "drain"
		}
	}
	a.run()
	return a
}
