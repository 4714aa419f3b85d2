//go:build !unix

package keyboard

// Reading a terminal where it cannot be polled: a goroutine reads, for as long as there is
// something.

import (
	"os"
	"time"
)

// Reader reads one terminal.
type Reader struct {
	parser  Parser
	due     []Event
	quietAt time.Time
	typed   chan []byte
	failed  chan error
	resume  chan struct{}
}

// NewReader reads a terminal whose keys arrive as they are typed.
func NewReader(in *os.File) (*Reader, error) {
	r := &Reader{typed: make(chan []byte), failed: make(chan error)}
	go func() {
		for {
			buf := make([]byte, 4096)
			n, err := in.Read(buf)
			if err != nil {
				r.failed <- err
				continue
			}
			r.typed <- buf[:n]
		}
	}()
	return r, nil
}

// Close does nothing: what is being read cannot be given up.
func (r *Reader) Close() {}

// Pause does nothing: the key that is being waited for cannot be left to somebody else.
func (r *Reader) Pause() {}

// Resume does nothing.
func (r *Reader) Resume() {}

// step waits once, and takes what came of it.
func (r *Reader) step(until time.Time) error {
	var given, quiet, over <-chan time.Time
	if wait := r.parser.Wait(); wait > 0 {
		given = time.After(wait)
	}
	if !r.quietAt.IsZero() {
		quiet = time.After(time.Until(r.quietAt))
	}
	if !until.IsZero() {
		over = time.After(time.Until(until))
	}
	select {
	case b := <-r.typed:
		r.take(r.parser.Feed(b))
	case err := <-r.failed:
		return err
	case <-given:
		r.take(r.parser.GiveUp())
	case <-quiet:
		r.quietAt = time.Time{}
		r.due = append(r.due, Event{What: Quiet})
	case <-over:
		return os.ErrDeadlineExceeded
	}
	return nil
}
