package journal

// Which files and folders a session has, what a list says of those that cannot be read, and what
// the computer's own disk answers.

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"

	"example.org/wetside/sequence"
)

func TestIDsAndFoldersOf(t *testing.T) {
	s := newStore(t, 3)
	for i, names := range [][]string{{"b.jsonl", "a.jsonl", "a.2.jsonl"}, {"c.jsonl"}, {"a.3.jsonl", "d.jsonl.new", "e.torn"}} {
		for _, name := range names {
			if err := os.MkdirAll(s.Folders[i], 0o700); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(s.Folders[i], name), []byte("junk\n"), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	if got := s.IDs(); !slices.Equal(got, []string{"c", "b", "a"}) {
		t.Errorf("ids are %q", got)
	}
	for id, want := range map[string][]string{"a": {s.Folders[0], s.Folders[2]}, "b": {s.Folders[0]}, "c": {s.Folders[1]}, "d": nil} {
		if got := s.FoldersOf(id); !slices.Equal(got, want) {
			t.Errorf("%s is in %q; expected %q", id, got, want)
		}
	}
}

// Of two files that are as long, the one that can be believed is.
func TestTheGoodOneOfTwoIsBelieved(t *testing.T) {
	data := text(t, 5)
	bent := bytes.Clone(data)
	bent[len(text(t, 2))+40] ^= 1
	for _, c := range [][2][]byte{{data, bent}, {bent, data}, {data, data}, {bent, bent}} {
		s := newStore(t, 2)
		first := planted(t, s, c[0])
		if err := os.MkdirAll(s.Folders[1], 0o700); err != nil {
			t.Fatal(err)
		}
		second := filepath.Join(s.Folders[1], testID+".2"+suffix)
		if err := os.WriteFile(second, c[1], 0o600); err != nil {
			t.Fatal(err)
		}
		want := first
		if bytes.Equal(c[0], bent) && bytes.Equal(c[1], data) {
			want = second
		}
		got, _ := s.Read(testID)
		if list := s.List(); got.Path != want || len(list) != 1 || list[0].Path != want {
			t.Errorf("believed %s, listed %+v; expected %s", got.Path, list, want)
		}
	}
}

// A list blames the line that Read does, where the chain holds and the record means nothing.
func TestListedNonsense(t *testing.T) {
	kept := text(t, 3)
	for name, c := range map[string]struct {
		before []byte
		body   string
		line   int
	}{
		"its first": {nil, `{"v":1,"seq":0,"event":"note"`, 1},
		"its last":  {kept, `{"v":1,"seq":9,"event":"note"`, 4},
	} {
		chain := uint32(0)
		if c.before != nil {
			chain = mustParse(t, c.before).chain
		}
		data := append(bytes.Clone(c.before), lineOf(c.body, chain)...)
		e := listedFrom(segment{name: "x.jsonl", id: "x", n: 1}, data)
		_, err := parse("x.jsonl", data)
		var damaged *DamagedError
		if !errors.As(e.Err, &damaged) || damaged.Line != c.line || e.Status != Damaged || err.Error() != e.Err.Error() {
			t.Errorf("%s: listed %s, %v; read %v", name, e.Status, e.Err, err)
		}
	}
	gone := readListed(segment{folder: t.TempDir(), name: "x.jsonl", id: "x", n: 1})
	if gone.ID != "x" || gone.Status != Damaged || !errors.Is(gone.Err, fs.ErrNotExist) || filepath.Base(gone.Path) != "x.jsonl" {
		t.Errorf("one that has gone meanwhile is %+v", gone)
	}
	if _, err := ReadPart(gone.Path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a part of it: %v", err)
	}
}

// A part is wrong at the line that Read blames, and newer where any record of it is.
func TestReadPartOfNonsenseAndNewer(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.jsonl")
	kept := text(t, 3)
	for name, c := range map[string]struct {
		body  string
		line  int
		newer bool
	}{
		"nonsense": {`{"v":1,"seq":9,"event":"note"`, 4, false},
		"newer":    {`{"v":2,"seq":9,"event":"note"`, 0, true},
		"as old":   {`{"v":1,"seq":3,"event":"note"`, 0, false},
	} {
		if err := os.WriteFile(path, append(bytes.Clone(kept), lineOf(c.body, mustParse(t, kept).chain)...), 0o600); err != nil {
			t.Fatal(err)
		}
		got, err := ReadPart(path, sequence.Noted)
		whole, wholeErr := Read(path)
		var damaged *DamagedError
		if errors.As(err, &damaged) != (c.line > 0) || c.line > 0 && (damaged.Line != c.line || got.Status != Damaged || err.Error() != wholeErr.Error()) {
			t.Errorf("%s: %v; expected line %d", name, err, c.line)
		}
		if got.Newer != c.newer || whole.Newer != c.newer {
			t.Errorf("%s: newer %v, read whole %v", name, got.Newer, whole.Newer)
		}
	}
}

// Only that a file system cannot sync a folder is passed over.
func TestUnlessUnknown(t *testing.T) {
	for _, err := range []error{nil, syscall.EIO, syscall.ENOSPC, os.ErrPermission} {
		if got := unlessUnknown(err); got != err {
			t.Errorf("%v became %v", err, got)
		}
	}
	for _, err := range []error{syscall.EINVAL, &fs.PathError{Err: syscall.EINVAL}, errors.ErrUnsupported} {
		if got := unlessUnknown(err); got != nil {
			t.Errorf("%v: %v", err, got)
		}
	}
}

// Which process took a session on last: none after it was handed over.
func TestLastTaken(t *testing.T) {
	begun := func(pid int) Record { return Record{PID: pid, Event: sequence.Event{Kind: sequence.SessionBegan}} }
	other, handed := Record{Event: sequence.Event{Kind: sequence.Noted}}, Record{Event: sequence.Event{Kind: sequence.HandedOver}}
	for _, c := range []struct {
		records []Record
		want    int
	}{{nil, 0}, {[]Record{other}, 0}, {[]Record{begun(1), other}, 1}, {[]Record{begun(7), begun(9), other}, 9}, {[]Record{begun(7), handed, other}, 0}, {[]Record{begun(7), handed, begun(8)}, 8}} {
		if _, pid := (Recording{Records: c.records}).lastTaken(); pid != c.want {
			t.Errorf("%+v: %d; expected %d", c.records, pid, c.want)
		}
	}
}

// How a session stands is seen from the last of its records that tells it, in a list too.
func TestStatusOfRecords(t *testing.T) {
	var none Recording
	if _, cut := none.CutOff(); none.LastStatus() != Open || cut || none.First().Plan != nil || none.Anchor() != none.Reached() {
		t.Error("nothing is something")
	}
	for _, c := range []struct {
		want  Status
		kinds []sequence.EventKind
	}{
		{Done, []sequence.EventKind{sequence.SessionBegan, sequence.SessionDone, sequence.Heartbeat}},
		{Done, []sequence.EventKind{sequence.SessionDone}},
		{Stopped, []sequence.EventKind{sequence.SessionBegan, sequence.SessionStopped}},
		{Open, []sequence.EventKind{sequence.SessionDone, sequence.Undone, sequence.Noted}},
		{Open, []sequence.EventKind{sequence.Heartbeat, sequence.Noted}},
	} {
		want, kinds := c.want, c.kinds
		var r Recording
		var lines [][]byte
		for i, k := range kinds {
			r.Records = append(r.Records, Record{Event: sequence.Event{Kind: k}})
			lines = append(lines, fmt.Appendf(nil, `{"v":1,"seq":%d,"event":%q}`, i, k))
		}
		if got, listed := r.LastStatus(), lastStatus(append(lines, []byte("{"))); got != want || listed != want {
			t.Errorf("%v: %s, listed %s; expected %s", kinds, got, listed, want)
		}
	}
}

func TestSystemTellsWhatIsMissing(t *testing.T) {
	var d System
	gone := filepath.Join(t.TempDir(), "gone")
	if err := d.Rename(gone, "a", "b"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("rename: %v", err)
	}
	if err := d.Remove(gone, "a"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("remove: %v", err)
	}
	if _, err := d.Open(gone, "a"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("open: %v", err)
	}
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "file"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, below := range []string{"file", filepath.Join("file", "a"), filepath.Join("file", "a", "b")} {
		if _, err := d.Create(filepath.Join(folder, below), "x"); err == nil {
			t.Errorf("a file was made in %s", below)
		}
	}
	if _, err := d.Create(filepath.Join(folder, "a", "b", "c"), "x"); err != nil {
		t.Error(err)
	}
	if err := d.SyncFolder(folder); err != nil {
		t.Error(err)
	}
	if err := d.SyncFolder(gone); runtime.GOOS != "windows" && !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("syncfolder: %v", err)
	}
	if err := makeFolder(filepath.Join(folder, strings.Repeat("n", 300))); err == nil {
		t.Error("a folder was made whose name is too long for any disk")
	}
}

// The text of an error says what became of the file under its writer.
func TestAtTells(t *testing.T) {
	folder := t.TempDir()
	f, err := System{}.Create(folder, "tern")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if n, err := f.Write([]byte("four")); n != 4 || err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "tern")
	for _, c := range []struct {
		size int64
		does func() error
		want string // of the error; "" for none
	}{
		{4, nil, ""},
		{5, nil, "has 4 bytes; expected the 5"},
		{3, nil, "has 4 bytes; expected the 3"},
		{4, func() error { return os.Rename(path, path+".away") }, "moved away"},
		{4, func() error { return os.Symlink(path+".away", path) }, "a link"},
		{4, func() error { os.Remove(path); return os.WriteFile(path, []byte("four"), 0o600) }, "replaced"},
		{4, func() error { os.Remove(path); return os.Mkdir(path, 0o700) }, "replaced"},
		{4, func() error { os.Remove(path); return os.Rename(path+".away", path) }, ""},
	} {
		if c.does != nil {
			if err := c.does(); err != nil {
				t.Skip(err) // as on Windows
			}
		}
		err := f.At(folder, "tern", c.size)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("at %d: %v; expected %q", c.size, err, c.want)
		}
	}
}
