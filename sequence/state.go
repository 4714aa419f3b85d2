package sequence

// The state of a session, and how events change it. Apply is pure and cannot
// fail: replaying a journal gives the state that was lived.

import (
	"slices"
	"time"

	"example.org/wetside/chem"
)

// State is a session at one moment. Make one with NewState; change it with
// Apply alone.
type State struct {
	plan  *Plan
	rates []chem.Rate

	at     Elapsed // of the last event
	began  bool
	lead   Elapsed   // when it began, before the first dip
	over   EventKind // SessionDone or SessionStopped; "" while it lasts
	moves  motion    // what the person can undo
	before *motion   // as it was before the person's last act; nil if none
	act    int       // number of the person's last act
	actAt  Elapsed
	given  given    // cues so far
	turned []turned // by step; two stacks are turned at once where a film test leaves together
	warned Elapsed  // when wet-warning was given; Never if not
	passed Elapsed  // when wet-limit-passed was given; Never if not
	lit    bool     // the person asked for light
	offer  bool     // light was offered, and no dark step has begun since
	told   Elapsed  // the next move as it was last told: what readings change is told against it
	sound  string   // why there is no sound; "" while there is

	muted  bool    // being replayed: no cue is worked out
	stale  bool    // and ahead is as it was before the last reading
	laidAt Elapsed // when ahead was last worked out, or would have been

	ahead outlook // worked out from the above
}

// given remembers the cues of the last moments, so that none is given twice
// and none is lost to a change of plan just after its instant.
type given struct {
	at    Elapsed // nothing up to here is given any more, but what is due at it
	heard Elapsed // when a cue was last given; Never if none was
	cues  []Cue
}

// until passes over all cues before t; those given at t stay given.
func (g given) until(t Elapsed) given {
	cues := slices.DeleteFunc(slices.Clone(g.cues), func(c Cue) bool { return c.At < t })
	return given{at: t, heard: g.heard, cues: cues}
}

// recent is how long a given cue is still told to whoever plays it.
const recent = 2 * time.Second

// outlook is what will happen if nothing intervenes.
type outlook struct {
	film    film
	edge    edge
	cues    []placed
	next    int // the first cue not yet given
	wetWarn Elapsed
	wetPass Elapsed
	wake    Elapsed // the earliest of all that is due; Never for nothing
}

// edge is the next change of bath.
type edge struct {
	at    Elapsed // Never: none left
	from  int     // step that is left; -1 for dry film
	sheet int     // 1..n; 0 for all that are in the step
}

// NewState is a session that has not begun.
func NewState(p *Plan) (State, error) {
	l, err := newLayout(p)
	if err != nil {
		return State{}, err
	}
	s := State{plan: p, given: given{at: -Never, heard: Never}, warned: Never, passed: Never}
	s.moves = motion{film: l.done, doses: l.doses}
	s.rates = slices.Clone(l.rates)
	for i, r := range s.rates {
		if table, ok := r.(chem.Pairs); ok {
			s.rates[i] = table.Continued() // a bath that leaves its table goes on working
		}
	}
	s.ahead.wake, s.ahead.edge.at = Never, Never
	return s, nil
}

// Apply returns the state after e. It never fails, and never changes s.
func Apply(s State, e Event) State {
	if e.Kind == Alive {
		return s
	}
	if s.stale && e.Kind != ReadingTaken && (e.Kind != CueGiven || e.Cue == CueReading || e.Cue == CueOverdue) {
		s = s.settle()
	}
	s.at = max(s.at, e.At)
	if !s.began {
		s.at = e.At
	}
	if e.Act != 0 && e.Act != s.act {
		m := s.moves
		s.before, s.act, s.actAt = &m, e.Act, e.At
	}
	switch e.Kind {
	case CueGiven:
		return s.hear(e)
	case Moved, TakenOut, ReadingTaken, Held, WentOn, Overran, LateTold:
		s = s.change(e)
	case SetAside:
		if e.Source != ByHand {
			return s // a film test's, which waits for the others
		}
		s = s.change(e)
	case SessionBegan:
		s.began, s.lead = true, e.At
	case Undone:
		if s.before != nil {
			s.moves, s.before = *s.before, nil
		}
		s.given = s.given.until(e.At)
	case GapFound, Resumed:
		s.given = s.given.until(e.At)
	case WetWarned:
		s.warned = e.At
	case WetPassed:
		s.passed = e.At
	case SessionDone, SessionStopped:
		s.over = e.Kind
		s.moves.film = s.moves.film.lifted(s.plan, e)
	default:
		return s.aside(e)
	}
	if s.muted && e.Kind == ReadingTaken {
		s.stale, s.laidAt = true, s.at
		return s
	}
	s = s.forecast()
	if e.Kind != ReadingTaken {
		s.told = s.ahead.edge.at
	}
	return s
}

// aside takes in what changes neither film nor time.
func (s State) aside(e Event) State {
	switch e.Kind {
	case LightChanged:
		s.lit = e.Text == "on"
	case SoundLost:
		s.sound = e.Text
	case SoundBack:
		s.sound = ""
	}
	return s
}

// hear notes that a cue was given.
func (s State) hear(e Event) State {
	c := Cue{At: e.At, Kind: e.Cue, For: e.For, Change: e.Change, Step: e.Step, Sheet: e.Sheet}
	cues := s.given.cues
	for len(cues) > 0 && cues[0].At < e.At-recent {
		cues = cues[1:]
	}
	s.given = given{at: e.At, heard: e.At, cues: append(slices.Clip(cues), c)}
	switch e.Cue {
	case CueLightsOffer:
		s.offer = true
	case CueLightsOut:
		s.offer, s.lit = false, false
	case CueTurn:
		step := s.plan.step(e.Step)
		if s.plan.waits(step) {
			break // a turn in plain water is none of a round
		}
		if step == len(s.plan.Steps) {
			break
		}
		s.turned = append(make([]turned, 0, len(s.plan.Steps)), s.turned...)[:len(s.plan.Steps)]
		s.turned[step] = s.turned[step].and(e.At)
	case CueReading:
		s.told = s.ahead.edge.at
	case CueOverdue:
		return s.forecast() // the next ten seconds of it
	}
	return s.skip()
}

// skip passes over the cues that have been given, or that are past.
func (s State) skip() State {
	a := &s.ahead
	for a.next < len(a.cues) {
		c := a.cues[a.next].Cue
		if c.At > s.given.at || c.At == s.given.at && !slices.ContainsFunc(s.given.cues, c.same) {
			break
		}
		a.next++
	}
	s.ahead.wake = s.wake()
	return s
}

// same says whether two cues are one, however long they last.
func (c Cue) same(d Cue) bool {
	return c.At == d.At && c.Kind == d.Kind && c.Step == d.Step && c.Sheet == d.Sheet
}
