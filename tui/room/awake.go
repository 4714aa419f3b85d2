package room

// Sleep kept away while film is open, as far as the system lets us, and a word in
// time when it sleeps all the same.

import (
	"context"
	"sync"
	"time"
)

// AwakeOptions is what KeepAwake is started with.
type AwakeOptions struct {
	// Dark says that a step is dark: then the system may let the panel go out by
	// itself, which what it offers against idling would forbid.
	Dark bool
	// OnState is given what was granted, in words, and whether that keeps the computer
	// awake: once when it is known, and again whenever it changes. nil for nobody.
	OnState func(text string, blocked bool)
	// BeforeSleep is called when the computer is about to sleep. Until it returns, sleep
	// is put off by what the system grants, 2 s at most here. nil for nothing to do.
	BeforeSleep func()
}

// Awake is a request that the computer stay awake, until Close. It never fails: what
// was not granted is told.
type Awake struct {
	options AwakeOptions
	cancel  context.CancelFunc
	ended   chan struct{}

	mu   sync.Mutex
	last string // what was told last
}

// KeepAwake asks the system to stay awake and returns at once; the answer is told.
func KeepAwake(w AwakeOptions) *Awake {
	ctx, cancel := context.WithCancel(context.Background())
	a := &Awake{options: w, cancel: cancel, ended: make(chan struct{})}
	go func() {
		defer close(a.ended)
		a.run(ctx)
	}()
	return a
}

// closeTimeout bounds how long Close waits for the system to take the request back.
const closeTimeout = time.Second

// Close lets the computer sleep again.
func (a *Awake) Close() error {
	a.cancel()
	select {
	case <-a.ended:
	case <-time.After(closeTimeout):
	}
	return nil
}

// report passes on what is new.
func (a *Awake) report(text string, blocked bool) {
	a.mu.Lock()
	same := a.last == text
	a.last = text
	a.mu.Unlock()
	if !same && a.options.OnState != nil {
		a.options.OnState(text, blocked)
	}
}

// NotBlocked begins what is told where nothing keeps the computer awake: what to do
// instead. The reason follows in brackets.
const NotBlocked = "NOT blocked: set it to never, leave the lid open"

func (a *Awake) reportUnblocked(why string) { a.report(NotBlocked+" ("+why+")", false) }

// pause waits; false when it is all over.
func pause(ctx context.Context, d time.Duration) bool {
	select {
	case <-time.After(d):
		return true
	case <-ctx.Done():
		return false
	}
}
