// Package holders is exposed sheets that wait for their development: kept, what each wants,
// grouped into sessions.
//
// For commands and screens. Start with SheetStore and Grouper. It starts no session, and never
// writes down that a sheet was developed: the sessions tell that.
package holders

// Exposed sheets that wait for their development: one line a sheet in plain CSV files
// that may be typed by hand, in the user's data ($XDG_DATA_HOME/wetside/sheets), one
// file a laptop. Which of them are developed is not written there: the sessions say
// it, by the sheets' names.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// ExposedSheet is one sheet.
type ExposedSheet struct {
	Holder      string    `json:"holder"`
	Side        string    `json:"side"`
	Film        string    `json:"film"`
	Exposure    string    `json:"exposure"`    // as noted
	Range       float64   `json:"range_stops"` // of the subject, in stops; 0 where not noted
	Shadow      string    `json:"shadow"`      // where the shadow was placed, as noted
	Development string    `json:"development"` // "N-1", or a gradient such as "0.62"; "" for what the range wants, else N
	Exposed     time.Time `json:"exposed"`
	Note        string    `json:"note"`

	file string // that its line stands in
}

// Name is the sheet's name in a session: holder and side.
func (e *ExposedSheet) Name() string { return e.Holder + e.Side }

// columns of the file, in the order in which they are written.
var columns = []string{"holder", "side", "film", "exposure", "range", "shadow", "development", "exposed", "note"}

// The bounds of what a line may hold.
const (
	longestName  = 10 // of holder and side, each
	longestField = 200
	leastRange   = 1
	mostRange    = 20
	longestFile  = 1 << 20 // bytes of one file
)

// SameFilm reports whether two names are one film's: as people type them, without case or blanks
// too many.
func SameFilm(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

// sheetKey is what two lines for one sheet have alike: a holder is loaded anew another day.
type sheetKey struct {
	name, film    string
	exposed, nano int64
}

func (e *ExposedSheet) key() sheetKey {
	return sheetKey{e.Name(), e.Film, e.Exposed.Unix(), int64(e.Exposed.Nanosecond())}
}

// exposedOf reads one line.
func exposedOf(cell func(column string) string) (ExposedSheet, error) {
	e := ExposedSheet{Holder: cell("holder"), Side: cell("side"), Film: cell("film"), Exposure: cell("exposure"),
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
func (e *ExposedSheet) Check() error {
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
func (e *ExposedSheet) cell(column string) string {
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
