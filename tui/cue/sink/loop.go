package sink

// What every loop that feeds a device has: a way to be ended, and patience.

import (
	"sync"
	"time"
)

const (
	retryFirst = 500 * time.Millisecond
	retryMost  = 5 * time.Second
	stuck      = 3 * time.Second // a device that takes nothing for so long is given up
)

// loop is the life of one goroutine.
type loop struct {
	once  sync.Once
	quit  chan struct{}
	ended chan struct{} // closed by the goroutine as the last it does
}

func newLoop() loop { return loop{quit: make(chan struct{}), ended: make(chan struct{})} }

// Close ends the goroutine and waits for that; it never errs.
func (l *loop) Close() error {
	l.once.Do(func() { close(l.quit) })
	<-l.ended
	return nil
}

// pause waits for d; false where the loop has been told to end.
func (l *loop) pause(d time.Duration) bool {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-l.quit:
		return false
	case <-timer.C:
		return true
	}
}

// patience is how long to wait before the next attempt: twice as long each time,
// and from the beginning after one that went well for some time.
type patience struct{ next time.Duration }

func (p *patience) wait(lasted time.Duration) time.Duration {
	if lasted > retryMost || p.next == 0 {
		p.next = retryFirst
	}
	now := p.next
	p.next = min(2*p.next, retryMost)
	return now
}
