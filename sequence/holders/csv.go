package holders

// A list of waiting sheets as the text that somebody may have typed. A change touches
// the lines of the sheets that it is about: comments, blank lines, the order of the
// columns and the way in which the file is parted stay as they were.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// csvText is a list with the places of its lines.
type csvText struct {
	text       []byte
	columns    []string // of its heading, in its order
	heading    span
	sheets     []ExposedSheet
	lines      []span           // of the sheets, in their order
	places     map[sheetKey]int // among the sheets
	semicolons bool             // parted by semicolons, with commas for decimals
	crlf       bool
}

// span is where a line stands in the text, its end of line included.
type span struct{ from, to int }

// ReadCSV reads sheets from CSV: a heading with at least holder and film, in any
// order, # for comments; also as spreadsheets write it, behind a byte order mark or
// parted by semicolons, where numbers have a comma for decimals. The error joins a
// line for each fault.
func ReadCSV(name string, data []byte) ([]ExposedSheet, error) {
	l, err := parseCSV(name, data)
	return l.sheets, err
}

func parseCSV(name string, data []byte) (csvText, error) {
	bare := bytes.TrimPrefix(data, []byte("\ufeff"))
	l := csvText{text: data, semicolons: usesSemicolons(bare), places: map[sheetKey]int{}}
	r := csv.NewReader(bytes.NewReader(bare))
	r.Comment, r.TrimLeadingSpace = '#', true
	if l.semicolons {
		r.Comma = ';'
	}
	place := rowPlace(bare, len(data)-len(bare))
	head, err := r.Read()
	if err != nil {
		return l, fmt.Errorf("%s: %w; expected a heading: %s", name, csvFault(err), strings.Join(columns, ","))
	}
	l.heading = place(r)
	l.crlf = bytes.HasSuffix(data[l.heading.from:l.heading.to], []byte("\r\n"))
	if err := l.head(name, head); err != nil {
		return l, err
	}
	return l, l.read(name, r, place)
}

// csvFault is what the CSV library found, in words.
func csvFault(err error) error {
	var at *csv.ParseError
	switch {
	case errors.Is(err, io.EOF):
		return errors.New("nothing in it")
	case !errors.As(err, &at):
		return err
	case errors.Is(err, csv.ErrFieldCount):
		return fmt.Errorf("line %d: not as many cells as the heading", at.Line)
	}
	return fmt.Errorf("line %d: a stray or unclosed quotation mark", at.Line)
}

// head takes in the heading.
func (l *csvText) head(name string, head []string) error {
	for _, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		if !slices.Contains(columns, h) {
			return fmt.Errorf("%s:1: column %q; expected some of %s", name, h, strings.Join(columns, ", "))
		}
		l.columns = append(l.columns, h)
	}
	for _, needed := range []string{"holder", "film"} {
		if !slices.Contains(l.columns, needed) {
			return fmt.Errorf("%s:1: no column %s", name, needed)
		}
	}
	return nil
}

// read takes in the sheets; those with a fault are left out.
func (l *csvText) read(name string, r *csv.Reader, place func(*csv.Reader) span) error {
	var faults []error
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return errors.Join(faults...)
		}
		if err != nil {
			return errors.Join(append(faults, fmt.Errorf("%s: %w", name, csvFault(err)))...)
		}
		line, _ := r.FieldPos(0)
		e, err := exposedOf(l.cells(row))
		if err == nil && l.find(&e) >= 0 {
			err = fmt.Errorf("%s, %s: a second line for this sheet", e.Name(), e.Film)
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, line, err))
			continue
		}
		l.places[e.key()] = len(l.sheets)
		l.sheets, l.lines = append(l.sheets, e), append(l.lines, place(r))
	}
}

// cells finds a row's cells by their column, the last where a heading names one twice;
// numbers get points for their decimals.
func (l *csvText) cells(row []string) func(column string) string {
	return func(column string) string {
		for i, c := range slices.Backward(l.columns) {
			switch {
			case c != column:
			case l.semicolons && isNumberColumn(column):
				return strings.ReplaceAll(strings.TrimSpace(row[i]), ",", ".")
			default:
				return strings.TrimSpace(row[i])
			}
		}
		return ""
	}
}

// isNumberColumn reports whether a column holds numbers.
func isNumberColumn(column string) bool { return column == "range" || column == "development" }

