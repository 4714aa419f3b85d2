package fitcmd

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// What was read earlier than it was told stands where it was read, and of two readings of
// one moment the later told is the one.
func TestReadingsOfASessionInOrder(t *testing.T) {
	at := func(told, read time.Duration, c chem.Celsius) sequence.Event {
		e := sequence.Event{At: told, Kind: sequence.ReadingTaken, Temperature: &c}
		if read != told {
			e.Since = &read
		}
		return e
	}
	got := readingsOfSession([]sequence.Event{at(time.Minute, time.Minute, 22), at(3*time.Minute, 2*time.Minute, 31),
		at(4*time.Minute, 0, 23), at(5*time.Minute, 2*time.Minute, 21)})
	want := []chem.Point{{At: 0, T: 23}, {At: time.Minute, T: 22}, {At: 2 * time.Minute, T: 21}}
	if !slices.Equal(got, want) {
		t.Errorf("%v; expected %v", got, want)
	}
}
