//go:build unix

package journal

// What holds a session, and that nothing stays open of what was refused or is over.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/gofrs/flock"
)

func TestHeldErrorNamesTheHolder(t *testing.T) {
	for pid, want := range map[int]string{0: "by another process;", 1: "by process 1;", 7012: "by process 7012;"} {
		if got := (&HeldError{ID: testID, PID: pid}).Error(); !strings.Contains(got, want) || !strings.Contains(got, testID) {
			t.Errorf("%q; expected %q in it", got, want)
		}
	}
}

// A lock file of an older wetside that nobody has holds nothing.
func TestAnOlderLockFileLeftBehind(t *testing.T) {
	s := newStore(t, 2)
	planted(t, s, text(t, 2))
	older := flock.New(filepath.Join(s.Folders[0], testID+".lock"))
	if err := older.Lock(); err != nil {
		t.Fatal(err)
	}
	if _, held := s.HeldBy(testID); !held {
		t.Error("an older wetside has it, and it is said to be free")
	}
	if _, _, err := s.TakeUp(testID); !errors.As(err, new(*HeldError)) {
		t.Errorf("taken up beside an older wetside: %v", err)
	}
	older.Close()
	if _, held := s.HeldBy(testID); held {
		t.Error("nobody has it, and it is said to be held")
	}
}

// A lock that somebody only asks for is waited out; one that is kept is asked for five times.
func TestALockIsAskedForAgain(t *testing.T) {
	for freed, want := range map[int]bool{1: true, 3: true, 5: true, 6: false} { // before which try
		s := newStore(t, 1)
		path := planted(t, s, text(t, 2))
		other, err := os.Open(path)
		if err == nil {
			err = lockFile(other)
		}
		if err != nil {
			t.Fatal(err)
		}
		d := newFaulty(t, func(op string, n int, _ string) error {
			if op == "open" && n == freed {
				other.Close()
			}
			return nil
		})
		s.Disk = d
		l, err := s.Lock(testID)
		if (err == nil) != want || err != nil && !errors.As(err, new(*HeldError)) || d.calls["open"] != min(freed, 5) {
			t.Errorf("freed before try %d: %v after %d tries", freed, err, d.calls["open"])
		}
		l.Release()
		other.Close()
	}
}

// The lock file of an older wetside is looked for in every folder, also behind one that is not
// there or holds none.
func TestAnOlderLockInTheLastFolder(t *testing.T) {
	s := newStore(t, 3)
	for _, folder := range s.Folders[1:] {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	older := flock.New(filepath.Join(s.Folders[2], testID+".lock"))
	if err := older.Lock(); err != nil {
		t.Fatal(err)
	}
	defer older.Close()
	if _, held := s.HeldBy(testID); !held {
		t.Error("it is said to be free")
	}
}

// Once a session goes on elsewhere nothing is kept of where it was: neither the name nor the lock.
func TestNothingIsKeptOfWhereItWas(t *testing.T) {
	s := newStore(t, 2)
	w := s.Reserve(evening, "Plover 80")
	defer w.Close()
	failing := func(op string) Disk {
		done := false
		return newFaulty(t, func(o string, _ int, folder string) error {
			if o == op && folder == s.Folders[0] && !done {
				done = true
				return syscall.EIO
			}
			return nil
		})
	}
	if err := os.Remove(filepath.Join(s.Folders[0], testID+suffix+working)); err != nil {
		t.Fatal(err)
	}
	w.store.Disk = failing("create")
	trouble := (*WriteError)(nil)
	if err := w.Append(record(0)); !errors.As(err, &trouble) || filepath.Dir(w.Path()) != s.Folders[1] {
		t.Fatalf("goes on in %s: %v", w.Path(), err)
	}
	if left, _ := filepath.Glob(filepath.Join(s.Folders[0], "*")); left != nil {
		t.Errorf("left %q", left)
	}
	first := segment{s.Folders[1], filepath.Base(w.Path()), testID, 1}
	if err := os.Truncate(w.Path(), 5); err != nil {
		t.Fatal(err)
	}
	if err := w.Append(record(1)); !errors.As(err, &trouble) || w.Path() == first.path() {
		t.Fatalf("goes on in %s: %v", w.Path(), err)
	}
	f, err := s.lockSegment(first)
	if err != nil {
		t.Fatalf("the one that was given up: %v", err)
	}
	f.Close()
}

// An id that was kept in the second folder is kept there no longer once the first takes the session.
func TestTheReservedNameGoesWithTheFirstRecord(t *testing.T) {
	s := newStore(t, 2)
	s.Disk = newFaulty(t, func(op string, n int, folder string) error {
		if op == "create" && n == 1 {
			return syscall.EIO
		}
		return nil
	})
	w := s.Reserve(evening, "Plover 80")
	defer w.Close()
	reserved := filepath.Join(s.Folders[1], testID+suffix+working)
	if _, err := os.Stat(reserved); err != nil {
		t.Fatal(err)
	}
	if err := w.Append(record(0)); err != nil || filepath.Dir(w.Path()) != s.Folders[0] {
		t.Fatalf("begun in %s: %v", w.Path(), err)
	}
	if _, err := os.Stat(reserved); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%s is still there: %v", reserved, err)
	}
}

