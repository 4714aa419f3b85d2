package notebook

// Exposed sheets that wait for their development: one line a sheet in plain CSV files
// that may be typed by hand, in the user's data ($XDG_DATA_HOME/wetside/sheets), one
// file a laptop. Which of them are developed is not written there: the sessions say
// it, by the sheets' names.

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence/journal"
)

// Exposed is one sheet.
type Exposed struct {
	Holder, Side string
	Film         string
	Exposure     string  // as noted
	Range        float64 // of the subject, in stops; 0 where not noted
	Shadow       string  // where the shadow was placed, as noted
	Development  string  // "N-1", or a gradient such as "0.62"; "" for what the range wants, else N
	Exposed      time.Time
	Note         string

	file string // that its line stands in
}

// Name is the sheet's name in a session: holder and side.
func (e *Exposed) Name() string { return e.Holder + e.Side }

// columns of the file, in the order in which they are written.
var waitingColumns = []string{"holder", "side", "film", "exposure", "range", "shadow", "development", "exposed", "note"}

// The bounds of what a line may hold.
const (
	longestName  = 10 // of holder and side, each
	longestField = 200
	leastRange   = 1
	mostRange    = 20
	mostWaiting  = 1 << 20 // bytes of one file
)

// same reports whether two lines mean one sheet: a holder is loaded anew another day.
func (e *Exposed) same(o *Exposed) bool {
	return e.Name() == o.Name() && e.Film == o.Film && e.Exposed.Equal(o.Exposed)
}

// exposedOf reads one line.
func exposedOf(cell func(column string) string) (Exposed, error) {
	e := Exposed{Holder: cell("holder"), Side: cell("side"), Film: cell("film"), Exposure: cell("exposure"),
		Shadow: cell("shadow"), Development: cell("development"), Note: cell("note")}
	var err error
	if text := cell("range"); text != "" {
		if e.Range, err = strconv.ParseFloat(text, 64); err != nil {
			return e, fmt.Errorf("range %q; expected stops, such as 7 or 6.5", text)
		}
	}
	if text := cell("exposed"); text != "" {
		if e.Exposed, err = exposedDay(text); err != nil {
			return e, err
		}
	}
	return e, e.Check()
}

// Days as they are written; a bare day is its beginning.
const exposedForm = "2006-01-02T15:04:05Z07:00"

func exposedDay(text string) (time.Time, error) {
	if t, err := time.Parse(exposedForm, text); err == nil {
		return t, nil
	}
	t, err := time.ParseInLocation(time.DateOnly, text, time.Local)
	if err != nil {
		return t, fmt.Errorf("exposed %q; expected a day such as 2026-11-25", text)
	}
	return t, nil
}

// Check says what is wrong with a sheet before it is kept.
func (e *Exposed) Check() error {
	switch {
	case e.Holder == "":
		return errors.New("holder: nothing in it; expected its number")
	case e.Holder[0] == '#':
		return fmt.Errorf("holder %q: a line that begins so is a comment; expected its number", e.Holder)
	case len(e.Holder) > longestName || len(e.Side) > longestName:
		return fmt.Errorf("holder %q: expected %d characters at most, side too", e.Name(), longestName)
	case e.Film == "":
		return fmt.Errorf("%s: no film", e.Name())
	case e.Range != 0 && !(e.Range >= leastRange && e.Range <= mostRange):
		return fmt.Errorf("%s: range %g stops; expected %d to %d", e.Name(), e.Range, leastRange, mostRange)
	}
	for _, text := range []string{e.Film, e.Exposure, e.Shadow, e.Note} {
		if len(text) > longestField {
			return fmt.Errorf("%s: a text of %d bytes; expected %d at most", e.Name(), len(text), longestField)
		}
	}
	_, _, err := development(e.Development)
	return err
}

// cell is what a column holds for the sheet, "" for nothing.
func (e *Exposed) cell(column string) string {
	switch column {
	case "holder":
		return e.Holder
	case "side":
		return e.Side
	case "film":
		return e.Film
	case "exposure":
		return e.Exposure
	case "range":
		if e.Range != 0 {
			return strconv.FormatFloat(e.Range, 'f', -1, 64)
		}
	case "shadow":
		return e.Shadow
	case "development":
		return e.Development
	case "exposed":
		if !e.Exposed.IsZero() {
			return e.Exposed.Format(exposedForm)
		}
	case "note":
		return e.Note
	}
	return ""
}

