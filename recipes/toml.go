package recipes

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence"
)

// Blocks, keys and values as they stand in a TOML file.

// block is one heading of a file with the keys beneath it.
type block struct {
	head string // "" for the top, "[film]", "[[step]]"
	id   string // which of several: a bath's id, a step's name
	keys []string
	vals map[string]string
}

// text is a block as it stands in a file.
func (b block) text() string {
	text := ""
	if b.head != "" {
		text = "\n" + b.head + "\n"
	}
	for _, k := range b.keys {
		text += fmt.Sprintf("%-16s = %s\n", k, b.vals[k])
	}
	return text
}

// keys takes keys, each with its value as TOML: those of a block, or of a table on one line.
type keys func(name, value string)

func (key keys) text(k, v string) { key.flag(k, v != "", tomlString(v)) }

// flag writes a value where it is set.
func (key keys) flag(k string, set bool, value string) {
	if set {
		key(k, value)
	}
}

func (key keys) number(k string, v float64) { key.flag(k, v != 0, formatDecimal(v)) }

func (key keys) volume(k string, v sequence.Millilitres) {
	key.flag(k, v > 0, `"`+formatDecimal(float64(v))+`ml"`)
}

func (key keys) time(k string, d time.Duration) { key.flag(k, d != 0, formatDuration(d)) }

func (key keys) list(k string, values []string) { key.flag(k, len(values) > 0, list(values)) }

// table writes a table on one line, unless it has no keys.
func (key keys) table(k string, fill func(keys)) {
	text := inline(fill)
	key.flag(k, text != "", text)
}

// inline is a table on one line; "" for none.
func inline(fill func(keys)) string {
	var parts []string
	fill(func(k, v string) { parts = append(parts, k+" = "+v) })
	if len(parts) == 0 {
		return ""
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// tomlString is a TOML basic string. Control characters cannot be in a recipe.
func tomlString(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func formatDecimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// formatDuration is a time as a recipe has it: 1h10m, 8m30s, 1.4s.
func formatDuration(d time.Duration) string {
	h, m := d/time.Hour, d/time.Minute%60
	s := strconv.FormatFloat(float64(d%time.Minute)/1e9, 'f', -1, 64)
	var b strings.Builder
	if h > 0 {
		fmt.Fprintf(&b, "%dh", h)
	}
	if m > 0 {
		fmt.Fprintf(&b, "%dm", m)
	}
	if s != "0" || b.Len() == 0 {
		b.WriteString(s + "s")
	}
	return `"` + b.String() + `"`
}

func formatDurations(times []time.Duration) string {
	parts := make([]string, len(times))
	for i, d := range times {
		parts[i] = formatDuration(d)
	}
	return list(parts)
}

// list is values that are written already.
func list(parts []string) string { return "[" + strings.Join(parts, ", ") + "]" }
