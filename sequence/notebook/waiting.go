package notebook

// Exposed sheets that wait for their development: one line a sheet in plain CSV files
// that may be typed by hand, in the user's data ($XDG_DATA_HOME/wetside/sheets), one
// file a laptop. Which of them are developed is not written there: the sessions say
// it, by the sheets' names.

import (
	"bytes"
	"cmp"
	"encoding/csv"
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

// ReadWaiting reads sheets from CSV: a heading with at least holder and film, in any
// order, # for comments; also as spreadsheets write it, behind a byte order mark or
// parted by semicolons, where numbers have a comma for decimals. The error joins a
// line for each fault.
func ReadWaiting(name string, data []byte) ([]Exposed, error) {
	r, decimals := waitingReader(data)
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w; expected a heading: %s", name, err, strings.Join(waitingColumns, ","))
	}
	at := map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		if !slices.Contains(waitingColumns, h) {
			return nil, fmt.Errorf("%s:1: column %q; expected some of %s", name, h, strings.Join(waitingColumns, ", "))
		}
		at[h] = i
	}
	for _, needed := range []string{"holder", "film"} {
		if _, ok := at[needed]; !ok {
			return nil, fmt.Errorf("%s:1: no column %s", name, needed)
		}
	}
	var list []Exposed
	var faults []error
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return list, errors.Join(faults...)
		}
		if err != nil {
			return list, errors.Join(append(faults, fmt.Errorf("%s: %w", name, err))...)
		}
		line, _ := r.FieldPos(0)
		e, err := exposedOf(func(column string) string {
			i, ok := at[column]
			switch {
			case !ok:
				return ""
			case column == "range" || column == "development":
				return decimals.Replace(strings.TrimSpace(row[i]))
			}
			return strings.TrimSpace(row[i])
		})
		if err == nil && slices.ContainsFunc(list, func(o Exposed) bool { return o.same(&e) }) {
			err = fmt.Errorf("%s, %s: a second line for this sheet", e.Name(), e.Film)
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, line, err))
			continue
		}
		list = append(list, e)
	}
}

// waitingReader reads a file as its heading is parted; decimals puts points into its
// numbers.
func waitingReader(data []byte) (r *csv.Reader, decimals *strings.Replacer) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r, decimals = csv.NewReader(bytes.NewReader(data)), strings.NewReplacer()
	r.Comment, r.TrimLeadingSpace = '#', true
	for line := range bytes.Lines(data) {
		if line = bytes.TrimSpace(line); len(line) == 0 || line[0] == '#' {
			continue
		}
		if bytes.ContainsRune(line, ';') && !bytes.ContainsRune(line, ',') {
			r.Comma, decimals = ';', strings.NewReplacer(",", ".")
		}
		break
	}
	return r, decimals
}

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

// WriteWaiting is the sheets as a file.
func WriteWaiting(list []Exposed) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write(waitingColumns)
	for _, e := range list {
		day, stops := "", ""
		if !e.Exposed.IsZero() {
			day = e.Exposed.Format(exposedForm)
		}
		if e.Range != 0 {
			stops = strconv.FormatFloat(e.Range, 'f', -1, 64)
		}
		w.Write([]string{e.Holder, e.Side, e.Film, e.Exposure, stops, e.Shadow, e.Development, day, e.Note})
	}
	w.Flush()
	return b.Bytes()
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
	f, err := os.Open(filepath.Join(b.Folder, file))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostWaiting+1))
	if err == nil && len(data) > mostWaiting {
		err = fmt.Errorf("%s: over 1 MiB; expected a list of sheets", file)
	}
	if err != nil {
		return nil, err
	}
	list, err := ReadWaiting(file, data)
	for i := range list {
		list[i].file = file
	}
	return list, err
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
	return b.change(b.own(), func(list []Exposed) ([]Exposed, error) {
		for _, e := range sheets {
			if err := e.Check(); err != nil {
				return nil, err
			}
			if slices.ContainsFunc(list, func(o Exposed) bool { return o.same(&e) }) {
				return nil, fmt.Errorf("%s, %s is on the list already", e.Name(), e.Film)
			}
			list = append(list, e)
		}
		return list, nil
	})
}

// Replace changes one sheet for another, or takes it off the list where to is nil.
func (b Box) Replace(from Exposed, to *Exposed) error {
	return b.change(cmp.Or(from.file, b.own()), func(list []Exposed) ([]Exposed, error) {
		i := slices.IndexFunc(list, func(o Exposed) bool { return o.same(&from) })
		if i < 0 {
			return nil, fmt.Errorf("%s, %s is not on the list: %w", from.Name(), from.Film, fs.ErrNotExist)
		}
		if to == nil {
			return slices.Delete(list, i, i+1), nil
		}
		if err := to.Check(); err != nil {
			return nil, err
		}
		list[i] = *to
		return list, nil
	})
}

// own is the file of this laptop.
func (b Box) own() string { return slug(b.Laptop) + waitingSuffix }

// change writes one list anew. One that cannot be read is left as it is.
func (b Box) change(file string, by func([]Exposed) ([]Exposed, error)) error {
	if b.Folder == "" {
		return errors.New("sheets: nowhere to keep them; expected a home folder")
	}
	list, err := b.read(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if list, err = by(list); err != nil {
		return err
	}
	if err := os.MkdirAll(b.Folder, 0o700); err != nil {
		return err
	}
	if err := replace(disk(journal.Store{Disk: b.Disk}), b.Folder, file, WriteWaiting(list)); err != nil {
		return fmt.Errorf("sheets: %w", err)
	}
	return nil
}
