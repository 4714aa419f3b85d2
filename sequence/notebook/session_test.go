package notebook

// Sessions in full: what is expected is worked out by hand from the recipe, the
// contract's rules for time and wet time, and the arithmetic of the rate.

import (
	"maps"
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// Three sheets in a tray: presoak 1:00, develop 5:00, fix 3:00; loaded 15 s
// apart, moved on 10 s apart, out of the developer as they went in.
//
//	sheet  presoak      develop      fix
//	1      0:00 - 1:30  1:30 - 6:30  6:30 -  9:50
//	2      0:15 - 1:40  1:40 - 6:40  6:40 - 10:00
//	3      0:30 - 1:50  1:50 - 6:50  6:50 - 10:10
//
// The last sheet is in the first bath at 0:30 and has its minute at 1:30; it is in
// the fixer at 6:50 and has its three minutes at 9:50.
func TestAStackAsPlanned(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := sessiontest.Recipe(sequence.Tray, 3, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, 1*recipetest.Minute)), recipetest.Shuffled(sessiontest.Warmed(recipetest.Bath(sequence.Develop, 5*recipetest.Minute))), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 3*recipetest.Minute)))
	id := sessiontest.Begin(t, store, 0, r, sequence.Conditions{}).Finish()
	s := opened(t, store, id)

	if s.Status != journal.Done || s.Recipe != r.Title || s.Film != "Plover 80" || s.Rehearsal || s.Sheets != 3 {
		t.Errorf("summary: %+v", s.Summary)
	}
	if !s.Started.Equal(sessiontest.Evening) || !s.Ended.Equal(sessiontest.Evening.Add(10*recipetest.Minute+10*recipetest.Second)) {
		t.Errorf("from %v to %v; want %v and 10:10 later", s.Started, s.Ended, sessiontest.Evening)
	}
	want := [][3][2]time.Duration{
		{{0, 90 * recipetest.Second}, {15 * recipetest.Second, 100 * recipetest.Second}, {30 * recipetest.Second, 110 * recipetest.Second}},
		{{90 * recipetest.Second, 390 * recipetest.Second}, {100 * recipetest.Second, 400 * recipetest.Second}, {110 * recipetest.Second, 410 * recipetest.Second}},
		{{390 * recipetest.Second, 590 * recipetest.Second}, {400 * recipetest.Second, 600 * recipetest.Second}, {410 * recipetest.Second, 610 * recipetest.Second}},
	}
	for i, st := range s.Steps {
		for k, y := range st.Sheets {
			if y.Sheet != k+1 || y.In != want[i][k][0] || y.Out != want[i][k][1] || y.Given != y.Out-y.In {
				t.Errorf("%s, sheet %d: in %v, out %v; want %v", st.Plan.Name, k+1, y.In, y.Out, want[i][k])
			}
			if (y.Developed != nil) != (i == 1) || i == 1 && y.Developed.Share() != 1 {
				t.Errorf("%s, sheet %d: developed %+v", st.Plan.Name, k+1, y.Developed)
			}
		}
	}
	if st := s.Steps[2]; st.Start != 390*recipetest.Second || st.FirstOut != 590*recipetest.Second || st.LastOut != 610*recipetest.Second {
		t.Errorf("fix: %+v", st)
	}
	// sheet 1 is wet for 9:50, sheet 2 for 9:45, sheet 3 for 9:40, of 20:00
	for k, w := range s.Wet.Sheets {
		total := 590*recipetest.Second - time.Duration(k)*5*recipetest.Second
		if w.Total != total || len(w.Vessels) != 1 || math.Abs(*w.Used-total.Minutes()/20) > 1e-12 {
			t.Errorf("sheet %d: %+v; want wet for %v", k+1, w, total)
		}
	}
	if s.Wet.Total != 590*recipetest.Second || *s.Wet.Margin != 610*recipetest.Second || s.Wet.Session != 610*recipetest.Second {
		t.Errorf("wet: %+v", s.Wet)
	}
	if len(s.Exceptions)+len(s.Missed)+len(s.Findings)+len(s.Gaps)+len(s.Holds) != 0 {
		t.Errorf("nothing was out of order, yet: %v %v %v", s.Exceptions, s.Missed, s.Findings)
	}
}

