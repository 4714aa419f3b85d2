package notebook

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/recordtest"
)

func play(t *testing.T, b Backend) *drive.Desk {
	t.Helper()
	return drive.Live(t, New(b, recordtest.Env()), time.Minute)
}

func shows(t *testing.T, p *drive.Desk, want ...string) {
	t.Helper()
	all := p.Screen.About().Right + "\n" + p.View(76, 18)
	for _, w := range want {
		if !strings.Contains(all, w) {
			t.Errorf("%q is not in\n%s", w, all)
		}
	}
}

func hides(t *testing.T, p *drive.Desk, not string) {
	t.Helper()
	if view := p.View(76, 18); strings.Contains(view, not) {
		t.Errorf("%q is in\n%s", not, view)
	}
}

func TestPictures(t *testing.T) {
	b := recordtest.Kept(t)
	if err := b.Note(recordtest.Warm, notebook.Note{Written: recordtest.Now, Appearances: []notebook.Appearance{notebook.Dense}}); err != nil {
		t.Fatal(err)
	}
	play(t, b).Golden("notebook")
	play(t, b).Press("r", "down").Golden("rehearsals")
	play(t, b).Press("/", "stuck").Golden("search")
	play(t, recordtest.Empty(t)).Golden("empty")
}

// Beside the chosen session no recipe's name is cut.
func TestNamesAreWholeInAWideWindow(t *testing.T) {
	view := play(t, recordtest.Kept(t)).View(116, 34)
	for r := range strings.SplitSeq(view, "\n") {
		if table, _, _ := strings.Cut(r, "│"); strings.Contains(table, "…") {
			t.Errorf("%q", r)
		}
	}
	if !strings.Contains(view, "Plover 80, six sheets shuffled in trays  ") {
		t.Error(view)
	}
}

// Rehearsals are out of sight until they are asked for, and how many is said.
func TestRehearsalsAreHiddenBehindAKey(t *testing.T) {
	p := play(t, recordtest.Kept(t))
	shows(t, p, "3 sessions, 1 rehearsal hidden", "2024-05-04", "2024-05-02")
	hides(t, p, "2024-05-03")
	p.Press("r")
	shows(t, p, "4 sessions, rehearsals too", "2024-05-03", "rehearsal")
	p.Press("r")
	hides(t, p, "2024-05-03")
}

// The table has what must be read for it, of every row, and the chosen one's details.
func TestResultsAreReadForTheTable(t *testing.T) {
	p := play(t, recordtest.Kept(t))
	hides(t, p, "…\n")
	m := p.Screen.(Model)
	for _, s := range m.shown() {
		if m.known[s.ID].wet == "" {
			t.Errorf("%s: nothing is known of it", s.ID)
		}
	}
	if m.open == nil || m.open.ID != recordtest.Good || m.reading {
		t.Fatalf("open %+v, reading %v", m.open, m.reading)
	}
	p.Press("down")
	if m = p.Screen.(Model); m.open.ID != recordtest.Early {
		t.Errorf("%s is open; expected the one under the cursor", m.open.ID)
	}
	shows(t, p, "Ended early, after 9:00 in")
}

// Two sessions are never read at once, and the chosen one comes before its neighbours.
func TestTheChosenOneIsReadFirst(t *testing.T) {
	b := recordtest.Kept(t)
	m := New(b, recordtest.Env())
	s, _, cmd := m.Update(m.Start()())
	s, _, none := s.Update(drive.Key("down"))
	if cmd == nil || none != nil {
		t.Fatal("a second session is read before the first has come")
	}
	s, _, cmd = s.Update(cmd())
	if got := cmd().(readMsg); got.id != recordtest.Early {
		t.Errorf("%s is read next; expected the chosen one", got.id)
	}
	if _, ok := s.(Model).known[recordtest.Good]; !ok {
		t.Error("what was read is not known")
	}
}

func TestSearchFollowsEachKey(t *testing.T) {
	p := play(t, recordtest.Kept(t)).Press("/", "stuck")
	if !p.Screen.About().Typing {
		t.Error("letters would be keys while the search is typed")
	}
	shows(t, p, "1 session", "2024-05-01")
	hides(t, p, "2024-05-04")
	p.Press("enter")
	if p.Screen.About().Typing {
		t.Error("still typing")
	}
	shows(t, p, "Search  stuck")
	p.Press("enter")
	if got, ok := p.Last().(screen.OpenSession); !ok || got.ID != recordtest.Warm {
		t.Errorf("enter asks for %+v", p.Last())
	}
	p.Press("esc")
	shows(t, p, "3 sessions")
	p.Press("/", "zz")
	shows(t, p, "No session has all these words in it")
	p.Press("esc")
	shows(t, p, "3 sessions")
	p.Press("/", "2024-05-03")
	shows(t, p, "1 rehearsal is hidden: r shows")
	p.Press("esc", "esc")
	if _, ok := p.Last().(screen.Back); !ok {
		t.Errorf("esc asks for %+v", p.Last())
	}
}

