package plan

// The plan: what is typed, stepped and chosen, what is proposed, what is shown of it.

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/widget"
)

// harbour has the shipped recipes, and bottles of its own.
type harbour struct {
	bottles []sequence.OpenBottle
	silent  bool
	trials  map[sequence.Vessel][]notebook.WetTrial
	films   []film.Known
	own     *sequence.SessionScatter
}

func (h *harbour) Recipe(name string) (sequence.Recipe, error)          { return recipes.Find(name, "") }
func (h *harbour) OpenBottlesFor(sequence.Recipe) []sequence.OpenBottle { return h.bottles }
func (h *harbour) Sound() string {
	if h.silent {
		return "NO SOUND: pulse: no way"
	}
	return "sound: the first loudspeaker"
}
func (h *harbour) Stock() []sequence.Stock                                   { return nil }
func (h *harbour) KnownOf(string) []film.Known                               { return h.films }
func (h *harbour) SessionScatter() *sequence.SessionScatter                  { return h.own }
func (h *harbour) WetTrials(_ string, v sequence.Vessel) []notebook.WetTrial { return h.trials[v] }

func open(t testing.TB, recipe string, w sequence.RawConditions) Model {
	t.Helper()
	return openOf(t, &harbour{}, recipe, w)
}

func openOf(t testing.TB, h *harbour, recipe string, w sequence.RawConditions) Model {
	t.Helper()
	m, err := New(h, screen.Env{}, screen.OpenPlan{Name: recipe, Conditions: w})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func press(m Model, keys ...string) (Model, screen.Action) {
	m, action, _ := drive.Press(m, keys...)
	return m, action
}

// on has the cursor on a field.
func on(t testing.TB, m Model, label string) Model {
	t.Helper()
	if fieldOf(label) < 0 {
		t.Fatalf("there is no field %q", label)
	}
	for m.form.at != fieldOf(label) {
		m, _ = press(m, "down")
	}
	return m
}

func types(m Model, text string) Model {
	for _, r := range text {
		m, _ = press(m, string(r))
	}
	return m
}

func drawn(m Model, w, h int) string { return ansi.Strip(m.View(w, h)) }

func shows(t testing.TB, m Model, text string) {
	t.Helper()
	flat := strings.Join(strings.Fields(drawn(m, 196, 56)), " ")
	if !strings.Contains(flat, text) {
		t.Errorf("%q is not shown:\n%s", text, drawn(m, 196, 56))
	}
}

func hides(t testing.TB, m Model, text string) {
	t.Helper()
	if strings.Contains(strings.Join(strings.Fields(drawn(m, 196, 56)), " "), text) {
		t.Errorf("%q is shown:\n%s", text, drawn(m, 196, 56))
	}
}

// message is what an action says at the foot.
func message(a screen.Action) string {
	m, _ := a.(screen.Message)
	return m.Text
}

// over is a summer's session of six soft sheets in water of 25 C, far over its limit.
func over(t testing.TB) Model {
	return open(t, "plover-warm-water", sequence.RawConditions{Sheets: "6", Temp: "25"})
}

func TestPictures(t *testing.T) {
	asked, _ := press(types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "sheets"), "4"), "enter", "esc")
	hands, _ := press(open(t, "plover-tray", sequence.RawConditions{}), "R", "right")
	way := over(t)
	for way.form.at < len(fields) {
		way, _ = press(way, "down")
	}
	all, _ := press(over(t), "i")
	for name, p := range map[string]struct {
		m    Model
		w, h int
	}{
		"all":       {all, 76, 18},
		"tray":      {open(t, "plover-tray", sequence.RawConditions{}), 76, 18},
		"warm":      {types(open(t, "tern-hangers", sequence.RawConditions{}), "24"), 76, 18},
		"fault":     {types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "sheets"), "0x"), 76, 18},
		"over":      {over(t), 76, 18},
		"way":       {way, 76, 18},
		"leaving":   {asked, 76, 18},
		"rehearse":  {hands, 76, 18},
		"narrow":    {over(t), 36, 8},
		"wide":      {over(t), 116, 34},
		"very-wide": {over(t), 196, 56},
	} {
		drive.Picture(t, name, p.m, p.w, p.h)
	}
}

