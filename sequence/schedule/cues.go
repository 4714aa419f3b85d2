package schedule

// All cues of a session from a moment on, in order.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// CueBuilder is what the cues of a forecast are made from.
type CueBuilder struct {
	Plan         *sequence.Plan
	Film         Stays            // laid out to the end
	Asked        Stays            // as Film, but out of the step that waits when that is asked for; nil in a plan
	Done         Stays            // as far as it has happened; nil in a plan
	From         sequence.Elapsed // nothing earlier
	LastHeard    sequence.Elapsed // when something was last heard
	Shuffles     []ShuffleCount   // so far, by step
	WetWarningAt sequence.Elapsed // Never where not reached
	WetLimitAt   sequence.Elapsed
	Began        sequence.Elapsed // when the session began, before the first sheet goes in
	Blocked      bool             // moving on is stopped: no move, and no cue of a step after block
	AskedAt      sequence.Elapsed // when the next move would be, were it not stopped; Never for none
	BlockedStep  int              // the step that cannot be left; -1 for dry film
	BlockedSheet int              // which of its sheets would go first; 0 for all
	OverrunUntil sequence.Elapsed // the blocked step is overdue: its agitation goes on until here; 0 if not
	OverdueSince sequence.Elapsed // since when it is overdue
}

// Build lists the cues from c.from on.
func (c *CueBuilder) Build() []PlacedCue {
	var list []PlacedCue
	for s := range c.Plan.Steps {
		w, ok := c.passing(s)
		if !ok || w.end < c.From {
			continue
		}
		w.out = list
		w.place(c.Began)
		list = w.out
	}
	list = append(list, c.lightCues()...)
	list = append(list, c.wetCues()...)
	list = slices.DeleteFunc(list, c.withdrawn)
	if c.OverrunUntil > 0 {
		for at := nextInstant(c.OverdueSince+OverdueEvery, OverdueEvery, c.From); at < c.OverrunUntil; at += OverdueEvery {
			list = append(list, PlacedCue{sequence.Cue{At: at, Kind: sequence.CueOverdue, Step: c.Plan.StepName(c.BlockedStep)}, c.BlockedStep})
		}
	}
	slices.SortStableFunc(list, byInstant)
	return slices.DeleteFunc(c.withTicks(c.withAsking(list)), func(p PlacedCue) bool { return p.Kind == "" })
}

// passing is step s as it is laid out; false where no sheet comes into it, or nothing of
// it is known while the one before is stopped.
func (c *CueBuilder) passing(s int) (stepCues, bool) {
	row := c.Film.Remaining(c.Plan, s)
	if c.Blocked && s == c.BlockedStep {
		c.askFor(row)
	}
	_, _, moves, end := Bounds(row)
	if c.Blocked && s > c.BlockedStep {
		c.keepThoseIn(s, row)
	}
	start, last, _, _ := Bounds(row)
	if start == sequence.Never {
		return stepCues{}, false
	}
	w := stepCues{plan: c.Plan, s: s, st: &c.Plan.Steps[s], row: row,
		start: start, last: last, moves: moves, end: end, now: c.From, overrun: -sequence.Never} // 0 is a moment too: a countdown can be cut short
	if c.Shuffles != nil {
		w.shuffles = c.Shuffles[s]
	}
	if c.Blocked && (s == c.BlockedStep || s+1 == c.BlockedStep && c.Plan.PassesPulled(c.BlockedStep)) {
		if w.due, w.waiting = c.OverdueSince, w.st.WaitForPerson; c.OverrunUntil > 0 {
			w.overrun = c.OverrunUntil
		}
	}
	return w, true
}

// askFor has those of the stopped step's sheets that would go first leave when that is asked for: all, or
// one, with those that would go with it. Sheets of a film test are pulled each by itself.
func (c *CueBuilder) askFor(row []Stay) {
	goesFirst := func(k int) bool { return row[k].In != sequence.Never }
	if first := c.BlockedSheet - 1; first >= 0 {
		out, pulled := row[first].Out, c.Plan.Steps[c.BlockedStep].PullsSheets()
		goesFirst = func(k int) bool { return k == first || !pulled && row[k].Out == out }
	}
	for k, y := range c.Asked.Row(c.Plan, c.BlockedStep) {
		if goesFirst(k) {
			row[k].Out = y.Out
		}
	}
}