// What closing the journal says is told.
func TestCloseTells(t *testing.T) {
	w := write(t, newStore(t, 1), 2)
	w.file = closing{w.file}
	if err := w.Close(); !errors.Is(err, syscall.EDQUOT) {
		t.Errorf("%v", err)
	}
}

// open is how many files this process has open.
func open(t *testing.T) int {
	t.Helper()
	entries, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		t.Skip(err)
	}
	return len(entries)
}

func TestNothingStaysOpen(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(-1)) // which closes what was forgotten
	data := text(t, 5)
	failing := func(op string, nth int) func(s Store) Disk {
		return func(s Store) Disk {
			return newFaulty(t, func(o string, n int, folder string) error {
				if o == op && n == nth && folder == s.Folders[0] {
					return syscall.EIO
				}
				return nil
			})
		}
	}
	closed := func(w *Writer, err error) {
		if w != nil {
			w.Append(record(w.Next()))
			w.Close()
		}
	}
	taken := func(s Store) { w, _, err := s.TakeUp(testID); closed(w, err) }
	begun := func(s Store) { closed(s.Create("2026-11-26T1912", record(0))) }
	for name, c := range map[string]struct {
		disk func(Store) Disk
		does func(Store)
	}{
		"read":                     {nil, func(s Store) { s.Read(testID); s.List(); s.HeldBy(testID); s.Read("gone") }},
		"taken up":                 {nil, taken},
		"taken up, no fsync":       {failing("fsync", 1), taken},
		"taken up, no open":        {failing("open", 1), taken},
		"a record, no write":       {failing("write", 1), taken},
		"begun":                    {nil, begun},
		"begun, no name":           {failing("rename", 1), begun},
		"begun, folder not synced": {failing("syncfolder", 1), begun},
		"begun, no write":          {failing("write", 1), begun},
		"begun, refused":           {nil, func(s Store) { s.Create("2026-11-26T1912", record(1)) }},
		"begun twice":              {nil, func(s Store) { s.Create(testID, record(0)) }},
		"locked":                   {nil, func(s Store) { l, _ := s.Lock(testID); l.Release() }},
		"held": {nil, func(s Store) {
			w, _, _ := s.TakeUp(testID)
			s.TakeUp(testID)
			s.HeldBy(testID)
			s.Lock(testID)
			w.Close()
		}},
		"an older lock file": {nil, func(s Store) {
			if err := os.WriteFile(filepath.Join(s.Folders[0], testID+".lock"), nil, 0o600); err != nil {
				t.Fatal(err)
			}
			s.HeldBy(testID)
		}},
		"taken up, and closed at once": {failing("fsync", 1), func(s Store) {
			if w, _, err := s.TakeUp(testID); err == nil {
				w.Close()
			}
		}},
		"cut under its writer":           {nil, func(s Store) { cut(t, s, func(w *Writer) { w.Append(record(5)) }) }},
		"cut under its writer, and idle": {nil, func(s Store) { cut(t, s, func(w *Writer) { w.Check() }) }},
		"its reserved name taken away": {nil, func(s Store) {
			w := s.Reserve(evening, "Tern")
			os.Remove(filepath.Join(s.Folders[0], w.ID()+suffix+working))
			closed(w, w.Append(record(0)))
		}},
		"another each time quicker": {func(Store) Disk { return &stolen{System{}, func(path string) { os.Remove(path) }, lockTries} },
			func(s Store) { s.ReserveID("2026-11-27T1912") }},
		"no folder of ours": {nil, func(s Store) {
			OpenOurs(filepath.Join(s.Folders[0], "gone"))
			os.Chmod(s.Folders[1], 0o777)
			OpenOurs(s.Folders[1])
		}},
	} {
		s := newStore(t, 2)
		planted(t, s, data)
		if err := os.MkdirAll(s.Folders[1], 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(s.Folders[1], testID+".2"+suffix), text(t, 3), 0o600); err != nil {
			t.Fatal(err)
		}
		if c.disk != nil {
			s.Disk = c.disk(s)
		}
		before := open(t)
		c.does(s)
		if after := open(t); after != before {
			t.Errorf("%s: %d files are open; expected the %d from before", name, after, before)
		}
	}
}

