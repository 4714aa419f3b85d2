//go:build unix

package journal

// A journal that somebody moves, deletes, replaces, cuts or links while it is written: told
// with the next record or check, and nothing is lost.

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// tampering is what can be done to a file under its writer.
var tampering = map[string]func(path string) error{
	"moved":    func(path string) error { return os.Rename(path, path+".away") },
	"deleted":  os.Remove,
	"replaced": func(path string) error { return replaceWith(path, "a copy of long ago\n") },
	"put back": func(path string) error {
		old, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return replaceWith(path, string(old))
	},
	"cut": func(path string) error {
		info, err := os.Stat(path)
		if err != nil {
			return err
		}
		return os.Truncate(path, max(0, info.Size()-1))
	},
	"emptied": func(path string) error { return os.Truncate(path, 0) },
	"added to": func(path string) error {
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
		if err != nil {
			return err
		}
		f.WriteString("\n")
		return f.Close()
	},
	"linked": func(path string) error {
		if err := os.Rename(path, path+".away"); err != nil {
			return err
		}
		return os.Symlink(path+".away", path)
	},
	"folder moved": func(path string) error { return os.Rename(filepath.Dir(path), filepath.Dir(path)+"-away") },
}

func TestTamperingIsToldAndNothingLost(t *testing.T) {
	for name, tamper := range tampering {
		for _, idle := range []bool{false, true} {
			s := newStore(t, 2)
			w := write(t, s, 4)
			if err := w.Check(); err != nil {
				t.Fatalf("%s: before: %v", name, err)
			}
			if err := tamper(w.Path()); err != nil {
				t.Fatal(err)
			}
			n, err := 4, error(nil)
			if idle {
				err = w.Check()
			} else {
				n, err = 5, w.Append(record(4))
			}
			trouble := (*WriteError)(nil)
			if !errors.As(err, &trouble) || !trouble.SavedElsewhere() || filepath.Dir(trouble.Path) != s.Folders[0] ||
				!strings.Contains(err.Error(), filepath.Base(testID)) {
				t.Errorf("%s, idle %v: told %v; expected where it is kept now, in its own folder", name, idle, err)
			}
			if err := w.Check(); err != nil {
				t.Errorf("%s: told twice: %v", name, err)
			}
			if _, _, err := s.TakeUp(testID); !errors.As(err, new(*HeldError)) {
				t.Errorf("%s: taken up beside its writer: %v", name, err)
			}
			if err := w.Append(record(n)); err != nil {
				t.Errorf("%s: after: %v", name, err)
			}
			w.Close()
			readBack(t, s, n+1)
		}
	}
}

// The lock is on the journal: whatever else is swept out of the folder, it stays.
func TestLockSurvivesACleanFolder(t *testing.T) {
	s := newStore(t, 1)
	w := write(t, s, 2)
	entries, _ := os.ReadDir(s.Folders[0])
	for _, e := range entries {
		if e.Name() != filepath.Base(w.Path()) {
			os.Remove(filepath.Join(s.Folders[0], e.Name()))
		}
	}
	if _, _, err := s.TakeUp(testID); !errors.As(err, new(*HeldError)) {
		t.Errorf("taken up beside its writer: %v", err)
	}
	if _, held := s.HeldBy(testID); !held {
		t.Error("nobody is said to hold it")
	}
	w.Close()
	if _, held := s.HeldBy(testID); held {
		t.Error("held after its end")
	}
}

// Two sessions that begin in one instant have two ids, before either has a record.
func TestTwoBeginInOneInstant(t *testing.T) {
	s := newStore(t, 2)
	a, b := s.Reserve(evening, "Plover 80"), s.Reserve(evening, "Plover 80")
	c := (Store{Folders: s.Folders[1:]}).Reserve(evening, "Plover 80") // whose first folder is another's second
	if a.ID() != testID || b.ID() != testID+"-2" {
		t.Errorf("ids are %s and %s", a.ID(), b.ID())
	}
	c.Close()
	for _, w := range []*Writer{b, a} {
		if err := w.Append(record(0)); err != nil {
			t.Fatal(err)
		}
		w.Close()
		if got, err := s.Read(w.ID()); err != nil || got.First().Event.ID != w.ID() {
			t.Errorf("%s: %v", w.ID(), err)
		}
	}
	d := s.Reserve(evening, "Plover 80")
	d.Close()
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(s.Folders[0]), "*", "*.new")); d.ID() != testID+"-3" || left != nil {
		t.Errorf("reserved %s, left %q", d.ID(), left)
	}
}
