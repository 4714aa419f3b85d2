package page

// The plan's page: two pages looked at by eye and kept, and what holds for all.

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// Look at what changed before it is committed.
var rewrite = flag.Bool("rewrite", false, "write the pages in testdata anew")

// stack is three sheets of a soft film shuffled in trays, washed in hangers, in a
// developer that is too warm: a page with everything on it.
func stack(t *testing.T) *sequence.Plan {
	t.Helper()
	step := func(k sequence.Kind, time time.Duration) sequence.Step {
		return sequence.Step{Name: string(k), Kind: k, Time: time, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Shuffle}}
	}
	develop := step(sequence.Develop, 8*mins)
	develop.Drain, develop.Bath = 8*time.Second, "developer"
	develop.Temperature = &sequence.Temperature{At: 20, Coefficient: 2.2, Range: []chem.Celsius{18, 24}}
	fix := step(sequence.Fix, 5*mins)
	fix.LightsOnAfter = 2 * mins
	wash := step(sequence.Wash, 10*mins)
	wash.Vessel, wash.RoomLight, wash.Note = sequence.Hangers, sequence.White, "Fill, let stand, empty; five times."
	r := sequence.Recipe{Title: "Plover 80, three sheets shuffled in trays",
		Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, WetWarning: 4 * mins, WetLimit: sequence.WetLimit{
			ByVessel: map[sequence.Vessel]time.Duration{sequence.Tray: 16 * mins, sequence.Hangers: 75 * mins}}},
		Load: sequence.Load{Vessel: sequence.Tray, Sheets: 3, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5},
			LoadEvery: 15 * time.Second, ShuffleEvery: 10 * time.Second, TransferEvery: 10 * time.Second},
		Baths: []sequence.Bath{{ID: "developer", Cautions: []string{"Wear nitrile gloves: the developing agent is absorbed through the skin."}}},
		Steps: []sequence.Step{step(sequence.Presoak, 2*mins), develop, step(sequence.StopBath, 30*time.Second), fix, wash}}
	warm := chem.Celsius(24)
	p, err := planning.Resolve(r, sequence.Conditions{BathTemperature: &warm})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

func TestThePageOfAPlan(t *testing.T) {
	for _, width := range []int{80, 100} {
		got := Plan(stack(t), sequence.Units{}, width)
		file := filepath.Join("testdata", "plan_stack_"+strconv.Itoa(width)+".txt")
		if *rewrite {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s:\n%s", file, got)
		}
	}
}

// Nothing on the page is wider than the page, but for a word that is.
func TestNothingIsWiderThanThePage(t *testing.T) {
	p := stack(t)
	for width := 40; width <= 120; width++ {
		for line := range strings.Lines(Plan(p, sequence.Units{}, width)) {
			if n := len([]rune(strings.TrimSuffix(line, "\n"))); n > width {
				t.Errorf("%d columns on a page of %d: %s", n, width, line)
			}
		}
	}
}

// drawn is a load moving together, through steps of any length and light.
func drawn(t *rapid.T) *sequence.Plan {
	var steps []sequence.Step
	for i := range rapid.IntRange(1, 12).Draw(t, "steps") {
		s := sequence.Step{Kind: sequence.Other, Name: "step " + strconv.Itoa(i), RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Still},
			Time: time.Duration(rapid.IntRange(1, 3600).Draw(t, "seconds")) * time.Second}
		if rapid.Bool().Draw(t, "light") {
			s.RoomLight = sequence.White
		}
		steps = append(steps, s)
	}
	film := sequence.Film{Name: "Tern 125", Sensitivity: sequence.Blue}
	if limit := rapid.IntRange(0, 20000).Draw(t, "limit"); limit > 60 {
		film.WetLimit.All = time.Duration(limit) * time.Second
	}
	p, err := planning.Resolve(sequence.Recipe{Title: "Tern 125", Film: film, Steps: steps,
		Load: sequence.Load{Vessel: sequence.DaylightTank, Sheets: 1, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5}}}, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

// A step begins where its time is on the scale, in order; between two of them the
// line is thick where it is dark; names and times stand over and under their own.
func TestTheTimeLineIsToScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, width := drawn(t), rapid.IntRange(30, 200).Draw(t, "width")
		rows := TimeLine(p, width)
		at := slices.IndexFunc(rows, func(r string) bool { return strings.HasPrefix(r, "┃") })
		if at < 0 {
			t.Fatalf("no line: %q", rows)
		}
		for _, r := range rows {
			if n := len([]rune(r)); n > width {
				t.Fatalf("%d columns in %d: %s", n, width, r)
			}
		}
		onScale(t, p, []rune(rows[at]), []rune(rows[at+1]), width)
	})
}

// onScale looks at the line and the times beneath it. The limit shares the scale
// where it is no more than a quarter beyond the end.
func onScale(t *rapid.T, p *sequence.Plan, line, times []rune, width int) {
	t.Helper()
	end := p.Steps[len(p.Steps)-1].End
	span := end
	if p.Wet.Limit != nil {
		if limit := *p.Wet.Limit; limit > end && float64(limit) <= 1.25*float64(end) {
			span = limit
		}
	}
	column := func(d time.Duration) int { return int(math.Round(d.Seconds() / span.Seconds() * float64(width-1))) }
	marks := map[int]bool{column(end): true}
	for i := range p.Steps {
		marks[column(p.Steps[i].Start)] = true
	}
	for x, r := range line {
		if (r == '┃') != marks[x] {
			t.Fatalf("column %d is %c; a step begins or the last ends there: %t\n%s", x, r, marks[x], string(line))
		}
	}
	if len(line) != column(end)+1 {
		t.Fatalf("the line ends in column %d; want %d", len(line)-1, column(end))
	}
	for i := range p.Steps {
		from, to := column(p.Steps[i].Start), column(p.Steps[i].End)
		for x := from + 1; x < to; x++ {
			if dark := p.Steps[i].RoomLight == sequence.Dark; (line[x] == '━') != dark {
				t.Fatalf("column %d of %s is %c; dark: %t", x, p.Steps[i].Name, line[x], dark)
			}
		}
		text := []rune(sequence.FormatElapsed(p.Steps[i].Start))
		roomy := to-from > len(text)+2
		if i > 0 { // the name and the time before it may need the room
			before := column(p.Steps[i-1].Start) + max(len(p.Steps[i-1].Name), len([]rune(sequence.FormatElapsed(p.Steps[i-1].Start))))
			roomy = roomy && before < from
		}
		if roomy && (from+len(text) > len(times) || string(times[from:from+len(text)]) != string(text)) {
			t.Fatalf("%s does not stand under its step in %q", string(text), string(times))
		}
	}
}

// What saves nothing has no sign before it; what adds time has its own.
func TestLess(t *testing.T) {
	for saved, want := range map[sequence.Elapsed]string{150 * time.Second: "-2:30", 0: "0:00", -130 * time.Second: "+2:10"} {
		if got := less(saved); got != want {
			t.Errorf("%v: %q; expected %q", saved, got, want)
		}
	}
}