func TestTypingConditions(t *testing.T) {
	for _, c := range []struct {
		field, typed string
		holds        func(sequence.Conditions) bool
	}{
		{"developer temp.", "24", func(c sequence.Conditions) bool { return *c.BathTemperature == 24 }},
		{"developer temp.", "68F@5m", func(c sequence.Conditions) bool { return *c.BathTemperature == 20 && c.ReadBefore == 5*time.Minute }},
		{"sheets", "4", func(c sequence.Conditions) bool { return c.Sheets == 4 }},
		{"factor", "1.25", func(c sequence.Conditions) bool { return c.Factor == 1.25 }},
		{"wet limit", "18m", func(c sequence.Conditions) bool { return c.WetLimit == 18*time.Minute }},
		{"wet limit", "18:30", func(c sequence.Conditions) bool { return c.WetLimit == 18*time.Minute+30*time.Second }},
		{"clearing time", "70s", func(c sequence.Conditions) bool { return c.Clearing == 70*time.Second }},
		{"clearing time", "70s,tabular", func(c sequence.Conditions) bool { return c.Clearing == 70*time.Second && c.Tabular }},
	} {
		m := types(on(t, open(t, "plover-tray", sequence.RawConditions{}), c.field), c.typed)
		if m.form.fault.text != "" || !c.holds(m.form.plan.Conditions) {
			t.Errorf("%s %q: fault %q, conditions %+v", c.field, c.typed, m.form.fault.text, m.form.plan.Conditions)
		}
		shows(t, m, c.typed)
		if !m.About().Typing || !m.Unsaved() {
			t.Errorf("%s: letters are keys while it is typed, or leaving would lose it unasked", c.field)
		}
		for range len(c.typed) + 1 {
			m, _ = press(m, "backspace")
		}
		if m.form.conditions != (sequence.RawConditions{}) || m.form.fault.text != "" {
			t.Errorf("%s: after deleting all %+v, fault %q", c.field, m.form.conditions, m.form.fault.text)
		}
	}
}

// Enter takes what is typed, escape puts back what was there, and typing anew replaces it.
func TestEnterTakesEscapePutsBack(t *testing.T) {
	m, action := press(types(open(t, "plover-tray", sequence.RawConditions{}), "22"), "enter")
	if action != nil || m.About().Typing || m.form.conditions.Temp != "22" {
		t.Fatalf("enter: %v, typing %v, %q", action, m.About().Typing, m.form.conditions.Temp)
	}
	m, action = press(types(m, "18.5"), "esc")
	if action != nil || m.form.conditions.Temp != "22" || *m.form.plan.Conditions.BathTemperature != 22 {
		t.Errorf("escape: %v, %q", action, m.form.conditions.Temp)
	}
	if m, _ = press(m, "backspace", "4"); m.form.conditions.Temp != "24" {
		t.Errorf("changed to %q; expected 24", m.form.conditions.Temp)
	}
	if m, _ = press(m, "ctrl+u"); m.form.conditions.Temp != "" {
		t.Errorf("ctrl+u leaves %q", m.form.conditions.Temp)
	}
}

// Where the bath settles and how fast belong together; half of it makes no plan.
func TestDriftNeedsBoth(t *testing.T) {
	m := types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "drifts towards"), "18")
	shows(t, m, "belongs together")
	m, _ = press(m, "down")
	m = types(m, "40m")
	hides(t, m, "belongs together")
	if c := m.form.plan.Conditions; c.SettlesAt == nil || *c.SettlesAt != 18 || c.TimeConstant != 40*time.Minute {
		t.Errorf("conditions %+v", c)
	}
}

