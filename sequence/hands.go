package sequence

// What the hands do, without gaps from the first sheet in to the last sheet out: one
// account of the film as it is laid out, for the plan, the screens, plain mode and the
// voice. Several things may be asked of the hands at once; what cannot wait comes first.

import (
	"cmp"
	"slices"
	"time"
)

// Doing is what the hands do.
type Doing string

// What hands do.
const (
	Loading    Doing = "load"     // dry sheets into the first bath, one by one
	Shuffling  Doing = "shuffle"  // the bottom sheet of a stack to the top, again and again
	Agitating  Doing = "agitate"  // what moves together
	Standing   Doing = "stand"    // nothing
	Draining   Doing = "drain"    // lifted, dripping
	Transfer   Doing = "transfer" // sheets into the next bath, one by one
	Pulling    Doing = "pull"     // one sheet of a film test out of the developer
	Pouring    Doing = "pour"     // a closed vessel's bath out
	Reversing  Doing = "reverse"  // the drum turns the other way
	aTouch           = leastTurn  // how long the hands are taken up by an act that is over at once
	handsAhead       = time.Minute
)

// Hand is what the hands do for a while.
type Hand struct {
	At    Elapsed `json:"at_s"`
	Until Elapsed `json:"until_s"`
	Do    Doing   `json:"hands"`
	Step  string  `json:"step"` // a transfer's: that is left
	Sheet int     `json:"-"`    // of a pull; 0 elsewhere
}

// act is one thing asked of the hands.
type act struct {
	from, to Elapsed
	do       Doing
	step     int
	sheet    int
	urgency  int
}

// What comes first where several acts are asked for at once.
const (
	restful  = iota // nothing to do
	aside           // the bath in which sheets of a film test wait for the others
	rhythm          // the agitation of the bath
	turning         // the drum's
	leaving         // a lift or a pour
	carrying        // sheet by sheet
	pulling
)

// asked adds what the hands are to do in the step.
func (w *passing) asked(from, to Elapsed, do Doing, sheet, urgency int) {
	if urgency == rhythm && (w.plan.waits(w.s) || w.plan.parting(w.s)) {
		urgency = aside
	}
	if from < to {
		w.acts = append(w.acts, act{from, to, do, w.s, sheet, urgency})
	}
}

// Hands is what the hands do through the plan.
func (p *Plan) Hands() []Hand {
	c := score{plan: p, film: p.film(), quiet: Never}
	return c.hands(func(Elapsed, Elapsed) bool { return true })
}

// Hands is what the hands do at a moment; false before the first sheet is in, and when
// the last is out.
func (s State) Hands(now Elapsed) (Hand, bool) {
	if !s.began || s.over != "" || !s.bathed() {
		return Hand{}, false
	}
	c := s.score(s.lay(s.floor(now)), now)
	if c.overrun > 0 {
		c.overrun = now + handsAhead
	}
	list := c.hands(func(start, end Elapsed) bool { return start <= now && (now <= end+aTouch || c.overrun > 0) })
	i := slices.IndexFunc(list, func(h Hand) bool { return h.At <= now && now < h.Until })
	if i < 0 {
		return Hand{}, false
	}
	return list[i], true
}

// bathed reports whether film is in a bath.
func (s State) bathed() bool {
	for k := range s.plan.Sheets {
		if at := s.where(k); at >= 0 && at < len(s.plan.Steps) {
			return true
		}
	}
	return false
}

// hands lists what the hands do in the steps whose first and last moments are wanted.
func (c *score) hands(wanted func(start, end Elapsed) bool) []Hand {
	var acts []act
	last := -Never
	for s := range c.plan.Steps {
		start, _, _, end := span(c.film.still(c.plan, s))
		if start == Never || !wanted(start, end) {
			continue
		}
		end = max(end, c.overrun)
		last = max(last, end)
		acts = append(acts, act{from: start, to: end, do: Standing, step: s})
		w, ok := c.passing(s)
		if !ok {
			continue
		}
		w.loading(c.lead)
		w.agitation()
		w.reversals()
		w.exits()
		acts = append(acts, w.acts...)
	}
	for i := range acts {
		acts[i].to = min(acts[i].to, last)
	}
	return c.plan.foremost(acts)
}

// foremost is at each moment the most urgent of what is asked.
func (p *Plan) foremost(acts []act) []Hand {
	slices.SortStableFunc(acts, func(a, b act) int { return cmp.Compare(a.from, b.from) })
	var edges []Elapsed
	for _, a := range acts {
		edges = append(edges, a.from, a.to)
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	var list []Hand
	var open []act
	next := 0
	for i := 0; i+1 < len(edges); i++ {
		at, until := edges[i], edges[i+1]
		open = slices.DeleteFunc(open, func(a act) bool { return a.to <= at })
		for ; next < len(acts) && acts[next].from <= at; next++ {
			open = append(open, acts[next])
		}
		if len(open) == 0 {
			continue
		}
		a := slices.MaxFunc(open, func(a, b act) int { return p.urgency(a, b) })
		h := Hand{At: at, Until: until, Do: a.do, Step: p.name(a.step), Sheet: a.sheet}
		if n := len(list) - 1; n >= 0 && list[n].Until == at && list[n].Do == h.Do && list[n].Step == h.Step && list[n].Sheet == h.Sheet {
			list[n].Until = until
			continue
		}
		list = append(list, h)
	}
	return list
}

// urgency orders two acts; of equals the developer's, then the earlier bath's, then
// what was asked for last.
func (p *Plan) urgency(a, b act) int {
	developing := func(a act) int {
		if p.Steps[a.step].Kind == Develop {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(a.urgency, b.urgency), cmp.Compare(developing(a), developing(b)), cmp.Compare(b.step, a.step), cmp.Compare(a.from, b.from))
}
