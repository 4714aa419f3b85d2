package curve

// What is wrong with a file of readings, and where: one Fault for each bad
// field, all of a file together. Error texts of the readers are made here.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

const (
	maxFaults = 50 // after which the rest is only counted
	maxQuoted = 40 // characters of user text that are quoted
)

// Fault is one thing that is wrong with a file.
type Fault struct {
	File     string // as the caller named it
	Line     int    // from 1; 0 for the whole file
	Col      int    // in characters, from 1; 0 for the whole line
	What     string // what is wrong
	Expected string // what was expected
}

// Error is the fault on one line, fit for a terminal.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(printable(f.File))
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
		if f.Col > 0 {
			fmt.Fprintf(&b, ":%d", f.Col)
		}
	}
	b.WriteString(": " + f.What)
	if f.Expected != "" {
		b.WriteString("; expected " + f.Expected)
	}
	return b.String()
}

// Faults is every fault of a file, in the order of the file. It is never empty
// where it is returned as an error.
type Faults []Fault

// Error is all the faults, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// faultList collects the faults of one file.
type faultList struct {
	file string
	list Faults
}

// add notes a fault at a place; expected may be empty.
func (fs *faultList) add(at position, what, expected string) {
	fs.list = append(fs.list, Fault{File: fs.file, Line: at.line, Col: at.col, What: what, Expected: expected})
}

// err is the faults in the order of the file, nil where there are none.
func (fs *faultList) err() error {
	if len(fs.list) == 0 {
		return nil
	}
	slices.SortStableFunc(fs.list, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	list := slices.Compact(fs.list)
	if extra := len(list) - maxFaults; extra > 0 {
		list = append(list[:maxFaults:maxFaults], Fault{File: fs.file, What: fmt.Sprintf("%d more faults", extra)})
	}
	return list
}

// position is a line and a column, from 1; zero where there is none.
type position struct{ line, col int }

// quoted is user text as it stands in an error: in quotes, short, printable.
func quoted(s string) string {
	if cut := []rune(s); len(cut) > maxQuoted {
		s = string(cut[:maxQuoted]) + "…"
	}
	return fmt.Sprintf("%q", s)
}

// printable makes a file name fit for one line of a terminal.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
}
