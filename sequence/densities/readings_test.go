package densities

// Readings are replaced whole or not at all; curves know their sheets' times as
// they really were; a recipe is refined and its source left as it was.

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// tripping is a disk whose n-th call fails.
type tripping struct {
	sessiontest.QuickDisk
	left *int
}

var errTripped = errors.New("disk full")

func (d tripping) trips() bool {
	*d.left--
	return *d.left == 0
}

func (d tripping) Create(folder, name string) (journal.File, error) {
	if d.trips() {
		return nil, errTripped
	}
	f, err := d.QuickDisk.Create(folder, name)
	return trippingFile{f, d}, err
}

func (d tripping) Rename(folder, from, to string) error {
	if d.trips() {
		return errTripped
	}
	return d.QuickDisk.Rename(folder, from, to)
}

func (d tripping) SyncFolder(folder string) error {
	if d.trips() {
		return errTripped
	}
	return nil
}

type trippingFile struct {
	journal.File
	d tripping
}

// Write writes half of it when it fails.
func (f trippingFile) Write(p []byte) (int, error) {
	if f.d.trips() {
		n, _ := f.File.Write(p[:len(p)/2])
		return n, errTripped
	}
	return f.File.Write(p)
}

func (f trippingFile) Sync() error {
	if f.d.trips() {
		return errTripped
	}
	return nil
}

func someReadings(t *testing.T, d curve.Density) *curve.Readings {
	t.Helper()
	tablet, err := curve.NominalTablet(21, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	r := &curve.Readings{Film: "Plover 80", Tablet: tablet}
	r.Add(5*time.Minute, 1)
	r.Sheets[0].Steps[3] = &d
	return r
}

// Whichever call fails, the file holds the old readings or the new, and the next
// entry is kept.
func TestKeepIsWholeOrNothing(t *testing.T) {
	old, fresh := someReadings(t, 0.5), someReadings(t, 0.6)
	for n := 1; ; n++ {
		desk := Store{Folder: filepath.Join(t.TempDir(), "data", "readings"), Disk: sessiontest.QuickDisk{}}
		if err := desk.Save("one", old); err != nil {
			t.Fatal(err)
		}
		left := n
		desk.Disk = tripping{left: &left}
		err := desk.Save("one", fresh)
		got, readErr := desk.Open("one")
		if readErr != nil || !reflect.DeepEqual(&got, old) && !reflect.DeepEqual(&got, fresh) {
			t.Fatalf("call %d failed: %+v, %v is left", n, got, readErr)
		}
		if err == nil {
			if n < 5 {
				t.Fatalf("%d calls; expected create, write, sync, rename and a sync of the folder to be able to fail", n-1)
			}
			break
		}
		desk.Disk = sessiontest.QuickDisk{}
		if err := desk.Save("one", fresh); err != nil {
			t.Fatalf("after call %d failed: %v", n, err)
		}
	}
}

func TestDesk(t *testing.T) {
	desk := Store{Folder: filepath.Join(t.TempDir(), "data", "readings")}
	if list := desk.List(); list != nil {
		t.Errorf("%v of no folder", list)
	}
	name := desk.NewName(sessiontest.Evening, "Plover 80!")
	if name != "2026-11-25T1912-plover-80" {
		t.Errorf("name %q", name)
	}
	r := someReadings(t, 0.5)
	r.Session = "s1"
	if err := desk.Save(name, r); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(desk.Path(name)); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v; expected for the owner only", info.Mode(), err)
	}
	if again := desk.NewName(sessiontest.Evening, "Plover 80"); again != name+"-2" {
		t.Errorf("second name %q", again)
	}
	os.WriteFile(desk.Path("broken"), []byte("nonsense"), 0o600)
	os.WriteFile(filepath.Join(desk.Folder, "x y.csv"), []byte("tablet,5m"), 0o600)
	if list := desk.List(); len(list) != 2 || list[0].Err == nil == (list[1].Err == nil) {
		t.Errorf("%+v; expected one to be read and one not", list)
	}
	if of := desk.OfSession("s1"); len(of) != 1 || of[0].Name != name {
		t.Errorf("%+v of session s1", of)
	}
	for _, bad := range []string{"", "../x", "a/b", "x y"} {
		if _, err := desk.Open(bad); err == nil {
			t.Errorf("%q was opened", bad)
		}
		if desk.Save(bad, r) == nil {
			t.Errorf("%q was kept", bad)
		}
	}
}

// A film test whose bath is found warmer than planned: sheet k is pulled when its
// dose is reached as far as was known, and what the reading tells later counts.
func warmTest(t *testing.T) notebook.Session {
	store := sessiontest.NewStore(t)
	r := sessiontest.Recipe(sequence.Hangers, 2, sessiontest.Warmed(recipetest.Bath(sequence.Develop, 0)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute))
	r.Steps[0].Time, r.Steps[0].PullTimes = 0, []sequence.Elapsed{5 * recipetest.Minute, 10 * recipetest.Minute}
	r.Steps[0].Bath = "developer"
	s := sessiontest.Begin(t, store, 0, r, sequence.Conditions{})
	for s.State.Snapshot(s.Now).Now < 11*recipetest.Minute {
		at, due := s.State.Due()
		if !due || at > 11*recipetest.Minute {
			break
		}
		s.Do(sequence.Wake{}, at)
	}
	s.Do(sequence.TakeReading{T: 22, Source: "hand"}, 11*recipetest.Minute)
	return testedSession(t, store, s.Finish())
}

// results is a test of straight curves, whose gradients lie on a growth curve.
func results(t *testing.T, box *curve.SpeedAnchor) curve.Results {
	t.Helper()
	f := curve.Family{Name: "x"}
	for _, m := range []float64{4, 7, 10, 16} {
		g := 1.2 * -math.Expm1(-0.1*m)
		base := curve.Density(0.1)
		c := curve.Curve{Time: time.Duration(m * float64(recipetest.Minute)), Base: &base}
		for i := range 21 {
			h := -3.05 + 0.15*float64(i)
			c.Readings = append(c.Readings, curve.Reading{LogH: curve.LogH(h), Density: curve.Density(0.1 + max(0, g*(h+2.3)))})
		}
		f.Curves = append(f.Curves, c)
	}
	out, err := curve.Evaluate(f, curve.Request{SpeedAnchor: box})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// testedSession is the session of a film test as the notebook has it.
func testedSession(t testing.TB, store journal.Store, id string) notebook.Session {
	t.Helper()
	s, err := notebook.Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
