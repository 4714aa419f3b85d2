package main

// How pages reach the output: as wide as it is, and with nothing in them that a
// terminal would obey.

import (
	"fmt"
	"os"
	"strings"

	"golang.org/x/term"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// The widths of a page, in columns.
const (
	narrowest = 40
	usual     = 80
	widest    = 100
)

// width is how wide a page may be: the terminal's width within reason,
// 80 where it goes elsewhere.
func (p *program) width() int {
	if f, ok := p.out.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil {
			return min(max(w, narrowest), widest)
		}
	}
	return usual
}

// cleaned makes each line of a page safe for a terminal.
func cleaned(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = recipes.Clean(line)
	}
	return strings.Join(lines, "\n")
}

// json writes a value as one line of wetside's JSON.
func (p *program) json(v any) error {
	text, err := sequence.Marshal(v)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.out, "%s\n", text)
	return err
}
