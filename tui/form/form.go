// Package form is fields beneath each other: choices that are chosen, values that are typed,
// with what each means and what is wrong with it. For the screens that ask for several things.
// Start with Form; Update takes a key and says what came of it, View draws the fields and,
// beneath, what the one under the cursor means. It reaches nothing and holds no clock.
package form

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/widget"
)

// Field is one of them.
type Field struct {
	Label   string
	Means   string   // what it is for, and a usual value
	Usual   string   // shown, quiet, while nothing is typed
	Unit    string   // behind what is typed
	Choices []string // chosen by ←→; nil where it is typed
	Chosen  int
	Text    string // what was typed
	Fault   string // what is wrong with it, in the screen's words
	Do      bool   // no value: enter here does what the label says
}

// Value is what is chosen, or what was typed.
func (f Field) Value() string {
	switch {
	case len(f.Choices) == 0:
		return strings.TrimSpace(f.Text)
	case f.Chosen < 0 || f.Chosen >= len(f.Choices):
		return ""
	}
	return f.Choices[f.Chosen]
}

// Number reads a number that was typed, with a point or a comma; expected says what it should be.
func Number(text, expected string) (float64, error) {
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is no number; expected %s", text, expected)
	}
	return x, nil
}

// NumberIn reads one between two bounds; usual is one.
func NumberIn(from, to float64, usual string) func(text string) (float64, error) {
	return func(text string) (float64, error) {
		v, err := Number(text, "one such as "+usual)
		if err == nil && !(v >= from && v <= to) {
			err = fmt.Errorf("expected %g to %g, such as %s", from, to, usual)
		}
		return v, err
	}
}

func (f Field) typed() bool { return len(f.Choices) == 0 && !f.Do }

// Form is the fields and which one the cursor is on. It is a value: Update returns the
// changed one.
type Form struct {
	Fields []Field
	At     int
	// Live says that a typed field is open as soon as the cursor is on it; else enter opens it,
	// so that letters are keys of the screen.
	Live bool
	open *widget.Prompt
}

// Event is what a key did.
type Event int

// The events.
const (
	None    Event = iota // moved, typed on, or left a field as it was
	Changed              // a value is another
	Done                 // enter on a field that does something
	Left                 // esc where nothing was being typed: the screen is left
	Quit                 // q where nothing was being typed: wetside is left
	Unknown              // no key of a form
)

// Typing says that letters belong to a field.
func (f Form) Typing() bool { return f.open != nil || f.Live && f.Fields[f.At].typed() }

// Faulted puts the cursor on the field that is wrong and says there what is; other faults go. Without an
// error no field has one, and the cursor stays.
func (f Form) Faulted(at int, err error) Form {
	f.Fields = slices.Clone(f.Fields)
	for i := range f.Fields {
		f.Fields[i].Fault = ""
	}
	if err != nil {
		f.Fields[at].Fault, f.At = err.Error(), at
	}
	return f
}

// Update takes a key.
func (f Form) Update(k tea.KeyMsg) (Form, Event) {
	f.Fields = slices.Clone(f.Fields)
	if f.Typing() {
		return f.typing(k)
	}
	field := &f.Fields[f.At]
	switch k.String() {
	case "left", "right":
		if n := len(field.Choices); n > 0 {
			return f.turned(k.String() == "right"), Changed
		}
	case "enter":
		switch {
		case field.Do:
			return f, Done
		case field.typed():
			f.open = f.prompt()
		default:
			return f.moved(1), None
		}
	case "esc":
		return f, Left
	case "q":
		return f, Quit
	default:
		return f.move(k)
	}
	return f, None
}

// move goes from field to field.
func (f Form) move(k tea.KeyMsg) (Form, Event) {
	switch k.String() {
	case "up", "shift+tab":
		return f.moved(-1), None
	case "down", "tab":
		return f.moved(1), None
	case "pgup":
		return f.moved(-len(f.Fields)), None
	case "pgdown":
		return f.moved(len(f.Fields)), None
	}
	return f, Unknown
}

func (f Form) moved(by int) Form {
	f.At = min(max(0, f.At+by), len(f.Fields)-1)
	f.open = nil
	return f
}

// turned takes the next choice; where none has been made the first or the last.
func (f Form) turned(on bool) Form {
	field := &f.Fields[f.At]
	n := len(field.Choices)
	switch {
	case on:
		field.Chosen = (field.Chosen + 1) % n
	case field.Chosen <= 0:
		field.Chosen = n - 1
	default:
		field.Chosen--
	}
	field.Fault = ""
	return f
}

// prompt is the place to type in of the field under the cursor.
func (f Form) prompt() *widget.Prompt {
	if f.open != nil {
		return f.open
	}
	field := f.Fields[f.At]
	return widget.NewPrompt("", field.Unit, field.Text).Hint(field.Usual).Faulted(field.Fault)
}

// typing is a key where something is typed. In a live form every key changes the value; else
// enter takes what was typed and esc leaves the field as it was.
func (f Form) typing(k tea.KeyMsg) (Form, Event) {
	p, field := f.prompt(), &f.Fields[f.At]
	switch k.String() {
	case "esc":
		if !f.Live {
			f.open = nil
			return f, None
		}
		return f, Left
	case "enter":
		changed := field.Text != p.Value()
		field.Text = p.Value()
		if changed {
			field.Fault = ""
		}
		if f.Live {
			return f.moved(1), None
		}
		f.open = nil
		return f, Changed
	case "up", "down", "tab", "shift+tab", "pgup", "pgdown":
		if f.Live {
			return f.move(k)
		}
		return f, None
	}
	p = p.Typed(k)
	if f.open = p; !f.Live || p.Value() == field.Text {
		return f, None
	}
	field.Text, field.Fault = p.Value(), ""
	return f, Changed
}
