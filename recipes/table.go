package recipes

import (
	"slices"
	"strings"
)

// A table of the file: its keys, looked up by name, and those that do not belong.

// table is a field that holds keys.
type table struct {
	field
	values map[string]any
}

// table reads the field as a table that has only the given keys.
func (f field) table(keys ...string) (table, bool) {
	vals, ok := f.value.(map[string]any)
	if !ok {
		if f.isSet() {
			f.wrongType("a table", "")
		}
		return table{}, false
	}
	t := table{f, vals}
	t.refuseOthers(keys)
	return t, true
}

// asTable is the field as a table that is not checked here, empty where it is none.
func (f field) asTable() table {
	vals, _ := f.value.(map[string]any)
	return table{f, vals}
}

// refuseOthers refuses every key of the table that is not in keys. Names are compared
// exactly.
func (t table) refuseOthers(keys []string) {
	if keys == nil {
		return
	}
	expected := oneOf(keys)
	for _, key := range t.inOrder() {
		if slices.Contains(keys, key) {
			continue
		}
		hint := ""
		if len(t.r.faults) < maxFaults { // more are not shown, and looking costs time
			hint = t.r.keyHint(key, keys)
		}
		t.lookup(key).addFault("unknown key", expected, hint)
	}
}

// inOrder is the table's keys in the order of the file.
func (t table) inOrder() []string {
	keys := make([]string, 0, len(t.values))
	for _, key := range t.node.keys() {
		if _, ok := t.values[key]; ok {
			keys = append(keys, key)
		}
	}
	if len(keys) == len(t.values) {
		return keys
	}
	rest := len(keys)
	for key := range t.values {
		if !slices.Contains(keys[:rest], key) {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys[rest:])
	return keys
}

// lookup is the field of key in the table.
func (t table) lookup(key string) field {
	name := key
	if !isPlain(key) {
		name = quote(key)
	}
	switch {
	case t.name == "":
	case t.isRow():
		name = t.name + " " + name
	default:
		name = t.name + "." + name
	}
	return field{t.r, name, t.values[key], t.node.child(key), t.position()}
}

// isRow tells whether the table is an element of a list, such as "step 2".
func (t table) isRow() bool {
	c := t.name[len(t.name)-1]
	return '0' <= c && c <= '9'
}

// isPlain tells whether a key can be shown without quotes.
func isPlain(key string) bool {
	return key != "" && len(key) <= 40 && !strings.ContainsFunc(key, func(r rune) bool { return r > 127 || !isBare(byte(r)) })
}
