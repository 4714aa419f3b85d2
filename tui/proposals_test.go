package tui

// From "over by" to a plan under the limit: six soft sheets in a stack, tap water
// at 25 C, eighteen minutes, as the README has it.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// tooWarm is the README's summer session, planned.
func tooWarm(t testing.TB) *desk {
	return sit(t, with("plover-warm-water"), func(_ *hall, o *Options) { o.RawConditions = sequence.RawConditions{Sheets: "6", Temp: "25"} })
}

func TestTwoKeysAndAClearingTimeBringItUnderTheLimit(t *testing.T) {
	d := tooWarm(t)
	before := d.m.plan.plan
	d.size(120, 40).shows("limit (18:00 in trays), 6:48 too long")
	d.shows("into hangers once the room light is")
	d.shows("costs:")
	d.press("+", "+")
	for fields[d.m.plan.at].label != "clearing time" {
		d.press("down")
	}
	d.types("1m") // fixed for two minutes instead of four; without it no fixing is cut
	w := d.m.plan.plan.Wet
	if *w.Margin < d.m.plan.recipe.Film.WetWarning {
		t.Errorf("%v left; expected the warning's time", *w.Margin)
	}
	d.shows("% of limit")
	d.shows("undoes")
	d.hides("too long")
	if len(before.Steps) == len(d.m.plan.plan.Steps) || before.Recipe.Steps[4].Vessel != "" {
		t.Error("the wash-aid is missing, or the recipe as read was changed")
	}
	d.press("-", "-", "backspace", "backspace")
	if got := d.m.plan.plan; got.Wet.Total != before.Wet.Total || len(got.Steps) != len(before.Steps) || d.m.plan.conditions.Sheets != "6" {
		t.Errorf("taken back it is wet for %v; it was %v", got.Wet.Total, before.Wet.Total)
	}
	d.press("-").shows("nothing was shortened")
}

// One key starts the bath as the plan proposes, keeps when it was read, and is taken back.
func TestTheProposedStartByAKey(t *testing.T) {
	d := sit(t, with("hangers"), func(_ *hall, o *Options) {
		o.RawConditions = sequence.RawConditions{Temp: "20@4m", SettlesAt: "16", TimeConstant: "40m"}
	}).size(120, 40)
	d.shows("(= uses the suggested")
	before := d.m.plan.plan.Steps
	d.press("=").shows("at the start; - undoes it")
	d.hides("(= uses the suggested")
	if w := d.m.plan.conditions.Temp; !strings.HasSuffix(w, "@4m") || w == "20@4m" {
		t.Errorf("the temperature is %q", w)
	}
	for i, st := range d.m.plan.plan.Steps {
		if st.TimeByTemperature != nil && ((st.Given-st.Base).Abs() > time.Second || (before[i].Given-st.Base).Abs() < 10*time.Second) {
			t.Errorf("%s takes %v, before %v; expected the recipe's %v", st.Name, st.Given, before[i].Given, st.Base)
		}
	}
	d.press("=").shows("no start is proposed")
	d.press("-").shows("taken back: the developer reads")
	if d.m.plan.conditions.Temp != "20@4m" {
		t.Errorf("taken back, the temperature is %q", d.m.plan.conditions.Temp)
	}
}

// A proposal chosen with the cursor is the one that is carried out; what it changed of
// the conditions is put back, what was typed since stays.
func TestAProposalIsChosen(t *testing.T) {
	d := tooWarm(t).size(120, 40)
	i := 0
	for k, s := range d.m.plan.proposals() {
		if s.Code == "fewer" {
			i = k
		}
	}
	for range len(fields) + i {
		d.press("down")
	}
	d.types("7").press("left", "right", "backspace")
	if d.m.plan.conditions != (sequence.RawConditions{Sheets: "6", Temp: "25"}) {
		t.Errorf("typed on a proposal: %+v", d.m.plan.conditions)
	}
	d.press("+")
	if d.m.plan.plan.Sheets != 3 || d.m.plan.conditions.Sheets != "3" {
		t.Errorf("%d sheets, %q; expected 3", d.m.plan.plan.Sheets, d.m.plan.conditions.Sheets)
	}
	for d.m.plan.at >= len(fields) || fields[d.m.plan.at].label != "wet limit" {
		d.press("up")
	}
	d.types("16m").press("-")
	if w := d.m.plan.conditions; w.Sheets != "6" || w.WetLimit != "16m" || d.m.plan.plan.Conditions.WetLimit != 16*time.Minute {
		t.Errorf("taken back: %+v", w)
	}
}

// Nothing is proposed where there is time enough.
func TestNothingToShorten(t *testing.T) {
	d := sit(t, with("hangers")).press("+")
	d.shows("nothing is proposed")
	d.hides("What would shorten it")
}