// usesSemicolons reports whether the heading is parted by them.
func usesSemicolons(text []byte) bool {
	for line := range bytes.Lines(text) {
		if line = bytes.TrimSpace(line); len(line) > 0 && line[0] != '#' {
			return bytes.ContainsRune(line, ';') && !bytes.ContainsRune(line, ',')
		}
	}
	return false
}

// rowPlace tells where the row that was read last stands in a file whose text begins
// after some bytes.
func rowPlace(text []byte, after int) func(*csv.Reader) span {
	starts := []int{0}
	for line := range bytes.Lines(text) {
		starts = append(starts, starts[len(starts)-1]+len(line))
	}
	return func(r *csv.Reader) span {
		line, _ := r.FieldPos(0)
		return span{after + starts[line-1], after + int(r.InputOffset())}
	}
}

// find is a sheet's place among the sheets, -1 where it is not.
func (l *csvText) find(e *ExposedSheet) int {
	if i, ok := l.places[e.key()]; ok {
		return i
	}
	return -1
}

// emptyCSV is a list with nothing on it.
func emptyCSV() csvText {
	head := strings.Join(columns, ",") + "\n"
	return csvText{text: []byte(head), columns: columns, heading: span{0, len(head)}}
}

// add is the text with sheets written below it.
func (l *csvText) add(sheets ...ExposedSheet) []byte {
	wide := l.withColumns(sheets...)
	text := wide.text
	if len(text) > 0 && text[len(text)-1] != '\n' {
		text = append(bytes.TrimSuffix(text, []byte("\r")), wide.eol()...)
	}
	for i := range sheets {
		text = append(text, wide.line(&sheets[i])...)
	}
	return text
}

// put is the text with sheet i written anew, or left out where to is nil.
func (l *csvText) put(i int, to *ExposedSheet) []byte {
	if to == nil {
		return slices.Concat(l.text[:l.lines[i].from], l.text[l.lines[i].to:])
	}
	wide := l.withColumns(*to)
	at := wide.lines[i]
	return slices.Concat(wide.text[:at.from], wide.line(to), wide.text[at.to:])
}

// withColumns is the list with columns for all that the sheets have, the new ones at the end
// of each line.
func (l *csvText) withColumns(sheets ...ExposedSheet) csvText {
	w := csvText{columns: slices.Clone(l.columns), sheets: l.sheets, semicolons: l.semicolons, crlf: l.crlf}
	head, blank := "", ""
	for _, c := range columns {
		if !slices.Contains(l.columns, c) && slices.ContainsFunc(sheets, func(e ExposedSheet) bool { return e.cell(c) != "" }) {
			w.columns = append(w.columns, c)
			head, blank = head+string(l.comma())+c, blank+string(l.comma())
		}
	}
	w.text = make([]byte, 0, len(l.text)+len(head)+len(l.lines)*len(blank))
	from := 0
	lengthen := func(s span, by string) span {
		end := from + len(bytes.TrimRight(l.text[from:s.to], "\r\n"))
		before := len(w.text) + s.from - from
		w.text = append(append(append(w.text, l.text[from:end]...), by...), l.text[end:s.to]...)
		from = s.to
		return span{before, len(w.text)}
	}
	w.heading = lengthen(l.heading, head)
	for _, s := range l.lines {
		w.lines = append(w.lines, lengthen(s, blank))
	}
	w.text = append(w.text, l.text[from:]...)
	return w
}

// line is a sheet as this list writes it.
func (l *csvText) line(e *ExposedSheet) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = l.comma(), l.crlf
	cells := make([]string, len(l.columns))
	for i, c := range l.columns {
		cells[i] = e.cell(c)
		if l.semicolons && isNumberColumn(c) {
			cells[i] = strings.ReplaceAll(cells[i], ".", ",")
		}
	}
	w.Write(cells)
	w.Flush()
	line := b.Bytes()
	if line[0] != '#' { // which would make a comment of it
		return line
	}
	end := bytes.IndexRune(line, l.comma())
	return slices.Concat([]byte(`"`), line[:end], []byte(`"`), line[end:])
}

func (l *csvText) comma() rune {
	if l.semicolons {
		return ';'
	}
	return ','
}

func (l *csvText) eol() string {
	if l.crlf {
		return "\r\n"
	}
	return "\n"
}
