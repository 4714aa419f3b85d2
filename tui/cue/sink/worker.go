package sink

// What every loop that feeds a device has: a way to be ended, and patience.

import (
	"sync"
	"time"
)

const (
	retryFirst   = 500 * time.Millisecond
	retryMost    = 5 * time.Second
	stallTimeout = 3 * time.Second // a device that takes nothing for so long is given up
)

// worker is the life of one goroutine.
type worker struct {
	once  sync.Once
	quit  chan struct{}
	ended chan struct{} // closed by the goroutine as the last it does
}

func newWorker() worker { return worker{quit: make(chan struct{}), ended: make(chan struct{})} }

// Close ends the goroutine and waits for that; it never errs.
func (l *worker) Close() error {
	l.once.Do(func() { close(l.quit) })
	<-l.ended
	return nil
}

// sleep waits for d; false where the loop has been told to end.
func (l *worker) sleep(d time.Duration) bool {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-l.quit:
		return false
	case <-timer.C:
		return true
	}
}

// backoff is how long to wait before the next attempt: twice as long each time,
// and from the beginning after one that went well for some time.
type backoff struct{ delay time.Duration }

func (p *backoff) next(lasted time.Duration) time.Duration {
	if lasted > retryMost || p.delay == 0 {
		p.delay = retryFirst
	}
	now := p.delay
	p.delay = min(2*p.delay, retryMost)
	return now
}
