package app

// Output that nobody may be reading: whoever writes does not wait, and the end of the program
// waits for so long only.

import (
	"errors"
	"io"
	"sync"
	"time"
)

// mostWaiting is how much may wait for a reader: the lines of many hours.
const mostWaiting = 4 << 20

var errUnread = errors.New("nobody reads the output")

// Outbox passes on what is written into it, in order, as fast as it is taken.
type Outbox struct {
	to io.Writer

	mu      sync.Mutex
	waiting []byte
	err     error         // of the last write; nothing is taken after it
	empty   chan struct{} // closed when all is written; nil where all is
}

// NewOutbox holds nothing yet.
func NewOutbox(to io.Writer) *Outbox { return &Outbox{to: to} }

// Write never waits. It errs where an earlier write did, or where too much waits.
func (o *Outbox) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.err == nil && len(o.waiting)+len(p) > mostWaiting {
		o.err = errUnread
	}
	if o.err != nil {
		return 0, o.err
	}
	o.waiting = append(o.waiting, p...)
	if o.empty == nil {
		o.empty = make(chan struct{})
		go o.deliver()
	}
	return len(p), nil
}

func (o *Outbox) deliver() {
	for {
		o.mu.Lock()
		some := o.waiting
		o.waiting = nil
		if len(some) == 0 {
			close(o.empty)
			o.empty = nil
			o.mu.Unlock()
			return
		}
		o.mu.Unlock()
		if _, err := o.to.Write(some); err != nil {
			o.mu.Lock()
			o.err = err
			o.mu.Unlock()
		}
	}
}

// Flushed is closed once all that was written has been taken.
func (o *Outbox) Flushed() <-chan struct{} {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.empty == nil {
		done := make(chan struct{})
		close(done)
		return done
	}
	return o.empty
}

// FlushWithin waits for that, but not for longer than a time.
func (o *Outbox) FlushWithin(limit time.Duration) {
	select {
	case <-o.Flushed():
	case <-time.After(limit):
	}
}
