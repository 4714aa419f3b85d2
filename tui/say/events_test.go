package say

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

func planOf(t *testing.T, r sequence.Recipe, c sequence.Conditions) *sequence.Plan {
	t.Helper()
	p, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

func TestEvents(t *testing.T) {
	p := planOf(t, recipetest.SixInTray(), sequence.Conditions{})
	read, since := sequence.Celsius(22.8), 2*time.Minute
	for _, c := range []struct {
		e    sequence.Event
		want string
	}{
		{sequence.Event{Kind: sequence.SetAside, Sheet: 3, Source: sequence.ByHand}, "Sheet 3 is set aside in water"},
		{sequence.Event{Kind: sequence.LateReported, Sheet: 2, Step: "develop"}, "Sheet 2 is still in develop"},
		{sequence.Event{Kind: sequence.LateReported, Sheet: 2}, "Sheet 2 is still dry"},
		{sequence.Event{Kind: sequence.ReadingTaken, Temperature: &read, Source: "hand"}, "Developer reads 22.8 °C (hand)"},
		{sequence.Event{Kind: sequence.GapFound, Since: &since, At: 3 * time.Minute}, "Nothing ran from 2:00 to 3:00"},
		{sequence.Event{Kind: sequence.Noted, Text: "the tray leaked"}, "Note: the tray leaked"},
		{sequence.Event{Kind: sequence.Undone}, "Undone"},
		{sequence.Event{Kind: sequence.Heartbeat}, ""},
		{sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueAgitate, For: 10 * time.Second}, "Agitate for 10 s"},
		{sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueTransfer, Sheet: 2, Step: "develop"}, "Transfer sheet 2 out of develop"},
		{sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueShuffle}, "Shuffle"},
	} {
		same(t, Event(p, c.e, celsius), c.want)
	}
	same(t, EventLine(p, sequence.Event{Kind: sequence.SessionDone, At: 65 * time.Second}, celsius), "    1:05  Done")
}

// Every kind of event that is told afterwards has words of its own.
func TestWhatIsToldAfterwardsHasWords(t *testing.T) {
	p := planOf(t, recipetest.SixInTray(), sequence.Conditions{})
	read, since := sequence.Celsius(20), time.Minute
	seen := map[string]sequence.EventKind{}
	for _, kind := range []sequence.EventKind{sequence.SetAside, sequence.Noted, sequence.ReadingTaken, sequence.Held, sequence.HoldEnded,
		sequence.Undone, sequence.LateReported, sequence.GapFound, sequence.FollowerFailed, sequence.SoundLost, sequence.SoundBack,
		sequence.ClockJumped, sequence.SuspendAnnounced, sequence.WetWarned, sequence.WetPassed, sequence.SessionStopped} {
		e := sequence.Event{Kind: kind, Sheet: 1, Source: sequence.ByHand, Temperature: &read, Since: &since}
		text := Event(p, e, celsius)
		if other, taken := seen[text]; !Afterwards(e) || text == "" || taken {
			t.Errorf("%s: %q, told afterwards %v, as for %q", kind, text, Afterwards(e), other)
		}
		seen[text] = kind
	}
}
