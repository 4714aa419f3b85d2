// Package recipetest is recipes for tests, short to write, and recipes drawn at random. For
// tests alone.
package recipetest

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

const (
	Second = time.Second
	Minute = time.Minute
)

var fourByFive = sequence.Size{Name: "4x5in", Width: 4, Height: 5}

// Recipe is a recipe with the contract's defaults; unnamed steps are called
// after their kind, a second one of a kind gets a number.
func Recipe(v sequence.Vessel, sheets int, steps ...sequence.Step) sequence.Recipe {
	seen := map[string]int{}
	for i := range steps {
		st := &steps[i]
		if st.RoomLight == "" {
			st.RoomLight = sequence.Dark
		}
		if st.Agitate.Mode == "" {
			st.Agitate.Mode = sequence.Still
		}
		if st.Name == "" {
			st.Name = string(st.Kind)
			if seen[st.Name]++; seen[st.Name] > 1 {
				st.Name = fmt.Sprintf("%s %d", st.Kind, seen[string(st.Kind)])
			}
		}
	}
	return sequence.Recipe{
		Title: "Plover 80 at Saltmarsh harbour",
		Film:  sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, WetWarning: 3 * Minute},
		Load: sequence.Load{Vessel: v, Sheets: sheets, Size: fourByFive,
			LoadEvery: 15 * Second, ShuffleEvery: 10 * Second, TransferEvery: 10 * Second},
		Steps: steps,
	}
}

// Bath is one step of a kind and a time.
func Bath(k sequence.Kind, d sequence.Elapsed) sequence.Step { return sequence.Step{Kind: k, Time: d} }

func Agitated(s sequence.Step, a sequence.Agitation) sequence.Step { s.Agitate = a; return s }
func Shuffled(s sequence.Step) sequence.Step                       { s.Agitate.Mode = sequence.Shuffle; return s }
func Continuous(s sequence.Step) sequence.Step                     { s.Agitate.Mode = sequence.Continuous; return s }
func Drained(s sequence.Step, d sequence.Elapsed) sequence.Step    { s.Drain = d; return s }
func Lit(s sequence.Step, l sequence.Light) sequence.Step          { s.RoomLight = l; return s }
func Into(s sequence.Step, v sequence.Vessel) sequence.Step        { s.Vessel = v; return s }
func Pulled(s sequence.Step, times ...sequence.Elapsed) sequence.Step {
	s.Time, s.PullTimes = 0, times
	return s
}
func LightsOnAfter(s sequence.Step, after sequence.Elapsed) sequence.Step {
	s.LightsOnAfter = after
	return s
}
func AtLeast(s sequence.Step, least sequence.Elapsed) sequence.Step { s.LeastTime = least; return s }
func At(s sequence.Step, t, k float64) sequence.Step                { s.Temperature = Coefficient(t, k); return s }
func Reversed(s sequence.Step, every sequence.Elapsed) sequence.Step {
	s.ReverseEvery = every
	return s
}
func Optional(s sequence.Step) sequence.Step       { s.Optional = true; return s }
func OutsideWetTime(s sequence.Step) sequence.Step { s.OutsideWetTime = true; return s }
func Coefficient(t, k float64) *sequence.Temperature {
	return &sequence.Temperature{At: chem.Celsius(t), Coefficient: k}
}
func Degrees(t float64) *chem.Celsius { c := chem.Celsius(t); return &c }
func Periodic(first, dur, every sequence.Elapsed) sequence.Agitation {
	return sequence.Agitation{Mode: sequence.Pattern, Initial: first, For: dur, Every: every}
}

// KindsOf lists the kinds of events, for failures that explain themselves.
func KindsOf(events []sequence.Event) string {
	var b strings.Builder
	for _, e := range events {
		fmt.Fprintf(&b, "%s %s %s %s %d\n", sequence.FormatElapsed(e.At), e.Kind, e.Cue, e.Step, e.Sheet)
	}
	return b.String()
}

// CuesOf filters cues by kind and step ("" for any).
func CuesOf(cues []sequence.Cue, k sequence.CueKind, step string) []sequence.Cue {
	var list []sequence.Cue
	for _, c := range cues {
		if c.Kind == k && (step == "" || c.Step == step) {
			list = append(list, c)
		}
	}
	return list
}

// EventsOf filters events by kind.
func EventsOf(events []sequence.Event, k sequence.EventKind) []sequence.Event {
	var list []sequence.Event
	for _, e := range events {
		if e.Kind == k {
			list = append(list, e)
		}
	}
	return list
}

// Near compares instants to a microsecond.
func Near(a, b sequence.Elapsed) bool { return a-b <= time.Microsecond && b-a <= time.Microsecond }

func Instants(cues []sequence.Cue) []float64 {
	var list []float64
	for _, c := range cues {
		list = append(list, c.At.Seconds())
	}
	return list
}

// ExpectInstants compares the instants of cues with those worked out by hand, in seconds.
func ExpectInstants(t *testing.T, what string, cues []sequence.Cue, want ...float64) {
	t.Helper()
	got := Instants(cues)
	ok := len(got) == len(want)
	for i := 0; ok && i < len(want); i++ {
		ok = math.Abs(got[i]-want[i]) < 1e-6
	}
	if !ok {
		t.Errorf("%s at %v; expected %v", what, got, want)
	}
}

// Staggered is a film test of 5, 7 and 10 minutes, all out together.
func Staggered(v sequence.Vessel) sequence.Recipe {
	dev := Pulled(Bath(sequence.Develop, 0), 5*Minute, 7*Minute, 10*Minute)
	dev.LeaveTogether = true
	return Recipe(v, 3, Continuous(Bath(sequence.Presoak, Minute)), Agitated(dev, Periodic(30*Second, 5*Second, 60*Second)), Bath(sequence.StopBath, 30*Second), Bath(sequence.Fix, 5*Minute))
}

// SixInTray is a stack that stays wet too long and offers every way of shortening.
func SixInTray() sequence.Recipe {
	r := Recipe(sequence.Tray, 6,
		Optional(Shuffled(Bath(sequence.Presoak, 2*Minute))),
		Shuffled(At(Bath(sequence.Develop, 9*Minute), 20, 2.2)),
		Optional(Shuffled(Bath(sequence.StopBath, Minute))),
		AtLeast(Shuffled(Bath(sequence.Fix, 7*Minute)), 4*Minute),
		AtLeast(Lit(Shuffled(Bath(sequence.Wash, 30*Minute)), sequence.White), 6*Minute))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * Minute, sequence.Hangers: 75 * Minute}
	return r
}

// FourInHangers is four sheets in hangers: presoak to 2:00, developer to 10:30, stop to
// 11:00, fix to 16:00.
func FourInHangers() sequence.Recipe {
	return Recipe(sequence.Hangers, 4,
		Bath(sequence.Presoak, 2*Minute),
		At(Bath(sequence.Develop, 8*Minute+30*Second), 20, 2.2),
		Continuous(Bath(sequence.StopBath, 30*Second)),
		LightsOnAfter(Continuous(Bath(sequence.Fix, 5*Minute)), 2*Minute))
}
