package curve

// What is wrong with a file of readings, and where: one Fault for each bad
// field, all of a file together. Error texts of the readers are made here.

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
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

// Bounds of files and of what stands in them.
const (
	maxFileSize = 64 << 10 // bytes, as for recipes
	maxRows     = 1000
	maxCurves   = 200  // sheets of a recipe
	minStep     = 1e-6 // log H between readings
)

// limits are the least and the greatest value of a kind of number.
type limits struct {
	what     string
	min, max float64
}

var (
	// densityLimits: below zero, since an instrument may be set to zero on a
	// piece of film; 6 is more than any instrument reads.
	densityLimits = limits{"a density", -0.2, 6}
	tabletLimits  = limits{"a tablet density", 0, 6}
	logHLimits    = limits{"a log exposure", -10, 10}
)

func (b limits) holds(v float64) bool { return v >= b.min && v <= b.max }

// String is how an error says what was expected.
func (b limits) String() string { return fmt.Sprintf("%s from %g to %g", b.what, b.min, b.max) }

// read takes a number from text. Where it cannot, it says what is wrong and
// what was expected.
func (b limits) read(text string) (v float64, what, expected string) {
	v, ok := parseDecimal(text)
	switch {
	case !ok && strings.Contains(text, ","):
		return 0, quoted(text) + " has a decimal comma", b.what + " with a point, such as 0.56"
	case !ok:
		return 0, quoted(text) + " is not a number", b.String()
	case !b.holds(v):
		return 0, quoted(text) + " is out of range", b.String()
	}
	return v, "", ""
}

// parseDecimal reads digits with at most one point, a sign and an exponent, and
// nothing else: no hexadecimal, no NaN, no Inf, no underscores.
func parseDecimal(text string) (v float64, ok bool) {
	if strings.Trim(text, "0123456789.eE+-") != "" { // the rest strconv refuses itself
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}

// parseCount reads a whole number from 0 to 999999.
func parseCount(text string) (n int, ok bool) {
	if len(text) > 6 || strings.Trim(text, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	return n, err == nil
}
