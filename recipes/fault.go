package recipes

// What is wrong with a recipe, and where: one Fault for each bad field, all
// of a file together. Error texts are made here and nowhere else.

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"

	"example.org/wetside/recipes/safetext"
)

// maxFaults is the number of faults after which the rest is only counted.
const maxFaults = 200

// Fault is one thing that is wrong with a file.
type Fault struct {
	File     string `json:"file"`     // as the caller named it
	Line     int    `json:"line"`     // from 1; 0 where not known
	Col      int    `json:"col"`      // in characters, from 1; 0 where not known
	Field    string `json:"field"`    // the key, such as "step 2 agitate.for"; "" for the whole file
	What     string `json:"what"`     // what is wrong
	Expected string `json:"expected"` // what was expected; may be empty
	Hint     string `json:"hint"`     // the cure, where it is known
}

// Error is the fault on one line, fit for a terminal.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
		if f.Col > 0 {
			fmt.Fprintf(&b, ":%d", f.Col)
		}
	}
	b.WriteString(": ")
	if f.Field != "" {
		b.WriteString(f.Field + ": ")
	}
	b.WriteString(f.What)
	if f.Expected != "" {
		b.WriteString("; expected " + f.Expected)
	}
	if f.Hint != "" {
		b.WriteString(" (" + f.Hint + ")")
	}
	return safetext.Clean(b.String())
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

// inOrder sorts the faults as they stand in the file, drops repetitions and
// counts those beyond maxFaults.
func (fs Faults) inOrder(file string) Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		return cmp.Or(cmp.Compare(fs[i].Line, fs[j].Line), cmp.Compare(fs[i].Col, fs[j].Col)) < 0
	})
	fs = slices.Compact(fs)
	if extra := len(fs) - maxFaults; extra > 0 {
		fs = append(fs[:maxFaults:maxFaults], Fault{File: file, What: fmt.Sprintf("%d more faults", extra)})
	}
	return fs
}

// quote is user text as it stands in an error: in quotes, short.
func quote(s string) string {
	const most = 40
	if cut := []rune(s); len(cut) > most {
		s = string(cut[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