// keepThoseIn leaves of a row, of a step after the one that is stopped, the sheets of a film test
// that are in it already: their time goes on while the others are held.
func (c *CueBuilder) keepThoseIn(s int, row []Stay) {
	ahead := c.Plan.TakesPulled(s) || c.Plan.JoinsPulled(s)
	for k := range row {
		if !ahead || c.Done.Row(c.Plan, s)[k].In == sequence.Never {
			row[k] = Stay{sequence.Never, sequence.Never}
		}
	}
}

// OverdueEvery is how often "time is up, holding" is said.
const OverdueEvery = 10 * time.Second

// withdrawn says which cues are not, or no longer, true: the past, and while
// moving on is stopped the moves themselves and whatever follows them.
func (c *CueBuilder) withdrawn(p PlacedCue) bool {
	if p.At < c.From {
		return true
	}
	if !c.Blocked {
		return false
	}
	if p.During > c.BlockedStep {
		return !c.forPulledSheet(p)
	}
	switch p.Kind {
	case sequence.CueTransfer:
		return p.Sheet == 0 || !c.Plan.GathersPulled(p.During) // into the water beside it a sheet goes all the same
	case sequence.CueLoad, sequence.CuePull, sequence.CueDone:
		return true
	case sequence.CueReady, sequence.CueDrain:
		return c.OverrunUntil > 0
	case sequence.CueLightsOut:
		return true
	}
	return false
}

// forPulledSheet reports whether a cue, of a step after the one that is stopped, is for sheets of
// a film test that have been pulled already: it moves none of them into the next bath.
func (c *CueBuilder) forPulledSheet(p PlacedCue) bool {
	switch p.Kind {
	case sequence.CueShuffle, sequence.CueAgitate, sequence.CueStand:
		return true
	}
	return p.Sheet > 0 && c.Plan.GathersPulled(p.During)
}

// byInstant orders cues by time, then by step, then what ends before what begins.
func byInstant(a, b PlacedCue) int {
	return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.During, b.During), cmp.Compare(rank(a.Kind), rank(b.Kind)))
}

func rank(k sequence.CueKind) int {
	switch k {
	case sequence.CueStand:
		return 0
	case sequence.CueAgitate, sequence.CueShuffle:
		return 2
	case sequence.CueTransfer, sequence.CuePull, sequence.CueDone:
		return 3
	}
	return 1
}

func (c *CueBuilder) wetCues() []PlacedCue {
	var list []PlacedCue
	if c.WetWarningAt != sequence.Never {
		list = append(list, PlacedCue{sequence.Cue{At: c.WetWarningAt, Kind: sequence.CueWetWarning, Step: c.stepAt(c.WetWarningAt)}, -1})
	}
	if c.WetLimitAt != sequence.Never {
		list = append(list, PlacedCue{sequence.Cue{At: c.WetLimitAt, Kind: sequence.CueWetLimit, Step: c.stepAt(c.WetLimitAt)}, -1})
	}
	return list
}

// stepAt names the step that is going on at t: the last to have begun.
func (c *CueBuilder) stepAt(t sequence.Elapsed) string {
	name := ""
	for s := range c.Plan.Steps {
		if start, _, _, _ := Bounds(c.Film.Row(c.Plan, s)); start <= t {
			name = c.Plan.StepName(s)
		}
	}
	return name
}

// withAsking puts a mark where moving on is stopped at the moment at which it would be: the quiet
// ends there.
func (c *CueBuilder) withAsking(list []PlacedCue) []PlacedCue {
	if !c.Blocked || c.OverrunUntil > 0 || c.AskedAt < c.From {
		return list
	}
	i, _ := slices.BinarySearchFunc(list, c.AskedAt, func(p PlacedCue, at sequence.Elapsed) int { return cmp.Compare(p.At, at) })
	return slices.Insert(list, i, PlacedCue{sequence.Cue{At: c.AskedAt}, c.BlockedStep})
}