// nearly compares shares worked out by hand to a thousandth.
func nearly(got, want float64) bool { return math.Abs(got-want) < 1e-3 }

// timeOff reports whether a finding is of one sheet in the developer that had another time than planned.
func timeOff(f Finding, sheet int, given, planned sequence.Elapsed, share float64) bool {
	return f.Code == TimeOff && f.Step == "develop" && f.Sheet == sheet && f.Given == given && f.Planned == planned && nearly(f.Low, share) && nearly(f.High, share)
}

// The developer is read 25 C as the film leaves: it rose by 5 K on a straight
// line, and the mean rate is (sqrt 2 - 1) / (0.5 ln 2) = 1.195.
func TestWarmAtTheEnd(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 1, sessiontest.Warmed(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Do(sequence.Wake{}, 5*recipetest.Minute)
	n.Do(sequence.TakeReading{T: 25, Source: sequence.ByHand}, 5*recipetest.Minute)
	s := opened(t, store, n.Finish())
	if d := s.Steps[0].Sheets[0].Developed; math.Abs(d.Share()-(math.Sqrt2-1)/(0.5*math.Ln2)) > 1e-9 {
		t.Errorf("developed %+v", d)
	}
	if len(s.Readings) != 1 || *s.Readings[0].Temperature != 25 {
		t.Errorf("readings: %+v", s.Readings)
	}
	if got := s.Findings; len(got) != 1 || got[0].Code != BathOff || got[0].Step != "develop" || *got[0].Bath != (BathOffPlan{25, 20}) ||
		got[0].Sheets != nil || !nearly(got[0].Low, 1.195) || !nearly(got[0].High, 1.195) {
		t.Errorf("found %+v", got)
	}
}

// Read at once, the time follows: 5 min / sqrt 2 = 3:32.1.
func TestReadInTime(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 1, sessiontest.Warmed(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Do(sequence.TakeReading{T: 25, Source: sequence.ByHand}, 0)
	s := opened(t, store, n.Finish())
	if y := s.Steps[0].Sheets[0]; math.Abs(y.Given.Seconds()-300/math.Sqrt2) > 1e-6 || math.Abs(y.Developed.Share()-1) > 1e-9 {
		t.Errorf("given %v, %+v", y.Given, y.Developed)
	}
	if got := s.Findings; len(got) != 1 || got[0].Code != TimeFollowed || got[0].Given.Round(recipetest.Second) != 212*recipetest.Second || got[0].Planned != 5*recipetest.Minute {
		t.Errorf("found %+v", got)
	}
}

// A reading that is taken back is no reading.
func TestAReadingTakenBack(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 1, sessiontest.Warmed(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Do(sequence.TakeReading{T: 21, Source: sequence.ByHand}, 10*recipetest.Second)
	n.Do(sequence.TakeReading{T: 25, Source: sequence.ByHand}, 60*recipetest.Second)
	n.Do(sequence.Undo{}, 65*recipetest.Second)
	n.Do(sequence.AddNote{Text: "mistyped"}, 66*recipetest.Second)
	s := opened(t, store, n.Finish())
	if len(s.Readings) != 1 || *s.Readings[0].Temperature != 21 || len(s.Notes) != 1 || s.Notes[0].Text != "mistyped" {
		t.Errorf("readings %+v, notes %+v", s.Readings, s.Notes)
	}
}

// Stopped after 3 of 5 minutes in the developer.
func TestStopped(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Do(sequence.EndSession{}, 3*recipetest.Minute)
	s := opened(t, store, n.Close())
	if s.Status != journal.Stopped || !s.Ended.Equal(sessiontest.Evening.Add(3*recipetest.Minute)) || s.At != 3*recipetest.Minute {
		t.Errorf("%s at %v, ended %v", s.Status, s.At, s.Ended)
	}
	st := s.Steps[0]
	if len(st.Sheets) != 2 || st.Sheets[1].Out != sequence.Never || st.Sheets[1].Given != 3*recipetest.Minute || st.LastOut != sequence.Never {
		t.Errorf("develop: %+v", st)
	}
	if d := st.Sheets[0].Developed; math.Abs(d.Share()-0.6) > 1e-12 {
		t.Errorf("developed %+v; want three fifths", d)
	}
	if st := s.Steps[1]; len(st.Sheets) != 0 || st.Start != sequence.Never || st.LastOut != sequence.Never {
		t.Errorf("fix was never begun: %+v", st)
	}
	if s.Wet.Total != 3*recipetest.Minute || math.Abs(*s.Wet.Used-0.05) > 1e-12 || len(s.Findings) != 0 {
		t.Errorf("wet %+v, found %+v", s.Wet, s.Findings)
	}
}

// The program is away from 2:00 to 6:00; the film is agitated for 10 s each
// minute and moves on at 5:00. Of the cues due in between 3:00 and 4:00 were
// missed for good, with their rests, and the ready at 4:40; the move is made at 6:30.
func TestAGap(t *testing.T) {
	store := sessiontest.NewStore(t)
	develop := recipetest.Bath(sequence.Develop, 5*recipetest.Minute)
	develop.Agitate = sequence.Agitation{Mode: sequence.Pattern, Initial: 30 * recipetest.Second, For: 10 * recipetest.Second, Every: 60 * recipetest.Second}
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 1, develop, recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Do(sequence.Wake{}, 2*recipetest.Minute+10*recipetest.Second)
	n.Do(sequence.Gap{From: 2*recipetest.Minute + 20*recipetest.Second}, 6*recipetest.Minute)
	n.Do(sequence.EndHold{}, 6*recipetest.Minute+30*recipetest.Second)
	s := opened(t, store, n.Finish())
	if !slices.Equal(s.Gaps, []Span{{2*recipetest.Minute + 20*recipetest.Second, 6 * recipetest.Minute}}) || !slices.Equal(s.Holds, []Span{{6 * recipetest.Minute, 6*recipetest.Minute + 30*recipetest.Second}}) {
		t.Errorf("gaps %v, holds %v", s.Gaps, s.Holds)
	}
	var got []string
	for _, c := range s.Missed {
		got = append(got, string(c.Kind)+" "+sequence.FormatElapsed(c.At))
	}
	want := []string{"agitate 3:00", "rest 3:10", "agitate 4:00", "rest 4:10", "ready 4:40"}
	if !slices.Equal(got, want) {
		t.Errorf("missed %q; want %q", got, want)
	}
	if y := s.Steps[0].Sheets[0]; y.Out != 6*recipetest.Minute+30*recipetest.Second || math.Abs(y.Developed.Share()-1.3) > 1e-9 {
		t.Errorf("develop: %+v %+v", y, y.Developed)
	}
	if got := s.Findings; len(got) != 2 || !timeOff(got[0], 1, 390*recipetest.Second, 5*recipetest.Minute, 1.3) ||
		got[1].Code != CuesMissed || got[1].Count != 5 ||
		!maps.Equal(got[1].Missed, map[sequence.CueKind]int{sequence.CueReady: 1, sequence.CueAgitate: 2, sequence.CueStand: 2}) {
		t.Errorf("found %+v", got)
	}
}

// Sheet 2 is said to be still in the developer after the record moved it, and
// leaves it 40 s after the sheet before.
func TestALateSheet(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 4*recipetest.Minute))), sequence.Conditions{})
	n.Do(sequence.Wake{}, 5*recipetest.Minute+20*recipetest.Second)
	n.Do(sequence.MarkLate{Sheet: 2}, 5*recipetest.Minute+25*recipetest.Second)
	n.Do(sequence.MoveOn{}, 5*recipetest.Minute+40*recipetest.Second)
	s := opened(t, store, n.Finish())
	first, late := s.Steps[0].Sheets[0], s.Steps[0].Sheets[1]
	if first.Given != 5*recipetest.Minute || late.In != 15*recipetest.Second || late.Out != 5*recipetest.Minute+40*recipetest.Second {
		t.Errorf("sheet 1 %+v, sheet 2 %+v", first, late)
	}
	if math.Abs(late.Developed.Share()-325.0/300) > 1e-12 {
		t.Errorf("developed %+v; want 325 s of 300 s", late.Developed)
	}
	if got := s.Findings; len(got) != 1 || !timeOff(got[0], 2, 325*recipetest.Second, 5*recipetest.Minute, 325./300) {
		t.Errorf("found %+v", got)
	}
	if !slices.ContainsFunc(s.Exceptions, func(e sequence.Event) bool { return e.Kind == sequence.LateReported && e.Sheet == 2 }) {
		t.Errorf("told: %+v", s.Exceptions)
	}
}

