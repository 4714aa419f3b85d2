package journal

// Disks that fail on demand, behind the seam.

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
)

// faulty is the computer's disk, of which chosen calls fail. It also watches
// that nothing is done with a file after its fsync has failed.
type faulty struct {
	t     testing.TB
	disk  Disk
	fails func(op string, n int, folder string) error // nil error: do it; n counts the calls of this op from 1
	calls map[string]int
}

func newFaulty(t testing.TB, fails func(op string, n int, folder string) error) *faulty {
	return &faulty{t: t, disk: System{}, fails: fails, calls: map[string]int{}}
}

func (d *faulty) call(op, folder string) error {
	d.calls[op]++
	return d.fails(op, d.calls[op], folder)
}

func (d *faulty) Create(folder, name string) (File, error) {
	if err := d.call("create", folder); err != nil {
		return nil, err
	}
	return d.wrap(folder)(d.disk.Create(folder, name))
}

func (d *faulty) Open(folder, name string) (File, error) {
	if err := d.call("open", folder); err != nil {
		return nil, err
	}
	return d.wrap(folder)(d.disk.Open(folder, name))
}

func (d *faulty) wrap(folder string) func(File, error) (File, error) {
	return func(f File, err error) (File, error) {
		if err != nil {
			return nil, err
		}
		return &faultyFile{d: d, f: f, folder: folder}, nil
	}
}

func (d *faulty) Rename(folder, from, to string) error {
	if err := d.call("rename", folder); err != nil {
		return err
	}
	return d.disk.Rename(folder, from, to)
}

func (d *faulty) Remove(folder, name string) error {
	if err := d.call("remove", folder); err != nil {
		return err
	}
	return d.disk.Remove(folder, name)
}

func (d *faulty) SyncFolder(folder string) error {
	if err := d.call("syncfolder", folder); err != nil {
		return err
	}
	return d.disk.SyncFolder(folder)
}

type faultyFile struct {
	d      *faulty
	f      File
	folder string
	spent  bool // a write or an fsync failed
}

func (f *faultyFile) Write(p []byte) (int, error) {
	f.unspent("write")
	if err := f.d.call("write", f.folder); err != nil {
		f.spent = true
		most := len(p) / 2 // as ENOSPC leaves it
		if err == errOneByteSilent {
			most = len(p) - 1
		}
		n, _ := f.f.Write(p[:most])
		if err == errSilent || err == errOneByteSilent {
			return n, nil
		}
		return n, err
	}
	return f.f.Write(p)
}

func (f *faultyFile) Sync() error {
	f.unspent("fsync")
	if err := f.d.call("fsync", f.folder); err != nil {
		f.spent = true
		return err
	}
	return f.f.Sync()
}

func (f *faultyFile) Truncate(size int64) error {
	f.unspent("truncate")
	if err := f.d.call("truncate", f.folder); err != nil {
		return err
	}
	return f.f.Truncate(size)
}

func (f *faultyFile) Close() error { return f.f.Close() }

func (f *faultyFile) Lock() error { return f.f.Lock() }

func (f *faultyFile) At(folder, name string, size int64) error { return f.f.At(folder, name, size) }

func (f *faultyFile) unspent(op string) {
	if f.spent {
		f.d.t.Errorf("%s on a file that has failed", op)
	}
}

// These make a write short without saying so: by half, and by its last byte.
var (
	errSilent        = errors.New("silently short")
	errOneByteSilent = errors.New("silently short by one byte")
)

func never(string, int, string) error { return nil }

func TestAppendIsOneWriteAndOneFsync(t *testing.T) {
	s := newStore(t, 1)
	d := newFaulty(t, never)
	s.Disk = d
	w := write(t, s, 1)
	clear(d.calls)
	for i := 1; i <= 7; i++ {
		if err := w.Append(record(i)); err != nil {
			t.Fatal(err)
		}
	}
	if len(d.calls) != 2 || d.calls["write"] != 7 || d.calls["fsync"] != 7 {
		t.Errorf("7 records cost %v; expected 7 writes and 7 fsyncs", d.calls)
	}
}

func TestCreateNeedsAFreeName(t *testing.T) {
	s := newStore(t, 1)
	w := write(t, s, 1)
	if _, err := (System{}).Create(s.Folders[0], testID+suffix); !errors.Is(err, fs.ErrExist) {
		t.Errorf("created %s again: %v", w.Path(), err)
	}
}

func TestCreationSyncsTheFolder(t *testing.T) {
	s := newStore(t, 1)
	var order []string
	s.Disk = newFaulty(t, func(op string, _ int, _ string) error {
		order = append(order, op)
		return nil
	})
	write(t, s, 1)
	if got, want := strings.Join(order, " "), "create write fsync rename syncfolder"; got != want {
		t.Errorf("creating did %q; expected %q", got, want)
	}
}
