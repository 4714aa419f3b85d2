package journal

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// What was intended and is not on record as done is told; what was done, undone or held is not.
func TestCutOff(t *testing.T) {
	due := sequence.Event{At: time.Minute, Kind: sequence.TransferDue, Cue: sequence.CueTransfer, Step: "develop"}
	event := func(k sequence.EventKind, cue sequence.CueKind) sequence.Event {
		return sequence.Event{Kind: k, Cue: cue}
	}
	for name, c := range map[string]struct {
		events []sequence.Event
		want   bool
	}{
		"nothing":        {nil, false},
		"intended":       {[]sequence.Event{due}, true},
		"alive since":    {[]sequence.Event{due, event(sequence.Heartbeat, ""), event(sequence.CueGiven, sequence.CueTick)}, true},
		"given":          {[]sequence.Event{due, event(sequence.CueGiven, sequence.CueTransfer), event(sequence.Heartbeat, "")}, false},
		"pulled":         {[]sequence.Event{due, event(sequence.CueGiven, sequence.CuePull)}, false},
		"held before it": {[]sequence.Event{due, event(sequence.Held, "")}, false},
		"the next":       {[]sequence.Event{due, event(sequence.CueGiven, sequence.CueTransfer), event(sequence.Transferred, ""), due}, true},
	} {
		s := Recording{Records: []Record{{Event: sequence.Event{Kind: sequence.SessionBegan}}}}
		for _, e := range c.events {
			s.Records = append(s.Records, Record{Event: e})
		}
		if e, ok := s.CutOff(); ok != c.want || ok && e != due {
			t.Errorf("%s: %+v, %v", name, e, ok)
		}
	}
}
