package film

import (
	"math"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/sessiontest"
)

// plan is the harbour's recipe under today's conditions.
func (h *harbour) plan(r sequence.Recipe, c sequence.Conditions) *sequence.Plan {
	h.t.Helper()
	p, err := planning.Resolve(r, c)
	if err != nil {
		h.t.Fatal(err)
	}
	return &p
}

// 0.58 comes at 6.60 min at 20 °C; the recipe has 8:00 there and takes the coefficient for 2, the film's own is not known
// better than 2.2.
func TestAPlanIsOfferedTheFilmsTime(t *testing.T) {
	h := newHarbour(t)
	if o := OfferTime(h.Collect(plover), h.plan(h.recipe(2), sequence.Conditions{}), nil); o != nil {
		t.Errorf("nothing known, and offered %+v", o)
	}
	h.test("part A", 5, 7, 10, 14)
	known := h.Collect(plover)
	o := OfferTime(known, h.plan(h.recipe(2), sequence.Conditions{}), nil)
	if o == nil || math.Abs(*o.Time/right-1) > 0.05 || o.Recipe != 480 || o.Tests != 1 || o.Development != "N" || o.AverageGradient != 0.58 || o.Factor == nil || math.Abs(*o.Factor-right/480) > 0.05 {
		t.Fatalf("offered %+v; expected 0.58 at %.0f s, recipe 480", o, right)
	}
	page := h.page(Question{Aim: 0.58, At: &o.Temperature})
	if *o.Time != *page.Target.Time || *o.Low != *page.Target.Low || *o.High != *page.Target.High {
		t.Errorf("offered %.1f s (%.1f to %.1f); the film's page has %+v", *o.Time, *o.Low, *o.High, page.Target)
	}
	// A factor changes the plan and neither the film's time nor the recipe's.
	if f := OfferTime(known, h.plan(h.recipe(2), sequence.Conditions{Factor: *o.Factor}), o); *f.Time != *o.Time || math.Abs(f.Recipe-480) > 1 || f.Factor != nil {
		t.Errorf("with its factor %+v", f)
	}
	// Warmer by 4 °C the film's is shorter by 2.2^0.4, the recipe's by 2^0.4.
	warm := chem.Celsius(24)
	if w := OfferTime(known, h.plan(h.recipe(2), sequence.Conditions{BathTemperature: &warm}), o); math.Abs(float64(w.Temperature-24)) > 0.01 || math.Abs(*w.Time / *o.Time * math.Pow(2.2, 0.4) - 1) > 0.02 || math.Abs(w.Recipe-480/math.Pow(2, 0.4)) > 1 {
		t.Errorf("at 24 °C %+v", w)
	}
	// A recipe found by a film test says which gradient it is for: 0.70 comes at -ln(1 - 0.70/1.2)/0.1 = 8.75 min.
	r := h.recipe(2)
	r.Steps[0].Time = 8*time.Minute + 45*time.Second
	r.Steps[0].Growth = &sequence.Growth{Limit: 1.2, K: 0.1, Tested: []sequence.TestedTime{{Time: 5 * time.Minute, Gradient: 0.47}, {Time: 14 * time.Minute, Gradient: 0.90}}}
	if own := OfferTime(known, h.plan(r, sequence.Conditions{}), o); own.AverageGradient != 0.70 || math.Abs(*own.Time/60/8.75-1) > 0.05 || !own.Fits() {
		t.Errorf("for the recipe's own gradient %+v; expected 0.70 at 8.75 min", own)
	}
	// In another vessel nothing is known, but for a borrowed time in its developer.
	tray := h.plan(h.recipe(2), sequence.Conditions{Vessel: sequence.SingleTrays})
	if o := OfferTime(known, tray, o); o != nil {
		t.Errorf("in another vessel %+v", o)
	}
	if err := h.Borrowed.Add(BorrowedTime{Film: plover, Time: 11 * time.Minute, Temperature: 20, Wanted: 0.58, Within: 0.35, From: "Tern 125", Written: sessiontest.Evening}); err != nil {
		t.Fatal(err)
	}
	if o := OfferTime(h.Collect(plover), tray, o); o == nil || o.Tests != 0 || o.Borrowed != 1 || !(*o.Time > 480) {
		t.Errorf("in another vessel, by a borrowed time %+v", o)
	}
}

// What a film test that nobody read is expected to teach is about what it teaches when it is read (its sheets are
// perfect, and the expectation goes by variances, not by the ends of intervals); a session teaches
// when it is looked at, and what came later changes nothing of that.
func TestWhatASessionTaught(t *testing.T) {
	h := newHarbour(t)
	learnt := func(id string) *Learnt {
		t.Helper()
		s, err := notebook.Open(h.Sessions, id)
		if err != nil {
			t.Fatal(err)
		}
		return h.Learnt(&s)
	}
	h.session(20, notebook.Good)
	first := h.Collect(plover)[0].Sessions[0].ID
	if l := learnt(first); l == nil || l.From != "look" || l.Before != nil || l.Narrower != nil && *l.Narrower < 0 {
		t.Errorf("of the first session %+v", l)
	}
	h.test("part A", 5, 7, 10, 14)
	read := h.Densities.List()[0]
	id := read.Readings.Session
	got := learnt(id)
	if got == nil || got.From != "test" || got.Narrower == nil || got.Before == nil || !(*got.Narrower > 0.3) {
		t.Fatalf("of the test %+v", got)
	}
	unlinked := read.Readings
	unlinked.Session, unlinked.Film = "", "Tern 125"
	if err := h.Densities.Save(read.Name, &unlinked); err != nil {
		t.Fatal(err)
	}
	if l := learnt(id); l == nil || l.From != "" || !l.Test || l.Expected == nil || math.Abs(*l.Expected-*got.Narrower) > 0.25 {
		t.Errorf("of the test before it is read %+v, expected %.2f; it then taught %.2f", l, *l.Expected, *got.Narrower)
	}
	if err := h.Densities.Save(read.Name, &read.Readings); err != nil {
		t.Fatal(err)
	}
	h.test("part A", 5, 7, 10, 14)
	if l := learnt(id); *l.Narrower != *got.Narrower {
		t.Errorf("of the test after another %.3f; before %.3f", *l.Narrower, *got.Narrower)
	}
}

// A test is proposed round what is known; where nothing is, round the guess.
func TestSheetsAreProposed(t *testing.T) {
	h := newHarbour(t)
	r := h.recipe(3)
	times, err := curve.TestTimes(8*time.Minute, 3)
	if err != nil {
		t.Fatal(err)
	}
	r.Steps[0].Time, r.Steps[0].PullTimes = 0, times
	test := h.plan(r, sequence.Conditions{})
	blind := ProposeSheets(nil, test, 8*time.Minute)
	if !blind.Guessed || blind.Enough || len(blind.Next) != 3 || len(blind.Usual) != 3 || blind.Usual[1].Time != 480 || !(blind.Next[0].Time > 300 && blind.Next[0].Time < 900) {
		t.Errorf("of nothing known %+v", blind)
	}
	for range 3 {
		h.test("part A", 5, 7, 10, 14)
	}
	known := ProposeSheets(h.Collect(plover), test, 8*time.Minute)
	if known.Guessed || !known.Enough || !(known.Next[0].Gain < blind.Next[0].Gain/2) {
		t.Errorf("after three tests %+v", known)
	}
}
