package room

// Sleep kept away while film is open, as far as the system lets us, and a word in
// time when it sleeps all the same.

import (
	"context"
	"sync"
	"time"
)

// Waking is what KeepAwake is started with.
type Waking struct {
	// Dark says that a step is dark: then the system may let the panel go out by
	// itself, which what it offers against idling would forbid.
	Dark bool
	// Told is given what was granted, in words, and whether that keeps the computer
	// awake: once when it is known, and again whenever it changes. nil for nobody.
	Told func(text string, blocked bool)
	// Sleeping is called when the computer is about to sleep. Until it returns, sleep
	// is put off by what the system grants, 2 s at most here. nil for nothing to do.
	Sleeping func()
}

// Awake is a request that the computer stay awake, until Close. It never fails: what
// was not granted is told.
type Awake struct {
	with   Waking
	cancel context.CancelFunc
	ended  chan struct{}

	mu   sync.Mutex
	last string // what was told last
}

// KeepAwake asks the system to stay awake and returns at once; the answer is told.
func KeepAwake(w Waking) *Awake {
	ctx, cancel := context.WithCancel(context.Background())
	a := &Awake{with: w, cancel: cancel, ended: make(chan struct{})}
	go func() {
		defer close(a.ended)
		a.run(ctx)
	}()
	return a
}

// closing bounds how long Close waits for the system to take the request back.
const closing = time.Second

// Close lets the computer sleep again.
func (a *Awake) Close() error {
	a.cancel()
	select {
	case <-a.ended:
	case <-time.After(closing):
	}
	return nil
}

// tell passes on what is new.
func (a *Awake) tell(text string, blocked bool) {
	a.mu.Lock()
	same := a.last == text
	a.last = text
	a.mu.Unlock()
	if !same && a.with.Told != nil {
		a.with.Told(text, blocked)
	}
}

// Unblocked begins what is told where nothing keeps the computer awake: what to do
// instead. The reason follows in brackets.
const Unblocked = "NOT blocked: set it to never, leave the lid open"

func (a *Awake) refused(why string) { a.tell(Unblocked+" ("+why+")", false) }

// pause waits; false when it is all over.
func pause(ctx context.Context, d time.Duration) bool {
	select {
	case <-time.After(d):
		return true
	case <-ctx.Done():
		return false
	}
}
