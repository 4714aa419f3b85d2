package curve

// Readings as a person types them, step after step and sheet after sheet, whole
// or not yet, and the plain CSV in which they are kept: `#` lines say what the
// columns are, the rest is the CSV that Read reads.

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Readings is what was read off the negatives of one film test so far.
type Readings struct {
	Film    string
	Channel Channel // "": visual
	Stops   bool    // typed as stops of a spot meter; kept as densities all the same
	Session string  // that developed the sheets; "" where none is linked
	Metered string  // how the tablet was metered, "EI 50 +4"; "" where it was not
	Tablet  []float64
	Sheets  []SheetReadings
	Remarks []string // `#` lines that a person typed; Text keeps them below its own
}

// SheetReadings is the column of one sheet.
type SheetReadings struct {
	Time  time.Duration // developing time
	Sheet int           // of the session, from 1; 0 where none is linked
	Base  *Density      // base plus fog; nil until read
	Steps []*Density    // one for each step of the tablet; nil where not read
	// Errors are standard errors where a picture told them: of base plus fog, then of each step; 0
	// where not known. Nil: of none.
	Errors []Density
}

// Add appends a sheet of which nothing is read yet.
func (r *Readings) Add(t time.Duration, sheet int) {
	r.Sheets = append(r.Sheets, SheetReadings{Time: t, Sheet: sheet, Steps: make([]*Density, len(r.Tablet))})
}

// Count is how many readings there are of a sheet, base plus fog apart.
func (s SheetReadings) Count() (n int) {
	for _, d := range s.Steps {
		if d != nil {
			n++
		}
	}
	return n
}

// Curve is the sheet as a curve, exposures relative to density 0 of the tablet;
// false with less than two readings.
func (r *Readings) Curve(k int) (Curve, bool) {
	s := r.Sheets[k]
	c := Curve{Time: s.Time, Base: s.Base}
	for i, d := range s.Steps {
		if d != nil {
			c.Readings, c.Steps = append(c.Readings, Reading{LogH(-r.Tablet[i]), *d}), append(c.Steps, i+1)
		}
	}
	if n := len(r.Tablet); n > 1 && r.Tablet[0] < r.Tablet[n-1] {
		slices.Reverse(c.Readings)
		slices.Reverse(c.Steps)
	}
	if s.Errors != nil {
		c = c.withErrors(s.Errors)
	}
	return c, len(c.Readings) >= 2
}

// Family is the sheets that can be drawn. At says which sheet each curve is.
func (r *Readings) Family(name string) (f Family, at []int) {
	f = Family{Name: name, Scale: Relative}
	for k := range r.Sheets {
		if c, ok := r.Curve(k); ok {
			f.Curves, at = append(f.Curves, c), append(at, k)
		}
	}
	return f, at
}

// Doubtful is the steps of a sheet whose readings look like slips, the worst first.
func (r *Readings) Doubtful(k int, e Density) []int {
	c, ok := r.Curve(k)
	if !ok {
		return nil
	}
	var steps []int
	for _, i := range c.Outliers(e) {
		steps = append(steps, slices.Index(r.Tablet, -float64(c.Readings[i].LogH)))
	}
	return steps
}

// What the `#` lines are called.
const (
	readingsHead = "# wetside readings"
	keyFilm      = "film"
	keyChannel   = "channel"
	keyTyped     = "typed in"
	keySession   = "session"
	keySheets    = "sheets"
	keyMetered   = "metered"
	stopsWord    = "stops"
	keyErrors    = "errors " // and the column's number
)

// Text is the readings as CSV.
func (r *Readings) Text() []byte {
	var b bytes.Buffer
	say := func(what, value string) {
		if value != "" {
			fmt.Fprintf(&b, "# %s: %s\n", what, printable(value))
		}
	}
	fmt.Fprintln(&b, readingsHead)
	say(keyFilm, r.Film)
	say(keyChannel, string(r.Channel))
	if r.Stops {
		say(keyTyped, stopsWord)
	}
	say(keyMetered, r.Metered)
	say(keySession, r.Session)
	say(keySheets, r.sheetList())
	for k, s := range r.Sheets {
		say(fmt.Sprint(keyErrors, k+1), s.errorList())
	}
	for _, line := range r.Remarks {
		fmt.Fprintln(&b, line)
	}
	row := func(first string, cell func(SheetReadings) string) {
		b.WriteString(first)
		for _, s := range r.Sheets {
			b.WriteString("," + cell(s))
		}
		b.WriteString("\n")
	}
	row(headTablet, func(s SheetReadings) string { return formatTime(s.Time) })
	row(headBase, func(s SheetReadings) string { return formatDensity(s.Base) })
	for i, d := range r.Tablet {
		row(strconv.FormatFloat(d, 'f', -1, 64), func(s SheetReadings) string { return formatDensity(s.Steps[i]) })
	}
	return b.Bytes()
}