// A fault stands beside its field in the screen's words; figures are blanked, the plan that was
// is kept, and neither preparing nor rehearsing goes on.
func TestAFaultKeepsTheLastPlan(t *testing.T) {
	m := types(open(t, "plover-tray", sequence.RawConditions{TotalSheets: "13"}), "22")
	warm := m.form.plan
	shows(t, m, "Round 1 of 3")
	for _, typed := range []string{"z", "0", "9"} {
		m = types(m, typed)
		if m.form.fault.field != 0 || m.form.fault.text == "" || m.form.plan != warm {
			t.Fatalf("%q: fault %+v, plan kept %v", m.form.conditions.Temp, m.form.fault, m.form.plan == warm)
		}
		for _, old := range []string{"Wet ", "Round 1 of", "limit 3", "Develop ", "--temp"} {
			if strings.Contains(drawn(m, 196, 56), old) {
				t.Errorf("%q is shown beside a fault:\n%s", old, drawn(m, 196, 56))
			}
		}
		if text, _ := m.form.value(fieldOf("sheets")); text != "" {
			t.Errorf("the sheets of the plan before are shown: %q", text)
		}
	}
	if _, action := press(m, "enter"); action != nil {
		t.Errorf("enter goes on with a fault: %#v", action)
	}
	if _, action := press(m, "f5"); !strings.Contains(message(action), "Developer temp.") {
		t.Errorf("f5 with a fault: %#v", action)
	}
	moved, _ := press(m, "down")
	if _, action := press(moved, "enter"); !strings.Contains(message(action), "Developer temp.") {
		t.Errorf("enter with a fault: %#v", action)
	}
	m, _ = press(m, "backspace", "backspace", "backspace")
	if m.form.fault.text != "" || *m.form.plan.Conditions.BathTemperature != 22 {
		t.Error("the fault outlives its cause")
	}
	m = types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "sheets"), "60")
	if m.form.fault.field != fieldOf("sheets") || m.form.fault.text == "" {
		t.Error("sixty sheets are shuffled in trays")
	}
}

func TestStepping(t *testing.T) {
	for _, c := range []struct {
		field, typed string
		keys         []string
		want         string
	}{
		{"developer temp.", "", []string{"right"}, "20.5"},
		{"developer temp.", "", []string{"left", "left"}, "19"},
		{"developer temp.", "68F", []string{"right"}, "68.5F"},
		{"developer temp.", "21C@5m", []string{"left"}, "20.5C@5m"},
		{"sheets", "", []string{"right"}, "7"},
		{"sheets", "", []string{"left", "left", "left", "left", "left"}, "1"},
		{"factor", "", []string{"right", "right", "right"}, "1.15"},
		{"drifts towards", "", []string{"right"}, ""},
		{"time constant", "", []string{"right"}, ""},
		{"wet limit", "18m", []string{"right"}, "18m"},
	} {
		m := types(on(t, open(t, "plover-tray", sequence.RawConditions{}), c.field), c.typed)
		if c.typed != "" {
			m, _ = press(m, "enter")
		}
		m, _ = press(m, c.keys...)
		if got := *fields[m.form.at].of(&m.form.conditions); got != c.want {
			t.Errorf("%s %q, %v: %q; expected %q", c.field, c.typed, c.keys, got, c.want)
		}
	}
}

