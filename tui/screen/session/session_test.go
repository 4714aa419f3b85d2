package session

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/pagetest"
	"example.org/wetside/tui/screen/recordtest"
)

func open(t *testing.T, b Backend, id string, then screen.Task) *drive.Desk {
	t.Helper()
	m, err := New(b, recordtest.Env(), screen.OpenSession{ID: id, Then: then})
	if err != nil {
		t.Fatal(err)
	}
	return drive.Live(t, m, time.Minute)
}

// shows looks at all there is to read.
func shows(t *testing.T, p *drive.Desk, want ...string) {
	t.Helper()
	view := p.View(80, 200)
	for _, w := range want {
		if !strings.Contains(view, w) {
			t.Errorf("%q is not in\n%s", w, view)
		}
	}
}

func said(t *testing.T, p *drive.Desk, want string, fault bool) {
	t.Helper()
	if got, ok := p.Last().(screen.Message); !ok || got.Fault != fault || !strings.Contains(got.Text, want) {
		t.Errorf("%+v; expected %q", p.Last(), want)
	}
}

func TestPictures(t *testing.T) {
	b := recordtest.Kept(t)
	open(t, b, recordtest.Warm, screen.JustLook).Golden("session")
	end := open(t, b, recordtest.Warm, screen.JustLook)
	end.View(76, 18)
	end.Press("end").Golden("session-end")
	open(t, b, recordtest.Early, screen.JustLook).Golden("early")
	open(t, b, recordtest.Warm, screen.AddNote).Press("thin at the edge").Golden("note")
	open(t, b, recordtest.Warm, screen.DescribeNegatives).Press("down", "right").Golden("negatives")
	open(t, b, recordtest.Warm, screen.DescribeEmulsion).Golden("emulsion")
}

// The bath was read at 22.8 °C: the sheets had a shorter time, and all of the development
// planned. Steps and sheets say both.
func TestEachSheetHasItsTimeAndItsEquivalent(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Warm, screen.JustLook)
	p.View(80, 200)
	// 22% of the limit was in hand at 24:51, in hangers: of 1 h 30 min that is 19:35
	shows(t, p, "Done. Every sheet developed to within 1%; wet 24:51, 79% of limit.", "planned", "actual", "limit 44:26")
	for _, row := range strings.Split(p.View(80, 200), "\n") {
		if f := strings.Fields(row); len(f) > 2 && f[0] == "sheet" && f[1] == "1" {
			if f[2] >= "7:30" || f[3] != "7:30" || f[4] != "100%" || f[5] != "24:51" {
				t.Errorf("%q", f)
			}
			return
		}
	}
	t.Error("sheet 1 has no row")
}

// The record's own file is named across the whole width, beneath all else.
func TestWhereItIsKept(t *testing.T) {
	view := open(t, recordtest.Kept(t), recordtest.Warm, screen.JustLook).View(140, 80)
	rows := strings.Split(strings.TrimRight(view, "\n "), "\n")
	if last := rows[len(rows)-1]; !strings.HasPrefix(last, "Kept in /") || !strings.HasSuffix(strings.TrimSpace(last), ".jsonl") {
		t.Errorf("%q", last)
	}
}

func TestReadingsAndNotesAreTold(t *testing.T) {
	p := open(t, recordtest.Kept(t), recordtest.Warm, screen.JustLook)
	shows(t, p, "3:00  Developer reads 22.8", "4:00  Note: the third sheet stuck", "For next time", "Kept in /home/saltmarsh/.local")
}

func TestNotesAreKept(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Warm, screen.JustLook).Press("n")
	if !p.Screen.About().Typing {
		t.Fatal("letters would be keys while a note is typed")
	}
	p.Press("q? thin at the edge", "enter")
	said(t, p, "Noted.", false)
	shows(t, p, "6 May 2024  Q? thin at the edge")
	if s, err := b.Read(recordtest.Warm); err != nil || len(s.NotesAfter.List) != 1 || !s.NotesAfter.List[0].Written.Equal(recordtest.Now) {
		t.Errorf("%v, %+v", err, s.NotesAfter)
	}
	n := len(p.Actions)
	p.Press("n", "gulls", "esc", "n", "   ", "enter")
	if s, _ := b.Read(recordtest.Warm); len(s.NotesAfter.List) != 1 || len(p.Actions) != n {
		t.Errorf("left or empty, and kept: %+v", s.NotesAfter)
	}
}

