//go:build unix

package ttywait

import (
	"os"
	"testing"
	"time"
)

// pipe is one whose ends are closed after the test.
func pipe(t *testing.T) (r, w *os.File) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close(); w.Close() })
	return r, w
}

// What can be read, what is at its end and what has nothing are told apart (poll(2)).
func TestWhichIsReady(t *testing.T) {
	written, w := pipe(t)
	w.Write([]byte{1})
	ended, w := pipe(t)
	w.Close()
	silent, _ := pipe(t)
	ready, err := For(time.Second, silent.Fd(), written.Fd(), ended.Fd())
	if err != nil || ready[0] || !ready[1] || !ready[2] {
		t.Errorf("%v, %v; expected the second and the third", ready, err)
	}
}

func TestTheLimit(t *testing.T) {
	silent, _ := pipe(t)
	const limit = 30 * time.Millisecond
	began := time.Now()
	ready, err := For(limit, silent.Fd())
	if took := time.Since(began); err != nil || ready[0] || took < limit {
		t.Errorf("%v, %v after %v; expected nothing after %v", ready, err, took, limit)
	}
	if ready, err := For(0, silent.Fd()); err != nil || ready[0] {
		t.Errorf("without waiting: %v, %v", ready, err)
	}
}

// A descriptor that is closed is an error, not something to read again and again.
func TestNoDescriptor(t *testing.T) {
	r, _ := pipe(t)
	closed := r.Fd()
	r.Close()
	if ready, err := For(time.Second, closed); err == nil {
		t.Errorf("%v; expected an error", ready)
	}
}
