package curve

// Readings as CSV: a header of log_h or tablet and one developing time for each
// column, then a row for each step; also as spreadsheets write it (chem.PlainCSV). `#` begins a
// comment, a row called base gives base plus fog, an empty cell is a missing reading and never zero.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/wetside/chem"
)

const (
	headLogH   = "log_h"
	headTablet = "tablet"
	headBase   = "base"
)

// csvCell is one field of a row, without blanks round it.
type csvCell struct {
	text string
	at   position
}

// csvTable is a CSV as far as its shape goes: rows as wide as the header.
type csvTable struct {
	head []csvCell
	rows [][]csvCell
}

// ReadCSV reads readings. Where the header is `tablet`, exposures are
// Options.LogH0 less the tablet's density. The error is Faults, or about the
// Options.
func ReadCSV(name string, data []byte, o Options) (Family, error) {
	if err := o.check(); err != nil {
		return Family{}, err
	}
	fs := &faultList{file: name}
	s, ok := readRows(fs, data)
	if !ok {
		return Family{}, fs.err()
	}
	f := Family{Name: name, Scale: Unstated}
	h0 := LogH(0)
	tablet := s.head[0].text == headTablet
	switch {
	case tablet && o.LogH0 != nil:
		h0, f.Scale = *o.LogH0, LuxSeconds
	case tablet:
		f.Scale = Relative
	case o.LogH0 != nil:
		f.Notes = append(f.Notes, "the file gives exposures itself; log H behind density 0 is not used")
	}
	steps := s.steps(fs, tablet, h0)
	base := s.base(fs)
	errorsOf := ReadLink(data).Errors
	for k := 1; k < len(s.head); k++ {
		c := s.curve(fs, k, steps, base)
		if list := errorsOf[k]; len(list) == len(steps)+1 {
			c = c.withErrors(list)
		}
		f.Curves = append(f.Curves, c)
	}
	if err := fs.err(); err != nil {
		return Family{}, err
	}
	return f, nil
}

// readRows splits a CSV, checks its header and the width of its rows.
func readRows(fs *faultList, data []byte) (s csvTable, ok bool) {
	data, ok = guard(fs, data, true)
	if !ok {
		return s, false
	}
	data = chem.PlainCSV(data)
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment, r.FieldsPerRecord = '#', -1
	lines := bytes.Split(data, []byte("\n"))
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			fs.broken(err)
			return s, false
		}
		s.add(fs, readCells(r, record, lines))
	}
	if s.head == nil {
		fs.add(position{}, "no header", "log_h or tablet, then developing times")
		return s, false
	}
	if len(s.rows) > maxRows {
		fs.add(s.rows[maxRows][0].at, fmt.Sprintf("%d rows", len(s.rows)), fmt.Sprintf("at most %d", maxRows))
		return s, false
	}
	return s, s.checkHead(fs)
}

// readTabletRows is readRows for a file whose first column must be a tablet.
func readTabletRows(fs *faultList, data []byte, expected string) (s csvTable, ok bool) {
	s, ok = readRows(fs, data)
	if ok && s.head[0].text != headTablet {
		fs.add(s.head[0].at, "first column "+quoted(s.head[0].text), expected)
		return s, false
	}
	return s, ok
}

// broken notes what the CSV library found.
func (fs *faultList) broken(err error) {
	p, ok := errors.AsType[*csv.ParseError](err)
	if !ok {
		fs.add(position{}, err.Error(), "CSV")
		return
	}
	fs.add(position{p.Line, 0}, "a stray or unclosed quotation mark", "cells without quotation marks")
}

// readCells gives the cells of a record their places, in characters.
func readCells(r *csv.Reader, record []string, lines [][]byte) []csvCell {
	cells := make([]csvCell, len(record))
	for i, text := range record {
		line, col := r.FieldPos(i)
		if b := lines[line-1]; col-1 <= len(b) {
			col = utf8.RuneCount(b[:col-1]) + 1
		}
		cells[i] = csvCell{strings.TrimSpace(text), position{line, col}}
	}
	return cells
}

// add takes a row: the first is the header; comments after blanks and rows
// without anything in them are left out.
func (s *csvTable) add(fs *faultList, row []csvCell) {
	empty := !slices.ContainsFunc(row, func(c csvCell) bool { return c.text != "" })
	switch {
	case empty, strings.HasPrefix(row[0].text, "#"):
	case s.head == nil:
		s.head = row
	case len(row) != len(s.head):
		fs.add(row[0].at, fmt.Sprintf("%d cells in this row", len(row)),
			fmt.Sprintf("%d, as in the header (a decimal comma makes two cells of one number)", len(s.head)))
	default:
		s.rows = append(s.rows, row)
	}
}

