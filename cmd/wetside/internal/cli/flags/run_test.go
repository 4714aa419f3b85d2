package flags

import (
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/running"
)

// What can be typed of rehearsing, and what cannot.
func TestRehearsalWords(t *testing.T) {
	full := running.SoundOptions{Sink: "auto", Voice: "full"}
	for _, c := range []struct {
		UsageArgs RunFlags
		want      running.Rehearsal
		wrong     bool
	}{
		{RunFlags{SoundOptions: full}, running.Rehearsal{}, false},
		{RunFlags{SoundOptions: full, Rehearse: "30"}, running.Rehearsal{Factor: 30}, false},
		{RunFlags{SoundOptions: full, Rehearse: "30", InDark: true}, running.Rehearsal{Factor: 30, InDark: true}, false},
		{RunFlags{SoundOptions: full, Rehearse: "moves"}, running.Rehearsal{Factor: 1, MovesOnly: true}, false},
		{RunFlags{SoundOptions: full, Rehearse: "moves", InDark: true}, running.Rehearsal{Factor: 1, MovesOnly: true, InDark: true}, false},
		{RunFlags{SoundOptions: full, Rehearse: "slowly"}, running.Rehearsal{}, true},
		{RunFlags{SoundOptions: running.SoundOptions{Sink: "auto", Voice: "loud"}}, running.Rehearsal{}, true},
	} {
		got, _, err := c.UsageArgs.Parse(10 * time.Second)
		if (err != nil) != c.wrong || got != c.want {
			t.Errorf("%+v: %+v, %v", c.UsageArgs, got, err)
		}
	}
	if (running.Rehearsal{Factor: 30}).MayLight() != true || (running.Rehearsal{Factor: 30, InDark: true}).MayLight() || (running.Rehearsal{}).MayLight() {
		t.Error("which rehearsals may have light")
	}
}
