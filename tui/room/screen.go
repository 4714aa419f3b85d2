package room

// What is on the terminal, line by line: of a new view only the lines that are not
// there yet are written, at once and in one write.

import (
	"io"
	"strconv"
	"strings"
)

// Screen draws views through a guard. It belongs to one goroutine. The zero of it
// knows of nothing on the terminal.
type Screen struct {
	to    io.Writer
	shown []string // the lines on the terminal
}

// NewScreen draws through a guard that has begun.
func NewScreen(g *Guard) *Screen { return &Screen{to: g} }

// Draw shows a view, whose lines are those of the whole terminal. A view that is
// there already writes nothing.
func (s *Screen) Draw(view string) { s.draw("", strings.Split(view, "\n")) }

// anew clears the terminal, and has it tell pasted text from typed until the
// guard's End.
const anew = "\x1b[?2004h\x1b[2J"

// Redraw shows a view on a terminal of which nothing is known.
func (s *Screen) Redraw(view string) {
	s.shown = nil
	s.draw(anew, strings.Split(view, "\n"))
}

func (s *Screen) draw(first string, lines []string) {
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
