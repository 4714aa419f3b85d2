package tui

// Planning: every condition typed, stepped and chosen; what makes no plan is said
// and the last plan stays.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// on is the planning screen of a recipe with the cursor on a field.
func on(t *testing.T, recipe, label string) *desk {
	t.Helper()
	d := sit(t, with(recipe))
	for range fields {
		if fields[d.m.plan.at].label == label {
			return d
		}
		d.press("down")
	}
	t.Fatalf("there is no field %q", label)
	return nil
}

func TestTypingConditions(t *testing.T) {
	for _, c := range []struct {
		field, typed string
		holds        func(sequence.Conditions) bool
	}{
		{"temperature", "24", func(c sequence.Conditions) bool { return *c.BathTemperature == 24 }},
		{"temperature", "68F@5m", func(c sequence.Conditions) bool { return *c.BathTemperature == 20 && c.ReadBefore == 5*time.Minute }},
		{"sheets", "4", func(c sequence.Conditions) bool { return c.Sheets == 4 }},
		{"factor", "1.25", func(c sequence.Conditions) bool { return c.Factor == 1.25 }},
		{"wet limit", "18m", func(c sequence.Conditions) bool { return c.WetLimit == 18*time.Minute }},
		{"wet limit", "18:30", func(c sequence.Conditions) bool { return c.WetLimit == 18*time.Minute+30*time.Second }},
		{"clearing time", "70s", func(c sequence.Conditions) bool { return c.Clearing == 70*time.Second }},
	} {
		d := on(t, "stack", c.field).types(c.typed)
		if d.m.plan.fault != "" || !c.holds(d.m.plan.plan.Conditions) {
			t.Errorf("%s %q: fault %q, conditions %+v", c.field, c.typed, d.m.plan.fault, d.m.plan.plan.Conditions)
		}
		d.shows(c.typed + cursor)
		for range c.typed {
			d.press("backspace")
		}
		d.press("backspace")
		if d.m.plan.conditions != (sequence.RawConditions{}) || d.m.plan.fault != "" {
			t.Errorf("%s: after deleting all %+v, fault %q", c.field, d.m.plan.conditions, d.m.plan.fault)
		}
	}
}

// Where the bath settles and how fast belong together; half of it makes no plan.
func TestDriftNeedsBoth(t *testing.T) {
	d := on(t, "stack", "settles at").types("18")
	d.shows("belong together")
	d.press("down").types("40m")
	d.hides("belong together")
	c := d.m.plan.plan.Conditions
	if c.SettlesAt == nil || *c.SettlesAt != 18 || c.TimeConstant != 40*time.Minute {
		t.Errorf("conditions %+v", c)
	}
}

// A fault is shown, the plan that was is kept, and neither enter nor f5 goes on.
func TestAFaultKeepsTheLastPlan(t *testing.T) {
	d := on(t, "stack", "temperature").types("22")
	warm := d.m.plan.plan
	for _, typed := range []string{"z", "0", "9"} {
		d.types(typed)
		if d.m.plan.fault == "" || d.m.plan.plan != warm {
			t.Fatalf("%q: fault %q, plan kept %v", d.m.plan.conditions.Temp, d.m.plan.fault, d.m.plan.plan == warm)
		}
		d.shows("--temp")
	}
	for _, key := range []string{"enter", "f5"} {
		if d.press(key); d.m.screen != planScreen || d.cmd != nil {
			t.Errorf("%s went on with a fault", key)
		}
		d.shows("--temp")
	}
	d.press("backspace", "backspace", "backspace")
	d.hides("--temp")
	if d.m.plan.fault != "" || *d.m.plan.plan.Conditions.BathTemperature != 22 {
		t.Error("the fault outlives its cause")
	}
}

// What cannot be carried out is said as well as what cannot be read.
func TestWhatNoHandCouldServe(t *testing.T) {
	d := on(t, "stack", "sheets").types("60")
	if d.m.plan.fault == "" {
		t.Error("sixty sheets are shuffled in trays")
	}
	d.size(40, 12).shows("60" + cursor)
}

func TestStepping(t *testing.T) {
	for _, c := range []struct {
		field, typed string
		keys         []string
		want         string
	}{
		{"temperature", "", []string{"right"}, "20.5"},
		{"temperature", "", []string{"left", "left"}, "19"},
		{"temperature", "68F", []string{"right"}, "68.5F"},
		{"temperature", "21C@5m", []string{"left"}, "20.5C@5m"},
		{"sheets", "", []string{"right"}, "7"},
		{"sheets", "", []string{"left", "left", "left", "left", "left"}, "1"},
		{"factor", "", []string{"right", "right", "right"}, "1.15"},
		{"settles at", "", []string{"right"}, ""},
		{"time constant", "", []string{"right"}, ""},
		{"wet limit", "18m", []string{"right"}, "18m"},
		{"temperature", "warm", []string{"right"}, "warm"},
	} {
		d := on(t, "stack", c.field).types(c.typed).press(c.keys...)
		if got := *fields[d.m.plan.at].of(&d.m.plan.conditions); got != c.want {
			t.Errorf("%s %q, %v: %q; expected %q", c.field, c.typed, c.keys, got, c.want)
		}
	}
}