// A field with choices goes round them both ways and takes no typing.
func TestChoosing(t *testing.T) {
	m := on(t, open(t, "tern-contrast", sequence.RawConditions{}), "development")
	list := developments(m.form.draft)
	if len(list) < 3 {
		t.Fatalf("developments %q", list)
	}
	for _, want := range append(list[1:], "") {
		m = types(m, "5")
		if m, _ = press(m, "right"); m.form.conditions.Development != want {
			t.Errorf("%q; expected %q", m.form.conditions.Development, want)
		}
	}
	if m, _ = press(m, "left"); m.form.conditions.Development != list[len(list)-1] {
		t.Errorf("left of the usual one is %q", m.form.conditions.Development)
	}
	h := &harbour{bottles: []sequence.OpenBottle{{Bath: "fixer", Bottle: "fixer-2"}, {Bath: "fixer", Bottle: "fixer-1"}}}
	m = on(t, openOf(t, h, "plover-tray", sequence.RawConditions{}), "baths")
	shows(t, m, "from fixer-2")
	if m, _ = press(m, "right"); m.form.conditions.Bottles != "fixer-1" {
		t.Errorf("baths %q", m.form.conditions.Bottles)
	}
	if m, _ = press(m, "right"); len(m.form.plan.Conditions.OpenBottles) != 0 {
		t.Errorf("mixed fresh from %v", m.form.plan.Conditions.OpenBottles)
	}
	shows(t, m, "mixed fresh")
}

// A vessel for which the time was not found is said as it is chosen; what notes say of the
// limit in it is asked for.
func TestAnotherVesselIsSaidAtOnce(t *testing.T) {
	sound := []notebook.WetTrial{{WetTrial: chem.WetTrial{Wet: 17 * time.Minute, Temperature: 20, Handlings: 60}}}
	h := &harbour{trials: map[sequence.Vessel][]notebook.WetTrial{sequence.Tray: sound}}
	m := on(t, openOf(t, h, "plover-tray", sequence.RawConditions{}), "vessel")
	shows(t, m, "Risk to the emulsion in trays: ")
	shows(t, m, " at 20 °C, ")
	warm, _ := press(on(t, m, "developer temp."), "2", "4", "enter")
	shows(t, warm, " at 24 °C, ")
	m, action := press(m, "right", "right")
	if m.form.plan.Vessel == sequence.Tray || !strings.Contains(message(action), "the time was found in trays") {
		t.Errorf("%s chosen, said %q", m.form.plan.Vessel, message(action))
	}
	hides(t, m, "Risk to the emulsion")
	if m, action = press(m, "left", "left"); action != nil || m.form.plan.Vessel != sequence.Tray {
		t.Errorf("back in the recipe's vessel, said %q", message(action))
	}
	h.trials[sequence.SingleTrays] = sound
	m = on(t, openOf(t, h, "plover-tray", sequence.RawConditions{}), "vessel")
	var next screen.Screen
	var cmd tea.Cmd
	for m.form.plan.Vessel != sequence.SingleTrays {
		next, _, cmd = m.Update(drive.Key("right"))
		m = next.(Model)
	}
	next, _, _ = m.Update(cmd())
	shows(t, next.(Model), "Risk to the emulsion in trays, one sheet each")
}

// The ways are those of the README's summer session: two keys and a clearing time bring it
// under the limit, and all of it is undone.
func TestTwoKeysAndAClearingTimeBringItUnderTheLimit(t *testing.T) {
	m := over(t)
	before := m.form.plan
	shows(t, m, "6:48 too long")
	shows(t, m, "Wash: into hangers once the room light is on. Costs:")
	m, _ = press(m, "+", "+")
	m = types(on(t, m, "clearing time"), "1m") // fixed for two minutes instead of four
	if w := m.form.plan.Wet; *w.Margin < m.form.recipe.Film.WetWarning {
		t.Errorf("%v in hand; expected the warning's time", *w.Margin)
	}
	shows(t, m, "% of limit")
	shows(t, m, "(- undoes it)")
	hides(t, m, "too long")
	if len(before.Steps) == len(m.form.plan.Steps) || before.Recipe.Steps[4].Vessel != "" {
		t.Error("the washing aid is missing, or the recipe as read was changed")
	}
	m, action := press(m, "-", "-")
	if !strings.HasPrefix(message(action), "Undone: ") {
		t.Errorf("said %q", message(action))
	}
	m, _ = press(m, "backspace", "backspace")
	if got := m.form.plan; got.Wet.Total != before.Wet.Total || len(got.Steps) != len(before.Steps) || m.form.conditions.Sheets != "6" {
		t.Errorf("undone it is wet for %v; it was %v", got.Wet.Total, before.Wet.Total)
	}
	if _, action = press(m, "-"); !strings.Contains(message(action), "nothing to undo") {
		t.Errorf("said %q", message(action))
	}
	if _, action := press(open(t, "tern-hangers", sequence.RawConditions{}), "+"); !strings.Contains(message(action), "Nothing is proposed") {
		t.Errorf("said %q", message(action))
	}
}