// sheetList is the sheets of the session by column; "" where none is linked.
func (r *Readings) sheetList() string {
	var list []string
	linked := false
	for _, s := range r.Sheets {
		list, linked = append(list, strconv.Itoa(s.Sheet)), linked || s.Sheet > 0
	}
	if !linked {
		return ""
	}
	return strings.Join(list, " ")
}

// formatTime is a time that ParseDuration reads back.
func formatTime(t time.Duration) string {
	s := t.Round(time.Millisecond).String()
	if strings.HasSuffix(s, "m0s") {
		s = strings.TrimSuffix(s, "0s")
	}
	return s
}

func formatDensity(d *Density) string {
	if d == nil {
		return ""
	}
	s := strconv.FormatFloat(float64(*d), 'f', -1, 64)
	if two := strconv.FormatFloat(float64(*d), 'f', 2, 64); len(two) > len(s) {
		return two
	}
	return s
}

// Link is what the `#` lines of a file of readings say.
type Link struct {
	Film, Session, Metered string
	Channel                Channel
	Stops                  bool
	Sheets                 []int             // by column; nil where not said
	Errors                 map[int][]Density // by column, from 1
	remarks                []string          // those that are not of ours, whole
}

// ReadLink reads the `#` lines; in a file that is not of ours it finds nothing.
func ReadLink(data []byte) (l Link) {
	for line := range strings.SplitSeq(string(data), "\n") {
		rest, ok := strings.CutPrefix(line, "#")
		if !ok {
			continue
		}
		what, value, told := strings.Cut(strings.TrimSpace(rest), ":")
		if line = strings.TrimRight(line, "\r"); !(told && l.take(what, strings.TrimSpace(value))) && line != readingsHead {
			l.remarks = append(l.remarks, line)
		}
	}
	return l
}

// take takes in one of our own lines; false where it is none.
func (l *Link) take(what, value string) bool {
	switch what {
	case keyFilm:
		l.Film = value
	case keyChannel:
		l.Channel = Channel(value)
	case keyTyped:
		l.Stops = value == stopsWord
	case keySession:
		l.Session = value
	case keyMetered:
		l.Metered = value
	case keySheets:
		l.Sheets = nil
		for _, word := range strings.Fields(value) {
			n, _ := parseCount(word)
			l.Sheets = append(l.Sheets, n)
		}
	default:
		k := errorsColumn(what)
		if k > 0 && l.Errors == nil {
			l.Errors = map[int][]Density{}
		}
		if k > 0 {
			l.Errors[k] = parseErrors(value)
		}
		return k > 0
	}
	return true
}

// ReadReadings reads a file that Text wrote, to go on with it: columns may be
// empty, and densities that fall are kept as they were typed. The error is Faults.
func ReadReadings(name string, data []byte) (Readings, error) {
	fs := &faultList{file: name}
	s, ok := readTabletRows(fs, data, headTablet+", as wetside writes readings")
	if !ok {
		return Readings{}, fs.err()
	}
	l := ReadLink(data)
	r := Readings{Film: l.Film, Channel: l.Channel, Stops: l.Stops, Session: l.Session, Metered: l.Metered,
		Remarks: l.remarks}
	tablet, rows, _ := s.directedColumn(fs)
	r.Tablet = tablet
	base := s.base(fs)
	for k := 1; k < len(s.head); k++ {
		col := SheetReadings{Steps: make([]*Density, len(rows))}
		col.Time, _ = timeIn(fs, s.head[k])
		if k <= len(l.Sheets) {
			col.Sheet = l.Sheets[k-1]
		}
		if base != nil {
			col.Base = densityIn(fs, base[k])
		}
		for i, row := range rows {
			col.Steps[i] = densityIn(fs, row[k])
		}
		col = col.withErrors(l.Errors[k])
		r.Sheets = append(r.Sheets, col)
	}
	return r, fs.err()
}
