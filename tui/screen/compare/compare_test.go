package compare

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/pagetest"
	"example.org/wetside/tui/screen/recordtest"
)

func compared(t *testing.T, a, b string) *drive.Desk {
	t.Helper()
	kept := recordtest.Kept(t)
	var both [2]notebook.Session
	for i, id := range []string{a, b} {
		s, err := kept.Read(id)
		if err != nil {
			t.Fatal(err)
		}
		both[i] = s
	}
	return drive.Live(t, New(recordtest.Env(), both[0], both[1]), time.Minute)
}

func row(view, label string) string {
	for r := range strings.SplitSeq(view, "\n") {
		if strings.HasPrefix(r, label) {
			return r
		}
	}
	return ""
}

func TestPictures(t *testing.T) {
	p := compared(t, recordtest.Warm, recordtest.Good)
	p.Golden("compare")
	p.Press("o").Golden("differences")
}

// What differs has a sign, what is alike none; the answer counts them.
func TestWhatDiffersIsMarked(t *testing.T) {
	p := compared(t, recordtest.Warm, recordtest.Good)
	view := p.View(100, 60)
	if r := row(view, "develop "); !strings.Contains(r, "≠") || !strings.Contains(r, "7:30") {
		t.Errorf("%q", r)
	}
	if r := row(view, "film"); r == "" || strings.Contains(r, "≠") {
		t.Errorf("%q", r)
	}
	signs := 0
	for r := range strings.SplitSeq(view, "\n") {
		if strings.Contains(r, "≠") {
			signs++
		}
	}
	if !strings.Contains(view, "They differ in "+string(rune('0'+signs))+" of 21: first reading, develop") {
		t.Errorf("%d signs\n%s", signs, view)
	}
	if view := p.Press("o").View(100, 60); row(view, "film") != "" || row(view, "develop") == "" {
		t.Errorf("only differences:\n%s", view)
	}
}

// Two sessions of one day are told apart by the time, and a vessel is named as one says it.
func TestNamedByDayAndTime(t *testing.T) {
	view := compared(t, recordtest.Warm, recordtest.Good).View(100, 60)
	for _, name := range []string{"2024-05-01 20:00  █", "2024-05-04 20:00  █"} {
		if !strings.Contains(view, name) {
			t.Errorf("no strip %q\n%s", name, view)
		}
	}
	if r := row(view, "vessel"); strings.Count(r, "in trays") != 2 {
		t.Errorf("%q", r)
	}
}

func TestSidesAreSwapped(t *testing.T) {
	p := compared(t, recordtest.Warm, recordtest.Good).Press("s")
	if r := row(p.View(100, 60), "develop "); strings.Index(r, "7:30") > strings.Index(r, "6:0") {
		t.Errorf("%q", r)
	}
}

func TestAlike(t *testing.T) {
	if view := compared(t, recordtest.Good, recordtest.Good).View(100, 60); !strings.Contains(view, "Alike in all 21 things compared.") {
		t.Error(view)
	}
}

// A session whose plan cannot be read has its head alone.
func TestWithoutAPlan(t *testing.T) {
	p := drive.Live(t, New(recordtest.Env(), notebook.Session{Summary: notebook.Summary{Head: notebook.Head{ID: "2024-05-05T0900-knot"}}}, notebook.Session{}), time.Minute)
	p.FitsAnd(func(w, h int, view string) string { return "" })
}

func TestScrollsAndLeaves(t *testing.T) {
	p := compared(t, recordtest.Warm, recordtest.Good)
	p.View(76, 18)
	p.Press("end", "down")
	bottom := p.View(76, 18)
	if !strings.Contains(bottom, "the third sheet") {
		t.Error(bottom)
	}
	if p.Press("up").View(76, 18) == bottom {
		t.Error("up moves nothing")
	}
	p.Press("esc")
	if p.Last() != (screen.Back{}) {
		t.Errorf("%+v", p.Last())
	}
}

func TestFits(t *testing.T) {
	compared(t, recordtest.Warm, recordtest.Early).FitsAnd(func(w, h int, view string) string {
		if !strings.Contains(view, "They differ in") {
			return "no answer"
		}
		return ""
	})
}

func TestPages(t *testing.T) {
	pagetest.Turn(t, compared(t, recordtest.Warm, recordtest.Good).Screen.(Model))
}

// Sheets of a step that is named are not named too.
func TestSheetsAreNotNamedBesideTheirStep(t *testing.T) {
	m := Model{rows: []say.ComparedRow{{Label: "recipe", A: "a", B: "a"}, {Label: "develop", A: "5:02", B: "3:38 to 10:08"},
		{Label: "  sheet 1", A: "5:02", B: "3:38"}, {Label: "  sheet 2", A: "5:02", B: "5:05"},
		{Label: "fix", A: "5:00 to 6:00", B: "5:00 to 6:00"}, {Label: "  sheet 1", A: "5:00", B: "6:00"}, {Label: "  sheet 3", A: "5:00", B: "5:00"}}}
	if got := m.answer(); got != "They differ in 2 of 4: develop, sheet 1." {
		t.Error(got)
	}
}
