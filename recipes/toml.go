package recipes

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Values as they stand in a TOML file.

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
