package planning

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// inTrays is a recipe for sheets that wait: six at most, twenty minutes wet.
func inTrays(v sequence.Vessel, most int) sequence.Recipe {
	return sequence.Recipe{
		Title: "Plover 80", Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, WetWarning: 3 * time.Minute, WetLimit: sequence.WetLimit{All: 30 * time.Minute}},
		Load: sequence.Load{Vessel: v, Sheets: most, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5}, LoadEvery: 15 * time.Second, ShuffleEvery: 10 * time.Second, TransferEvery: 10 * time.Second},
		Steps: []sequence.Step{
			{Name: "develop", Kind: sequence.Develop, Time: 8 * time.Minute, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Shuffle},
				Growth: &sequence.Growth{Limit: 1, K: 0.11, Film: "Plover 80", Vessel: v, Agitate: sequence.Agitation{Mode: sequence.Shuffle}}},
			{Name: "fix", Kind: sequence.Fix, Time: 4 * time.Minute, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Shuffle}},
			{Name: "wash", Kind: sequence.Wash, Time: 5 * time.Minute, RoomLight: sequence.White, Agitate: sequence.Agitation{Mode: sequence.Still}},
		},
	}
}

func wanting(g *sequence.Growth, minutes ...float64) []DevelopmentWanted {
	var list []DevelopmentWanted
	for i, m := range minutes {
		t := sequence.Elapsed(m * float64(time.Minute))
		list = append(list, DevelopmentWanted{Name: fmt.Sprintf("%dA", i+1), Time: t, Gradient: g.At(t)})
	}
	return list
}

// Sheets of one time share a session up to the vessel's number; others are pulled
// of the same developer at their own times.
func TestGroupOfSeveralTimes(t *testing.T) {
	r := inTrays(sequence.Hangers, 6)
	batches, left := Group(wanting(r.Steps[0].Growth, 8, 11, 8, 8, 6, 8, 8, 8, 8, 8), r, sequence.Conditions{}, Grouping{})
	if len(left) != 0 || len(batches) != 2 {
		t.Fatalf("%d sessions, left %v", len(batches), left)
	}
	a, b := batches[0].Plan, batches[1].Plan
	if a.Sheets != 6 || len(a.Steps[0].Doses) != 6 || a.Recipe.Load.SheetName(1) != "sheet 1 (5A)" {
		t.Errorf("first: %d sheets, %v, %s", a.Sheets, a.Steps[0].Doses, a.Recipe.Load.SheetName(1))
	}
	if b.Sheets != 4 || b.Steps[0].Doses[3] != 11*time.Minute {
		t.Errorf("second: %d sheets, %v", b.Sheets, b.Steps[0].Doses)
	}
}

// A time within the tolerance in gradient is shared; one beyond it is not. By the growth
// here 8:00 gives 0.585, 8:30 gives 0.607: halfway from both is 0.011.
func TestGroupWithinTolerance(t *testing.T) {
	r := inTrays(sequence.Hangers, 6)
	near := wanting(r.Steps[0].Growth, 8, 8.5)
	b, _ := Group(near, r, sequence.Conditions{}, Grouping{Tolerance: 0.02})
	if len(b) != 1 || len(b[0].Plan.Steps[0].Doses) != 0 {
		t.Errorf("not shared: %v", b[0].Plan.Steps[0].Doses)
	}
	b, _ = Group(near, r, sequence.Conditions{}, Grouping{Tolerance: 0.005})
	if len(b) != 1 || len(b[0].Plan.Steps[0].Doses) != 2 {
		t.Errorf("shared beyond the tolerance")
	}
}

// In a closed vessel nothing is pulled; a sheet that no session holds is told.
func TestGroupClosedAndLeft(t *testing.T) {
	r := inTrays(sequence.Drum, 6)
	r.Steps[0].Agitate.Mode = sequence.Continuous
	batches, left := Group(wanting(r.Steps[0].Growth, 6, 8, 11, 40), r, sequence.Conditions{}, Grouping{})
	if len(batches) != 3 {
		t.Errorf("%d sessions in a drum; expected one for each time", len(batches))
	}
	if len(left) != 1 || left[0].Sheet.Name != "4A" || left[0].Err == nil {
		t.Fatalf("left: %+v", left)
	}
	refusedAs(t, "40 min", left[0].Err, "session-too-wet")
}

// What is put together by hand is held to the same limits.
func TestTogetherRefuses(t *testing.T) {
	r := inTrays(sequence.Tray, 4)
	_, err := (Grouping{}).Together(wanting(r.Steps[0].Growth, 8, 8, 8, 8, 8), r, sequence.Conditions{})
	refusedAs(t, "five sheets in a tray of four", err, "session-full")
	_, err = (Grouping{}).Together(wanting(r.Steps[0].Growth, 8, 24), r, sequence.Conditions{})
	refusedAs(t, "wet over the limit", err, "session-too-wet")
}

// No group of a thousand random lists breaks a limit, and every sheet is in one session
// or left, once. What breaks one is told by the cautions of the plan itself.
func TestGroupsKeepTheLimits(t *testing.T) {
	sessions, stopped := 0, map[string]int{}
	for range 10 { // a hundred lists each
		rapid.Check(t, func(t *rapid.T) {
			r, c := drawTrays(t)
			wants := drawWants(t, r.Steps[0].Growth)
			batches, left := Group(wants, r, c, Grouping{})
			var seen []string
			for _, b := range batches {
				keepsLimits(t, r, b)
				for _, w := range b.Sheets {
					seen = append(seen, w.Name)
				}
			}
			sessions += len(batches)
			for _, l := range left {
				seen = append(seen, l.Sheet.Name)
				stopped[l.Err.Error()]++
			}
			slices.Sort(seen)
			if len(slices.Compact(seen)) != len(wants) || len(seen) != len(wants) {
				t.Fatalf("%d of %d sheets are accounted for", len(seen), len(wants))
			}
		})
	}
	if sessions < 1000 || len(stopped) < 2 {
		t.Errorf("%d sessions, sheets left for %v; expected lists that try the limits", sessions, stopped)
	}
}

