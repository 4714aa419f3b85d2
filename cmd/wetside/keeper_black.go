package main

// A black screen that waits for a key. White light comes only by two touches of
// the big key, as everywhere in the dark, or by Enter.

import (
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

// stayBlack keeps the terminal black until a key allows light, or it is gone.
func stayBlack(g *room.Guard, in *os.File) {
	if was, err := term.MakeRaw(int(in.Fd())); err == nil {
		defer term.Restore(int(in.Fd()), was)
	}
	g.SetLight(sequence.Dark)
	changed, stop := resized()
	painted := make(chan struct{})
	go func() {
		defer close(painted)
		for range changed {
			g.SetLight(sequence.Dark) // paints what has grown
		}
	}()
	awaitKey(in.Read, time.Now)
	stop()
	<-painted // nothing is painted over the shell's screen
}

// awaitKey reads until a key allows light. What comes in more than one byte at a
// time is no single key, but pasted, or a terminal's answer.
func awaitKey(read func([]byte) (int, error), now func() time.Time) {
	var t touches
	buf := make([]byte, 1024)
	for began := now(); ; {
		n, err := read(buf)
		if n <= 0 || err != nil {
			return
		}
		at := now()
		if n > 1 || at.Sub(began) < typedAhead {
			continue
		}
		if buf[0] == '\r' || buf[0] == '\n' || buf[0] == ' ' && t.touch(at) {
			return
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
