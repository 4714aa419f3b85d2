package supervisor

// A black screen that waits for a key. White light comes only by two touches of
// the big key, as everywhere in the dark, or by Enter.

import (
	"errors"
	"os"
	"slices"
	"time"

	"golang.org/x/term"

	"example.org/wetside/tui/light"
)

// Two touches are this far apart; anything nearer is a bounce, or a key held down.
const (
	MinPressGap = 400 * time.Millisecond
	pressWindow = 2 * time.Second
	// IgnoreTypedFor is how long what comes in was typed before the screen was black.
	IgnoreTypedFor = 300 * time.Millisecond
)

// waitInDark keeps the terminal black until a key allows light, or it is gone; false
// where the limit came first, above zero where there is one. Big are the big key's names.
func waitInDark(g *light.Guard, in *os.File, limit time.Duration, big []string) (allowed bool) {
	if was, err := term.MakeRaw(int(in.Fd())); err == nil {
		defer term.Restore(int(in.Fd()), was)
	}
	changed, stop := WatchResize() // first: what has grown before is painted now
	g.SetLight(light.Dark)
	painted := make(chan struct{})
	go func() {
		defer close(painted)
		for range changed {
			g.SetLight(light.Dark) // paints what has grown
		}
	}()
	began := time.Now()
	why := waitForLightKey(func(p []byte) (int, error) {
		if limit > 0 && !pollInput(in, limit-time.Since(began)) {
			return 0, os.ErrDeadlineExceeded
		}
		return in.Read(p)
	}, time.Now, big)
	stop()
	<-painted // nothing is painted over the shell's screen
	return !errors.Is(why, os.ErrDeadlineExceeded)
}

// waitForLightKey reads until a key allows light; else it tells why there was nothing more to
// read. What comes at a time and is no single key is pasted, or a terminal's answer. A
// foot switch may type Enter: then it takes two touches too.
func waitForLightKey(read func([]byte) (int, error), now func() time.Time, big []string) error {
	var t doublePress
	buf := make([]byte, 1024)
	for began := now(); ; {
		n, err := read(buf)
		if n <= 0 || err != nil {
			return err
		}
		at := now()
		key := decodeKey(buf[:n])
		if at.Sub(began) < IgnoreTypedFor {
			continue
		}
		if isBig := slices.Contains(big, key); isBig && t.isSecond(at) || !isBig && key == "enter" {
			return nil
		}
	}
}

// doublePress counts the big key's.
type doublePress struct{ lastPress time.Time }

// isSecond tells whether this is the second of two.
func (t *doublePress) isSecond(at time.Time) bool {
	since := at.Sub(t.lastPress)
	second := !t.lastPress.IsZero() && since >= MinPressGap && since <= pressWindow
	t.lastPress = at
	return second
}
