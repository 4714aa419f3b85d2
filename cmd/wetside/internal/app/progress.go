package app

// How far something has come that takes more than a second: on standard error, and
// only where that is a terminal, so that no script and no file ever sees it.

import (
	"fmt"
	"io"
	"time"
)

const (
	quietPeriod = time.Second            // less is not told
	updateEvery = 100 * time.Millisecond // between two tellings
)

// Progress is one piece of work being told of.
type Progress struct {
	out        io.Writer // nil where nobody looks
	what       string
	now        func() time.Time
	started    time.Time
	lastUpdate time.Time
}

// StartProgress begins to tell of some work.
func (p *Env) StartProgress(what string) *Progress {
	g := &Progress{what: what, now: time.Now, started: time.Now()}
	if f, shown := TerminalOf(p.Err); shown {
		g.out = f
	}
	return g
}

// Update says how far it has come, now and then.
func (g *Progress) Update(done, all int) {
	now := g.now()
	if g.out == nil || now.Sub(g.started) < quietPeriod || now.Sub(g.lastUpdate) < updateEvery {
		return
	}
	g.lastUpdate = now
	fmt.Fprintf(g.out, "\r%s: %d of %d", g.what, done, all)
}

// Clear wipes what was told.
func (g *Progress) Clear() {
	if !g.lastUpdate.IsZero() {
		fmt.Fprint(g.out, "\r\x1b[K")
	}
}