// What cannot be written stays where it was typed, with the reason.
func TestNoteThatIsNotKeptStaysTyped(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Warm, screen.AddNote)
	b.Fails = errors.New("the disk is full")
	p.Press("gulls", "enter")
	said(t, p, "the disk is full", true)
	shows(t, p, "gulls", "not kept")
	if !p.Screen.(Model).Unsaved() {
		t.Error("leaving would lose it without a question")
	}
	p.Press("esc")
	if p.Screen.(Model).Unsaved() {
		t.Error("nothing is typed, and leaving is asked about")
	}
}

// Looks are chosen from a list; what cannot hold together lets go of the other, and at least
// one must hold.
func TestNegativesAreChosen(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Good, screen.JustLook).Press("v", "enter")
	shows(t, p, "none chosen")
	p.Press("right", "down", "right", "down", "right", "down", "down", "left") // good, thin, dense, uneven
	if got := p.Screen.(Model).choices.chosen(); strings.Join(got, " ") != "dense uneven" {
		t.Fatalf("%q hold", got)
	}
	p.Press("enter")
	said(t, p, "Noted. Negatives dense: the record shows no cause", false)
	s, err := b.Read(recordtest.Good)
	if got := s.NotesAfter.Appearances(); err != nil || len(got) != 2 || got[0] != notebook.Dense || got[1] != notebook.Uneven {
		t.Errorf("%v, %q", err, got)
	}
	p.Press("v")
	if got := p.Screen.(Model).choices.chosen(); len(got) != 2 {
		t.Errorf("the list begins with %q; expected what was noted last", got)
	}
	p.Press("right", "esc")
	if s, _ := b.Read(recordtest.Good); len(s.NotesAfter.List) != 1 {
		t.Error("left, and noted")
	}
}

func TestEmulsionIsChosen(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Good, screen.JustLook).Press("e", "down", "enter")
	shows(t, p, "emulsion frilled")
	if s, err := b.Read(recordtest.Good); err != nil || s.Emulsion != notebook.EmulsionLifted {
		t.Errorf("%v, %q", err, s.Emulsion)
	}
	p.Press("e", "enter")
	if s, _ := b.Read(recordtest.Good); s.Emulsion != notebook.EmulsionLifted {
		t.Errorf("%q; the cursor begins on what was noted last", s.Emulsion)
	}
}

// A session is planned again with what was chosen then and what its result asks for.
func TestRepeat(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Good, screen.JustLook).Press("r")
	got, ok := p.Last().(screen.OpenPlan)
	if !ok || got.Name != recordtest.Good || got.Recipe == nil || got.Conditions.Factor != "" || !strings.Contains(got.Text, "2024-05-04") {
		t.Fatalf("%+v", p.Last())
	}
	p.Press("v", "down", "down", "right", "enter", "r")
	got, ok = p.Last().(screen.OpenPlan)
	// a sixth less for dense negatives (common practice, no source), half of it by one look: 1/sqrt(1.2)
	if !ok || got.Conditions.Factor != "0.913" || !strings.Contains(got.Text, "× 0.913: the negatives are dense") {
		t.Errorf("%+v", p.Last())
	}
}

// Readings that are linked to the session are gone on with; where there are none they begin.
func TestDensities(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Good, screen.ReadDensities)
	if got, ok := p.Last().(screen.OpenReadingSetup); !ok || got.Session == nil || got.Session.ID != recordtest.Good {
		t.Fatalf("%+v", p.Last())
	}
	b.Readings = []densities.ReadingsFile{{Name: "other", Readings: curve.Readings{Session: recordtest.Warm}},
		{Name: "broken", Err: errors.New("no"), Readings: curve.Readings{Session: recordtest.Good}},
		{Name: "2024-05-05-plover", Readings: curve.Readings{Session: recordtest.Good, Sheets: make([]curve.SheetReadings, 2)}}}
	p = open(t, b, recordtest.Good, screen.ReadDensities)
	if got, ok := p.Last().(screen.OpenReading); !ok || got.File.Name != "2024-05-05-plover" {
		t.Errorf("%+v", p.Last())
	}
	shows(t, p, "Densities: 2024-05-05-plover, 2 sheets read.")
}