// A field with choices goes round them both ways and takes no typing.
func TestChoosing(t *testing.T) {
	d := on(t, "hangers", "development")
	var seen []string
	for range 4 {
		d.types("x").press("right")
		seen = append(seen, d.m.plan.conditions.Development)
	}
	if got := strings.Join(seen, ","); got != "N-1,N,N+1," {
		t.Errorf("developments %q; expected N-1,N,N+1 and the usual one", got)
	}
	if d.press("left"); d.m.plan.conditions.Development != "N+1" {
		t.Errorf("left of the usual one is %q", d.m.plan.conditions.Development)
	}
	d.shows("Develop 12:00")
	d = on(t, "hangers", "vessel")
	for range len(sequence.Vessels) + 1 {
		d.press("right")
	}
	if d.m.plan.conditions.Vessel != "" {
		t.Errorf("once round the vessels is %q", d.m.plan.conditions.Vessel)
	}
}

// The cursor goes round the fields and is always on the screen.
func TestFieldsScroll(t *testing.T) {
	d := sit(t, with("stack")).size(40, 12)
	for _, f := range fields {
		d.shows("█ " + f.label)
		d.press("down")
	}
	d.shows("█ temperature")
	d.press("up")
	d.shows("█ " + fields[len(fields)-1].label)
}

// Each question before the dark takes one press; going back asks them all again.
func TestQuestions(t *testing.T) {
	d := sit(t, with("stack"), noSound, func(_ *hall, o *Options) { o.BlackUnconfirmed = true }).press("enter")
	for _, ask := range []string{"panel covered", "background is black", "no sound"} {
		d.shows(ask)
		d.press("h", "enter", "up")
		d.shows(ask)
		d.big()
	}
	d.shows("goes black")
	d.press("esc", "enter")
	d.shows("panel covered")
	if d.m.dark {
		t.Error("dark")
	}
}

// What was answered is recorded: of the panel one of three, and once that the room
// was seen to, however often the screen was darkened.
func TestAnswersAreRecorded(t *testing.T) {
	const room = "phone, watch, lamps, door, the order of the baths and the thermometer seen to"
	for key, want := range map[string]string{" ": "panel covered", "o": "panel measured off", "l": "laptop outside the room"} {
		d := sit(t, with("stack"), noSound).press("enter", key, "o", "l")
		d.shows("no sound") // which o and l do not answer
		d.big().press("o", "l").shows("Phone, watch and lamps dark")
		for range 2 {
			d.big().isDark()
			d.now = d.now.Add(3 * time.Second)
			d.twice("esc").shows("nothing has begun")
		}
		d.big().isDark()
		d.now = d.now.Add(3 * time.Second)
		if d.twice(" ").done(); len(d.h.begun) != 1 || !slices.Equal(d.h.begun[0].Notes, []string{want, "no sound, accepted", room}) {
			t.Errorf("begun %+v", d.h.begun)
		}
	}
}

// A big key that is held answers one question, and no touch is counted that it had
// a part in.
func TestAHeldKeyAnswersOneQuestion(t *testing.T) {
	d := sit(t, with("stack"), noSound).press("enter")
	hold := func() {
		d.now = d.now.Add(3 * time.Second)
		for range 50 {
			d.now = d.now.Add(33 * time.Millisecond)
			d.press(" ")
		}
	}
	hold()
	d.shows("no sound")
	hold()
	d.shows("goes black")
	d.big()
	d.isDark()
	d.now = d.now.Add(100 * time.Millisecond)
	d.press(" ") // it bounces
	d.now = d.now.Add(time.Second)
	if d.press(" "); d.cmd != nil || d.m.starting {
		t.Error("the touch that darkened the screen was the first of two")
	}
	d.now = d.now.Add(time.Second)
	if d.press(" "); !d.m.starting {
		t.Error("two touches do not begin")
	}
}

// A daylight tank asks nothing; it begins with one press.
func TestNothingDarkAsksNothing(t *testing.T) {
	d := sit(t, with("tank"), noSound, func(_ *hall, o *Options) { o.BlackUnconfirmed = true }).press("enter")
	d.shows("space: begin")
	d.press(" ").done()
	if len(d.h.begun) != 1 || d.h.begun[0].Countdown != 10*time.Second || len(d.h.begun[0].Notes) != 0 || d.m.dark {
		t.Errorf("begun %+v, dark %v", d.h.begun, d.m.dark)
	}
}

// A dark step later on asks as well, but the screen stays lit until then.
func TestDarkLaterAsksToo(t *testing.T) {
	d := sit(t, with("lit-first")).press("enter")
	d.shows("panel covered")
	d.big().shows("space: begin")
	d.big().done()
	if d.m.dark || len(d.h.begun) != 1 {
		t.Fatalf("dark %v, begun %d", d.m.dark, len(d.h.begun))
	}
	d.wait(2 * time.Minute)
	d.isDark()
}

func TestAmounts(t *testing.T) {
	bath := func(volume float64, parts ...float64) sequence.Bath {
		b := sequence.Bath{Volume: chem.Millilitres(volume)}
		for i, n := range parts {
			b.Parts = append(b.Parts, chem.Part{Name: string(rune('A' + i)), Parts: n})
		}
		return b
	}
	for _, c := range []struct {
		b    sequence.Bath
		want string
	}{ // by hand: 1500 ml in 63 parts; 12 l in 4
		{bath(1500, 1, 2, 60), "A 23.8 ml, B 47.6 ml, C 1.43 L"},
		{bath(12000, 1, 3), "A 3 L, B 9 L"},
		{bath(100, 1, 49), "A 2 ml, B 98 ml"},
		{bath(500), "500 ml"},
		{bath(0, 1, 1), "as usual"},
	} {
		if got := amounts(c.b, sequence.Units{}); got != c.want {
			t.Errorf("%q; expected %q", got, c.want)
		}
	}
}
