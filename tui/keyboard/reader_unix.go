//go:build unix

package keyboard

// Reading a terminal: by waiting for it, so that silence is told only where nothing waits to be
// read, however late this process comes to it.

import (
	"io"
	"os"
	"sync"
	"time"

	"golang.org/x/sys/unix"

	"example.org/wetside/tui/ttywait"
)

// Reader reads one terminal. Next belongs to one goroutine; Pause and Resume may be
// called by another.
type Reader struct {
	in      *os.File
	parser  Parser
	due     []Event
	quietAt time.Time // when Silence after the last key is over; zero where it was told

	wake, waker *os.File // a byte in it ends a wait

	mu     sync.Mutex
	pause  bool
	change *sync.Cond // of pause, and of idle
	idle   bool       // Next is not reading
}

// NewReader reads a terminal whose keys arrive as they are typed.
func NewReader(in *os.File) (*Reader, error) {
	r := &Reader{in: in, idle: true}
	r.change = sync.NewCond(&r.mu)
	var err error
	if r.wake, r.waker, err = os.Pipe(); err != nil {
		return nil, err
	}
	return r, nil
}

// Close gives up what the reader has of its own; the terminal stays open.
func (r *Reader) Close() {
	r.wake.Close()
	r.waker.Close()
}

// Pause has nobody read until Resume: when it returns, what is typed is somebody else's.
func (r *Reader) Pause() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.pause = true
	r.waker.Write([]byte{0})
	for !r.idle {
		r.change.Wait()
	}
}

// Resume reads on.
func (r *Reader) Resume() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.pause = false
	r.change.Broadcast()
}

// begin waits while there is a pause.
func (r *Reader) begin() {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.pause {
		r.change.Wait()
	}
	r.idle = false
}

func (r *Reader) end() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.idle = true
	r.change.Broadcast()
}

// step waits once, and takes what came of it.
func (r *Reader) step(until time.Time) error {
	r.begin()
	defer r.end()
	give := time.Time{} // when what is held is given up
	if wait := r.parser.Wait(); wait > 0 {
		give = time.Now().Add(wait)
	}
	readable, err := r.poll(earliest(until, give, r.quietAt))
	if err != nil {
		return err
	}
	if readable {
		return r.read()
	}
	now := time.Now()
	switch {
	case !give.IsZero() && !now.Before(give):
		r.take(r.parser.GiveUp())
	case !r.quietAt.IsZero() && !now.Before(r.quietAt):
		r.quietAt = time.Time{}
		r.due = append(r.due, Event{What: Quiet})
	case !until.IsZero() && !now.Before(until):
		return os.ErrDeadlineExceeded
	}
	return nil
}

func (r *Reader) read() error {
	buf := make([]byte, 4096)
	n, err := unix.Read(int(r.in.Fd()), buf)
	switch {
	case err == unix.EINTR || err == unix.EAGAIN:
		return nil
	case err != nil:
		return err
	case n <= 0:
		return io.EOF
	}
	r.take(r.parser.Feed(buf[:n]))
	return nil
}

// poll tells whether there is something to read before a time, if there is one.
func (r *Reader) poll(until time.Time) (readable bool, err error) {
	limit := time.Duration(-1)
	if !until.IsZero() {
		limit = max(0, time.Until(until))
	}
	ready, err := ttywait.For(limit, r.in.Fd(), r.wake.Fd())
	switch {
	case err != nil:
		return false, err
	case ready[1]:
		unix.Read(int(r.wake.Fd()), make([]byte, 1))
		return false, nil
	}
	return ready[0], nil
}

// earliest is the first of the times that are not zero.
func earliest(times ...time.Time) (first time.Time) {
	for _, t := range times {
		if !t.IsZero() && (first.IsZero() || t.Before(first)) {
			first = t
		}
	}
	return first
}