// Box is where the lists are kept.
type Box struct {
	Folder string       // of all lists
	Laptop string       // whose list new sheets go to
	Disk   journal.Disk // for writing; nil means the computer's own
}

const waitingSuffix = ".csv"

// List reads all lists, in the order in which the sheets were exposed. What cannot be
// read is an error beside what can.
func (b Box) List() ([]Exposed, error) {
	entries, err := os.ReadDir(b.Folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var list []Exposed
	faults := []error{err}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), waitingSuffix) || !e.Type().IsRegular() {
			continue
		}
		sheets, err := b.read(e.Name())
		list, faults = append(list, sheets...), append(faults, err)
	}
	slices.SortStableFunc(list, func(x, y Exposed) int {
		return cmp.Or(x.Exposed.Compare(y.Exposed), naturally(x.Name(), y.Name()))
	})
	return list, errors.Join(faults...)
}

func (b Box) read(file string) ([]Exposed, error) {
	list, err := b.open(file)
	for i := range list.sheets {
		list.sheets[i].file = file
	}
	return list.sheets, err
}

func (b Box) open(file string) (sheetText, error) {
	f, err := os.Open(filepath.Join(b.Folder, file))
	if err != nil {
		return sheetText{}, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostWaiting+1))
	if err == nil && len(data) > mostWaiting {
		err = fmt.Errorf("%s: over 1 MiB; expected a list of sheets", file)
	}
	if err != nil {
		return sheetText{}, err
	}
	return readSheets(file, data)
}

// naturally compares 2A and 10A by their numbers.
func naturally(a, b string) int {
	number := func(s string) int {
		n, _ := strconv.Atoi(strings.TrimRightFunc(s, func(r rune) bool { return r < '0' || r > '9' }))
		return n
	}
	return cmp.Or(cmp.Compare(number(a), number(b)), strings.Compare(a, b))
}

// Add puts sheets on this laptop's list. A sheet that stands there is refused.
func (b Box) Add(sheets ...Exposed) error {
	return b.change(b.own(), func(l *sheetText) ([]byte, error) {
		for i := range sheets {
			e := &sheets[i]
			if err := e.Check(); err != nil {
				return nil, err
			}
			if l.find(e) >= 0 || slices.ContainsFunc(sheets[:i], func(o Exposed) bool { return o.same(e) }) {
				return nil, fmt.Errorf("%s, %s is on the list already", e.Name(), e.Film)
			}
		}
		return l.add(sheets...), nil
	})
}

// Replace changes one sheet for another, or takes it off the list where to is nil. One
// that was changed since from was read is left as it is.
func (b Box) Replace(from Exposed, to *Exposed) error {
	return b.change(cmp.Or(from.file, b.own()), func(l *sheetText) ([]byte, error) {
		i := l.find(&from)
		if i < 0 {
			return nil, fmt.Errorf("%s, %s is not on the list: %w", from.Name(), from.Film, fs.ErrNotExist)
		}
		for _, c := range waitingColumns {
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
func (b Box) own() string { return slug(b.Laptop) + waitingSuffix }

// change writes one list with its text changed; nobody else changes it meanwhile. One
// that cannot be read is left as it is.
func (b Box) change(file string, by func(*sheetText) ([]byte, error)) error {
	if b.Folder == "" {
		return errors.New("sheets: nowhere to keep them; expected a home folder")
	}
	hold, err := journal.Hold(b.Folder)
	if err != nil {
		return fmt.Errorf("sheets: %w", err)
	}
	defer hold.Release()
	list, err := b.open(file)
	if errors.Is(err, fs.ErrNotExist) {
		list, err = blankSheets(), nil
	}
	if err != nil {
		return err
	}
	text, err := by(&list)
	if err != nil {
		return err
	}
	if len(text) > mostWaiting {
		return fmt.Errorf("sheets: %s would be over 1 MiB; expected sheets long developed to be dropped", file)
	}
	if err := replace(disk(journal.Store{Disk: b.Disk}), b.Folder, file, text); err != nil {
		return fmt.Errorf("sheets: %w", err)
	}
	return nil
}
