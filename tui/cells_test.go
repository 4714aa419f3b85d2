package tui

// The glass: a view read back as cells, by its bytes alone. It accepts nothing but
// lines of cells between SGRs of one palette.

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/charmbracelet/lipgloss"
)

// seen is a view as cells.
type seen struct {
	runes  [][]rune
	levels [][]brightness
}

// read takes a view apart, or says what is wrong with it.
func read(view string, w, h int, p palette) (seen, error) {
	var s seen
	lines := strings.Split(view, "\n")
	if len(lines) != h {
		return s, fmt.Errorf("%d lines; expected %d", len(lines), h)
	}
	for y, line := range lines {
		runes, levels, err := readLine(line, p)
		if err != nil {
			return s, fmt.Errorf("line %d: %v", y, err)
		}
		if len(runes) != w {
			return s, fmt.Errorf("line %d: %d cells; expected %d: %q", y, len(runes), w, string(runes))
		}
		s.runes, s.levels = append(s.runes, runes), append(s.levels, levels)
	}
	return s, nil
}

func readLine(line string, p palette) (runes []rune, levels []brightness, err error) {
	now, ended := levels0, false
	for line != "" {
		if line[0] == 0x1b {
			sgr, l := sgrOf(line, p)
			if sgr == "" {
				return nil, nil, fmt.Errorf("an escape sequence of no palette: %q", line[:min(len(line), 24)])
			}
			now, line, ended = l, line[len(sgr):], true
			continue
		}
		if now == levels0 {
			return nil, nil, fmt.Errorf("a cell before any colour: %q", line)
		}
		r, n := utf8.DecodeRuneInString(line)
		if r < ' ' || r == 0x7f || lipgloss.Width(string(r)) != 1 {
			return nil, nil, fmt.Errorf("%q is not one column", r)
		}
		runes, levels, line, ended = append(runes, r), append(levels, now), line[n:], false
	}
	if !ended {
		return nil, nil, fmt.Errorf("no colour at the end")
	}
	return runes, levels, nil
}

// levels0 is no level.
const levels0 = brightness(255)

// sgrOf is the SGR of a palette that a text begins with, and its level.
func sgrOf(s string, p palette) (string, brightness) {
	for l := range levels {
		if strings.HasPrefix(s, p[l]) {
			return p[l], l
		}
	}
	return "", levels0
}

// look reads the desk's view; it must be sound.
func (d *desk) look() seen {
	d.t.Helper()
	s, err := read(d.m.View(), max(1, d.m.w), max(1, d.m.h), d.m.palette())
	if err != nil {
		d.t.Fatal(err)
	}
	return s
}

// text is what can be read, without colours.
func (s seen) text() string {
	var b strings.Builder
	for _, row := range s.runes {
		b.WriteString(strings.TrimRight(string(row), " ") + "\n")
	}
	return b.String()
}

// map is the level of every cell that is not blank, as a digit.
func (s seen) levelMap() string {
	var b strings.Builder
	for y, row := range s.levels {
		var line strings.Builder
		for x, l := range row {
			if s.runes[y][x] == ' ' {
				line.WriteByte(' ')
			} else {
				line.WriteByte('0' + byte(l))
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

// dark reports whether no cell is lit: every one a blank in black on black.
func (s seen) dark() bool {
	for y, row := range s.runes {
		for x, r := range row {
			if r != ' ' || s.levels[y][x] != black {
				return false
			}
		}
	}
	return true
}

// shows fails where the view does not hold a text.
func (d *desk) shows(text string) {
	d.t.Helper()
	if got := d.look().text(); !strings.Contains(got, text) {
		d.t.Errorf("%q is not on the screen:\n%s", text, got)
	}
}

// hides fails where the view holds a text.
func (d *desk) hides(text string) {
	d.t.Helper()
	if got := d.look().text(); strings.Contains(got, text) {
		d.t.Errorf("%q is on the screen:\n%s", text, got)
	}
}

// isDark fails where a cell is lit.
func (d *desk) isDark() {
	d.t.Helper()
	if !d.look().dark() {
		d.t.Fatalf("cells are lit:\n%s", d.look().text())
	}
}

func TestGlassFindsWhatIsWrong(t *testing.T) {
	p, b := red256, red256[black]
	good := b + "ab" + b + "\n" + p[text] + "c" + b + " " + b
	if s, err := read(good, 2, 2, p); err != nil || s.text() != "ab\nc\n" || s.levels[1][0] != text {
		t.Fatalf("%q, %v", s.text(), err)
	}
	for what, view := range map[string]string{
		"a line too many":    good + "\n" + b + "  " + b,
		"a cell too few":     b + "ab" + b + "\n" + b + "c" + b,
		"a bare reset":       b + "ab\x1b[0m\n" + b + "cd" + b,
		"a cell uncoloured":  "ab" + b + "\n" + b + "cd" + b,
		"no colour at end":   b + "ab\n" + b + "cd" + b,
		"another colour":     "\x1b[38;5;46;48;5;16mab" + b + "\n" + b + "cd" + b,
		"a wide rune":        b + "a漢" + b + "\n" + b + "cd" + b,
		"a control rune":     b + "a\a" + b + "\n" + b + "cd" + b,
		"a cursor movement":  b + "ab" + b + "\x1b[H\n" + b + "cd" + b,
		"white on white":     "\x1b[38;5;255;48;5;231mab" + b + "\n" + b + "cd" + b,
		"a combining accent": b + "a\u0301" + b + "\n" + b + "cd" + b,
	} {
		if _, err := read(view, 2, 2, p); err == nil {
			t.Errorf("%s was not found", what)
		}
	}
}

// What does not fit ends in one mark, also where the last line is full.
func TestWrapEndsInOneMark(t *testing.T) {
	for text, want := range map[string]string{
		"one twofold three": "one…   ", "one two four five": "one tw…", "seventh seventh": "sevent…", "one": "one    ",
	} {
		g := newGrid(7, 1)
		g.wrap(rect{0, 0, 7, 1}, text, strong)
		var row strings.Builder
		for _, c := range g.cells {
			row.WriteRune(c.r)
		}
		if row.String() != want {
			t.Errorf("%q: %q; expected %q", text, row.String(), want)
		}
	}
}
