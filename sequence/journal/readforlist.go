package journal

// Reading no more of a journal than a list needs.

import (
	"bytes"
	"slices"

	"example.org/wetside/sequence"
)

// ReadPart is Read for a list: the whole file is checked by its chain, but only the
// first record, and those whose event is one of kinds, are decoded and returned.
// What is wrong inside a record that its chain vouches for, Read alone finds.
func ReadPart(path string, kinds ...sequence.EventKind) (Recording, error) {
	data, err := load(path)
	if err != nil {
		return Recording{}, err
	}
	return parsePart(path, data, func(i, _ int, line []byte) bool { return i == 0 || isOfKind(line, kinds) })
}

var eventKey = []byte(`"event":"`)

// isOfKind reports whether a line is of one of the kinds. Inside a text of JSON the
// quotes would be escaped, so that only a key can look like this one; no record but
// the first holds another.
func isOfKind(line []byte, kinds []sequence.EventKind) bool {
	_, rest, _ := bytes.Cut(line, eventKey)
	kind, _, _ := bytes.Cut(rest, []byte{'"'})
	return slices.Contains(kinds, sequence.EventKind(kind))
}
