// Package densities is densities read off negatives: kept, matched with the session's sheets,
// and refined into the next recipe.
//
// For commands and screens. Start with Store and Refine. The curves are chem/curve's; no recipe
// is written here.
package densities

// Readings of densities: one plain CSV for each film test, in the user's data
// ($XDG_DATA_HOME/wetside/readings), written anew after every entry. A file is
// replaced whole or not at all: what was read is never lost to a crash.

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/plainfile"
)

// Store is where readings are kept.
type Store struct {
	Folder string
	Laptop string       // its mark in names, so that two that share a folder never write to one file
	Disk   journal.Disk // for writing; nil means the computer's own
}

// ReadingsFile is one file in the list.
type ReadingsFile struct {
	Name     string // without .csv
	Changed  time.Time
	Readings curve.Readings // as far as they can be read
	Err      error          // why they cannot
}

// Day is the day on which the readings were begun, by their name; else the one on
// which they were last changed: 2006-01-02.
func (k ReadingsFile) Day() string {
	day := k.Name[:min(len(k.Name), len(time.DateOnly))]
	if _, err := time.Parse(time.DateOnly, day); err == nil {
		return day
	}
	return k.Changed.Format(time.DateOnly)
}

const readingsSuffix = ".csv"

// mostReadings is the largest file that is looked at.
const mostReadings = 64 << 10

// List lists all readings, newest first. One that cannot be read spoils nothing.
func (d Store) List() []ReadingsFile {
	var list []ReadingsFile
	entries, err := os.ReadDir(d.Folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), readingsSuffix)
		info, err := e.Info()
		if !ok || !journal.IsID(name) || err != nil || !e.Type().IsRegular() {
			continue
		}
		k := ReadingsFile{Name: name, Changed: info.ModTime()}
		k.Readings, k.Err = d.Open(name)
		list = append(list, k)
	}
	sort.Slice(list, func(i, j int) bool {
		a, b := &list[i], &list[j]
		return cmp.Or(b.Changed.Compare(a.Changed), strings.Compare(b.Name, a.Name)) < 0
	})
	return list
}

// OfSession is the readings that are linked to a session.
func (d Store) OfSession(session string) []ReadingsFile {
	return slices.DeleteFunc(d.List(), func(k ReadingsFile) bool { return k.Err != nil || k.Readings.Session != session })
}

// Path is the file of readings.
func (d Store) Path(name string) string { return filepath.Join(d.Folder, name+readingsSuffix) }

// Open reads one file, to go on with it.
func (d Store) Open(name string) (curve.Readings, error) {
	if !journal.IsID(name) {
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
func (d Store) NewName(at time.Time, film string) string {
	base := journal.Store{Laptop: d.Laptop}.NewID(at, film)
	name := base
	for n := 2; ; n++ {
		if _, err := os.Lstat(d.Path(name)); err != nil {
			return name
		}
		name = fmt.Sprintf("%s-%d", base, n)
	}
}

// Save writes readings, on disk when it returns: a new file beside the old one, then
// its name. Whatever fails, the old one is still there.
func (d Store) Save(name string, r *curve.Readings) error {
	if d.Folder == "" || !journal.IsID(name) {
		return fmt.Errorf("readings %q: nowhere to keep them", name)
	}
	if err := journal.ReplaceFile(d.Disk, d.Folder, name+readingsSuffix, r.Text()); err != nil {
		return fmt.Errorf("readings: %w", err)
	}
	return nil
}

// read is the bytes of a file, up to the largest that is looked at and one more.
func (d Store) read(file string) ([]byte, error) {
	return plainfile.Read(filepath.Join(d.Folder, file), mostReadings)
}