// Two are chosen one after the other; the same one twice is none.
func TestTwoAreChosenToBeCompared(t *testing.T) {
	p := play(t, recordtest.Kept(t)).Press("c", "c")
	if got, ok := p.Last().(screen.Message); !ok || !strings.Contains(got.Text, "No session is chosen") {
		t.Errorf("%+v", p.Last())
	}
	p.Press("c")
	shows(t, p, "first: Plover")
	p.Press("down", "down", "c")
	got, ok := p.Last().(screen.OpenCompare)
	if !ok || got.A.ID != recordtest.Good || got.B.ID != recordtest.Warm || got.B.Plan == nil {
		t.Fatalf("%+v", p.Last())
	}
	hides(t, p, "first:")
}

// What is archived is out of sight, is shown by a key and restored by another.
func TestArchivedIsRestored(t *testing.T) {
	b := recordtest.Kept(t)
	if err := b.Archive(recordtest.Warm); err != nil {
		t.Fatal(err)
	}
	p := play(t, b)
	hides(t, p, "2024-05-01")
	p.Press("a")
	shows(t, p, "1 session", "2024-05-01", "wet 24:51")
	p.Press("enter")
	if got, ok := p.Last().(screen.Message); !ok || !strings.Contains(got.Text, "u restores it") {
		t.Errorf("enter asks for %+v", p.Last())
	}
	p.Press("u")
	shows(t, p, "Nothing is archived.")
	if got, ok := p.Last().(screen.Message); !ok || got.Fault || !strings.Contains(got.Text, recordtest.Warm) {
		t.Errorf("%+v", p.Last())
	}
	p.Press("esc")
	shows(t, p, "3 sessions", "2024-05-01")
	if _, left := p.Last().(screen.Back); left {
		t.Error("esc left the notebook with the archive")
	}
}

// A damaged session spoils nothing: it is listed as damaged, and the others with it.
func TestDamagedSessionsAreListed(t *testing.T) {
	b := recordtest.Kept(t)
	recordtest.Damage(t, b, recordtest.Good)
	p := play(t, b)
	shows(t, p, "4 sessions", "2024-05-05", "damaged", "2024-05-02")
	p.Press("down")
	shows(t, p, "Damaged: shown as far as its record can be believed.")
}

// What was noted on a session is in the list that is come back to.
func TestTheListKnowsWhatWasNoted(t *testing.T) {
	b := recordtest.Kept(t)
	p := play(t, b)
	if err := b.Note(recordtest.Good, notebook.Note{Written: recordtest.Now, Appearances: []notebook.Appearance{notebook.Thin}}); err != nil {
		t.Fatal(err)
	}
	s, cmd := p.Screen.(Model).Renew()
	p.Screen = s
	p.Send(cmd())
	shows(t, p, "thin", "Negatives thin")
}

func TestEmptyNotebookSaysWhatBelongsHere(t *testing.T) {
	p := play(t, recordtest.Empty(t))
	shows(t, p, "No session is kept yet.")
	p.Press("enter", "c", "u", "down")
	if p.Last() != nil {
		t.Errorf("%+v is asked for", p.Last())
	}
	unread := New(recordtest.Empty(t), recordtest.Env())
	if !strings.Contains(unread.View(76, 18), "Reading the notebook") {
		t.Error("a notebook that is not read yet says that it is empty")
	}
}

func TestFits(t *testing.T) {
	p := play(t, recordtest.Kept(t)).Press("r", "down", "down")
	chosen := p.Screen.(Model).chosen().Day()
	p.FitsAnd(func(w, h int, view string) string {
		for row := range strings.SplitSeq(view, "\n") {
			if strings.HasPrefix(row, "▌") && strings.Contains(row, chosen) {
				return ""
			}
		}
		return "the chosen row is not shown"
	})
	play(t, recordtest.Empty(t)).FitsAnd(func(w, h int, view string) string { return "" })
	p.Press("/", "plover").FitsAnd(func(w, h int, view string) string {
		if !strings.Contains(view, "plover") {
			return "the search is not shown"
		}
		return ""
	})
}

// Of a hundred sessions those around the cursor alone are read.
func TestOnlyRowsNearTheCursorAreRead(t *testing.T) {
	m := New(nil, recordtest.Env())
	for i := range 300 {
		m.kept = append(m.kept, notebook.Summary{Head: notebook.Head{ID: sequence.FormatElapsed(sequence.Elapsed(i) * 1e9), Status: "done"}})
	}
	m.at, m.open = 150, &notebook.Session{Summary: m.kept[150]}
	for range 300 {
		id := m.nearestUnknown()
		if id == "" {
			break
		}
		m.known[id] = facts{}
	}
	if n := len(m.known); n != 2*around+1 {
		t.Errorf("%d of 300 are read", n)
	}
}
