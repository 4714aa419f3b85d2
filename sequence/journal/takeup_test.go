package journal

// Taking up what was cut off.

import (
	"bytes"
	"errors"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"example.org/wetside/sequence"
)

// planted puts bytes where a session's first segment belongs.
func planted(t testing.TB, s Store, data []byte) string {
	t.Helper()
	if err := os.MkdirAll(s.Folders[0], 0o700); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(s.Folders[0], testID+suffix)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestTakeCutsATornEnd(t *testing.T) {
	data := text(t, 6)
	whole := len(text(t, 5))
	for _, torn := range [][]byte{data[whole : len(data)-1], data[whole : whole+10], make([]byte, 700), []byte("\x00\n\xff\n{\n"), []byte("{")} {
		s := newStore(t, 1)
		path := planted(t, s, append(bytes.Clone(data[:whole]), torn...))
		before, _ := os.ReadFile(path)
		if got, err := s.Read(testID); err != nil || !bytes.Equal(got.Torn, torn) {
			t.Fatalf("reading: %v, torn %q", err, got.Torn)
		}
		if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
			t.Fatal("reading changed the file")
		}
		w, got, err := s.TakeUp(testID)
		if err != nil || len(got.Records) != 5 {
			t.Fatalf("took %d records: %v", len(got.Records), err)
		}
		if aside, _ := os.ReadFile(filepath.Join(s.Folders[0], testID+".torn")); !bytes.Equal(aside, torn) {
			t.Errorf("kept aside %q; expected %q", aside, torn)
		}
		for i := 5; i < 8; i++ {
			if err := w.Append(record(i)); err != nil {
				t.Fatal(err)
			}
		}
		w.Close()
		if w.Path() != path {
			t.Errorf("went on in %s", w.Path())
		}
		readBack(t, s, 8)
	}
}

func TestTakeSyncsWhatItRead(t *testing.T) {
	s := newStore(t, 1)
	planted(t, s, text(t, 3))
	d := newFaulty(t, never)
	s.Disk = d
	w, _, err := s.TakeUp(testID)
	if err != nil {
		t.Fatal(err)
	}
	w.Close()
	if len(d.calls) != 2 || d.calls["open"] != 1 || d.calls["fsync"] != 1 {
		t.Errorf("taking did %v; expected an open and an fsync", d.calls)
	}
}

func TestAnOlderTornEndIsReplaced(t *testing.T) {
	s := newStore(t, 1)
	path := planted(t, s, append(text(t, 3), "torn"...))
	if err := os.WriteFile(filepath.Join(s.Folders[0], testID+".torn"), []byte("an older one"), 0o600); err != nil {
		t.Fatal(err)
	}
	w, _, err := s.TakeUp(testID)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	if aside, _ := os.ReadFile(filepath.Join(s.Folders[0], testID+".torn")); string(aside) != "torn" || w.Path() != path {
		t.Errorf("kept aside %q, went on in %s", aside, w.Path())
	}
}