// Into hangers for the wash: 5:00 of 20:00 in the tray and 6:00 of 60:00 beyond
// make 0.35. The fix is cut to 1:00 of 2:00.
func TestSharesOfVesselsAndABathCutShort(t *testing.T) {
	store := sessiontest.NewStore(t)
	wash := recipetest.Bath(sequence.Wash, 6*recipetest.Minute)
	wash.Vessel = sequence.Hangers
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 4*recipetest.Minute), recipetest.Bath(sequence.Fix, 2*recipetest.Minute), wash), sequence.Conditions{})
	n.Do(sequence.MoveOn{}, 5*recipetest.Minute)
	s := opened(t, store, n.Finish())
	w := s.Wet.Sheets[0]
	if w.Total != 11*recipetest.Minute || len(w.Vessels) != 2 || w.Vessels[0].Time != 5*recipetest.Minute || w.Vessels[1].Time != 6*recipetest.Minute || math.Abs(*w.Used-0.35) > 1e-12 {
		t.Errorf("wet: %+v", w)
	}
	if *s.Wet.Margin != 13*recipetest.Minute { // (1 - 0.35) x 20:00
		t.Errorf("margin %v", *s.Wet.Margin)
	}
	if got := s.Findings; len(got) != 1 || got[0].Code != CutShort || got[0].Step != "fix" || got[0].Kind != sequence.Fix || got[0].Sheet != 1 ||
		got[0].Given != recipetest.Minute || got[0].Planned != 2*recipetest.Minute {
		t.Errorf("found %+v", got)
	}
}

