package journal

// Power cuts, on a model of a disk: what was synced stays; of what was not,
// each sector of 512 bytes is kept, zeroed or junk, and the file may be shorter
// than it was; a name that was not synced may be missing. A sector that holds
// synced bytes keeps them, as disks write a sector whole or not at all.

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

const sector = 512

var errDark = errors.New("no power")

// modelDisk keeps files in memory until the power goes.
type modelDisk struct {
	rnd     *rand.Rand
	left    int                              // operations until the power goes
	faults  float64                          // share of operations that fail with EIO
	present map[string]map[string]*modelFile // by folder and name, as a running system sees it
	lasting map[string]map[string]*modelFile // as synced
}

type modelFile struct {
	d      *modelDisk
	data   []byte
	synced int
}

func newModelDisk(rnd *rand.Rand) *modelDisk {
	return &modelDisk{rnd: rnd, left: 1 + rnd.IntN(60), faults: []float64{0, 0.02, 0.2}[rnd.IntN(3)],
		present: map[string]map[string]*modelFile{}, lasting: map[string]map[string]*modelFile{}}
}

func (d *modelDisk) step() error {
	d.left--
	if d.left < 0 {
		return errDark
	}
	if d.rnd.Float64() < d.faults {
		return syscall.EIO
	}
	return nil
}

func (d *modelDisk) Create(folder, name string) (File, error) {
	if err := d.step(); err != nil {
		return nil, err
	}
	if d.present[folder] == nil {
		d.present[folder], d.lasting[folder] = map[string]*modelFile{}, map[string]*modelFile{}
	}
	if d.present[folder][name] != nil {
		return nil, fs.ErrExist
	}
	f := &modelFile{d: d}
	d.present[folder][name] = f
	return f, nil
}

func (d *modelDisk) Open(folder, name string) (File, error) {
	if err := d.step(); err != nil {
		return nil, err
	}
	if f := d.present[folder][name]; f != nil {
		return f, nil
	}
	return nil, fs.ErrNotExist
}

func (d *modelDisk) Rename(folder, from, to string) error {
	if err := d.step(); err != nil {
		return err
	}
	d.present[folder][to] = d.present[folder][from]
	delete(d.present[folder], from)
	return nil
}

func (d *modelDisk) Remove(folder, name string) error {
	if err := d.step(); err != nil {
		return err
	}
	delete(d.present[folder], name)
	return nil
}

func (d *modelDisk) SyncFolder(folder string) error {
	if err := d.step(); err != nil {
		return err
	}
	d.lasting[folder] = map[string]*modelFile{}
	for name, f := range d.present[folder] {
		d.lasting[folder][name] = f
	}
	return nil
}

// Write that fails leaves part of what it was given.
func (f *modelFile) Write(p []byte) (int, error) {
	if err := f.d.step(); err != nil {
		p = p[:f.d.rnd.IntN(len(p)+1)]
		f.data = append(f.data, p...)
		return len(p), err
	}
	f.data = append(f.data, p...)
	return len(p), nil
}

// Sync that fails has written nothing for certain.
func (f *modelFile) Sync() error {
	if err := f.d.step(); err != nil {
		return err
	}
	f.synced = len(f.data)
	return nil
}

func (f *modelFile) Truncate(size int64) error {
	if err := f.d.step(); err != nil {
		return err
	}
	f.data, f.synced = f.data[:size], min(f.synced, int(size))
	return nil
}

func (f *modelFile) Close() error { return nil }

func (f *modelFile) Lock() error { return nil }

func (f *modelFile) At(string, string, int64) error { return nil }

// after is what is found of the file when the power is back.
func (f *modelFile) after(rnd *rand.Rand) []byte {
	data := append([]byte(nil), f.data[:f.synced+rnd.IntN(len(f.data)-f.synced+1)]...)
	for from := f.synced; from < len(data); {
		to := min(len(data), (from/sector+1)*sector)
		switch rnd.IntN(3) {
		case 0: // zeroed
			clear(data[from:to])
		case 1: // junk
			for i := from; i < to; i++ {
				data[i] = byte(rnd.Uint32())
			}
		}
		from = to
	}
	return data
}

// found lays out on a real disk what the model's power cut leaves.
func (d *modelDisk) found(t *testing.T, folders []string) {
	for _, folder := range folders {
		names := d.present[folder]
		if d.rnd.IntN(2) == 0 {
			names = d.lasting[folder]
		}
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
		for name, f := range names {
			if err := os.WriteFile(filepath.Join(folder, name), f.after(d.rnd), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// unsynced is the computer's disk without the waiting.
type unsynced struct{ System }

func (d unsynced) Create(folder, name string) (File, error) {
	return d.wrap(d.System.Create(folder, name))
}
func (d unsynced) Open(folder, name string) (File, error) { return d.wrap(d.System.Open(folder, name)) }
func (unsynced) SyncFolder(string) error                  { return nil }

func (unsynced) wrap(f File, err error) (File, error) {
	if err != nil {
		return nil, err
	}
	return unsyncedFile{f}, nil
}

type unsyncedFile struct{ File }

func (unsyncedFile) Sync() error { return nil }

func TestPowerLoss(t *testing.T) {
	const cases, records = 1000, 15
	dir := t.TempDir()
	torn, moved, never := 0, 0, 0
	for i := range cases {
		rnd := rand.New(rand.NewPCG(uint64(i), 1))
		s := Store{}
		for k := range 3 {
			s.Folders = append(s.Folders, filepath.Join(dir, fmt.Sprint(i), fmt.Sprint(k)))
			if err := os.MkdirAll(s.Folders[k], 0o700); err != nil { // for the locks
				t.Fatal(err)
			}
		}
		d := newModelDisk(rnd)
		s.Disk = d
		acked, told := session(t, s, records)
		d.found(t, s.Folders)
		s.Disk = unsynced{} // the power stays on from here
		w, got, err := s.TakeUp(testID)
		if acked == 0 && err != nil {
			never++
			continue
		}
		if err != nil || len(got.Records) < acked {
			t.Fatalf("case %d: %d acknowledged, %d found: %v", i, acked, len(got.Records), err)
		}
		samePrefix(t, got.Records)
		n := len(got.Records)
		if len(got.Torn) > 0 {
			torn++
		}
		if len(told) > 0 && told[0].SavedElsewhere() {
			moved++
		}
		if err := w.Append(record(n)); err != nil {
			t.Fatalf("case %d: going on: %v", i, err)
		}
		w.Close()
		readBack(t, s, n+1)
		os.RemoveAll(filepath.Join(dir, fmt.Sprint(i)))
	}
	t.Logf("%d cases: %d torn, %d had moved to another segment, %d had not begun", cases, torn, moved, never)
	if torn < cases/20 || moved < cases/20 {
		t.Errorf("only %d torn and %d moved of %d: the model tests too little", torn, moved, cases)
	}
}
