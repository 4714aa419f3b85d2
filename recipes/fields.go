package recipes

// One value of the file. Each method checks its type and bounds, and writes a fault where
// something is wrong; what is missing or faulty comes back as zero and false.

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// reader is the reading of one file: where faults gather.
type reader struct {
	file     string
	sections []section // where the file's keys stand
	faults   Faults
}

// field is a value together with its name in errors and its place.
type field struct {
	r      *reader
	name   string // "step 2 agitate.for"
	value  any    // as the TOML library gave it; nil where absent
	node   *node
	parent position // where it would stand, if node is unknown
}

// addFault writes down what is wrong with the field.
func (f field) addFault(what, expected, hint string) {
	at := f.position()
	f.r.faults = append(f.r.faults, Fault{File: f.r.file, Line: at.line, Col: at.col,
		Field: f.name, What: what, Expected: expected, Hint: hint})
}

// isSet tells whether the field is in the file.
func (f field) isSet() bool { return f.value != nil }

// wrongType is the fault of a value that has another type than expected.
func (f field) wrongType(expected, hint string) {
	f.addFault(typeOf(f.value), expected, hint)
}

// typeOf names the type of a TOML value, and the value where it is short.
func typeOf(v any) string {
	switch v := v.(type) {
	case string:
		return "the text " + quote(v)
	case int64:
		return fmt.Sprintf("the number %d", v)
	case float64:
		if v == math.Trunc(v) && math.Abs(v) < 1e15 {
			return fmt.Sprintf("the number %.1f", v)
		}
		return fmt.Sprintf("the number %v", v)
	case bool:
		return fmt.Sprintf("the value %t", v)
	case map[string]any:
		return "a table"
	case []any, []map[string]any:
		return "a list"
	}
	return "a date or a time of day"
}

// position is where the field stands, as far as that is known.
func (f field) position() position {
	if f.node != nil && f.node.at.line > 0 {
		return f.node.at
	}
	return f.parent
}

// elements is the elements of a list; absent is empty.
func (f field) elements(expected string) []field {
	var vals []any
	switch v := f.value.(type) {
	case nil:
		return nil
	case []any:
		vals = v
	case []map[string]any:
		for _, m := range v {
			vals = append(vals, m)
		}
	default:
		f.wrongType(expected, "")
		return nil
	}
	if len(vals) == 0 {
		f.addFault("an empty list", expected, "")
	}
	fields := make([]field, len(vals))
	for i, v := range vals {
		fields[i] = field{f.r, fmt.Sprintf("%s %d", f.name, i+1), v, f.node.item(i), f.position()}
	}
	return fields
}

// pair is the two elements of a list of two.
func (f field) pair(expected string) (a, b field, ok bool) {
	switch f.value.(type) {
	case []any, []map[string]any:
	default:
		f.wrongType(expected, "")
		return a, b, false
	}
	l := f.elements(expected)
	if len(l) == 2 {
		l[0].name, l[1].name = f.name+", item 1", f.name+", item 2"
		return l[0], l[1], true
	}
	if len(l) != 0 {
		f.addFault(fmt.Sprintf("a list of %d", len(l)), expected, "")
	}
	return a, b, false
}

// row is an element of a list of pairs: its fields, and what they hold.
type row[A, B any] struct {
	pair, a, b field
	first      A
	second     B
}

// pairs reads a list of pairs. Those in which something is wrong are passed over, and it is
// told; so is a list of fewer than least.
func pairs[A, B any](f field, expected string, least int, first func(field) (A, bool),
	second func(field) (B, bool)) iter.Seq[row[A, B]] {
	return func(yield func(row[A, B]) bool) {
		list := f.elements(expected)
		for _, el := range list {
			a, b, ok := el.pair(expected)
			if !ok {
				continue
			}
			x, okA := first(a)
			y, okB := second(b)
			if okA && okB && !yield(row[A, B]{el, a, b, x, y}) {
				return
			}
		}
		if len(list) > 0 && len(list) < least {
			f.addFault("a single pair", "at least two pairs", "")
		}
	}
}

// timeWithin reads a time that lies within limits, numberFrom a number.
func timeWithin(b limits[sequence.Elapsed]) func(field) (sequence.Elapsed, bool) {
	return func(f field) (sequence.Elapsed, bool) { return f.duration(b) }
}

func numberFrom(lo, hi float64) func(field) (float64, bool) {
	return func(f field) (float64, bool) { return f.number(lo, hi) }
}

// text reads a text of at most most characters, fit for a terminal and not
// blank. Where folds is set line ends and tabs become spaces.
func (f field) text(most int, folds bool) (string, bool) {
	if !f.isSet() {
		return "", false
	}
	s, ok := f.value.(string)
	if !ok {
		f.wrongType("a text in quotes", "")
		return "", false
	}
	if folds {
		s = folded.Replace(s)
	}
	if r, bad := safetext.FindUnsafe(s); bad {
		f.addFault(fmt.Sprintf("the text holds the character U+%04X", r), "letters, digits, signs and spaces only", "")
		return "", false
	}
	if strings.TrimSpace(s) == "" {
		f.addFault("an empty text", "some words", "")
		return "", false
	}
	if n := len([]rune(s)); n > most {
		f.addFault(fmt.Sprintf("the text has %d characters", n), fmt.Sprintf("at most %d", most), "")
		return "", false
	}
	return strings.TrimSpace(s), true
}

var folded = strings.NewReplacer("\r\n", " ", "\n", " ", "\t", " ")

// number reads a number from lo to hi.
func (f field) number(lo, hi float64) (float64, bool) {
	var x float64
	switch v := f.value.(type) {
	case nil:
		return 0, false
	case int64:
		x = float64(v)
	case float64:
		x = v
	default:
		f.wrongType(fmt.Sprintf("a number from %v to %v", lo, hi), "")
		return 0, false
	}
	if math.IsNaN(x) || x < lo || x > hi {
		f.addFault(fmt.Sprintf("the number %v", f.value), fmt.Sprintf("%v to %v", lo, hi), "")
		return 0, false
	}
	return x, true
}

// integer reads a whole number from lo to hi.
func (f field) integer(lo, hi int64) (int, bool) {
	expected := fmt.Sprintf("a whole number from %d to %d", lo, hi)
	if !f.isSet() {
		return 0, false
	}
	n, ok := f.value.(int64)
	if !ok || n < lo || n > hi {
		f.wrongType(expected, "")
		return 0, false
	}
	return int(n), true
}

// boolean reads true or false.
func (f field) boolean(otherwise bool) bool {
	if !f.isSet() {
		return otherwise
	}
	b, ok := f.value.(bool)
	if !ok {
		f.wrongType("true or false", "")
		return otherwise
	}
	return b
}

// require is the field, with a fault where it is absent.
func (f field) require(expected string) field {
	if !f.isSet() {
		f.addFault("missing", expected, "")
	}
	return f
}

// enum reads one of the given words.
func enum[T ~string](f field, words []T, otherwise T) (T, bool) {
	if !f.isSet() {
		return otherwise, false
	}
	s, ok := f.value.(string)
	if !ok {
		f.wrongType(oneOf(words), "")
		return otherwise, false
	}
	if i := slices.Index(words, T(s)); i >= 0 {
		return words[i], true
	}
	f.addFault("unknown word "+quote(s), oneOf(words), didYouMean(s, asStrings(words)))
	return otherwise, false
}
