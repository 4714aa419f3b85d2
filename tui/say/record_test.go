package say

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// Ages are in words and cut, never rounded up; nothing older than an hour looks like a
// session's time.
func TestAge(t *testing.T) {
	for d, want := range map[time.Duration]string{
		45 * time.Second: "45 s", 59*time.Second + 999*time.Millisecond: "59 s", 20*time.Minute + 59*time.Second: "20 min", time.Hour: "1 h",
		90 * time.Minute: "1 h 30 min", day: "1 day", day + 5*time.Hour + time.Minute: "1 day 5 h", 2 * day: "2 days", 65*day + time.Hour: "65 days",
	} {
		if got := Age(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

// What a bottle has done is rounded up and what it takes down, to whole sheets. A litre
// that takes 12.5 sheets takes 12; 41 square inches are 2.05 sheets of 20.
func TestUseIsRoundedToTheCarefulSide(t *testing.T) {
	b := bottles.Bottle{Bath: sequence.Bath{Volume: 1000, SheetsPerLitre: 12.5}, Area: 41}
	if got := BottleUse(&b); got != "3 of 12" {
		t.Errorf("%q", got)
	}
	if got := BottleLeft(&b); got != "10 sheets of 4x5in left" { // 12.5 - 2.05
		t.Errorf("%q", got)
	}
	b.Bath.Volume = 0
	if got := BottleUse(&b) + ", " + BottleLeft(&b); got != "3, capacity not given" {
		t.Errorf("%q", got)
	}
}

// A litre that takes ten sheets has done ten; twice the fresh clearing time is the end of a fixer
// (NAVEDTRA 14209 p. 249).
func TestBottleCondition(t *testing.T) {
	mixed := time.Date(2024, 5, 6, 9, 0, 0, 0, time.UTC)
	b := bottles.Bottle{Bath: sequence.Bath{Volume: 1000, SheetsPerLitre: 10, WorkingLife: day}, Mixed: mixed, Area: 100, FreshClearing: time.Minute, Clearing: 130 * time.Second, Retired: &mixed}
	for after, want := range map[time.Duration]string{
		5 * time.Hour: "spent: clears too slowly; 5 h old, keeps 1 day; 5 of 10 sheets of 4x5in done; clears in 2:10 (1:00 when fresh); retired",
		-time.Hour:    "spent: clears too slowly; 5 of 10 sheets of 4x5in done; clears in 2:10 (1:00 when fresh); retired",
	} {
		if got := strings.Join(BottleCondition(&b, mixed.Add(after), sequence.Units{}), "; "); got != want {
			t.Errorf("%v: %q; want %q", after, got, want)
		}
	}
}

// What takes a bottle's place is said of one that has done film: when, and that neither is of use where that is so.
func TestBottleFollower(t *testing.T) {
	now := time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC)
	mix := []chem.Part{{Name: "fixer", Parts: 1}, {Name: "water", Parts: 4}}
	bottle := func(name string, sheets float64, days int) bottles.Bottle {
		return bottles.Bottle{Name: name, Area: 20 * sheets, Mixed: now.Add(-time.Duration(days) * 24 * time.Hour),
			Bath: sequence.Bath{ID: name, Parts: mix, Volume: 1000, SheetsPerLitre: 10, WorkingLife: 5 * 24 * time.Hour}}
	}
	for _, c := range []struct {
		first, second bottles.Bottle
		want          string
	}{
		{bottle("one", 0, 1), bottle("two", 0, 1), ""},
		{bottle("one", 9, 1), bottle("two", 0, 1), "when it is spent two takes its place"},
		{bottle("one", 10, 1), bottle("two", 0, 1), "throw it away, collect its silver: two takes its place, and a new second is mixed"},
		{bottle("one", 1, 6), bottle("two", 0, 1), "throw it away, collect its silver: two takes its place, and a new second is mixed"},
		{bottle("one", 10, 1), bottle("two", 0, 6), "throw it away, collect its silver, and two too: neither can be used"},
		{bottle("one", 1, 1), bottle("two", 2, 1), ""},
	} {
		if got := BottleFollower(&c.first, bottles.Inventory{Bottles: []bottles.Bottle{c.first, c.second}}, now); got != c.want {
			t.Errorf("%g sheets, then %g: %q; expected %q", c.first.Sheets(), c.second.Sheets(), got, c.want)
		}
	}
	behind := bottles.Bottle{AreaBehind: 230}
	if got := BottleBehind(&behind); got != "12 sheets of 4x5in fixed behind another fixer, on which they count" { // 11.5
		t.Error(got)
	}
}

func TestBottleState(t *testing.T) {
	now := time.Date(2024, 5, 6, 9, 0, 0, 0, time.UTC)
	bath := sequence.Bath{Volume: 1000, SheetsPerLitre: 10, WorkingLife: 5 * day}
	for want, change := range map[string]func(*bottles.Bottle){
		"ready":                    func(b *bottles.Bottle) {},
		"almost spent":             func(b *bottles.Bottle) { b.Area = 160 },
		"spent":                    func(b *bottles.Bottle) { b.Area = 200 },
		"spent: for one session":   func(b *bottles.Bottle) { b.Area, b.Bath.OneShot = 20, true },
		"spent: clears too slowly": func(b *bottles.Bottle) { b.FreshClearing, b.Clearing = time.Minute, 2*time.Minute },
		"too old":                  func(b *bottles.Bottle) { b.Mixed = now.Add(-5*day - time.Second) },
		"mixed in the future?":     func(b *bottles.Bottle) { b.Mixed = now.Add(2 * time.Minute) },
	} {
		b := bottles.Bottle{Bath: bath, Mixed: now.Add(-day)}
		change(&b)
		if _, got := BottleState(&b, now); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestClearingSaysWhatItWasWhenFresh(t *testing.T) {
	b := bottles.Bottle{FreshClearing: time.Minute, Clearing: 80 * time.Second}
	if got := BottleClearing(&b); got != "clears in 1:20 (1:00 when fresh)" {
		t.Errorf("%q", got)
	}
	if got := BottleClearing(&bottles.Bottle{}); got != "" {
		t.Errorf("%q", got)
	}
}

// developed is a session whose sheets were developed so far of ten minutes.
func developed(status journal.Status, shares ...float64) *notebook.Session {
	st := &sequence.PlanStep{}
	st.Kind, st.Name = sequence.Develop, "develop"
	s := &notebook.Session{Summary: notebook.Summary{Head: notebook.Head{Status: status}}, Plan: &sequence.Plan{Sheets: len(shares), Steps: []sequence.PlanStep{*st}}, At: 9 * time.Minute}
	done := notebook.StepDone{Plan: st}
	for i, share := range shares {
		of := 10 * time.Minute
		done.Sheets = append(done.Sheets, notebook.SheetInStep{Sheet: i + 1, Out: time.Minute,
			Developed: &engine.Development{Sheet: i + 1, Done: sequence.Elapsed(share * float64(of)), Of: of}})
	}
	s.Steps = []notebook.StepDone{done}
	return s
}

func TestResult(t *testing.T) {
	for want, s := range map[string]*notebook.Session{
		"Done. Every sheet developed to within 1%.": developed(journal.Done, 1, 0.996),
		"Done. Every sheet developed to within 2%.": developed(journal.Done, 1.015, 1),
		"Done. Developed to within 1%.":             developed(journal.Done, 1),
		"Done. Developed 84% to 104% of plan.":      developed(journal.Done, 0.84, 1.04),
		"Done. Developed 256% of plan.":             developed(journal.Done, 2.56, 2.56),
		"Ended early, after 9:00 in develop.":       developed(journal.Stopped),
		"Not finished: no end is recorded.":         developed(journal.Open),
	} {
		if len(s.Steps[0].Sheets) == 0 && s.Status == journal.Stopped {
			s.Steps[0].Sheets = []notebook.SheetInStep{{Sheet: 1, Out: sequence.Never}}
		}
		if got := RecordResult(s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	s, used := developed(journal.Done, 1), 0.86
	s.Wet.Total, s.Wet.Used = 26*time.Minute+20*time.Second, &used
	if got := RecordResult(s); got != "Done. Developed to within 1%; wet 26:20, 86% of limit." {
		t.Errorf("%q", got)
	}
}

// What is over the limit says by how much; a rehearsal that no film was in it.
func TestResultOverTheLimit(t *testing.T) {
	s, used, margin := developed(journal.Done, 1), 1.05, -52*time.Second
	s.Wet.Total, s.Wet.Used, s.Wet.Margin = 18*time.Minute+52*time.Second, &used, &margin
	s.Rehearsal = true
	if got := RecordResult(s); got != "Rehearsal, without film. Developed to within 1%; wet 18:52, 105% of limit, 0:52 too long." {
		t.Errorf("%q", got)
	}
}

// A sheet that was set aside is told of apart, and spoils no result.
func TestResultWithASheetSetAside(t *testing.T) {
	s := developed(journal.Done, 1, 0.4)
	s.Wet.Sheets = []notebook.SheetWetTime{{Sheet: 1}, {Sheet: 2, Aside: true}}
	if got := RecordResult(s); got != "Done. Developed to within 1%; sheet 2 set aside." {
		t.Errorf("%q", got)
	}
}

func TestSheetsInTheirVessel(t *testing.T) {
	for want, s := range map[string]struct {
		n int
		v sequence.Vessel
	}{"6 sheets in trays": {6, sequence.Tray}, "1 sheet in a daylight tank": {1, sequence.DaylightTank}, "8 sheets in hangers": {8, sequence.Hangers}, "2 sheets": {2, ""}} {
		if got := FilmIn(s.n, s.v); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestStates(t *testing.T) {
	for want, s := range map[string]notebook.Summary{
		"": {Head: notebook.Head{Status: journal.Done}}, "ended early": {Head: notebook.Head{Status: journal.Stopped}}, "not finished": {Head: notebook.Head{Status: journal.Open}},
		"damaged": {Head: notebook.Head{Status: journal.Damaged}, Problem: "line 3"}, "rehearsal": {Head: notebook.Head{Status: journal.Done, Rehearsal: true}},
		"part rehearsed":    {Head: notebook.Head{Status: journal.Stopped, Rehearsal: true}},
		"damaged rehearsal": {Head: notebook.Head{Status: journal.Damaged, Rehearsal: true}, Problem: "line 3"},
	} {
		if got := RecordState(&s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestSentences(t *testing.T) {
	if got := Tidy("develop: 4 to 6 % more"); got != "Develop: 4 to 6% more" {
		t.Errorf("%q", got)
	}
	n := notebook.Note{Text: "light at the window", Emulsion: notebook.EmulsionTorn, Appearances: []notebook.Appearance{notebook.Thin, notebook.Uneven}}
	if got := LateNote(n); got != "Negatives thin, uneven; emulsion torn; light at the window" {
		t.Errorf("%q", got)
	}
	b := sequence.Bath{Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 4}}}
	if got := Amounts(&b, sequence.Units{}); got != "A 1 + water 4" {
		t.Errorf("%q", got)
	}
	b.Volume = 1000
	if got := Amounts(&b, sequence.Units{}); got != "A 200 ml + water 800 ml" {
		t.Errorf("%q", got)
	}
}

// Every event that is worth telling afterwards has words, also where a record lacks what
// it is about; a temperature that is not there is not told.
func TestEveryEventThatIsToldHasWords(t *testing.T) {
	p := &sequence.Plan{}
	for _, k := range []sequence.EventKind{sequence.Held, sequence.HoldEnded, sequence.Undone, sequence.LateReported, sequence.GapFound,
		sequence.FollowerFailed, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped, sequence.SuspendAnnounced, sequence.WetWarned, sequence.WetPassed,
		sequence.SessionStopped, sequence.Noted} {
		if e := (sequence.Event{Kind: k, Sheet: 1}); !Afterwards(e) || Event(p, e, sequence.Units{}) == "" {
			t.Errorf("%s: nothing said", k)
		}
	}
	if text := Event(p, sequence.Event{Kind: sequence.ReadingTaken}, sequence.Units{}); text != "" {
		t.Errorf("a reading without a temperature: %q", text)
	}
}
