package main

// A black screen that waits for a key. White light comes only by two touches of
// the big key, as everywhere in the dark, or by Enter.

import (
	"errors"
	"os"
	"time"

	"golang.org/x/term"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/room"
)

// Two touches are this far apart; anything nearer is a bounce, or a key held down.
const (
	touchesApart = 400 * time.Millisecond
	touchesEnd   = 2 * time.Second
	// typedAhead is how long what comes in was typed before the screen was black.
	typedAhead = 300 * time.Millisecond
)

// stayBlack keeps the terminal black until a key allows light, or it is gone; false
// where the limit came first, above zero where there is one.
func stayBlack(g *room.Guard, in *os.File, limit time.Duration) (allowed bool) {
	if was, err := term.MakeRaw(int(in.Fd())); err == nil {
		defer term.Restore(int(in.Fd()), was)
	}
	changed, stop := resized() // first: what has grown before is painted now
	g.SetLight(sequence.Dark)
	painted := make(chan struct{})
	go func() {
		defer close(painted)
		for range changed {
			g.SetLight(sequence.Dark) // paints what has grown
		}
	}()
	began := time.Now()
	why := awaitKey(func(p []byte) (int, error) {
		if limit > 0 && !comes(in, limit-time.Since(began)) {
			return 0, os.ErrDeadlineExceeded
		}
		return in.Read(p)
	}, time.Now)
	stop()
	<-painted // nothing is painted over the shell's screen
	return !errors.Is(why, os.ErrDeadlineExceeded)
}

// awaitKey reads until a key allows light; else it tells why there was nothing more to
// read. What comes in more than one byte at a time is no single key, but pasted, or a
// terminal's answer.
func awaitKey(read func([]byte) (int, error), now func() time.Time) error {
	var t touches
	buf := make([]byte, 1024)
	for began := now(); ; {
		n, err := read(buf)
		if n <= 0 || err != nil {
			return err
		}
		at := now()
		if n > 1 || at.Sub(began) < typedAhead {
			continue
		}
		if buf[0] == '\r' || buf[0] == '\n' || buf[0] == ' ' && t.touch(at) {
			return nil
		}
	}
}

// touches counts the big key's.
type touches struct{ last time.Time }

// touch tells whether this is the second of two.
func (t *touches) touch(at time.Time) bool {
	since := at.Sub(t.last)
	second := !t.last.IsZero() && since >= touchesApart && since <= touchesEnd
	t.last = at
	return second
}
