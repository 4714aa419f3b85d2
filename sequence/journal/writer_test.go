package journal

// Writing on through every failure: nothing acknowledged is lost, nothing
// panics, and the trouble is told.

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// session appends n records and returns how many of them are acknowledged for
// certain, and every trouble told.
func session(t testing.TB, s Store, n int) (acked int, told []*WriteError) {
	t.Helper()
	w, err := s.Create(testID, record(0))
	for i := 0; i < n; i++ {
		if i > 0 {
			err = w.Append(record(i))
		}
		trouble := (*WriteError)(nil)
		if err != nil && !errors.As(err, &trouble) {
			t.Fatalf("record %d: %v", i, err)
		}
		if trouble != nil {
			told = append(told, trouble)
		}
		if trouble == nil || trouble.SavedElsewhere() {
			acked = i + 1
		}
	}
	if w != nil {
		w.Close()
	}
	return acked, told
}

// Each of the operations fails once, at its n-th call.
func TestNthCallFails(t *testing.T) {
	const records = 6
	for _, op := range []string{"create", "write", "fsync", "rename", "syncfolder", "open"} {
		for n := 1; ; n++ {
			s := newStore(t, 2)
			hit := false
			s.Disk = newFaulty(t, func(o string, k int, _ string) error {
				if o == op && k == n {
					hit = true
					return syscall.EIO
				}
				return nil
			})
			acked, told := session(t, s, records)
			if !hit {
				break
			}
			name := fmt.Sprintf("%s %d", op, n)
			if op == "create" && n == 1 { // the id was not kept from others; the session is
				readBack(t, s, records)
				continue
			}
			if acked != records || len(told) != 1 || !told[0].SavedElsewhere() || !errors.Is(told[0], syscall.EIO) {
				t.Errorf("%s: %d acknowledged, told %v", name, acked, told)
			}
			for _, want := range []string{"journal: ", syscall.EIO.Error(), "now kept in " + told[0].Path + ": "} {
				if !strings.Contains(told[0].Error(), want) {
					t.Errorf("%s: told %q; expected %q in it", name, told[0], want)
				}
			}
			readBack(t, s, records)
			if left, _ := filepath.Glob(filepath.Join(s.Folders[0], "*.new")); left != nil {
				t.Errorf("%s: left %q", name, left)
			}
		}
	}
}

func TestShortWriteThatSaysNothing(t *testing.T) {
	for _, short := range []error{errSilent, errOneByteSilent} {
		s := newStore(t, 1)
		s.Disk = newFaulty(t, func(op string, n int, _ string) error {
			if op == "write" && n == 4 {
				return short
			}
			return nil
		})
		if acked, told := session(t, s, 6); acked != 6 || len(told) != 1 {
			t.Errorf("%v: %d acknowledged, told %v", short, acked, told)
		}
		readBack(t, s, 6)
	}
}

// A process killed while it filled a new segment left its working file.
func TestWorkingFileLeftBehind(t *testing.T) {
	s := newStore(t, 1)
	path := planted(t, s, nil)
	if err := os.Rename(path, path+".new"); err != nil {
		t.Fatal(err)
	}
	if acked, told := session(t, s, 3); acked != 3 || told != nil {
		t.Errorf("%d acknowledged, told %v", acked, told)
	}
	readBack(t, s, 3)
}

// From its n-th call on, an operation always fails in the first folder.
func TestFolderFailsForGood(t *testing.T) {
	const records = 6
	for _, op := range []string{"create", "write", "fsync", "rename", "syncfolder", "open"} {
		for n := 1; n <= 8; n++ {
			s := newStore(t, 3)
			s.Disk = newFaulty(t, func(o string, k int, folder string) error {
				if o == op && k >= n && folder == s.Folders[0] {
					return syscall.ENOSPC
				}
				return nil
			})
			acked, told := session(t, s, records)
			if acked != records || len(told) > 1 {
				t.Errorf("%s from %d: %d acknowledged, told %v", op, n, acked, told)
			}
			if len(told) == 1 && !strings.HasPrefix(told[0].Path, s.Folders[1]) {
				t.Errorf("%s from %d: kept in %q; expected the second folder", op, n, told[0].Path)
			}
			readBack(t, s, records)
		}
	}
}

func readBack(t *testing.T, s Store, n int) {
	t.Helper()
	s.Disk = nil
	got, err := s.Read(testID)
	if err != nil || len(got.Records) != n {
		t.Fatalf("read %d records: %v; expected %d", len(got.Records), err, n)
	}
	samePrefix(t, got.Records)
	if e := s.List()[0]; e.Path != got.Path || e.Records != n || e.Status != got.Status {
		t.Errorf("listed %s with %d records, %s; read %s", e.Path, e.Records, e.Status, got.Path)
	}
}

