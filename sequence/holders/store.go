package holders

// Where the lists of exposed sheets are kept, one file for each laptop.

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/plainfile"
)

// SheetStore is where the lists are kept.
type SheetStore struct {
	Folder string       // of all lists
	Laptop string       // whose list new sheets go to
	Disk   journal.Disk // for writing; nil means the computer's own
}

const csvSuffix = ".csv"

// List reads all lists, in the order in which the sheets were exposed. What cannot be
// read is an error beside what can.
func (b SheetStore) List() ([]ExposedSheet, error) {
	entries, err := os.ReadDir(b.Folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var list []ExposedSheet
	faults := []error{err}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), csvSuffix) || !e.Type().IsRegular() {
			continue
		}
		sheets, err := b.read(e.Name())
		list, faults = append(list, sheets...), append(faults, err)
	}
	sort.SliceStable(list, func(i, j int) bool {
		x, y := &list[i], &list[j]
		return cmp.Or(x.Exposed.Compare(y.Exposed), compareByNumber(x.Name(), y.Name())) < 0
	})
	return list, errors.Join(faults...)
}

func (b SheetStore) read(file string) ([]ExposedSheet, error) {
	list, err := b.open(file)
	for i := range list.sheets {
		list.sheets[i].file = file
	}
	return list.sheets, err
}

func (b SheetStore) open(file string) (csvText, error) {
	data, err := plainfile.Read(filepath.Join(b.Folder, file), longestFile)
	if err != nil {
		return csvText{}, err
	}
	return parseCSV(file, data)
}

// compareByNumber compares 2A and 10A by their numbers.
func compareByNumber(a, b string) int {
	number := func(s string) int {
		n, _ := strconv.Atoi(strings.TrimRightFunc(s, func(r rune) bool { return r < '0' || r > '9' }))
		return n
	}
	return cmp.Or(cmp.Compare(number(a), number(b)), strings.Compare(a, b))
}

// Add puts sheets on this laptop's list. A sheet that stands there is refused.
func (b SheetStore) Add(sheets ...ExposedSheet) error {
	return b.change(b.own(), func(l *csvText) ([]byte, error) {
		added := map[sheetKey]bool{}
		for i := range sheets {
			e := &sheets[i]
			if err := e.Check(); err != nil {
				return nil, err
			}
			if l.find(e) >= 0 || added[e.key()] {
				return nil, fmt.Errorf("%s, %s is on the list already", e.Name(), e.Film)
			}
			added[e.key()] = true
		}
		return l.add(sheets...), nil
	})
}

// Replace changes one sheet for another, or takes it off the list where to is nil. One
// that was changed since from was read is left as it is.
func (b SheetStore) Replace(from ExposedSheet, to *ExposedSheet) error {
	return b.change(cmp.Or(from.file, b.own()), func(l *csvText) ([]byte, error) {
		i := l.find(&from)
		if i < 0 {
			return nil, fmt.Errorf("%s, %s is not on the list: %w", from.Name(), from.Film, fs.ErrNotExist)
		}
		for _, c := range columns {
			if now := l.sheets[i].cell(c); now != from.cell(c) && c != "exposed" {
				return nil, fmt.Errorf("%s, %s: %s has been changed to %q meanwhile; expected %q", from.Name(), from.Film, c, now, from.cell(c))
			}
		}
		if to == nil {
			return l.put(i, nil), nil
		}
		if err := to.Check(); err != nil {
			return nil, err
		}
		if o := l.find(to); o >= 0 && o != i {
			return nil, fmt.Errorf("%s, %s is on the list already", to.Name(), to.Film)
		}
		return l.put(i, to), nil
	})
}

// own is the file of this laptop.
func (b SheetStore) own() string { return journal.FileName(b.Laptop) + csvSuffix }

// change writes one list with its text changed; nobody else changes it meanwhile. One
// that cannot be read is left as it is.
func (b SheetStore) change(file string, by func(*csvText) ([]byte, error)) error {
	if b.Folder == "" {
		return errors.New("sheets: nowhere to keep them; expected a home folder")
	}
	hold, err := journal.LockFolder(b.Folder)
	if err != nil {
		return fmt.Errorf("sheets: %w", err)
	}
	defer hold.Release()
	list, err := b.open(file)
	if errors.Is(err, fs.ErrNotExist) {
		list, err = emptyCSV(), nil
	}
	if err != nil {
		return err
	}
	text, err := by(&list)
	if err != nil {
		return err
	}
	if len(text) > longestFile {
		return fmt.Errorf("sheets: %s would be over 1 MiB; expected sheets long developed to be dropped", file)
	}
	if err := journal.ReplaceFile(b.Disk, b.Folder, file, text); err != nil {
		return fmt.Errorf("sheets: %w", err)
	}
	return nil
}
