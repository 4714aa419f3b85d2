package sink

import (
	"testing"
	"time"
)

// laggard takes half a second for each pull, as a voice may on a small computer.
type laggard struct{ pulls int }

func (l *laggard) Pull([][2]float64, time.Time) {
	l.pulls++
	time.Sleep(time.Second / 2)
}

// A sink that nobody hears does not make up, at its end, for what it is behind by.
func TestSilenceEndsAtOnce(t *testing.T) {
	l := &laggard{}
	aMinuteAgo := time.Now().Add(-time.Minute) // ten pulls a second, all of them due
	s := &silentSink{pace: startPuller(aMinuteAgo, l, idleEvery, func([][2]float64) {})}
	time.Sleep(2 * idleEvery)
	s.Close()
	if l.pulls > 3 {
		t.Errorf("%d pulls; expected the one that was going on to be the last", l.pulls)
	}
}