// drawTrays draws a recipe with its limits, and the day's conditions.
func drawTrays(t *rapid.T) (sequence.Recipe, sequence.Conditions) {
	r := inTrays(rapid.SampledFrom([]sequence.Vessel{sequence.Tray, sequence.Hangers, sequence.Cradle, sequence.Drum}).Draw(t, "vessel"), rapid.IntRange(1, 8).Draw(t, "most"))
	if rapid.Bool().Draw(t, "no growth") {
		r.Steps[0].Growth = nil
	}
	r.Film.WetLimit.All = time.Duration(rapid.IntRange(12, 45).Draw(t, "limit")) * time.Minute
	if rapid.Bool().Draw(t, "bath") {
		r.Baths = []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 49}}, Volume: 1000,
			StockPerSheet:  chem.Millilitres(rapid.SampledFrom([]float64{0, 3, 5, 21}).Draw(t, "stock")),
			SheetsPerLitre: rapid.SampledFrom([]float64{0, 2, 5}).Draw(t, "capacity"),
			WorkingLife:    rapid.SampledFrom([]time.Duration{0, 10 * time.Minute, time.Hour}).Draw(t, "life")}}
		r.Steps[0].Bath = "developer"
	}
	var c sequence.Conditions
	if rapid.Bool().Draw(t, "cooling") {
		from, to := chem.Celsius(rapid.Float64Range(19, 24).Draw(t, "from")), chem.Celsius(18)
		r.Steps[0].Temperature = &sequence.Temperature{At: 20, Coefficient: 2.2}
		c = sequence.Conditions{BathTemperature: &from, SettlesAt: &to, TimeConstant: 45 * time.Minute}
	}
	return r, c
}

func drawWants(t *rapid.T, g *sequence.Growth) []DevelopmentWanted {
	var wants []DevelopmentWanted
	for i := range rapid.IntRange(1, 24).Draw(t, "sheets") {
		w := DevelopmentWanted{Name: fmt.Sprint(i), Time: time.Duration(rapid.IntRange(300, 1200).Draw(t, "time")) * time.Second}
		if g != nil {
			w.Gradient = g.At(w.Time)
		}
		wants = append(wants, w)
	}
	return wants
}

// keepsLimits checks one session against the vessel, the limits and the tolerance.
func keepsLimits(t *rapid.T, r sequence.Recipe, b Proposal) {
	p := b.Plan
	if p.Sheets > r.Load.Sheets || p.Sheets != len(b.Sheets) || *p.Wet.Margin < 0 {
		t.Fatalf("%d sheets of %d, margin %v", p.Sheets, r.Load.Sheets, *p.Wet.Margin)
	}
	for _, broken := range []string{"wet-limit", "stock-short", "capacity", "stale"} {
		if code(&p, broken) != "" {
			t.Fatalf("%s: %+v", broken, p.Cautions)
		}
	}
	for k, w := range b.Sheets {
		got := p.Steps[0].Dose
		if len(p.Steps[0].Doses) > 0 {
			got = p.Steps[0].Doses[k]
		}
		off := float64(got)/float64(w.Time) - 1
		if w.Gradient > 0 && math.Abs(r.Steps[0].Growth.At(got)-w.Gradient) > DefaultTolerance+1e-9 ||
			w.Gradient == 0 && (off > 0.0513 || off < -0.0488) {
			t.Fatalf("%s wants %v and is given %v", w.Name, w.Time, got)
		}
	}
}

func BenchmarkGroup(b *testing.B) {
	for _, n := range []int{50, 200} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := inTrays(sequence.Tray, 6)
			r.Film.WetLimit.All = time.Hour
			var minutes []float64
			for i := range n {
				minutes = append(minutes, 6+float64(i%7))
			}
			wants := wanting(r.Steps[0].Growth, minutes...)
			for b.Loop() {
				Group(wants, r, sequence.Conditions{}, Grouping{})
			}
		})
	}
}

// The one time for two sheets is their geometric mean: equally far in development from both.
// The root of 360 x 480 s is 415.7 s; the arithmetic mean would be 420.
func TestTheSharedTimeIsTheGeometricMean(t *testing.T) {
	at, ok := Grouping{}.sharedTime([]DevelopmentWanted{{Time: 360 * time.Second}, {Time: 360 * time.Second}}, nil)
	if !ok || at != 360*time.Second {
		t.Errorf("%v, %v of two alike", at, ok)
	}
	growth := &sequence.Growth{Limit: 1, K: 0.001, Tested: []sequence.TestedTime{{Time: time.Minute}, {Time: time.Hour}}}
	at, ok = Grouping{Tolerance: 1}.sharedTime([]DevelopmentWanted{{Time: 360 * time.Second, Gradient: 0.01}, {Time: 480 * time.Second, Gradient: 0.01}}, growth)
	if !ok || at != 416*time.Second {
		t.Errorf("%v, %v; expected 6:56", at, ok)
	}
}
