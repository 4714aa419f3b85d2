package journal

// Files that are kept as a journal is: what is asked of the disk, in which order, and what stands
// there when a call fails.

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// orderly is the computer's disk, which tells what was asked of it and fails at one of these.
func orderly(t *testing.T, failing string) (d Disk, order *[]string) {
	order = new([]string)
	return newFaulty(t, func(op string, n int, _ string) error {
		*order = append(*order, op)
		if op == failing && n == 1 {
			return syscall.EIO
		}
		return nil
	}), order
}

func TestAppendLine(t *testing.T) {
	for name, c := range map[string]struct {
		before, after, order string
	}{
		"new":                        {"none", "tern\n", "create write fsync syncfolder"},
		"empty":                      {"", "tern\n", "open write fsync"},
		"behind a line":              {"plover\n", "plover\ntern\n", "open write fsync"},
		"behind one that was cut":    {"plo", "plo\ntern\n", "open write fsync"},
		"behind its first byte only": {"p", "p\ntern\n", "open write fsync"},
	} {
		for _, failing := range append(strings.Fields(c.order), "") {
			folder := t.TempDir()
			path := filepath.Join(folder, "list")
			if c.before != "none" {
				if err := os.WriteFile(path, []byte(c.before), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			d, order := orderly(t, failing)
			err := AppendLine(d, folder, "list", []byte("tern"))
			if failing != "" {
				if !errors.Is(err, syscall.EIO) || (*order)[len(*order)-1] != failing {
					t.Errorf("%s, %s fails: %v after %q", name, failing, err, *order)
				}
				continue
			}
			if got, _ := os.ReadFile(path); err != nil || string(got) != c.after || strings.Join(*order, " ") != c.order {
				t.Errorf("%s: %q by %q, %v; expected %q by %q", name, got, *order, err, c.after, c.order)
			}
		}
	}
	d, order := orderly(t, "")
	folder := t.TempDir()
	if err := os.Mkdir(filepath.Join(folder, "list"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := AppendLine(d, folder, "list", []byte("tern")); err == nil || len(*order) != 0 {
		t.Errorf("what cannot be read was written behind, %q: %v", *order, err)
	}
}

// Until the new file has the name, the old one stands under it, whole.
func TestReplaceFile(t *testing.T) {
	const usual, afterACrash = "create write fsync rename syncfolder", "create remove create write fsync rename syncfolder"
	for _, left := range []bool{false, true} {
		want := usual
		if left {
			want = afterACrash
		}
		for _, failing := range append(strings.Fields(usual), "remove", "") {
			if failing == "remove" && !left {
				continue
			}
			folder := t.TempDir()
			path := filepath.Join(folder, "list")
			if err := os.WriteFile(path, []byte("plover\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			if left {
				if err := os.WriteFile(path+".new", []byte("half of a longer li"), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			d, order := orderly(t, failing)
			err := ReplaceFile(d, folder, "list", []byte("tern\n"))
			got, _ := os.ReadFile(path)
			if failing == "" {
				if err != nil || string(got) != "tern\n" || strings.Join(*order, " ") != want {
					t.Errorf("%q by %q, %v; expected the new text by %q", got, *order, err, want)
				}
				continue
			}
			stands := "plover\n"
			if failing == "syncfolder" { // the name is given by then; whether it lasts is not known
				stands = "tern\n"
			}
			if !errors.Is(err, syscall.EIO) || string(got) != stands || (*order)[len(*order)-1] != failing {
				t.Errorf("%s fails, left %v: %q, %v after %q; expected %q", failing, left, got, err, *order, stands)
			}
		}
	}
}

func TestFileName(t *testing.T) {
	for name, want := range map[string]string{
		"az-AZ-09": "az-az-09", "a`a{a@a[a/a:a.a a": "a-a-a-a-a-a-a-a-a", "--Tern 7--": "tern-7", "\u0160na": "na",
		"": "laptop", "- -": "laptop", strings.Repeat("x", 40): strings.Repeat("x", 40), strings.Repeat("x", 41): strings.Repeat("x", 40),
	} {
		if got := FileName(name); got != want {
			t.Errorf("%q is kept as %q; expected %q", name, got, want)
		}
	}
}

func TestTheStoresDisk(t *testing.T) {
	d := newFaulty(t, never)
	if (Store{Disk: d}).disk() != Disk(d) || (Store{}).disk() != Disk(System{}) {
		t.Errorf("not the store's disk, or not the computer's where it has none")
	}
}

// closing is a file whose closing fails, as a disk far away does with what it only then writes.
type closing struct{ File }

func (f closing) Close() error { f.File.Close(); return syscall.EDQUOT }

func TestPutAllTellsWhatClosingSays(t *testing.T) {
	for _, broken := range []bool{false, true} {
		f, err := System{}.Create(t.TempDir(), "list")
		if err != nil {
			t.Fatal(err)
		}
		want := error(syscall.EDQUOT)
		if broken { // what failed first is told
			f.Close()
			want = os.ErrClosed
		}
		if err := putAll(closing{f}, []byte("tern")); !errors.Is(err, want) {
			t.Errorf("%v; expected %v", err, want)
		}
	}
}
