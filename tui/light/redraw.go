package light

// What is on the terminal, line by line: of a new view only the lines that are not
// there yet are written, at once and in one write.

import (
	"io"
	"strconv"
	"strings"
)

// Redrawer draws views through a guard. It belongs to one goroutine. The zero of it
// knows of nothing on the terminal.
type Redrawer struct {
	to    io.Writer
	shown []string // the lines on the terminal
}

// NewRedrawer draws through a guard that has begun.
func NewRedrawer(g *Filter) *Redrawer { return &Redrawer{to: g} }

// Draw shows a view, whose lines are those of the whole terminal. A view that is
// there already writes nothing.
func (s *Redrawer) Draw(view string) { s.draw("", strings.Split(view, "\n")) }

// clearSequence clears the terminal, and has it tell pasted text from typed until the
// guard's End.
const clearSequence = "\x1b[?2004h\x1b[2J"

// Redraw shows a view on a terminal of which nothing is known.
func (s *Redrawer) Redraw(view string) {
	s.shown = nil
	s.draw(clearSequence, strings.Split(view, "\n"))
}

func (s *Redrawer) draw(first string, lines []string) {
	out := []byte(first)
	for i, line := range lines {
		if i < len(s.shown) && s.shown[i] == line {
			continue
		}
		out = append(out, "\x1b["...)
		out = strconv.AppendInt(out, int64(i+1), 10)
		out = append(append(out, ";1H"...), line...)
	}
	s.shown = lines
	if len(out) > 0 {
		s.to.Write(out)
	}
}
