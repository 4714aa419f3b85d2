package notebook

// Readings of densities: one plain CSV for each film test, in the user's data
// ($XDG_DATA_HOME/wetside/readings), written anew after every entry. A file is
// replaced whole or not at all: what was read is never lost to a crash.

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/journal"
)

// Desk is where readings are kept.
type Desk struct {
	Folder string
	Laptop string       // its mark in names, so that two that share a folder never write to one file
	Disk   journal.Disk // for writing; nil means the computer's own
}

// KeptReadings is one file in the list.
type KeptReadings struct {
	Name     string // without .csv
	Changed  time.Time
	Readings curve.Readings // as far as they can be read
	Err      error          // why they cannot
}

// Day is the day on which the readings were begun, by their name; else the one on
// which they were last changed: 2006-01-02.
func (k KeptReadings) Day() string {
	if len(k.Name) >= len(time.DateOnly) {
		if day := k.Name[:len(time.DateOnly)]; dated(day) {
			return day
		}
	}
	return k.Changed.Format(time.DateOnly)
}

func dated(day string) bool {
	_, err := time.Parse(time.DateOnly, day)
	return err == nil
}

const readingsSuffix = ".csv"

// mostReadings is the largest file that is looked at.
const mostReadings = 64 << 10

// List lists all readings, newest first. One that cannot be read spoils nothing.
func (d Desk) List() []KeptReadings {
	var list []KeptReadings
	entries, err := os.ReadDir(d.Folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), readingsSuffix)
		info, err := e.Info()
		if !ok || !isID(name) || err != nil || !e.Type().IsRegular() {
			continue
		}
		k := KeptReadings{Name: name, Changed: info.ModTime()}
		k.Readings, k.Err = d.Open(name)
		list = append(list, k)
	}
	slices.SortFunc(list, func(a, b KeptReadings) int {
		return cmp.Or(b.Changed.Compare(a.Changed), strings.Compare(b.Name, a.Name))
	})
	return list
}

// Of is the readings that are linked to a session.
func (d Desk) Of(session string) []KeptReadings {
	return slices.DeleteFunc(d.List(), func(k KeptReadings) bool { return k.Err != nil || k.Readings.Session != session })
}

// Path is the file of readings.
func (d Desk) Path(name string) string { return filepath.Join(d.Folder, name+readingsSuffix) }

// Open reads one file, to go on with it.
func (d Desk) Open(name string) (curve.Readings, error) {
	if !isID(name) {
		return curve.Readings{}, fmt.Errorf("readings %q: not a name; expected letters, digits and hyphens", name)
	}
	data, err := d.read(name + readingsSuffix)
	if err != nil {
		return curve.Readings{}, err
	}
	return curve.ReadReadings(name+readingsSuffix, data)
}

// NewName is a name for readings begun at a moment: names sort by time, as those of
// sessions do. Where it is taken a number is added.
func (d Desk) NewName(at time.Time, film string) string {
	base := journal.Store{Laptop: d.Laptop}.NewID(at, film)
	name := base
	for n := 2; d.taken(name); n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	return name
}

func (d Desk) taken(name string) bool {
	_, err := os.Lstat(d.Path(name))
	return err == nil
}

// Keep writes readings, on disk when it returns: a new file beside the old one, then
// its name. Whatever fails, the old one is still there.
func (d Desk) Keep(name string, r *curve.Readings) error {
	if d.Folder == "" || !isID(name) {
		return fmt.Errorf("readings %q: nowhere to keep them", name)
	}
	if err := replace(disk(journal.Store{Disk: d.Disk}), d.Folder, name+readingsSuffix, r.Text()); err != nil {
		return fmt.Errorf("readings: %w", err)
	}
	return nil
}

// tabletSuffix ends the names of calibrated step tablets, kept beside the readings.
const tabletSuffix = ".tablet.csv"

// Tablet is a calibrated step tablet.
type Tablet struct {
	Name  string
	Steps []curve.Density
}

// Tablets lists the calibrated tablets that can be read: CSV with a column tablet.
func (d Desk) Tablets() (list []Tablet) {
	entries, err := os.ReadDir(d.Folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), tabletSuffix)
		if !ok || !isID(name) || !e.Type().IsRegular() {
			continue
		}
		data, err := d.read(e.Name())
		if err != nil {
			continue
		}
		if steps, err := curve.ReadTablet(e.Name(), data, ""); err == nil {
			list = append(list, Tablet{name, steps})
		}
	}
	return list
}

// read is the bytes of a file, up to the largest that is looked at and one more.
func (d Desk) read(file string) ([]byte, error) {
	f, err := os.Open(filepath.Join(d.Folder, file))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, mostReadings+1))
}

// replace writes a file whole or not at all, on disk when it returns: a new one beside
// the old one, then its name.
func replace(disk journal.Disk, folder, name string, text []byte) error {
	fresh := name + ".new"
	f, err := disk.Create(folder, fresh)
	if errors.Is(err, fs.ErrExist) { // of a write that was cut off
		if err = disk.Remove(folder, fresh); err == nil {
			f, err = disk.Create(folder, fresh)
		}
	}
	if err != nil {
		return err
	}
	err = write(f, text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = disk.Rename(folder, fresh, name)
	}
	if err == nil {
		err = disk.SyncFolder(folder)
	}
	return err
}