// A way chosen with the cursor is the one that is applied; what it changed of the conditions
// is put back, what was typed since stays.
func TestAWayIsChosen(t *testing.T) {
	m := over(t)
	way := slices.IndexFunc(m.form.ways(), func(s sequence.Shortening) bool { return s.Code == "fewer" })
	for m.form.at < len(fields)+way {
		m, _ = press(m, "down")
	}
	if m, _ = press(types(m, "7"), "left", "right", "backspace"); m.form.conditions != m.opened {
		t.Errorf("typed on a way: %+v", m.form.conditions)
	}
	if m, _ = press(m, "+"); m.form.plan.Sheets != 3 || m.form.conditions.Sheets != "3" {
		t.Errorf("%d sheets, %q; expected 3", m.form.plan.Sheets, m.form.conditions.Sheets)
	}
	m, _ = press(types(on(t, m, "wet limit"), "16m"), "-")
	if w := m.form.conditions; w.Sheets != "6" || w.WetLimit != "16m" || m.form.plan.Conditions.WetLimit != 16*time.Minute {
		t.Errorf("undone: %+v", w)
	}
}

// One key starts the bath as suggested, keeps when it was read, and is undone.
func TestTheSuggestedStartByAKey(t *testing.T) {
	m := open(t, "tern-hangers", sequence.RawConditions{Temp: "20@4m", SettlesAt: "16", TimeConstant: "40m"})
	shows(t, m, "= uses that temperature")
	before := m.form.plan.Steps
	m, action := press(m, "=")
	if !strings.Contains(message(action), "- undoes it") || !strings.HasSuffix(m.form.conditions.Temp, "@4m") || m.form.conditions.Temp == "20@4m" {
		t.Errorf("said %q, the temperature is %q", message(action), m.form.conditions.Temp)
	}
	hides(t, m, "= uses that temperature")
	for i, st := range m.form.plan.Steps {
		if st.TimeByTemperature != nil && ((st.Given-st.Base).Abs() > time.Second || (before[i].Given-st.Base).Abs() < 10*time.Second) {
			t.Errorf("%s takes %v, before %v; expected the recipe's %v", st.Name, st.Given, before[i].Given, st.Base)
		}
	}
	if _, action := press(m, "="); !strings.Contains(message(action), "No start is suggested") {
		t.Errorf("said %q", message(action))
	}
	if m, _ = press(m, "-"); m.form.conditions.Temp != "20@4m" {
		t.Errorf("undone, the temperature is %q", m.form.conditions.Temp)
	}
}

// Thirteen sheets, six at once, are 5 + 4 + 4; each round is planned from the one before.
func TestRounds(t *testing.T) {
	m := types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "total sheets"), "13")
	shows(t, m, "Round 1 of 3: 5 sheets, mixed fresh:")
	if line := m.form.roundLine(); !strings.HasSuffix(line, "fresh: developer, stop, fixer, wash-aid") {
		t.Errorf("%q", line)
	}
	for round, sheets := range []int{5, 4, 4} {
		if text, _ := m.form.value(fieldOf("sheets")); m.form.plan.Sheets != sheets || text != fmt.Sprint(sheets) {
			t.Fatalf("round %d: %d sheets, shown %q; expected %d", round+1, m.form.plan.Sheets, text, sheets)
		}
		next, more := m.Next()
		if more != (round < 2) {
			t.Fatalf("round %d: another follows %v", round+1, more)
		}
		if more {
			var err error
			if m, err = New(&harbour{}, screen.Env{}, next); err != nil {
				t.Fatal(err)
			}
		}
	}
	m = types(on(t, open(t, "plover-tray", sequence.RawConditions{}), "total sheets"), "x")
	m = types(m, "0")
	shows(t, m, "expected a number of sheets")
	m, _ = press(m, "backspace")
	m = types(on(t, types(m, "8"), "sheets"), "2")
	shows(t, m, "Round 1 of 4: 2 sheets")
}

