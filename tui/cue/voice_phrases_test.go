package cue

// What is said of a session's values, each case reckoned by hand.

import (
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

func TestNumbersAndTimes(t *testing.T) {
	for n, want := range map[int]string{0: "[0]", 1: "[1]", 60: "[60]", 61: "[60 1]", 70: "[70]", 99: "[90 9]",
		100: "[1 hundred]", 137: "[1 hundred 30 7]", 200: "[2 hundred]", 185: "[1 hundred 80 5]", -3: "[0]", 1440: "[14 hundred 40]"} {
		if got := (Phrase{numberWords(n)}).String(); got != want {
			t.Errorf("%d is said as %s, want %s", n, got, want)
		}
	}
	for d, want := range map[time.Duration]string{
		0:                        "[0 seconds]",
		1999 * time.Millisecond:  "[1 second]",
		61 * second:              "[1 minute 1 second]",
		190 * second:             "[3 minutes 10 seconds]",
		9*minute + 59*second:     "[9 minutes 50 9 seconds]",
		10*minute + 59*second:    "[10 minutes]",
		time.Hour:                "[1 hour]",
		25*time.Hour + 61*second: "[20 5 hours 1 minute]",
		-5 * second:              "[0 seconds]",
		time.Minute - 1:          "[1 minute]",
		2*time.Hour + 59*second:  "[2 hours]",
	} {
		if got := (Phrase{durationWords(d)}).String(); got != want {
			t.Errorf("%v is said as %s, want %s", d, got, want)
		}
	}
	for c, want := range map[float64]string{22.5: "[20 2 point 5 degrees]", 19.96: "[20 point 0 degrees]", 0: "[0 point 0 degrees]"} {
		if got := (Phrase{temperatureWords(c)}).String(); got != want {
			t.Errorf("%v C is said as %s, want %s", c, got, want)
		}
	}
}

func says(t *testing.T, what string, got Phrase, want string) {
	t.Helper()
	if got.String() != want {
		t.Errorf("%s: %s, want %s", what, got, want)
	}
}

// The answer to one press: what, how long, how wet; reckoned here by hand from
// the plan's times.
func TestStandingTellsWhatHowLongHowWet(t *testing.T) {
	p := planOf(t, recipeFor(sequence.Hangers, 4,
		sequence.Step{Kind: sequence.Presoak, Time: 2 * minute},
		sequence.Step{Kind: sequence.Develop, Time: 8 * minute},
		sequence.Step{Kind: sequence.Fix, Time: 3 * minute, LightsOnAfter: minute},
		sequence.Step{Kind: sequence.Fix, Time: 3 * minute, RoomLight: sequence.White}))
	p.Limits.All = 14 * minute
	n := begin(t, p, Full)
	at := func(d time.Duration, want string) {
		t.Helper()
		n.now = d
		n.do(sequence.Wake{})
		says(t, d.String(), StatePhrase(p, n.state.Snapshot(d)), want)
	}
	says(t, "later", SkippedPhrase(3*minute+20*second), "[3 minutes 20 seconds later]")
	says(t, "not begun", StatePhrase(p, engine.Snapshot{Step: -1}), "[before-first]")
	at(-7*second, "[before-first] [7 seconds left]")
	at(50*second, "[presoak] [stand] [1 minute 10 seconds left] [wet-time 13 minutes left] [wet-time at-end 2 minutes too-long]")
	at(6*minute+50*second, "[developer] [stand] [3 minutes 10 seconds left] [wet-time 7 minutes 10 seconds left] [wet-time at-end 2 minutes too-long]")
	at(12*minute, "[fixer 1] [stand] [1 minute left] [wet-time 2 minutes left] [wet-time at-end 2 minutes too-long] [light-safe] [press-twice]")
	at(15*minute, "[fixer 2] [stand] [1 minute left] [wet-limit-passed] [light-safe] [press-twice]")
	at(16*minute, "[session-over]")
}

func TestStandingWhenHeldAndOverdue(t *testing.T) {
	p := planOf(t, recipeFor(sequence.Hangers, 4,
		sequence.Step{Kind: sequence.Develop, Time: 8 * minute},
		sequence.Step{Kind: sequence.Fix, Time: 3 * minute}))
	n := begin(t, p, Full)
	n.now = 7 * minute
	n.do(sequence.Hold{})
	says(t, "held", StatePhrase(p, n.state.Snapshot(n.now)), "[developer] [stand] [held] [1 minute left] [wet-time 7 minutes]")
	n.now = 8*minute + 48*second
	n.do(sequence.Wake{})
	says(t, "overdue", StatePhrase(p, n.state.Snapshot(n.now)),
		"[developer] [stand] [time-up] [40 8 seconds overdue] [developed 1 hundred 10 per-cent] [wet-time 8 minutes 40 8 seconds]")
	n.do(sequence.EndSession{})
	says(t, "stopped", StatePhrase(p, n.state.Snapshot(n.now)), "[stopped] [session-over]")
}

func TestActsAndReady(t *testing.T) {
	open := planOf(t, recipeFor(sequence.Tray, 6, sequence.Step{Kind: sequence.Presoak, Time: 2 * minute},
		sequence.Step{Kind: sequence.Develop, Time: 8 * minute}, sequence.Step{Kind: sequence.StopBath, Time: minute}))
	shut := planOf(t, recipeFor(sequence.Drum, 6, sequence.Step{Kind: sequence.Presoak, Time: 2 * minute},
		sequence.Step{Kind: sequence.Develop, Time: 8 * minute}))
	of := func(kind sequence.CueKind, step string, sheet int) sequence.Cue {
		return sequence.Cue{At: minute, Kind: kind, Step: step, Sheet: sheet}
	}
	for _, c := range []struct {
		plan *sequence.Plan
		cue  sequence.Cue
		want string
	}{
		{open, of(sequence.CueLoad, "presoak 1", 2), "[load-sheet 2]"},
		{open, of(sequence.CueLoad, "presoak 1", 0), "[load]"},
		{shut, of(sequence.CueLoad, "presoak 1", 0), "[pour presoak]"},
		{open, of(sequence.CueTransfer, "presoak 1", 3), "[transfer-sheet 3]"},
		{open, of(sequence.CueTransfer, "presoak 1", 0), "[transfer into developer]"},
		{shut, of(sequence.CueTransfer, "presoak 1", 0), "[pour developer]"},
		{open, of(sequence.CuePull, "develop 2", 5), "[pull-sheet 5]"},
		{open, of(sequence.CueDone, "stop 3", 0), "[last-sheet-out]"},
		{open, of(sequence.CueShuffle, "develop 2", 0), "[]"},
	} {
		says(t, string(c.cue.Kind), Phrase{actionWords(c.plan, c.cue)}, c.want)
	}
	says(t, "ready", readyPhrase(open, of(sequence.CueReady, "develop 2", 0)), "[ready] [transfer into stop-bath]")
	says(t, "ready, last", readyPhrase(open, of(sequence.CueReady, "stop 3", 0)), "[ready] [last-sheet-out]")
	says(t, "ready, film test", readyPhrase(open, of(sequence.CueReady, "develop 2", 4)), "[ready] [pull-sheet 4]")
	says(t, "ready, lead", readyPhrase(shut, sequence.Cue{At: -10 * second, Kind: sequence.CueReady, Step: "presoak 1"}), "[ready] [pour presoak]")
}

func TestEventsAreTold(t *testing.T) {
	p := sixInTrays(t)
	n := begin(t, p, Full)
	n.now = 100 * second
	n.do(sequence.Wake{})
	since := 40 * second
	stands := " [presoak] [shuffle] [next-sheet 1] [1 minute 30 5 seconds left] [sheet 1 wet-time 16 minutes left] [wet-time at-end 3 minutes 40 9 seconds too-long]"
	for _, c := range []struct {
		event sequence.Event
		want  string
		asked bool
	}{
		{sequence.Event{Kind: sequence.Held, Act: 3}, "[held]", true},
		{sequence.Event{Kind: sequence.Held}, "[held]", false},
		{sequence.Event{Kind: sequence.HoldEnded, Act: 4}, "[going-on]", true},
		{sequence.Event{Kind: sequence.Undone}, "[undone]" + stands, true},
		{sequence.Event{Kind: sequence.Resumed}, "[taken-up]" + stands, true},
		{sequence.Event{Kind: sequence.GapFound, At: 100 * second, Since: &since}, "[asleep] [1 minute]", false},
		{sequence.Event{Kind: sequence.SoundBack}, "[sound-back]", false},
		{sequence.Event{Kind: sequence.Heartbeat}, "", false},
		{sequence.Event{Kind: sequence.CueGiven, Cue: sequence.CueShuffle}, "", false},
	} {
		got, asked := EventPhrase(p, n.state.Snapshot(n.now), c.event)
		says(t, string(c.event.Kind), got, c.want)
		if asked != c.asked {
			t.Errorf("%s: asked %v, want %v", c.event.Kind, asked, c.asked)
		}
	}
}

func TestReadingTellsWhatIsLeftAndTheBath(t *testing.T) {
	warm := chem.Celsius(22.5)
	l := engine.Snapshot{Develop: &engine.DevelopmentProgress{Temperature: &warm}}
	got := explanation(sixInTrays(t), l, sequence.Cue{Kind: sequence.CueReading, For: 190 * second}, sequence.Units{})
	says(t, "reading", got, "[3 minutes 10 seconds left] [20 2 point 5 degrees]")
	got = explanation(sixInTrays(t), l, sequence.Cue{Kind: sequence.CueReading, For: 190 * second, Change: -21 * second}, sequence.Units{})
	says(t, "a warmer bath", got, "[3 minutes 10 seconds left] [20 1 seconds earlier] [20 2 point 5 degrees]")
	got = explanation(sixInTrays(t), l, sequence.Cue{Kind: sequence.CueReading, For: 190 * second, Change: 61 * second}, sequence.Units{})
	says(t, "a cooler bath", got, "[3 minutes 10 seconds left] [1 minute 1 second later] [20 2 point 5 degrees]")
	got = explanation(sixInTrays(t), l, sequence.Cue{Kind: sequence.CueReading, For: 190 * second}, sequence.Units{Fahrenheit: true})
	says(t, "reading in Fahrenheit", got, "[3 minutes 10 seconds left] [70 2 point 5 degrees]")
}

func TestMenuOffersItsWords(t *testing.T) {
	for c, want := range map[Choice]string{ChoiceHold: "[hold] [press-to-choose]", ChoiceGo: "[go-on] [press-to-choose]",
		ChoiceUndo: "[undo] [press-to-choose]", ChoiceAdvice: "[advice] [press-to-choose]", ChoiceStop: "[stop] [press-twice]",
		ChoiceLate: "[late-sheet] [press-to-choose]", ChoiceFilm: "[film-late] [press-to-choose]", ChoiceSetAside: "[set-aside-sheet] [press-to-choose]"} {
		says(t, string(c), c.Offer(), want)
	}
	says(t, "a sheet", ChoiceLate.Sheet(12), "[late-sheet 12] [press-twice]")
	says(t, "another", ChoiceSetAside.Sheet(21), "[set-aside-sheet 20 1] [press-twice]")
	says(t, "refused", NotPossible(), "[not-possible]")
	says(t, "loading", Loading(), "[before-first] [begin-twice]")
	says(t, "later", SkippedPhrase(3*minute+20*second), "[3 minutes 20 seconds later]")
	says(t, "not begun", NotBegun(), "[not-begun] [escape-twice]")
	says(t, "held", RunElsewhere(), "[held-elsewhere] [begin-twice] [escape-twice]")
	says(t, "gone", GoneElsewhere(), "[held-elsewhere] [light-twice]")
	says(t, "cut off", SessionLost(true), "[cut-off] [light-twice]")
	says(t, "before a session", SessionLost(false), "[light-twice]")
}

// What the person did is said with where the film is now, for as long as it can be
// taken back; what happened by itself is not.
func TestActsOfThePersonAreTold(t *testing.T) {
	p := sixInTrays(t)
	l := engine.Snapshot{CanUndo: true}
	for want, e := range map[string]sequence.Event{
		"[sheet 3] [undo-ten]":        {Kind: sequence.Transferred, Act: 1, Step: "develop 2", Sheet: 3},
		"[sheet 4] [undo-ten]":        {Kind: sequence.Pulled, Act: 1, Step: "develop 2", Sheet: 4},
		"[fixer] [undo-ten]":          {Kind: sequence.Transferred, Act: 2, Step: "fix 4"},
		"[last-sheet-out] [undo-ten]": {Kind: sequence.Transferred, Act: 2},
		"":                            {Kind: sequence.Transferred, Step: "fix 4"},
	} {
		got, asked := EventPhrase(p, l, e)
		says(t, want, got, want)
		if asked != (want != "") {
			t.Errorf("%s: asked %v", want, asked)
		}
	}
	if got, _ := EventPhrase(p, engine.Snapshot{}, sequence.Event{Kind: sequence.Transferred, Act: 1, Step: "fix 4"}); got != nil {
		t.Errorf("%v, though nothing can be taken back", got)
	}
}

// What was said of a sheet is answered with where it is, and that it can be taken back;
// what a film test does by itself is not.
func TestSheetsThatWereNamedAreTold(t *testing.T) {
	p, hung := sixInTrays(t), planOf(t, recipeFor(sequence.Hangers, 4, sequence.Step{Kind: sequence.Presoak, Time: minute},
		sequence.Step{Kind: sequence.Develop, Time: minute}))
	l := engine.Snapshot{CanUndo: true}
	for want, e := range map[string]sequence.Event{
		"[late-sheet 2] [presoak] [held] [undo-ten]":      {Kind: sequence.LateReported, Act: 1, Step: "presoak 1", Sheet: 2},
		"[late-sheet 1] [before-first] [held] [undo-ten]": {Kind: sequence.LateReported, Act: 1, Sheet: 1},
		"[sheet 3 aside-in-water] [undo-ten]":             {Kind: sequence.SetAside, Act: 2, Step: "presoak 1", Sheet: 3, Source: sequence.ByHand},
		"":                                                {Kind: sequence.SetAside, Act: 2, Step: "presoak 1", Sheet: 3},
	} {
		got, asked := EventPhrase(p, l, e)
		says(t, want, got, want)
		if asked != (want != "") {
			t.Errorf("%s: asked %v", want, asked)
		}
	}
	got, _ := EventPhrase(hung, l, sequence.Event{Kind: sequence.LateReported, Act: 1, Step: "presoak 1", Sheet: 1})
	says(t, "all of them", got, "[film-late] [presoak] [held] [undo-ten]")
	if got, _ := EventPhrase(p, l, sequence.Event{Kind: sequence.Held, Act: 1, Step: "presoak 1", Sheet: 2}); got != nil {
		t.Errorf("%v, though the late sheet says it", got)
	}
}

// What is advised is said in words, with what it leaves by the limit.
func TestAdviceIsSaid(t *testing.T) {
	p := sixInTrays(t)
	left, over := 130*second, -45*second
	wash := len(p.Steps) - 1
	bathName := Phrase{bathWords(p, wash)}.String()
	bathName = bathName[1 : len(bathName)-1]
	l := engine.Snapshot{Step: wash, Now: 10 * minute}
	for want, a := range map[string]engine.Advice{
		"[advice] [go-on] [40 seconds overdue]":                                                {Action: engine.MoveOnNow, For: 40 * second, Margin: &left},
		"[advice] [" + bathName + " in-hangers] [wet-time at-end 2 minutes 10 seconds left]":   {Action: engine.IntoHangers, In: sequence.Hangers, Step: wash, Margin: &left},
		"[advice] [" + bathName + " one-by-one]":                                               {Action: engine.IntoHangers, In: sequence.SingleTrays, Step: wash},
		"[advice] [leave-out " + bathName + "] [wet-time at-end 40 5 seconds too-long]":        {Action: engine.LeaveOut, Step: wash, Margin: &over},
		"[advice] [" + bathName + " 6 minutes is-enough] [3 minutes left]":                     {Action: engine.LeastTime, Step: wash, For: 6 * minute, At: 13 * minute},
		"[advice] [developer 6 minutes is-enough] [wet-time at-end 2 minutes 10 seconds left]": {Action: engine.LeastTime, Step: 1, For: 6 * minute, At: 13 * minute, Margin: &left},
	} {
		says(t, string(a.Action), AdvicePhrase(p, l, a, true), want)
	}
	says(t, "nothing", AdvicePhrase(p, l, engine.Advice{}, false), "[advice] [nothing-helps]")
}