// What is archived leaves the screen, and the way back is said.
func TestArchive(t *testing.T) {
	b := recordtest.Kept(t)
	p := open(t, b, recordtest.Good, screen.JustLook).Press("x")
	got, ok := p.Last().(screen.Several)
	if !ok || got[0] != (screen.Back{}) || !strings.Contains(got[1].(screen.Message).Text, "u restores it") {
		t.Fatalf("%+v", p.Last())
	}
	if list := notebook.Archived(b.Store); len(list) != 1 || list[0] != recordtest.Good {
		t.Errorf("archived: %q", list)
	}
}

// A damaged session is shown as far as it goes, can be noted on and repeated; of one without a
// plan nothing can be shown.
func TestDamaged(t *testing.T) {
	b := recordtest.Kept(t)
	recordtest.Damage(t, b, recordtest.Warm)
	if _, err := New(b, recordtest.Env(), screen.OpenSession{ID: recordtest.NoRecord}); err == nil {
		t.Error("a screen of nothing")
	}
	p := open(t, b, recordtest.Warm, screen.JustLook)
	shows(t, p, "Damaged: shown as far as", "Its record cannot be believed beyond this")
	if got := p.Screen.About().Right; !strings.HasPrefix(got, "damaged, 1 May 2024") {
		t.Errorf("%q", got)
	}
	p.Press("n", "torn by a spilt tray", "enter")
	shows(t, p, "Torn by a spilt tray")
	p.Press("r")
	if _, ok := p.Last().(screen.OpenPlan); !ok {
		t.Errorf("%+v", p.Last())
	}
}

// It scrolls as far as there is anything to read, and one key up is one row.
func TestScrolls(t *testing.T) {
	p := open(t, recordtest.Kept(t), recordtest.Warm, screen.JustLook)
	top := p.View(76, 18)
	p.Press("end", "down", "pgdown")
	bottom := p.View(76, 18)
	if !strings.Contains(bottom, "plover-80.js") {
		t.Errorf("the end is not shown\n%s", bottom)
	}
	p.Press("up")
	if p.View(76, 18) == bottom {
		t.Error("up moves nothing")
	}
	p.Press("home")
	if p.View(76, 18) != top {
		t.Error("home is not where it began")
	}
}

func TestFits(t *testing.T) {
	b := recordtest.Kept(t)
	for _, keys := range [][]string{nil, {"n", "gulls"}, {"v", "down", "down"}, {"e", "down"}} {
		p := open(t, b, recordtest.Warm, screen.JustLook).Press(keys...)
		p.FitsAnd(func(w, h int, view string) string {
			switch {
			case keys == nil && !strings.Contains(view, "Done."):
				return "no result"
			case len(keys) > 0 && keys[0] == "n" && !strings.Contains(view, "gulls"):
				return "the note is not shown"
			case len(keys) > 1 && keys[1] == "down" && !strings.Contains(view, "▌"):
				return "the chosen row is not shown"
			}
			return ""
		})
	}
}

func TestPages(t *testing.T) {
	pagetest.Turn(t, open(t, recordtest.Kept(t), recordtest.Warm, screen.JustLook).Screen.(Model))
}

// What the session taught of its film's time stands with what is for next time, and is said anew when the negatives
// were looked at.
func TestWhatWasLearntIsTold(t *testing.T) {
	b := recordtest.Kept(t)
	seconds := func(s float64) *float64 { return &s }
	b.Taught = &film.Learnt{Test: true, AverageGradient: 0.58, Temperature: 20, After: film.LearntTime{Time: seconds(425), Low: seconds(405), High: seconds(445)}, Expected: seconds(0.3)}
	p := open(t, b, recordtest.Warm, screen.JustLook)
	shows(t, p, "Nothing is learnt\nuntil the densities are read: the interval then gets 30% narrower.")
	b.Taught = &film.Learnt{From: "look", Temperature: 20, After: b.Taught.After, Before: &b.Taught.After, Narrower: seconds(0.12)}
	p.Press("v", "right", "enter")
	said(t, p, "Film's time 7:05: interval 12% narrower.", false)
	shows(t, p, "6:45–7:25: interval 12%")
}
