package screen

import (
	"reflect"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// Black first, as with film, is only what begins in the dark and is rehearsed so: where film is loaded
// by safelight or in the light nothing is to be waited for.
func TestWhereARehearsalBegins(t *testing.T) {
	env := Env{Countdown: 7 * time.Second}
	dark := Rehearsal{Speed: 30, Dark: true}
	for _, c := range []struct {
		first sequence.Light
		how   Rehearsal
		black bool
	}{
		{sequence.Dark, dark, true},
		{sequence.Dark, Rehearsal{Speed: 30}, false},
		{sequence.Safelight, dark, false},
		{sequence.White, dark, false},
	} {
		p := &sequence.Plan{Steps: make([]sequence.PlanStep, 2)}
		p.Steps[0].RoomLight, p.Steps[1].RoomLight = c.first, sequence.Dark
		want := Action(Begin{Start: SessionStart{Plan: p, Countdown: env.Countdown, RehearsalSpeed: 30, Dark: c.how.Dark}})
		if c.black {
			want = OpenDarkRehearsal{p, c.how}
		}
		if got := env.Rehearse(p, c.how); !reflect.DeepEqual(got, want) {
			t.Errorf("%s first, %+v: %+v", c.first, c.how, got)
		}
	}
}
