package sequence

// Recipes for the tests: short to write, nothing left to chance.

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"pgregory.net/rapid"
)

const (
	sec  = time.Second
	mins = time.Minute
)

var fourByFive = Size{Name: "4x5in", Width: 4, Height: 5}

// recipeOf is a recipe with the contract's defaults; unnamed steps are called
// after their kind, a second one of a kind gets a number.
func recipeOf(v Vessel, sheets int, steps ...Step) Recipe {
	seen := map[string]int{}
	for i := range steps {
		st := &steps[i]
		if st.RoomLight == "" {
			st.RoomLight = Dark
		}
		if st.Agitate.Mode == "" {
			st.Agitate.Mode = AtRest
		}
		if st.Name == "" {
			st.Name = string(st.Kind)
			if seen[st.Name]++; seen[st.Name] > 1 {
				st.Name = fmt.Sprintf("%s %d", st.Kind, seen[string(st.Kind)])
			}
		}
	}
	return Recipe{
		Title: "Plover 80 at Saltmarsh harbour",
		Film:  Film{Name: "Plover 80", Sensitivity: Pan, WetWarning: 3 * mins},
		Load: Load{Vessel: v, Sheets: sheets, Size: fourByFive,
			LoadEvery: 15 * sec, TurnEvery: 10 * sec, MoveEvery: 10 * sec},
		Steps: steps,
	}
}

// bathFor is one step of a kind and a time.
func bathFor(k Kind, d Elapsed) Step { return Step{Kind: k, Time: d} }

func (s Step) agitated(a Agitation) Step    { s.Agitate = a; return s }
func (s Step) shuffled() Step               { s.Agitate.Mode = Shuffle; return s }
func (s Step) steadily() Step               { s.Agitate.Mode = Continuous; return s }
func (s Step) drained(d Elapsed) Step       { s.Drain = d; return s }
func (s Step) lit(l Light) Step             { s.RoomLight = l; return s }
func (s Step) into(v Vessel) Step           { s.Vessel = v; return s }
func (s Step) taking(times ...Elapsed) Step { s.Time, s.TakeOut = 0, times; return s }
func (s Step) offering(after Elapsed) Step  { s.LightsOnAfter = after; return s }
func (s Step) sparing(least Elapsed) Step   { s.AtLeast = least; return s }
func (s Step) at(t, k float64) Step         { s.Temperature = coefficient(t, k); return s }
func (s Step) reversing(every Elapsed) Step { s.ReverseEvery = every; return s }
func (s Step) optionally() Step             { s.Optional = true; return s }
func (s Step) outsideWet() Step             { s.Dry = true; return s }
func coefficient(t, k float64) *Temperature { return &Temperature{At: chem.Celsius(t), Coefficient: k} }
func degrees(t float64) *chem.Celsius       { c := chem.Celsius(t); return &c }
func periodic(first, dur, every Elapsed) Agitation {
	return Agitation{Mode: Pattern, Initial: first, For: dur, Every: every}
}

// resolved is the plan of a recipe that must have one.
func resolved(t testing.TB, r Recipe, c Conditions) *Plan {
	t.Helper()
	p, err := Resolve(r, c)
	if err != nil {
		t.Fatalf("Resolve: %v", err)
	}
	return &p
}

// kinds lists the kinds of events, for failures that explain themselves.
func kinds(events []Event) string {
	var b strings.Builder
	for _, e := range events {
		fmt.Fprintf(&b, "%s %s %s %s %d\n", Clock(e.At), e.Kind, e.Cue, e.Step, e.Sheet)
	}
	return b.String()
}

// of filters cues by kind and step ("" for any).
func of(cues []Cue, k CueKind, step string) []Cue {
	var list []Cue
	for _, c := range cues {
		if c.Kind == k && (step == "" || c.Step == step) {
			list = append(list, c)
		}
	}
	return list
}

// only filters events by kind.
func only(events []Event, k EventKind) []Event {
	var list []Event
	for _, e := range events {
		if e.Kind == k {
			list = append(list, e)
		}
	}
	return list
}

// near compares instants to a microsecond.
func near(a, b Elapsed) bool { return a-b <= time.Microsecond && b-a <= time.Microsecond }

func instants(cues []Cue) []float64 {
	var list []float64
	for _, c := range cues {
		list = append(list, c.At.Seconds())
	}
	return list
}

// expectInstants compares the instants of cues with those worked out by hand, in seconds.
func expectInstants(t *testing.T, what string, cues []Cue, want ...float64) {
	t.Helper()
	got := instants(cues)
	ok := len(got) == len(want)
	for i := 0; ok && i < len(want); i++ {
		ok = math.Abs(got[i]-want[i]) < 1e-6
	}
	if !ok {
		t.Errorf("%s at %v; expected %v", what, got, want)
	}
}

// seconds draws a whole number of seconds.
func seconds(t *rapid.T, lo, hi int, label string) Elapsed {
	return Elapsed(rapid.IntRange(lo, hi).Draw(t, label)) * sec
}