// A new segment is numbered behind every other, and overwrites none.
func TestSegmentNumbers(t *testing.T) {
	for name, c := range map[string]struct {
		believed, other string // file names
		want            string
	}{
		"others in the folder":  {testID + suffix, testID + ".2" + suffix, testID + ".3" + suffix},
		"believed is the third": {testID + ".3" + suffix, testID + suffix, testID + ".4" + suffix},
	} {
		s := newStore(t, 2)
		old, older := planted(t, s, text(t, 5)), text(t, 2)
		if err := os.Rename(old, filepath.Join(s.Folders[0], c.believed)); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(s.Folders[0], c.other), older, 0o600); err != nil {
			t.Fatal(err)
		}
		failed := false
		s.Disk = newFaulty(t, func(op string, _ int, _ string) error {
			if op == "write" && !failed {
				failed = true
				return syscall.ENOSPC
			}
			return nil
		})
		w, _, err := s.TakeUp(testID)
		if err != nil {
			t.Fatal(err)
		}
		w.Append(record(5))
		w.Close()
		if got := filepath.Base(w.Path()); got != c.want {
			t.Errorf("%s: went on in %s; expected %s", name, got, c.want)
		}
		if kept, _ := os.ReadFile(filepath.Join(s.Folders[0], c.other)); !bytes.Equal(kept, older) {
			t.Errorf("%s: %s was changed", name, c.other)
		}
		readBack(t, s, 6)
	}
	// The same where the new segment goes to another folder.
	s := newStore(t, 2)
	path := planted(t, s, text(t, 3))
	if err := os.Rename(path, filepath.Join(s.Folders[0], testID+".2"+suffix)); err != nil {
		t.Fatal(err)
	}
	s.Disk = newFaulty(t, func(op string, _ int, folder string) error {
		if op == "write" && folder == s.Folders[0] {
			return syscall.ENOSPC
		}
		return nil
	})
	w, _, err := s.TakeUp(testID)
	if err != nil {
		t.Fatal(err)
	}
	w.Append(record(3))
	w.Close()
	if want := filepath.Join(s.Folders[1], testID+".3"+suffix); w.Path() != want {
		t.Errorf("went on in %s; expected %s", w.Path(), want)
	}
}

func TestTakeRefuses(t *testing.T) {
	data := text(t, 4)
	bent := bytes.Clone(data)
	bent[len(data)/2] ^= 1
	body := `{"v":2,"seq":4,"event":"hovered"`
	chain := crc32.Update(mustParse(t, data).chain, castagnoli, []byte(body))
	newer := append(bytes.Clone(data), body+crcBefore+hexOf(chain)+crcAfter+"\n"...)
	end := Record{V: Version, Seq: 4, Event: sequence.Event{Kind: sequence.SessionDone}}
	done, _, _ := encode(bytes.Clone(data), end, mustParse(t, data).chain)

	for name, c := range map[string]struct {
		data []byte
		want func(error) bool
	}{
		"damaged":  {bent, func(err error) bool { return errors.As(err, new(*DamagedError)) }},
		"newer":    {newer, func(err error) bool { return errors.Is(err, ErrNewer) }},
		"finished": {done, func(err error) bool { return errors.Is(err, ErrFinished) }},
		"empty":    {nil, func(err error) bool { return errors.As(err, new(*DamagedError)) }},
	} {
		s := newStore(t, 1)
		path := planted(t, s, c.data)
		if w, _, err := s.TakeUp(testID); w != nil || !c.want(err) {
			t.Errorf("%s: %v", name, err)
		}
		if after, _ := os.ReadFile(path); !bytes.Equal(after, c.data) {
			t.Errorf("%s: file was changed", name)
		}
		if l, err := s.Lock(testID); err != nil {
			t.Errorf("%s: lock was kept: %v", name, err)
		} else {
			l.Release()
		}
	}
	if _, _, err := newStore(t, 1).TakeUp(testID); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing: %v", err)
	}
}

// Whatever fails while taking up, the session goes on elsewhere and the file
// keeps every record.
func TestNthCallFailsWhileTaking(t *testing.T) {
	data := text(t, 6)
	for _, op := range []string{"create", "open", "truncate", "write", "fsync", "syncfolder", "remove"} {
		for n := 1; n <= 4; n++ {
			s := newStore(t, 2)
			planted(t, s, data[:len(data)-20])
			s.Disk = newFaulty(t, func(o string, k int, folder string) error {
				if o == op && k == n && folder == s.Folders[0] {
					return syscall.EIO
				}
				return nil
			})
			w, got, err := s.TakeUp(testID)
			if err != nil || len(got.Records) != 5 {
				t.Fatalf("%s %d: took %d: %v", op, n, len(got.Records), err)
			}
			for i := 5; i < 8; i++ {
				trouble := (*WriteError)(nil)
				if err := w.Append(record(i)); err != nil && (!errors.As(err, &trouble) || !trouble.SavedElsewhere()) {
					t.Errorf("%s %d: record %d: %v", op, n, i, err)
				}
			}
			w.Close()
			readBack(t, s, 8)
		}
	}
}