// The person's units and own limit hold whatever the screen is opened with.
func TestThePersonsUnitsAndLimit(t *testing.T) {
	own := sequence.WetLimit{All: 16 * time.Minute}
	env := screen.Env{Defaults: sequence.RawConditions{Units: sequence.Units{Fahrenheit: true}, OwnLimit: &own}}
	r, err := recipes.Find("plover-tray", "")
	if err != nil {
		t.Fatal(err)
	}
	r.Film.WetLimit = sequence.WetLimit{}
	m, err := New(&harbour{}, env, screen.OpenPlan{Recipe: &r})
	if err != nil {
		t.Fatal(err)
	}
	shows(t, m, "16:00, your own")
	if m = types(m, "75"); m.form.fault.text != "" || *m.form.plan.Conditions.BathTemperature < 23 || *m.form.plan.Conditions.BathTemperature > 24 {
		t.Errorf("75 is %v, fault %q", m.form.plan.Conditions.BathTemperature, m.form.fault.text)
	}
}

// leaves reports whether an action goes back and tells which recipe was planned.
func leaves(a screen.Action, name string) bool {
	b, ok := a.(screen.Back)
	if !ok {
		return false
	}
	p, ok := b.Tell.(interface{ Planned() string })
	return ok && p.Planned() == name
}

// R offers how to rehearse, and each way begins what it says; esc begins nothing.
func TestWaysToRehearse(t *testing.T) {
	m := open(t, "plover-tray", sequence.RawConditions{})
	m.env.Countdown = 7 * time.Second
	for i, want := range []screen.SessionStart{{RehearsalSpeed: 30}, {RehearsalSpeed: 30, Dark: true}, {RehearsalSpeed: 1, SkipQuiet: true, Dark: true}} {
		keys := append([]string{"R"}, slices.Repeat([]string{"right"}, (i+2)%3)...) // it opens on the first in the dark
		shown, _ := press(m, keys...)
		shows(t, shown, fmt.Sprintf("%s ▸ %d of 3", []string{"in the light, 30×", "dark, 30×", "with real hands, dark"}[i], i+1))
		after, action := press(m, append(keys, "enter")...)
		want.Plan, want.Countdown = m.form.plan, m.env.Countdown
		expected := screen.Action(screen.Begin{Start: want})
		if want.Dark { // black first, as with film
			expected = screen.OpenDarkRehearsal{Plan: want.Plan, How: screen.Rehearsal{Speed: want.RehearsalSpeed, SkipQuiet: want.SkipQuiet, Dark: true}}
		}
		if !reflect.DeepEqual(action, expected) || after.rehearsal != nil {
			t.Errorf("%v: %+v", keys, action)
		}
	}
	if after, action := press(m, "R", "right", "esc"); action != nil || after.rehearsal != nil || after.leaving {
		t.Errorf("esc: %+v", action)
	}
	m.b = &harbour{silent: true}
	deaf, _ := press(m, "R")
	shows(t, deaf, "No sound: no way to a loudspeaker works; wetside ready tells more. In the dark you would hear nothing.")
	lit, _ := press(open(t, "plover-warm-water", sequence.RawConditions{}), "R", "right")
	if last := lit.rehearsal.list[lit.rehearsal.at]; last.how.Dark != lit.form.plan.HasDark() {
		t.Errorf("%+v", last)
	}
}

