package sequence

// All cues of a session from a moment on, in order.

import (
	"cmp"
	"slices"
	"time"
)

// score is what the cues of a forecast are made from.
type score struct {
	plan    *Plan
	film    film     // laid out to the end
	done    film     // as far as it has happened; nil in a plan
	from    Elapsed  // nothing earlier
	quiet   Elapsed  // when something was last heard
	turned  []turned // so far, by step
	wetWarn Elapsed  // Never where not reached
	wetPass Elapsed
	lead    Elapsed // when the session began, before the first dip
	blocked bool    // moving on is stopped: no move, and no cue of a step after block
	block   int     // the step that cannot be left; -1 for dry film
	overrun Elapsed // the blocked step is overdue: its agitation goes on until here; 0 if not
	due     Elapsed // since when it is overdue
}

// compose lists the cues from c.from on.
func (c *score) compose() []placed {
	var list []placed
	for s := range c.plan.Steps {
		w, ok := c.passing(s)
		if !ok || w.end < c.from {
			continue
		}
		w.out = list
		w.loading(c.lead)
		w.agitation()
		w.reversals()
		w.exits()
		list = w.out
	}
	list = append(list, c.lights()...)
	list = append(list, c.wet()...)
	list = slices.DeleteFunc(list, c.withdrawn)
	if c.overrun > 0 {
		for at := passed(c.due+overdueEvery, overdueEvery, c.from); at < c.overrun; at += overdueEvery {
			list = append(list, placed{Cue{At: at, Kind: CueOverdue, Step: c.plan.name(c.block)}, c.block})
		}
	}
	slices.SortStableFunc(list, byInstant)
	return c.ticks(list)
}

// passing is step s as it is laid out; false where no sheet comes into it, or nothing of
// it is known while the one before is stopped.
func (c *score) passing(s int) (passing, bool) {
	row := c.film.still(c.plan, s)
	start, last, moves, end := span(row)
	if start == Never || c.blocked && s > c.block && !c.plan.waits(s) {
		return passing{}, false
	}
	w := passing{plan: c.plan, s: s, st: &c.plan.Steps[s], row: row,
		start: start, last: last, moves: moves, end: end, now: c.from}
	if c.turned != nil {
		w.turned = c.turned[s]
	}
	if c.blocked && s == c.block {
		w.overrun, w.due, w.waiting = c.overrun, c.due, w.st.Wait
	}
	return w, true
}

// overdueEvery is how often "time is up, holding" is said.
const overdueEvery = 10 * time.Second

// withdrawn says which cues are not, or no longer, true: the past, and while
// moving on is stopped the moves themselves and whatever follows them.
func (c *score) withdrawn(p placed) bool {
	if p.At < c.from {
		return true
	}
	if !c.blocked {
		return false
	}
	if p.step > c.block {
		return !c.gathered(p)
	}
	switch p.Kind {
	case CueLoad, CueMove, CueTakeOut, CueDone:
		return true
	case CueReady, CueDrain:
		return c.overrun > 0
	case CueLightsOut:
		return true
	}
	return false
}

// gathered reports whether a cue is for a sheet of a film test that has been taken
// out already: its time in the next bath goes on while the others are held.
func (c *score) gathered(p placed) bool {
	if p.Kind == CueTurn && c.plan.waits(p.step) {
		return true
	}
	return p.Sheet > 0 && c.plan.waits(p.step) && c.done.row(c.plan, p.step)[p.Sheet-1].in != Never
}

// byInstant orders cues by time, then by step, then what ends before what begins.
func byInstant(a, b placed) int {
	return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.step, b.step), cmp.Compare(rank(a.Kind), rank(b.Kind)))
}

func rank(k CueKind) int {
	switch k {
	case CueRest:
		return 0
	case CueAgitate, CueTurn:
		return 2
	case CueMove, CueTakeOut, CueDone:
		return 3
	}
	return 1
}

// lights places lights-out before a dark step that follows a lit one, and the
// offer of light: when the last sheet has had lights_on_after, or when the first
// lighter step has begun with all sheets in it.
func (c *score) lights() []placed {
	var list []placed
	at := func(t Elapsed, k CueKind, s int) {
		list = append(list, placed{Cue{At: t, Kind: k, Step: c.plan.Steps[s].Name}, s})
	}
	offered, darkest := false, White
	for s := range c.plan.Steps {
		st := &c.plan.Steps[s]
		_, last, moves, _ := span(c.film.row(c.plan, s))
		if s > 0 && st.RoomLight == Dark && c.plan.Steps[s-1].RoomLight != Dark {
			_, in, before, _ := span(c.film.row(c.plan, s-1))
			at(max(in, before-readyBefore), CueLightsOut, s-1)
			offered = false
		}
		if lighter(st.RoomLight, darkest) && !offered {
			at(last, CueLightsOffer, s)
			offered = true
		}
		if lighter(darkest, st.RoomLight) {
			darkest = st.RoomLight
		}
		if had := last + st.LightsOnAfter; st.LightsOnAfter > 0 && had <= moves && darkest != White && !offered {
			at(had, CueLightsOffer, s)
			offered = true
		}
	}
	return list
}

func lighter(a, b Light) bool { return brightness(a) > brightness(b) }

func brightness(l Light) int {
	switch l {
	case White:
		return 2
	case Safelight:
		return 1
	}
	return 0
}

func (c *score) wet() []placed {
	var list []placed
	if c.wetWarn != Never {
		list = append(list, placed{Cue{At: c.wetWarn, Kind: CueWetWarning, Step: c.at(c.wetWarn)}, -1})
	}
	if c.wetPass != Never {
		list = append(list, placed{Cue{At: c.wetPass, Kind: CueWetLimit, Step: c.at(c.wetPass)}, -1})
	}
	return list
}

// at names the step that is going on at t: the last to have begun.
func (c *score) at(t Elapsed) string {
	name := ""
	for s := range c.plan.Steps {
		if start, _, _, _ := span(c.film.row(c.plan, s)); start <= t {
			name = c.plan.name(s)
		}
	}
	return name
}

const (
	tickEvery  = 15 * time.Second
	tickBefore = 5 * time.Second // a tick keeps this far from what comes next
)

// ticks fills long quiets, so that the person knows that all is well and a
// loudspeaker does not go to sleep.
func (c *score) ticks(list []placed) []placed {
	if len(list) == 0 {
		return nil
	}
	var full []placed // where there is a tick
	quiet := c.quiet
	if quiet == Never {
		quiet = list[0].At
	}
	for i, p := range list {
		for at := quiet + tickEvery; at <= p.At-tickBefore; at += tickEvery {
			if at < c.from {
				continue
			}
			if full == nil {
				full = append(make([]placed, 0, len(list)+len(list)/2), list[:i]...)
			}
			full = append(full, placed{Cue{At: at, Kind: CueTick, Step: c.at(at)}, p.step})
		}
		if full != nil {
			full = append(full, p)
		}
		quiet = p.At
	}
	if full == nil {
		return list
	}
	return full
}
