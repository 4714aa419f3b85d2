package app

import (
	"bytes"
	"testing"
	"time"
)

// Nothing is told of what is over within a second; then a line now and then, which
// is wiped at the end.
func TestProgress(t *testing.T) {
	var out bytes.Buffer
	now := time.Unix(0, 0)
	g := &Progress{out: &out, what: "reading sessions", now: func() time.Time { return now }, started: now}
	for i := range 10 {
		now = now.Add(99 * time.Millisecond)
		g.Update(i+1, 20)
	}
	if out.Len() > 0 {
		t.Fatalf("told before a second was over: %q", &out)
	}
	for i := range 10 {
		now = now.Add(60 * time.Millisecond)
		g.Update(i+11, 20)
	}
	g.Clear()
	want := "\rreading sessions: 11 of 20\rreading sessions: 13 of 20\rreading sessions: 15 of 20" +
		"\rreading sessions: 17 of 20\rreading sessions: 19 of 20\r\x1b[K"
	if out.String() != want {
		t.Errorf("told %q; expected %q", &out, want)
	}
	out.Reset()
	quick := &Progress{out: &out, what: "x", now: func() time.Time { return now }, started: now}
	quick.Update(1, 1)
	quick.Clear()
	if out.Len() > 0 {
		t.Errorf("told %q of what took no time", &out)
	}
	if g := (&Env{Err: &out}).StartProgress("x"); g.out != nil {
		t.Error("what is no terminal is told")
	}
}