// checkHead refuses a header that is none.
func (s *csvTable) checkHead(fs *faultList) bool {
	first := s.head[0]
	switch {
	case first.text != headLogH && first.text != headTablet:
		fs.add(first.at, "first column "+quoted(first.text), "log_h or tablet")
		return false
	case len(s.head)-1 > maxCurves:
		fs.add(first.at, fmt.Sprintf("%d developing times", len(s.head)-1), fmt.Sprintf("at most %d", maxCurves))
		return false
	}
	return true
}

// csvStep is a row of readings and its exposure.
type csvStep struct {
	row    []csvCell
	logH   LogH
	number int // in the order of the file, from 1
}

// steps are the rows of readings, exposure rising.
func (s *csvTable) steps(fs *faultList, tablet bool, h0 LogH) (steps []csvStep) {
	if len(s.head) == 1 {
		fs.add(s.head[0].at, "no developing time", "one for each column after "+s.head[0].text)
	}
	values, rows, sign := s.directedColumn(fs)
	for i, row := range rows {
		h := LogH(values[i])
		if tablet {
			h = h0 - h
		}
		steps = append(steps, csvStep{row, h, i + 1})
	}
	if (sign < 0) != tablet {
		slices.Reverse(steps)
	}
	return steps
}

// directedColumn is the first column, which must rise throughout or fall throughout: +1 or -1.
func (s *csvTable) directedColumn(fs *faultList) (values []float64, rows [][]csvCell, sign int) {
	values, rows = s.firstColumn(fs)
	sign, bad := checkDirection(values)
	if bad >= 0 {
		first, before := rows[bad][0], rows[bad-1][0]
		fs.add(first.at, s.head[0].text+" "+quoted(first.text)+" after "+quoted(before.text),
			"every row to go on in the direction of the first two")
	}
	return values, rows, sign
}

// firstColumn reads the exposures, or the tablet's densities, of all rows but
// base.
func (s *csvTable) firstColumn(fs *faultList) (values []float64, rows [][]csvCell) {
	b := logHLimits
	if s.head[0].text == headTablet {
		b = tabletLimits
	}
	for _, row := range s.rows {
		if row[0].text == headBase {
			continue
		}
		if row[0].text == "" {
			fs.add(row[0].at, "no "+s.head[0].text+" in this row", b.String()+", or no row")
			continue
		}
		v, what, expected := b.read(row[0].text)
		if what != "" {
			fs.add(row[0].at, what, expected)
			continue
		}
		values, rows = append(values, v), append(rows, row)
	}
	if len(values) == 0 && len(fs.list) == 0 {
		fs.add(position{}, "no readings", "a row for each step")
	}
	return values, rows
}

// base is the row of base plus fog; nil where there is none.
func (s *csvTable) base(fs *faultList) (base []csvCell) {
	for _, row := range s.rows {
		if row[0].text != headBase {
			continue
		}
		if base != nil {
			fs.add(row[0].at, "a second row called base", "one")
		}
		base = row
	}
	return base
}

// curve reads column k.
func (s *csvTable) curve(fs *faultList, k int, steps []csvStep, base []csvCell) Curve {
	head := s.head[k]
	t, ok := timeIn(fs, head)
	if ok && (t < time.Second || t > maxMinutes*time.Minute) {
		fs.add(head.at, "developing time "+quoted(head.text)+" is out of range", fmt.Sprintf("1 s to %d h", maxMinutes/60))
	}
	var b *Density
	if base != nil {
		b = densityIn(fs, base[k])
	}
	var spots []tabletReading
	for _, st := range steps {
		if d := densityIn(fs, st.row[k]); d != nil {
			spots = append(spots, tabletReading{Reading{st.logH, *d}, st.number, st.row[k].at})
		}
	}
	if len(fs.list) == 0 && len(spots) < 2 {
		fs.add(head.at, fmt.Sprintf("%d readings under %s", len(spots), quoted(head.text)), "at least 2")
	}
	return curveOf(fs, t, b, spots)
}

// timeIn reads a cell of the header; false where it is at fault.
func timeIn(fs *faultList, c csvCell) (time.Duration, bool) {
	t, err := chem.ParseDuration(c.text)
	if err != nil {
		fs.add(c.at, "developing time "+quoted(c.text)+" is not a time", "one such as 5m, 4m30s or 4:30")
	}
	return t, err == nil
}

// densityIn reads a cell; nil where it is empty or at fault.
func densityIn(fs *faultList, c csvCell) *Density {
	if c.text == "" {
		return nil
	}
	v, what, expected := densityLimits.read(c.text)
	if what != "" {
		fs.add(c.at, what, expected)
		return nil
	}
	return new(Density(v))
}
