package app

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"
)

func TestOutboxKeepsTheOrder(t *testing.T) {
	r, w := io.Pipe()
	o := NewOutbox(w)
	var want strings.Builder
	for i := range 1000 {
		fmt.Fprintln(o, i)
		fmt.Fprintln(&want, i)
	}
	go func() {
		<-o.Flushed()
		w.Close()
	}()
	if got, err := io.ReadAll(r); err != nil || string(got) != want.String() {
		t.Errorf("%v; %d bytes of %d", err, len(got), want.Len())
	}
}

// Nobody reads: writing and ending do not wait, and what waits has a bound.
func TestOutboxWithoutAReader(t *testing.T) {
	_, w := io.Pipe()
	o := NewOutbox(w)
	line := []byte(strings.Repeat("x", 1<<10))
	err := error(nil)
	n := 0
	for ; err == nil && n < 1<<20; n++ {
		_, err = o.Write(line)
	}
	if !errors.Is(err, errUnread) || n < mostWaiting>>10-1 {
		t.Errorf("%v after %d KiB", err, n)
	}
	o.FlushWithin(time.Millisecond)
}

func TestOutboxWhoseReaderLeaves(t *testing.T) {
	r, w := io.Pipe()
	r.Close()
	o := NewOutbox(w)
	o.Write([]byte("x"))
	<-o.Flushed()
	if _, err := o.Write([]byte("y")); err == nil {
		t.Error("no error")
	}
}
