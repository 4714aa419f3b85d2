package run

// Which light the screen gives: none where the room is dark, red or as dim as can be read where
// film may be open, full colour where the room has white light.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/tui/light"
)

// lamp is the screen's light.
type lamp struct {
	dark    bool // no cell is lit
	white   bool // full colour, where the room has white light
	whitely int  // the step, counted from 2, in which white came by itself; 0 for none
}

// shines is what the screen may be seen in.
func (p lamp) shines(m moment) light.Light {
	switch {
	case p.dark:
		return light.Dark
	case p.white:
		return light.White
	case bySafelight(m):
		return light.Safelight
	}
	return light.Red
}

// darkened is the screen without a lit cell; light that comes back is red.
func (p lamp) darkened() lamp {
	p.dark, p.white = true, false
	return p
}

// relit is the light that comes back: red, and it stays so in this step unless w asks.
func (p lamp) relit(m moment) lamp { return lamp{whitely: m.look.Step + 2} }

// follows is the light as the session goes on: full colour ends with white light, and comes by itself
// once a step: what the person then chooses stays.
func (p lamp) follows(m moment) lamp {
	switch {
	case p.white && !mayBeWhite(m):
		p.white = false
	case !p.white && m.look.Light == sequence.White && p.whitely != m.look.Step+2:
		p.white, p.whitely = true, m.look.Step+2
	}
	return p
}

// changed goes between red and full colour; false where the room has no white light.
func (p lamp) changed(m moment) (lamp, bool) {
	if !p.white && !mayBeWhite(m) {
		return p, false
	}
	p.white, p.whitely = !p.white, m.look.Step+2
	return p, true
}

// mustDarken reports whether the room is dark again while the screen is lit.
func (p lamp) mustDarken(m moment) bool {
	l := m.look
	return !p.dark && l.Began && l.Over == "" && !m.lit && l.Light == sequence.Dark && !l.LightOn
}

// bySafelight reports whether the step is one in which film lies open by safelight.
func bySafelight(m moment) bool {
	return m.look.Light == sequence.Safelight && m.look.Over == "" && !m.lit
}

// mayBeWhite reports whether the room may have white light: in a white step, in a
// rehearsal, and where the last sheet is fixed and the person put the light on. Light put on for
// a safelight step is no leave for white.
func mayBeWhite(m moment) bool {
	l := m.look
	return l.Light == sequence.White || l.LightOn && l.Light == sequence.Dark || m.lit
}