// cut takes the session up, cuts its file and does something with it.
func cut(t *testing.T, s Store, does func(*Writer)) {
	w, _, err := s.TakeUp(testID)
	if err == nil {
		err = os.Truncate(w.Path(), 9)
	}
	if err != nil {
		t.Fatal(err)
	}
	does(w)
	w.Close()
}

// Of two files of a session only the one that is gone on in stays locked.
func TestTakenUpHoldsTheFileItWrites(t *testing.T) {
	s := newStore(t, 1)
	planted(t, s, text(t, 5))
	older := segment{s.Folders[0], testID + ".2" + suffix, testID, 2}
	if err := os.WriteFile(older.path(), text(t, 3), 0o600); err != nil {
		t.Fatal(err)
	}
	w, _, err := s.TakeUp(testID)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	f, err := s.lockSegment(older)
	if err != nil {
		t.Fatalf("the other one: %v", err)
	}
	f.Close()
	if _, err := s.lockSegment(segment{s.Folders[0], testID + suffix, testID, 1}); !errors.Is(err, errTaken) {
		t.Errorf("the one that it writes: %v", err)
	}
}

// stolen is a disk on which another does something to each new file before it is locked.
type stolen struct {
	Disk
	does  func(path string)
	times int
}

func (d *stolen) Create(folder, name string) (File, error) {
	f, err := d.Disk.Create(folder, name)
	if err == nil && d.times > 0 {
		d.times--
		d.does(filepath.Join(folder, name))
	}
	return f, err
}

// An id is reserved by a file that is locked and has its name: where another was quicker, it is
// tried again, and given up where the other keeps it.
func TestReservedUnderOnesHands(t *testing.T) {
	var others []*os.File
	defer func() {
		for _, f := range others {
			f.Close()
		}
	}()
	for name, c := range map[string]struct {
		does  func(path string)
		times int
		free  bool
	}{
		"nobody":                 {nil, 0, true},
		"taken away once":        {func(path string) { os.Remove(path) }, 1, true},
		"taken away three times": {func(path string) { os.Remove(path) }, lockTries - 1, true},
		"taken away each time":   {func(path string) { os.Remove(path) }, lockTries, false},
		"locked": {func(path string) {
			f, err := os.Open(path)
			if err != nil || lockFile(f) != nil {
				t.Error("not locked", err)
			}
			others = append(others, f)
		}, 1, false},
	} {
		s := newStore(t, 1)
		s.Disk = &stolen{System{}, c.does, c.times}
		w, err := s.ReserveID(testID)
		if (err == nil) != c.free || err != nil && !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s: %v; expected it free %v", name, err, c.free)
		}
		if err == nil {
			if _, err := os.Stat(filepath.Join(s.Folders[0], testID+suffix+working)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			w.Close()
		}
	}
}

// Many processes make one folder at the same moment, and all have it.
func TestFolderMadeByMany(t *testing.T) {
	for range 30 {
		folder := filepath.Join(t.TempDir(), "a", "b", "c", "d")
		var all sync.WaitGroup
		start := make(chan bool)
		for range 8 {
			all.Go(func() {
				<-start
				if err := makeFolder(folder); err != nil {
					t.Error(err)
				}
			})
		}
		close(start)
		all.Wait()
	}
}
