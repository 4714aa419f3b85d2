package notebook

// What stands beside the journals may be broken by any program, or any merge.

import (
	"bytes"
	"slices"
	"testing"
)

// Whatever stands beside a session, nothing panics, and no look and no state of the
// emulsion is believed that nobody could have chosen.
func FuzzLater(f *testing.F) {
	for _, line := range []string{
		`{"v":1,"written":"2026-11-25T19:12:00Z","text":"fine","looks":["thin"],"emulsion":"edges"}`,
		`{"v":2,"looks":["x","thin","thin"],"emulsion":"gone"}`, `{"v":0}`, `{`, "\x00", "",
	} {
		f.Add([]byte(line + "\n" + line))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var l Notes
		l.read(text)
		for _, n := range l.List {
			if n.Emulsion != "" && !slices.Contains(Emulsions, n.Emulsion) {
				t.Errorf("emulsion %q", n.Emulsion)
			}
			for _, k := range n.Appearances {
				if !slices.Contains(Appearances, k) {
					t.Errorf("look %q", k)
				}
			}
		}
		if lines := bytes.Count(text, []byte{'\n'}) + 1; len(l.List)+l.Bad > lines {
			t.Errorf("%d notes and %d bad of %d lines", len(l.List), l.Bad, lines)
		}
	})
}
