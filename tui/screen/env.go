package screen

// What every screen is made with.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/widget"
)

// Env is what is the same for all screens of one run of the program.
type Env struct {
	Now      func() time.Time
	Defaults sequence.RawConditions // where nothing is typed: the person's units and own wet limit
	Keys     Keys
	// Countdown is the time before the first sheet goes in.
	Countdown time.Duration
	// Rehearsal is what was asked for on the command line; its speed is 0 for none.
	Rehearsal Rehearsal
	// DefaultSpeed is that of a rehearsal asked for on the screens; 0 for the usual one.
	DefaultSpeed float64
	// BlackUnconfirmed says that the terminal did not confirm a black background.
	BlackUnconfirmed bool
	// Around is what draws a line or a frame of its own around the screens; its line is switched
	// off for the dark where HidesLine says so.
	Around    light.Around
	HidesLine bool
	// OverSSH says that the program runs on another computer than the one before the person.
	OverSSH bool
	// Depth is how many shades a picture can be shown in, and RedDesk says that all screens are red:
	// no picture can be judged then.
	Depth   widget.Depth
	RedDesk bool
}

// Units are the person's.
func (e Env) Units() sequence.Units { return e.Defaults.Units }

// Plan is a recipe under the conditions that were given with the program.
func (e Env) Plan(r sequence.Recipe) (*sequence.Plan, error) {
	c, err := e.Defaults.Conditions()
	if err != nil {
		return nil, err
	}
	plan, err := planning.Resolve(r, c)
	return &plan, err
}

// Keys are the person's own keys for wet hands, as bubbletea names keys; nil for the usual ones.
type Keys struct{ Big, Menu []string }

// The usual ones.
var (
	UsualBig  = []string{" ", "pgdown"}
	UsualMenu = []string{"m"}
)

// Of is which key for wet hands a key is; false for none.
func (k Keys) Of(name string) (Key, bool) {
	switch {
	case slices.Contains(k.big(), name):
		return BigKey, true
	case slices.Contains(k.menu(), name):
		return MenuKey, true
	case name == "esc":
		return EscapeKey, true
	}
	return 0, false
}

func (k Keys) big() []string  { return orUsual(k.Big, UsualBig) }
func (k Keys) menu() []string { return orUsual(k.Menu, UsualMenu) }

func orUsual(list, usual []string) []string {
	if len(list) == 0 {
		return usual
	}
	return list
}

// MenuName is what the second key is called, which opens the spoken menu.
func (k Keys) MenuName() string { return k.menu()[0] }

// BigName is what the big key is called.
func (k Keys) BigName() string {
	if name := k.big()[0]; name != " " {
		return name
	}
	return "space"
}
