package main

// How far something has come that takes more than a second: on standard error, and
// only where that is a terminal, so that no script and no file ever sees it.

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"
)

const (
	untold = time.Second            // less is not told
	retell = 100 * time.Millisecond // between two tellings
)

// progress is one piece of work being told of.
type progress struct {
	to    io.Writer // nil where nobody looks
	what  string
	now   func() time.Time
	began time.Time
	told  time.Time
}

// progress begins to tell of some work.
func (p *program) progress(what string) *progress {
	g := &progress{what: what, now: time.Now, began: time.Now()}
	if f, ok := p.err.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		g.to = f
	}
	return g
}

// tell says how far it has come, now and then.
func (g *progress) tell(done, all int) {
	now := g.now()
	if g.to == nil || now.Sub(g.began) < untold || now.Sub(g.told) < retell {
		return
	}
	g.told = now
	fmt.Fprintf(g.to, "\r%s: %d of %d", g.what, done, all)
}

// end wipes what was told.
func (g *progress) end() {
	if !g.told.IsZero() {
		fmt.Fprint(g.to, "\r\x1b[K")
	}
}