// What was cut off is kept aside and synced before it is cut; where it cannot be kept or cut, the
// file stays to the byte and the session goes on in a new one without trouble.
func TestATornEndIsKeptBeforeItIsCut(t *testing.T) {
	const usual = "open remove create write fsync syncfolder truncate fsync"
	for _, failing := range []string{"", "create", "write", "fsync", "syncfolder", "truncate"} {
		s := newStore(t, 1)
		data := text(t, 6)
		path := planted(t, s, data[:len(data)-20])
		d, order := orderly(t, failing)
		s.Disk = d
		w, _, err := s.TakeUp(testID)
		if err != nil {
			t.Fatalf("%s: %v", failing, err)
		}
		if failing == "" && strings.Join(*order, " ") != usual {
			t.Errorf("taking up did %q; expected %q", *order, usual)
		}
		if kept, _ := os.ReadFile(path); failing != "" && !bytes.Equal(kept, data[:len(data)-20]) {
			t.Errorf("%s fails: %d bytes; expected the file as it was", failing, len(kept))
		}
		if err := w.Append(record(5)); err != nil || (w.Path() != path) != (failing != "") {
			t.Errorf("%s fails: goes on in %s, %v", failing, w.Path(), err)
		}
		w.Close()
		readBack(t, s, 6)
	}
}

