package tui

// What the clock shows and what is left add up to the moment that both are about.

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

func TestElapsedAndLeftAddUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		at := time.Duration(rapid.Int64Range(1e9, 3600e9).Draw(r, "at"))
		now := time.Duration(rapid.Int64Range(-120e9, int64(at)).Draw(r, "now"))
		m := runModel{look: engine.Snapshot{Now: now, Left: at - now, Next: engine.Transfer{At: at}}}
		elapsed := runTimeline(&sequence.Plan{}, engine.Snapshot{Now: now}).now
		left, err := time.ParseDuration(clockWords(m.numeral()))
		if err != nil {
			r.Fatal(err)
		}
		if now >= 0 && elapsed+left != at.Round(time.Second) {
			r.Fatalf("%v shown and %v left; expected %v together", elapsed, left, at.Round(time.Second))
		}
	})
}

// clockWords is a clock's time as ParseDuration reads it.
func clockWords(s string) string {
	units, out := "smh", ""
	for i, n := 0, len(s)-1; n >= -1; n-- {
		if n == -1 || s[n] == ':' {
			out = s[n+1:] + string(units[i]) + out
			s = s[:max(n, 0)]
			i++
		}
	}
	return out
}