// While nothing takes the session it is kept in memory; then all of it is
// written at once.
func TestNothingWritesForAWhile(t *testing.T) {
	s := newStore(t, 2)
	broken := false
	s.Disk = newFaulty(t, func(string, int, string) error {
		if broken {
			return syscall.EROFS
		}
		return nil
	})
	w := write(t, s, 3)
	broken = true
	for i := 3; i < 6; i++ {
		trouble := (*WriteError)(nil)
		if err := w.Append(record(i)); !errors.As(err, &trouble) || trouble.SavedElsewhere() || !errors.Is(err, syscall.EROFS) {
			t.Fatalf("record %d: %v", i, err)
		} else if !strings.Contains(err.Error(), "memory alone") {
			t.Errorf("record %d: told %q", i, err)
		}
	}
	broken = false
	for i := 6; i < 8; i++ {
		if err := w.Append(record(i)); err != nil {
			t.Fatal(err)
		}
	}
	readBack(t, s, 8)
}

func TestNoFolderAtAll(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s := Store{Folders: []string{filepath.Join(file, "sessions")}}
	acked, told := session(t, s, 4)
	if acked != 0 || len(told) != 4 {
		t.Errorf("%d acknowledged, told %v", acked, told)
	}
}

func TestAppendRefuses(t *testing.T) {
	w := write(t, newStore(t, 1), 3)
	for _, seq := range []int{0, 2, 4} {
		r := record(3)
		r.Seq = seq
		if err := w.Append(r); err == nil || errors.As(err, new(*WriteError)) {
			t.Errorf("seq %d: %v", seq, err)
		}
	}
	if err := w.Append(record(3)); err != nil || w.Next() != 4 {
		t.Errorf("next is %d: %v", w.Next(), err)
	}
}

// What JSON cannot say does not stop the journal.
func TestUnspeakableRecords(t *testing.T) {
	s := newStore(t, 1)
	w := write(t, s, 1)
	nan := chem.Celsius(math.NaN())
	bare := record(0)
	bare.Event.Temperature = &nan
	if w, err := s.Create(testID+"-nan", bare); err == nil || errors.As(err, new(*WriteError)) || w != nil {
		t.Errorf("begun by what cannot be said: %v", err)
	}
	for i, e := range []sequence.Event{
		{At: time.Second, Kind: sequence.ReadingTaken, Temperature: &nan},
		{At: time.Second, Kind: sequence.Noted, Text: "half a \xe2\x80 letter", Source: "half \xe2"},
		{At: time.Second, Kind: sequence.ReadingTaken, Temperature: &nan},
	} {
		if err := w.Append(Record{Seq: i + 1, Clock: mark(i), Event: e}); err != nil {
			t.Fatal(err)
		}
	}
	got, err := s.Read(testID)
	if err != nil || len(got.Records) != 4 {
		t.Fatalf("read %d: %v", len(got.Records), err)
	}
	if e := got.Records[2].Event; e.Text != "half a \uFFFD letter" || e.Source != "half \uFFFD" {
		t.Errorf("note is %q by %q", e.Text, e.Source)
	}
	for _, i := range []int{1, 3} {
		if e := got.Records[i].Event; e.Kind != sequence.FollowerFailed || e.At != time.Second || !strings.Contains(e.Text, "NaN") {
			t.Errorf("stands in for the reading: %+v", e)
		}
	}
}

// Of several records those behind a refused one are not written; behind trouble they are.
func TestAppendSeveral(t *testing.T) {
	s := newStore(t, 2)
	w := write(t, s, 3)
	if err := w.Append(record(5), record(3)); err == nil || errors.As(err, new(*WriteError)) || w.Next() != 3 {
		t.Errorf("next is %d behind a record that was refused: %v", w.Next(), err)
	}
	fail := true
	w.giveUp()
	w.store.Disk = newFaulty(t, func(op string, _ int, folder string) error {
		if fail && op == "create" && folder == s.Folders[0] {
			fail = false
			return syscall.EIO
		}
		return nil
	})
	trouble := (*WriteError)(nil)
	if err := w.Append(record(3), record(4)); !errors.As(err, &trouble) || !trouble.SavedElsewhere() || w.Next() != 5 {
		t.Errorf("next is %d behind trouble: %v", w.Next(), err)
	}
	readBack(t, s, 5)
}

func TestCreateRefuses(t *testing.T) {
	s := newStore(t, 1)
	bare := record(0)
	bare.Plan = nil
	for name, c := range map[string]struct {
		id string
		r  Record
	}{"no plan": {testID, bare}, "not the first": {testID, record(1)}, "a path": {"../x", record(0)}, "no id": {"", record(0)}} {
		if w, err := s.Create(c.id, c.r); err == nil || w != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	write(t, s, 1).Close()
	if _, err := s.Create(testID, record(0)); !errors.Is(err, os.ErrExist) {
		t.Errorf("taken: %v", err)
	}
}
