package backend

// What the command line says about the screens.

import (
	"time"

	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
)

// ScreenOptions is what the screens are opened on.
type ScreenOptions struct {
	running.SoundOptions
	Countdown  time.Duration
	Recipe     string // "" for the list
	Conditions sequence.RawConditions
	running.Rehearsal
	TakeUp string // a session; "" for none

	Thermometer running.Thermometer
}
