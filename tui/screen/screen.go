// Package screen is what all screens share: how a screen is asked for its picture and
// given its keys, and the actions by which it asks the root for whatever is beyond itself.
// Each screen is a package below this one with a model of its own; none knows another.
// A screen draws in white light's full colour and never asks which light there is: tui/light
// makes of its cells what may be seen.
package screen

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/widget"
)

// Screen is one of them. It is a value: Update returns the changed one.
type Screen interface {
	// Update takes a message: a key (the big one where it is typed text), a message of one
	// of its own commands. The action is what is asked of the root; nil for nothing.
	Update(tea.Msg) (Screen, Action, tea.Cmd)
	// View draws the body: at most h rows, none wider than w.
	View(w, h int) string
	// About is what stands around the body.
	About() About
}

// About is a screen's head, foot and help.
type About struct {
	Title string // at the left of the head
	Of    string // behind it, quiet, what it is about; left out where there is no room
	Right string // at its right, quiet; left out where there is no room
	// Foot are the keys that matter now, the most important first: six at most, each with
	// a word; "? all keys" is added.
	Foot []key.Binding
	// Help is shown by ?: a short paragraph about the screen, and all its keys by purpose.
	// Its size is the root's to set.
	Help widget.Help
	// Typing says that letters belong to a field: ? and q are no keys then.
	Typing bool
}

// Touch is one touch of a key for wet hands, as it counts: bounces are gone.
type Touch struct {
	Key  Key
	Kind press.Kind // One or Two
}

// Key is a key that counts in the dark.
type Key int

// The keys that count in the dark; all others are nothing there.
const (
	BigKey    Key = iota // space, a foot switch, a presenter
	MenuKey              // opens the spoken menu
	EscapeKey            // twice: light, where no session runs
)

// Touched is a screen that the big key acts on. In the light it is given touches of
// the big key alone, in the dark of all three, and then nothing else: no other key.
type Touched interface {
	Screen
	Touch(Touch) (Screen, Action, tea.Cmd)
}

// Lit is a screen that says itself which light it may be shown in; any other is shown
// in the desk's. It is asked after every Update, and the light is changed before the next
// frame: to Dark at once.
type Lit interface {
	Screen
	Light() light.Light
}

// Interrupted is a screen that asks itself what ctrl+c means; elsewhere it leaves.
type Interrupted interface {
	Screen
	Interrupt() (Screen, Action, tea.Cmd)
}

// Rehearsed is a screen that can begin a rehearsal at once, as the command line asks for.
type Rehearsed interface {
	Screen
	Rehearse() Action
}

// Sized is a screen that is told how much room its body has, before it is first drawn and
// whenever that changes: it pages by what is on the glass.
type Sized interface {
	Screen
	Sized(w, h int) Screen
}

// Renewed is a screen that reads anew what it shows when it is come back to: what was
// done on the screens over it may have changed it.
type Renewed interface {
	Screen
	Renew() (Screen, tea.Cmd)
}

// Started is a screen that asks for something as soon as it is shown.
type Started interface {
	Screen
	Start() tea.Cmd
}
