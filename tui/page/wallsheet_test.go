package page

// The sheet for the wall: looked at by eye and kept as text, all of it in HTML, and
// safe whatever a recipe says.

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// wallPlan is a stack whose developer is mixed and whose fixer comes from a bottle.
func wallPlan(t *testing.T) *sequence.Plan {
	t.Helper()
	r := stack(t).Recipe
	r.Baths = []sequence.Bath{
		{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 9}}, Volume: 1500, WorkingLife: time.Hour},
		{ID: "fixer", Parts: []chem.Part{{Name: "fixer", Parts: 1}, {Name: "water", Parts: 4}}, Volume: 1000, SheetsPerLitre: 10},
		{ID: "aid"},
	}
	for i := range r.Steps {
		if r.Steps[i].Kind == sequence.Fix {
			r.Steps[i].Bath = "fixer"
		}
	}
	p, err := planning.Resolve(r, sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "fixer", Bottle: "fixer-2026-11-20", Age: 5 * 24 * time.Hour, SheetsDone: 6}}})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

func TestTheSheetForTheWall(t *testing.T) {
	p := wallPlan(t)
	got := WallSheet(p, sequence.Units{})
	file := filepath.Join("testdata", "wall.txt")
	if *rewrite {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil || got != string(want) {
		t.Errorf("%s is another: %v\n%s", file, err, got)
	}
	for _, line := range strings.Split(got, "\n") {
		if len([]rune(line)) > 60 {
			t.Errorf("more than 60 columns: %q", line)
		}
	}
	file = html.UnescapeString(WallSheetHTML(p, sequence.Units{}))
	for _, text := range []string{"A 150 ml, water 1.35 L", "from the bottle fixer-2026-11-20", "mixed 5 days ago, 6 sheets of 4x5in done", "as its maker says",
		"three quarters of the water, then A", "Never mix fixer with bleach", say.SafetyReminder, "half spent", "drain for the last 8 s", "light after 2:00", "Wet time"} {
		if !strings.Contains(file, text) {
			t.Errorf("the HTML does not say %q", text)
		}
		if !strings.Contains(strings.Join(strings.Fields(got), " "), text) {
			t.Errorf("the text does not say %q", text)
		}
	}
	if first, mix := strings.Index(file, "Never mix"), strings.Index(file, "A 150 ml"); first > mix {
		t.Error("amounts stand before the dangers")
	}
}

func TestTheSheetIsSafe(t *testing.T) {
	p := *wallPlan(t)
	p.Recipe.Title, p.Recipe.Film.Name = "<script>alert(1)</script>\x1b[2J", "\u202eR&D"
	p.Recipe.Baths[0].ID = `"><img src=x>`
	for _, text := range []string{WallSheetHTML(&p, sequence.Units{}), WallSheet(&p, sequence.Units{})} {
		if strings.ContainsAny(text, "\x1b\u202e") {
			t.Error("what nobody can see came through")
		}
	}
	if file := WallSheetHTML(&p, sequence.Units{}); strings.Contains(file, "<script>") || strings.Contains(file, "<img") {
		t.Error("markup came through")
	}
}

// The more there is to say the smaller the type, and never larger than fits.
func TestTheSheetFillsOnePage(t *testing.T) {
	w := newWallSheet(wallPlan(t), sequence.Units{})
	last := w.printSize()
	if last < 10 || last > largestType {
		t.Errorf("%g points for a usual plan", last)
	}
	for n := range 40 {
		w.steps = append(w.steps, wallStep{"1:00:00", fmt.Sprint("wash ", n), "10:00", "no agitation", "white"})
		size := w.printSize()
		if size > last || size > minType && w.height(size) > paperHeight {
			t.Fatalf("%d steps at %g points are %g high", len(w.steps), size, w.height(size))
		}
		last = size
	}
	if last >= 10 {
		t.Errorf("45 steps at %g points", last)
	}
}

// A film test's sheets come out at today's times, in the plan and on the wall: at 10 C
// above the reference and with a coefficient of 2 each takes half the recipe's time.
func TestPullsAreTodays(t *testing.T) {
	step := func(k sequence.Kind, d time.Duration) sequence.Step {
		return sequence.Step{Name: string(k), Kind: k, Time: d, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Still}}
	}
	test := step(sequence.Develop, 0)
	test.PullTimes = []time.Duration{6 * mins, 9 * mins, 13 * mins}
	test.Temperature = &sequence.Temperature{At: 20, Coefficient: 2}
	r := sequence.Recipe{Title: "Plover 80, a film test", Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan},
		Load:  sequence.Load{Vessel: sequence.Hangers, Sheets: 3, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5}},
		Steps: []sequence.Step{test, step(sequence.StopBath, mins), step(sequence.Fix, 5*mins)}}
	warm := chem.Celsius(30)
	p, err := planning.Resolve(r, sequence.Conditions{BathTemperature: &warm})
	if err != nil {
		t.Fatal(err)
	}
	for what, text := range map[string]string{"plan": Plan(&p, sequence.Units{}, 100), "wall": WallSheet(&p, sequence.Units{})} {
		if text = strings.Join(strings.Fields(text), " "); !strings.Contains(text, "out after sheet 1 3:00, sheet 2 4:30, sheet 3 6:30") {
			t.Errorf("the %s says otherwise:\n%s", what, text)
		}
	}
}

// What is to be done before the film is wet is on the sheet: where it is loaded, what the
// developer is to read; and what any place with chemicals needs.
func TestTheWallSaysWhatComesFirst(t *testing.T) {
	p := stack(t)
	c := p.Conditions
	c.Vessel, c.BathTemperature, c.ProposeTemperature = sequence.DaylightTank, nil, true
	to := sequence.Celsius(18)
	c.SettlesAt, c.TimeConstant = &to, 40*mins
	r := p.Recipe
	r.Steps = slices.Clone(r.Steps)
	r.Steps[len(r.Steps)-1].Vessel = ""
	tank, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatal(err)
	}
	w := newWallSheet(&tank, sequence.Units{})
	for _, code := range onTheWall {
		i := slices.IndexFunc(tank.Cautions, func(c sequence.Caution) bool { return c.Code == code })
		if i < 0 || !slices.Contains(w.cautions, say.Level(sequence.Note)+": "+say.Caution(tank.Cautions[i], &tank, sequence.Units{})) {
			t.Errorf("%s is not on the sheet: %q", code, w.cautions)
		}
	}
	for _, text := range say.Workplace() {
		if !slices.Contains(w.dangers, text) {
			t.Errorf("%q is not on the sheet", text)
		}
	}
}
