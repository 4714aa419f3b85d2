package widget

// A place to type one value.

import (
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
)

// Prompt is a place to type a value in: with its label, its unit, and what is wrong with it
// beside it. Home, End, the arrows, Ctrl-U and Ctrl-W work.
type Prompt struct {
	Label string
	Unit  string
	Fault string // what is wrong with the value, in the screen's words; "" for nothing
	input textinput.Model
}

// NewPrompt is an empty place, or one with a value that can be changed. What changes it gives another.
func NewPrompt(label, unit, value string) *Prompt {
	in := textinput.New()
	in.Prompt = ""
	in.TextStyle, in.PlaceholderStyle, in.Cursor.Style, in.Cursor.TextStyle = style.Ink, style.Quiet, style.Ink, style.Ink
	in.Cursor.SetMode(cursor.CursorStatic) // a clock that blinks is no part of a screen
	in.KeyMap.Paste = key.NewBinding()     // it would run a program
	in.SetValue(value)
	in.Focus()
	return &Prompt{Label: label, Unit: unit, input: in}
}

// Typed takes a key. A fault is forgotten as soon as the value changes.
func (p Prompt) Typed(k tea.KeyMsg) *Prompt {
	before := p.input.Value()
	p.input, _ = p.input.Update(k)
	if p.input.Value() != before {
		p.Fault = ""
	}
	return &p
}

// Value is what was typed.
func (p Prompt) Value() string { return p.input.Value() }

// Hint is shown while nothing is typed.
func (p Prompt) Hint(s string) *Prompt {
	p.input.Placeholder = s
	return &p
}

// Faulted says what is wrong with the value; "" for nothing.
func (p Prompt) Faulted(why string) *Prompt {
	p.Fault = why
	return &p
}

// View draws it in one row. Of a long value the part around the cursor is shown, with a mark
// where it goes on.
func (p Prompt) View(width int) string {
	head, tail := "", ""
	if p.Label != "" {
		head = style.Label(p.Label) + "  "
	}
	if p.Unit != "" {
		tail = " " + style.Label(p.Unit)
	}
	if p.Fault != "" {
		tail += "   " + style.Danger.Render(p.Fault)
	}
	const least = 8
	room := width - ansi.StringWidth(head) - ansi.StringWidth(tail)
	if room < least {
		tail = Truncate(tail, max(0, ansi.StringWidth(tail)-least+room))
		room = width - ansi.StringWidth(head) - ansi.StringWidth(tail)
	}
	return Truncate(head+p.field(room)+tail, width)
}

// field is the value in so many columns at most, and no more than it needs.
func (p Prompt) field(room int) string {
	in := p.input
	in.Width = 0
	if in.Value() == "" {
		in.Width = ansi.StringWidth(in.Placeholder)
	}
	all := in.View()
	if ansi.StringWidth(all) <= room || room < 4 {
		return all
	}
	// The window ends with the cursor, or begins where the value does.
	at := ansi.StringWidth(string([]rune(in.Value())[:in.Position()]))
	from := max(0, at+2-room)
	if from == 0 {
		return Truncate(all, room)
	}
	return style.Quiet.Render(cutMark) + Truncate(ansi.TruncateLeft(all, from+1, ""), room-1)
}