// A rehearsal wets no film, and says nothing about any: not even when the
// developer is left after three of five minutes.
func TestARehearsalSuggestsNothing(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := sessiontest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute))
	for factor, want := range map[float64]int{60: 0, 0: 1} {
		n := sessiontest.BeginAs(t, store, 0, r, sequence.Conditions{}, factor)
		n.Do(sequence.MoveOn{}, 3*recipetest.Minute)
		s := opened(t, store, n.Close())
		if s.Rehearsal != (factor > 0) || s.Status != journal.Open || s.Ended != nil || len(s.Findings) != want {
			t.Errorf("%+v, found %+v", s.Summary, s.Findings)
		}
	}
}

// A step that not every sheet has come to has no last sheet out.
func TestLastOut(t *testing.T) {
	if got := lastOut([]SheetInStep{{Sheet: 1, Out: 5 * recipetest.Minute}}, 2); got != sequence.Never {
		t.Errorf("one of two: %v", got)
	}
	if got := lastOut([]SheetInStep{{Sheet: 1, Out: 6 * recipetest.Minute}, {Sheet: 2, Out: 5 * recipetest.Minute}}, 2); got != 6*recipetest.Minute {
		t.Errorf("both: %v", got)
	}
}

// A newer wetside's record: what is understood is told, events of an unknown kind
// are passed over, and a plan that cannot be replayed spoils nothing.
func TestANewerVersion(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Append([]sequence.Event{{At: 1 * recipetest.Minute, Kind: "bubbled", Step: "nowhere", Sheet: 77}, {At: 2 * recipetest.Minute, Kind: sequence.GapFound}})
	id := n.Finish()
	if s := opened(t, store, id); s.Status != journal.Done || s.Steps[0].Sheets[0].Given != 5*recipetest.Minute || len(s.Gaps) != 0 {
		t.Errorf("%+v", s)
	}
	for name, spoil := range map[string]func(*sequence.Plan){
		"no sheets": func(p *sequence.Plan) { p.Sheets = 0 },
		"no steps":  func(p *sequence.Plan) { p.Steps = nil },
		"few doses": func(p *sequence.Plan) { p.Sheets, p.Steps[0].Doses = 3, []sequence.Elapsed{1} },
	} {
		plan := *n.First.Plan
		plan.Steps = slices.Clone(plan.Steps)
		spoil(&plan)
		s := Session{Newer: true}
		err := s.replay([]journal.Record{{Plan: &plan, Event: sequence.Event{Kind: sequence.SessionBegan}}})
		if err == nil || s.Plan != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
