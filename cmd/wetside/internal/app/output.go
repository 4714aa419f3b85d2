package app

// How pages reach the output: as wide as it is, and with nothing in them that a
// terminal would obey.

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"time"

	"golang.org/x/term"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// The widths of a page, in columns.
const (
	minWidth     = 40
	defaultWidth = 80
	maxWidth     = 100
)

// Width is how wide a page may be: the terminal's width within reason,
// 80 where it goes elsewhere.
func (p *Env) Width() int {
	if f, ok := p.Out.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil {
			return min(max(w, minWidth), maxWidth)
		}
	}
	return defaultWidth
}

// TerminalOf is the terminal that a stream is; false where it is none.
func TerminalOf(stream any) (*os.File, bool) {
	f, ok := stream.(*os.File)
	return f, ok && term.IsTerminal(int(f.Fd()))
}

// CleanPage makes each line of a page safe for a terminal.
func CleanPage(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = safetext.Clean(line)
	}
	return strings.Join(lines, "\n")
}

// WriteJSON writes a value as one line of wetside's JSON; what is absent is null.
func (p *Env) WriteJSON(v any) error {
	text, err := sequence.MarshalReport(v)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.Out, "%s\n", text)
	return err
}

// OrNull is a value as JSON has it: null where there is none.
func OrNull[T comparable](v T) *T {
	if v == *new(T) {
		return nil
	}
	return &v
}

func FromSeconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// Confirm puts a question to the person at the terminal; where there is none the answer
// is no.
func (p *Env) Confirm(question string, answers *bufio.Scanner) bool {
	if _, asked := TerminalOf(p.In); !asked {
		return false
	}
	fmt.Fprint(p.Err, question)
	return answers.Scan() && !strings.HasPrefix(strings.ToLower(strings.TrimSpace(answers.Text())), "n")
}

// Terminal is the terminal to draw on; false where in or output is none.
func (p *Env) Terminal() (*os.File, bool) {
	out, shown := TerminalOf(p.Out)
	_, typed := TerminalOf(p.In)
	return out, shown && typed
}