// The segment that got furthest is believed, wherever it lies.
func TestSegments(t *testing.T) {
	data := text(t, 9)
	upTo := func(n int) []byte { return data[:len(text(t, n))] }
	bent := bytes.Clone(upTo(9))
	bent[len(upTo(3))+30] ^= 1
	for name, c := range map[string]struct {
		first, second []byte
		records       int
		damaged       bool
	}{
		"second goes on":             {upTo(4), upTo(7), 7, false},
		"second was lost":            {upTo(4), nil, 4, false},
		"first is torn":              {data[:len(upTo(4))+9], upTo(5), 5, false},
		"second stopped early":       {upTo(6), upTo(2), 6, false},
		"second damaged, had more":   {upTo(4), bent, 3, true},
		"second damaged, one more":   {upTo(8), bent, 3, true},
		"first damaged, second good": {bent, upTo(9), 9, false},
	} {
		s := newStore(t, 2)
		planted(t, s, c.first)
		if c.second != nil {
			if err := os.MkdirAll(s.Folders[1], 0o700); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(s.Folders[1], segmentName(testID, 2)), c.second, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		got, err := s.Read(testID)
		if len(got.Records) != c.records || errors.As(err, new(*DamagedError)) != c.damaged {
			t.Errorf("%s: read %d records: %v", name, len(got.Records), err)
		}
		list := s.List()
		if len(list) != 1 || list[0].Records != c.records || (list[0].Status == Damaged) != c.damaged {
			t.Errorf("%s: listed %+v", name, list)
		}
	}
}

// A damaged journal is taken up on request, behind its last good line: the damaged file stays,
// under another name, and the session is whole again for every reader.
func TestDamagedIsTakenUpOnRequest(t *testing.T) {
	data := text(t, 9)
	bent := bytes.Clone(data)
	bent[len(text(t, 5))+40] ^= 1
	s := newStore(t, 2)
	path := planted(t, s, bent)
	if err := os.WriteFile(path+damagedMark, []byte("an older one"), 0o600); err != nil {
		t.Fatal(err)
	}
	if w, got, err := s.TakeUp(testID); w != nil || !errors.As(err, new(*DamagedError)) || len(got.Records) != 5 {
		t.Fatalf("unasked: %d records, %v", len(got.Records), err)
	}
	if err := s.GoBehindDamage(testID); err != nil {
		t.Fatal(err)
	}
	readBack(t, s, 5)
	w, got, err := s.TakeUp(testID)
	if err != nil || len(got.Records) != 5 {
		t.Fatalf("took %d records: %v", len(got.Records), err)
	}
	for i := 5; i < 8; i++ {
		if err := w.Append(record(i)); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	readBack(t, s, 8)
	if kept, _ := os.ReadFile(path + damagedMark + "2"); !bytes.Equal(kept, bent) {
		t.Error("the damaged file is lost")
	}
	if older, _ := os.ReadFile(path + damagedMark); string(older) != "an older one" {
		t.Error("an older one was written over")
	}
	if w, _, err := s.TakeUp(testID); err != nil {
		t.Errorf("again: %v", err)
	} else {
		w.Close()
	}
	junk := newStore(t, 1)
	planted(t, junk, append([]byte("junk\n"), data...))
	if err := junk.GoBehindDamage(testID); !errors.As(err, new(*DamagedError)) {
		t.Errorf("not one good record: %v", err)
	}
}

// Going behind a damage writes the good records anew before it sets the damaged file aside, each
// time under a name of its own; one good record is enough.
func TestGoneBehindADamage(t *testing.T) {
	s := newStore(t, 2)
	data := text(t, 4)
	bent := bytes.Clone(data)
	bent[len(text(t, 1))+40] ^= 1
	for _, aside := range []string{damagedMark, damagedMark + "2", damagedMark + "3"} {
		path := planted(t, s, bent)
		os.Remove(filepath.Join(s.Folders[0], testID+".2"+suffix))
		d, order := orderly(t, "")
		s.Disk = d
		if err := s.GoBehindDamage(testID); err != nil {
			t.Fatal(err)
		}
		if got, want := strings.Join(*order, " "), "open create write fsync rename syncfolder rename syncfolder"; got != want {
			t.Errorf("it did %q; expected %q", got, want)
		}
		if kept, _ := os.ReadFile(path + aside); !bytes.Equal(kept, bent) {
			t.Errorf("%s is not the damaged file", aside)
		}
		readBack(t, s, 1)
	}
	for broken, want := range map[string]bool{s.Folders[0]: true, "": false} { // its first folder; each
		s := s
		s.Disk = newFaulty(t, func(op string, _ int, folder string) error {
			if op == "create" && (folder == broken || broken == "") {
				return syscall.ENOSPC
			}
			return nil
		})
		os.Remove(filepath.Join(s.Folders[0], testID+".2"+suffix))
		planted(t, s, bent)
		if err := s.GoBehindDamage(testID); (err == nil) != want {
			t.Errorf("no space in %q: %v", broken, err)
		}
		if want {
			readBack(t, s, 1)
			os.Remove(filepath.Join(s.Folders[1], testID+".2"+suffix))
		} else if got, err := s.Read(testID); !errors.As(err, new(*DamagedError)) {
			t.Errorf("nothing took it, and it is %s, %v", got.Status, err)
		}
	}
}

// What the chain vouches for and cannot be understood ends the good records too.
func TestNonsenseIsTakenUpBehindItsLastGoodRecord(t *testing.T) {
	s := newStore(t, 1)
	data, chain := text(t, 3), mustParse(t, text(t, 3)).chain
	for _, body := range []string{`{"v":1,"seq":9,"event":"note"`, `{"v":1,"seq":4,"event":"note"`} {
		chain = crc32.Update(chain, castagnoli, []byte(body))
		data = append(data, body+crcBefore+hexOf(chain)+crcAfter+"\n"...)
	}
	planted(t, s, data)
	if err := s.GoBehindDamage(testID); err != nil {
		t.Fatal(err)
	}
	w, got, err := s.TakeUp(testID)
	if err != nil || len(got.Records) != 3 {
		t.Fatalf("took %d records: %v", len(got.Records), err)
	}
	if err := w.Append(record(3)); err != nil {
		t.Fatal(err)
	}
	w.Close()
	readBack(t, s, 4)
}
