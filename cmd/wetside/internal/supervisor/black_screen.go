package supervisor

// A black screen that waits for leave to be lit. It comes by two touches, as everywhere in the
// dark: of a big key, or of Enter. That a terminal cannot be read is no leave.

import (
	"errors"
	"os"
	"slices"
	"time"

	"golang.org/x/term"

	"example.org/wetside/tui/keyboard"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/press"
)

// The times of the black screen.
const (
	// IgnoreTypedFor is how long what comes in was typed before the screen was black.
	IgnoreTypedFor = 300 * time.Millisecond
	// retryAfter is how long a terminal that cannot be read is left alone.
	retryAfter = 100 * time.Millisecond
)

// errGone is that there is no terminal any more, and nothing to keep dark.
var errGone = errors.New("the terminal is gone")

// waitInDark keeps the terminal black until two touches allow light, or it is gone; false
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
	until := time.Time{}
	if limit > 0 {
		until = time.Now().Add(limit)
	}
	why := waitForLightKey(reading(in, until), time.Now, big)
	stop()
	<-painted // nothing is painted over the shell's screen
	return !errors.Is(why, os.ErrDeadlineExceeded)
}

// reading reads a terminal until a time, if there is one, again and again where it cannot be
// read, unless it is gone.
func reading(in *os.File, until time.Time) func() (keyboard.Event, error) {
	r, err := keyboard.NewReader(in)
	return func() (keyboard.Event, error) {
		for ; err == nil; time.Sleep(retryAfter) {
			e, failed := r.Next(until)
			if failed == nil || errors.Is(failed, os.ErrDeadlineExceeded) {
				return e, failed
			}
			if _, _, none := term.GetSize(int(in.Fd())); none != nil {
				r.Close()
				return e, errGone
			}
		}
		return keyboard.Event{}, err
	}
}

// waitForLightKey reads until two touches allow light; else it tells why there was nothing
// more to read. A key that was typed before the screen was black is held on, at most.
func waitForLightKey(next func() (keyboard.Event, error), now func() time.Time, big []string) error {
	var d press.Detector
	for began := now(); ; {
		e, err := next()
		if err != nil {
			return err
		}
		kind := press.Same
		counts := slices.Contains(big, e.Key) || e.Key == "enter" || e.Key == "ctrl+j"
		switch {
		case e.What == keyboard.Quiet:
			d, kind = d.Quiet()
		case e.What == keyboard.Pasted || e.What == keyboard.Repeated || e.Alt:
		case counts && e.What == keyboard.Released:
			d = d.Release()
		case counts:
			d, kind = d.Press(now())
		default:
			d = d.Other()
		}
		if now().Sub(began) < IgnoreTypedFor {
			d, kind = d.Reset(), press.Same
		}
		if kind == press.Two {
			return nil
		}
	}
}
