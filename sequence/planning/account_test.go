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
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// account is what happened to the film, in seconds.
type account struct {
	r      sequence.Recipe
	c      sequence.Conditions
	n      int
	step   []int       // where each sheet is: -1 dry, len(Steps) out
	in     [][]float64 // by step, then sheet; NaN where not yet
	out    [][]float64
	pile   []int // of the stack being turned, bottom first
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

// gathers: sheets taken out of step s-1 wait here for each other.
func (a *account) gathers(s int) bool { return s > 0 && a.takesOut(s-1) }

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

// leaves is when sheet k may leave where it is, as things stand; false where
// that depends on what has not happened yet.
func (a *account) leaves(k int) (float64, bool) {
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
		if _, all := a.lastIn(s); !all {
			a.failed = "window" // its time is up before the last sheet is in
		} else if a.failed == "" && a.turned(s) && !slices.ContainsFunc(a.out[s], known) && a.pile[0] != k {
			a.failed = fmt.Sprintf("sheet %d is to leave step %d first, but sheet %d lies at the bottom", k+1, s, a.pile[0]+1)
		}
		a.out[s][k] = t
	}
	a.step[k]++
	if s+1 == len(a.r.Steps) {
		return
	}
	a.in[s+1][k] = t
	if _, all := a.lastIn(s + 1); all && a.stack(s+1) && !a.gathers(s+1) {
		a.shuffle(s + 1)
	}
}

func known(t float64) bool { return !math.IsNaN(t) }

func (a *account) turned(s int) bool {
	return a.stack(s) && !a.gathers(s) && a.r.Steps[s].Agitate.Mode == sequence.Shuffle && len(a.r.Steps[s].PullTimes) == 0 && !a.parts(s)
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
		for k := range in {
			in[k], out[k] = math.NaN(), math.NaN()
		}
		a.in, a.out = append(a.in, in), append(a.out, out)
	}
	for s := range r.Steps {
		if a.stack(s) && !a.gathers(s) && r.Steps[s].Drain >= r.Load.TransferEvery {
			a.failed = "drain"
		}
	}
	a.run()
	return a
}

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
		shortest, longest = min(shortest, a.out[s][k]-from), max(longest, a.out[s][k]-from)
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
	if len(a.r.Steps[s].PullTimes) == 0 && !a.parts(s) {
		list("turns", recipetest.Instants(recipetest.CuesOf(p.Cues, sequence.CueShuffle, name)), a.turns[s])
	}
	together := (!a.stack(s) || a.gathers(s)) && !a.parts(s) || a.r.Steps[s].LeaveTogether
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

// waitingTurns: what waits in plain water is turned over each minute from when the
// first is put there until all go on.
func (a *account) waitingTurns(s int) []float64 {
	end, first := a.out[s][0], math.Inf(1)
	for k := range a.n {
		if into := a.in[s][k] + a.r.Steps[s].Time.Seconds(); into < end-1e-9 {
			first = min(first, into)
		}
	}
	var list []float64
	for at := first + 60; at < end-1e-9; at += 60 {
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
