package journal

// What the other tests share: an invented session, and stores in temporary
// folders.

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

const testID = "2026-11-25T1912-plover-80"

var evening = time.Date(2026, 11, 25, 19, 12, 0, 0, time.FixedZone("", 3600))

func plan() *sequence.Plan {
	return &sequence.Plan{
		Recipe: sequence.Recipe{Title: "Plover 80, six sheets in open trays",
			Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan}},
		Vessel: sequence.Tray, Sheets: 6,
		Cues: []sequence.Cue{{At: 2 * time.Minute, Kind: sequence.CueTransfer, Step: "presoak", Sheet: 1}},
	}
}

func mark(i int) clock.Mark {
	at := time.Duration(i) * 1234567891 // odd nanoseconds
	return clock.Mark{Boot: "8c2f5f0e-0000-4000-8000-000000000001", Boottime: time.Hour + at, Monotonic: time.Hour + at,
		Raw: time.Hour + at - 3, Wall: evening.Add(at.Truncate(time.Millisecond)), Elapsed: at - 10*time.Second}
}

func first() Record {
	return Record{Clock: mark(0), Rehearsal: 10, Plan: plan(),
		Event: sequence.Event{At: -10 * time.Second, Kind: sequence.SessionBegan, Version: "1.0"}}
}

// record is the i-th of a session, with something of every kind in turn.
func record(i int) Record {
	if i == 0 {
		return first()
	}
	warm := chem.Celsius(22.5)
	e := sequence.Event{At: mark(i).Elapsed}
	switch i % 5 {
	case 0:
		e.Kind, e.Temperature, e.Source = sequence.ReadingTaken, &warm, "hand"
	case 1:
		e.Kind, e.Step = sequence.StepBegan, "develop"
	case 2:
		e.Kind, e.Cue, e.Step, e.Sheet = sequence.CueGiven, sequence.CueShuffle, "develop", i%6+1
	case 3:
		e.Kind, e.Text = sequence.Noted, "corner of \"sheet 3\" folded \u2014 tern\n"
	case 4:
		e.Kind = sequence.Heartbeat
	}
	return Record{Seq: i, Clock: mark(i), Event: e}
}

func newStore(t testing.TB, folders int) Store {
	t.Helper()
	dir := t.TempDir()
	var s Store
	for i := range folders {
		s.Folders = append(s.Folders, filepath.Join(dir, fmt.Sprintf("folder-%d", i+1), "sessions"))
	}
	return s
}

// write makes a session of n records and leaves it as a crash would: open.
func write(t testing.TB, s Store, n int) *Writer {
	t.Helper()
	w, err := s.Create(testID, record(0))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	for i := 1; i < n; i++ {
		if err := w.Append(record(i)); err != nil {
			t.Fatal(err)
		}
	}
	return w
}

// text is a journal of n records as it stands on disk.
func text(t testing.TB, n int) []byte {
	t.Helper()
	var data []byte
	var chain uint32
	for i := range n {
		r := record(i)
		r.V = Version
		if i == 0 {
			h, err := PlanHash(r.Plan)
			if err != nil {
				t.Fatal(err)
			}
			r.Event.ID, r.Hash = testID, h
		}
		var err error
		if data, chain, err = encode(data, r, chain); err != nil {
			t.Fatal(err)
		}
	}
	return data
}
