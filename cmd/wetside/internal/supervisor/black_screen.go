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
	r := newReader(in, until)
	why := waitForLightKey(r.next, time.Now, big)
	r.close()
	stop()
	<-painted // nothing is painted over the shell's screen
	return !errors.Is(why, os.ErrDeadlineExceeded)
}

// reader reads a terminal until a time, if there is one, again and again where it cannot be
// read, unless it is gone.
type reader struct {
	in    *os.File
	until time.Time
	keys  *keyboard.Reader // nil while there is none
}

func newReader(in *os.File, until time.Time) *reader { return &reader{in: in, until: until} }

func (r *reader) close() {
	if r.keys != nil {
		r.keys.Close()
	}
}

func (r *reader) next() (keyboard.Event, error) {
	for {
		if r.keys == nil {
			r.keys, _ = keyboard.NewReader(r.in)
		}
		if r.keys != nil {
			e, err := r.keys.Next(r.until)
			if err == nil || errors.Is(err, os.ErrDeadlineExceeded) {
				return e, err
			}
		}
		if _, _, none := term.GetSize(int(r.in.Fd())); none != nil {
			return keyboard.Event{}, errGone
		}
		if !r.until.IsZero() && time.Now().After(r.until) {
			return keyboard.Event{}, os.ErrDeadlineExceeded
		}
		time.Sleep(retryAfter)
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
