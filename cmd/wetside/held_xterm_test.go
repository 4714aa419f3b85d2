//go:build unix

package main

// A key held on the keyboard of a real X server, in a real xterm.

import (
	"strings"
	"testing"
	"time"
)

func TestAHeldKeyInXterm(t *testing.T) {
	t.Parallel()
	tools(t, "xset")
	for name, rate := range map[string][2]string{"X.org": {"660", "25"}, "GNOME": {"500", "33"}} {
		if name != "X.org" && !e2e {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w := inXterm(t, []string{probeAs + "=wetside"}, "run", "tern-hangers", "--sound", "off", "--countdown", "1s")
			w.run("xset", "r", "rate", rate[0], rate[1])
			w.toTheDark()
			held := func() {
				time.Sleep(3 * time.Second)
				w.run("xdotool", "keydown", "space")
				time.Sleep(2 * time.Second)
				w.run("xdotool", "keyup", "space")
				time.Sleep(time.Second)
				w.isBlack("after a key held")
			}
			held()
			if w.record() != "" {
				t.Fatal("a held key began a session")
			}
			w.until("the first dip", func() bool {
				time.Sleep(2500 * time.Millisecond)
				w.touch()
				w.touch()
				time.Sleep(2 * time.Second)
				return strings.Contains(w.record(), `"step-began"`)
			})
			held()
			if n := strings.Count(w.record(), `"step-began"`); n != 1 {
				t.Errorf("%d steps began: a held key moved film on", n)
			}
		})
	}
}
