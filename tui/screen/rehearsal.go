package screen

// Rehearsals: how fast, in which light, and how one begins.

import "example.org/wetside/sequence"

// Rehearsal is how a session is practised without film.
type Rehearsal struct {
	Speed     float64 // times as fast; 0 for no rehearsal
	SkipQuiet bool    // passes over the quiet between transfers, in real time
	Dark      bool    // prepared, darkened and begun as with film
}

// usualSpeed is how many times as fast a rehearsal from the screens is.
const usualSpeed = 30

// Speed is that of a rehearsal asked for on the screens.
func (e Env) Speed() float64 {
	if e.DefaultSpeed > 0 {
		return e.DefaultSpeed
	}
	return usualSpeed
}

// UsualRehearsal is the one that a single key begins: in the light, unless another was asked for
// on the command line.
func (e Env) UsualRehearsal() Rehearsal {
	how := e.Rehearsal
	if how.Speed == 0 {
		how.Speed = e.Speed()
	}
	return how
}

// Rehearse begins a plan without film: one that is dark from the first step, and so rehearsed,
// on a black screen by two presses.
func (e Env) Rehearse(p *sequence.Plan, how Rehearsal) Action {
	if how.Dark && p.Steps[0].RoomLight == sequence.Dark {
		return OpenDarkRehearsal{p, how}
	}
	return Begin{Start: SessionStart{Plan: p, Countdown: e.Countdown, RehearsalSpeed: how.Speed, SkipQuiet: how.SkipQuiet, Dark: how.Dark}}
}