// r rehearses as the command line asked for.
func TestRehearsesAsAskedFor(t *testing.T) {
	m := open(t, "plover-tray", sequence.RawConditions{})
	m.env.Rehearsal = screen.Rehearsal{Speed: 1, SkipQuiet: true, Dark: true}
	_, action := press(m, "r")
	if d, ok := action.(screen.OpenDarkRehearsal); !ok || d.How != m.env.Rehearsal || d.Plan != m.form.plan {
		t.Errorf("%+v", action)
	}
}

// In an ordinary window the foot leads on, to a rehearsal, to one in the dark, and back.
func TestFootLeadsBack(t *testing.T) {
	taken, _ := press(over(t), "+")
	for _, m := range []Model{open(t, "plover-tray", sequence.RawConditions{}), over(t), taken} {
		foot := ansi.Strip(widget.Keys(76, m.About().Foot...))
		for _, key := range []string{"enter prepare", "rehearse", "R ", "esc recipes"} {
			if !strings.Contains(foot, key) {
				t.Errorf("no %q in %q", key, foot)
			}
		}
	}
}

// Enter prepares, r and f5 rehearse in the light; escape never loses what was typed unasked.
func TestWhereKeysLead(t *testing.T) {
	m := open(t, "plover-tray", sequence.RawConditions{})
	if _, action := press(m, "enter"); action != (screen.OpenPrepare{Plan: m.form.plan}) {
		t.Errorf("enter: %#v", action)
	}
	for _, k := range []string{"r", "f5"} {
		_, action := press(m, k)
		if b, ok := action.(screen.Begin); !ok || b.Start.Plan != m.form.plan || b.Start.RehearsalSpeed != 30 || b.Start.Dark {
			t.Errorf("%s: %#v", k, action)
		}
	}
	if _, action := press(m, "esc"); !leaves(action, "plover-tray") || m.Unsaved() {
		t.Errorf("esc: %#v", action)
	}
	m, _ = press(m, "right")
	if m, action := press(m, "esc"); action != nil || !m.leaving {
		t.Errorf("esc with conditions of its own: %#v", action)
	}
	if m, action := press(m, "esc", "n"); action != nil || m.leaving || m.form.conditions.Temp != "20.5" {
		t.Errorf("esc, then any key: %#v", action)
	}
	if _, action := press(m, "esc", "y"); !leaves(action, "plover-tray") {
		t.Errorf("esc, y: %#v", action)
	}
}

// What the developer read while preparing stands in the plan that is come back to.
func TestMeasuredWhilePreparing(t *testing.T) {
	next, _, _ := open(t, "plover-tray", sequence.RawConditions{}).Update(screen.MeasuredMsg{Temperature: "22.5"})
	if m := next.(Model); m.form.conditions.Temp != "22.5" || *m.form.plan.Conditions.BathTemperature != 22.5 {
		t.Errorf("%+v", m.form.conditions)
	}
}

// The figures are those of the plan for a script: the same plan, in the contract's form.
func TestFiguresAreThePlans(t *testing.T) {
	m := over(t)
	s := planning.Summarise(m.form.plan)
	for _, st := range s.Steps {
		shows(t, m, sequence.FormatElapsed(st.Start)+" "+sequence.FormatElapsed(st.Time))
	}
	shows(t, m, "Wet "+sequence.FormatElapsed(s.Wet.Total))
	shows(t, m, "limit "+sequence.FormatElapsed(*s.Wet.LimitAt))
	shows(t, m, fmt.Sprintf("together %.1f%%", 100*s.Budgets[0].Together))
	for _, w := range s.Shorten {
		shows(t, m, sequence.FormatElapsed(w.Saves))
	}
}

// A window of 80x24 shows the answer and every step of each shipped recipe, and what has no room
// there is a key away.
func TestEveryStepIsSeen(t *testing.T) {
	for _, e := range recipes.ShippedEntries() {
		m := open(t, e.Name, sequence.RawConditions{})
		flat := strings.Join(strings.Fields(drawn(m, 76, 18)), " ")
		if total, _ := say.Wet(m.form.plan); !strings.Contains(flat, "Wet "+total) {
			t.Errorf("%s: no answer:\n%s", e.Name, drawn(m, 76, 18))
		}
		for _, st := range m.form.plan.Steps {
			row := sequence.FormatElapsed(st.Start) + " " + sequence.FormatElapsed(st.Given) + " " + say.RoomLight(st.RoomLight)
			if len(m.form.plan.Steps) <= 8 && !strings.Contains(flat, row) {
				t.Errorf("%s: %q is not seen:\n%s", e.Name, row, drawn(m, 76, 18))
			}
		}
		if !strings.Contains(drawn(m, 76, 18), "  i  ") {
			t.Errorf("%s: it is not said what i opens:\n%s", e.Name, drawn(m, 76, 18))
		}
	}
	m := open(t, "plover-tray", sequence.RawConditions{})
	for _, k := range []string{"i", "pgdown"} {
		all, _ := press(m, k)
		if s := drawn(all, 76, 18); !strings.Contains(s, "drain 8 s") || strings.Contains(s, "one round") {
			t.Errorf("%s opens\n%s", k, s)
		}
		if end, _ := press(all, "end"); !strings.Contains(drawn(end, 76, 18), "hands afterwards") {
			t.Errorf("its end is\n%s", drawn(end, 76, 18))
		}
		for _, closes := range []string{"i", "esc"} {
			if back, action := press(all, closes); action != nil || drawn(back, 76, 18) != drawn(m, 76, 18) {
				t.Errorf("%s, %s: %v\n%s", k, closes, action, drawn(back, 76, 18))
			}
		}
	}
}

// Whatever the window, no row is over its width, there are not too many, and the row of the
// cursor is seen.
func TestFits(t *testing.T) {
	plans := []Model{over(t), open(t, "plover-tray", sequence.RawConditions{TotalSheets: "13"}), open(t, "plover-film-test", sequence.RawConditions{}),
		open(t, "curlew-semi-stand", sequence.RawConditions{}), open(t, "tern-two-fixers", sequence.RawConditions{})}
	keys := []string{"down", "down", "down", "up", "right", "0", "4", "x", "enter", "esc", "+", "-", "R", "i", "pgdown"}
	rapid.Check(t, func(r *rapid.T) {
		m, _ := press(rapid.SampledFrom(plans).Draw(r, "plan"), rapid.SliceOfN(rapid.SampledFrom(keys), 0, 20).Draw(r, "keys")...)
		w, h := rapid.IntRange(36, 196).Draw(r, "w"), rapid.IntRange(8, 56).Draw(r, "h")
		rows := strings.Split(drawn(m, w, h), "\n")
		if len(rows) > h {
			r.Fatalf("%d rows of %d", len(rows), h)
		}
		seen := m.reading
		for _, row := range rows {
			if ansi.StringWidth(row) > w {
				r.Fatalf("%d columns of %d: %q", ansi.StringWidth(row), w, row)
			}
			seen = seen || strings.Contains(row, "▌")
		}
		if !seen {
			r.Fatalf("the cursor is not seen:\n%s", strings.Join(rows, "\n"))
		}
	})
}

// What a person's own sessions differ by stands in the place of the usual agitation: 6 % of the gradient
// is 0.06/ln 2 = 8.7 % of development for a film at half its limit.
func TestBudgetOfOwnSessions(t *testing.T) {
	m := openOf(t, &harbour{own: &sequence.SessionScatter{Gradient: 0.06, Sessions: 7}}, "plover-tray", sequence.RawConditions{})
	if shown := ansi.Strip(m.View(200, 60)); !strings.Contains(shown, "7 of your sessions 8.7%") || strings.Contains(shown, "agitation 5.0%") {
		t.Errorf("%s", shown)
	}
	if shown := ansi.Strip(open(t, "plover-tray", sequence.RawConditions{}).View(200, 60)); !strings.Contains(shown, "agitation 5.0%") {
		t.Errorf("%s", shown)
	}
}
