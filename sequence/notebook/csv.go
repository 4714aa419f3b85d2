package notebook

// The notebook as a table for spreadsheets: CSV by RFC 4180. A text that a
// spreadsheet would take for a formula is given an apostrophe in front, as
// spreadsheets themselves mark a text: recipes are passed from hand to hand.

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.org/wetside/sequence"
)

// WriteList writes one row a session.
func WriteList(out io.Writer, list []Summary) error {
	t := newTable(out, "id", "recipe", "film", "vessel", "sheets", "started", "ended", "status", "rehearsal", "emulsion")
	for _, s := range list {
		t.row(text(s.ID), text(s.Recipe), text(s.Film), text(string(s.Vessel)), count(s.Sheets), moment(s.Started), moment(s.Ended),
			text(string(s.Status)), strconv.FormatBool(s.Rehearsal), text(string(s.Emulsion)))
	}
	return t.end()
}

// WriteSession writes one row for each stay of a sheet in a bath, each reading,
// each note, and all else that happened; "row" says which. Times are seconds
// since the first sheet went in, development per cent of what was planned.
func WriteSession(out io.Writer, s *Session) error {
	t := newTable(out, "row", "at_s", "until_s", "step", "sheet", "vessel", "planned_at_s", "planned_until_s",
		"developed_percent", "temperature_c", "source", "cue", "text")
	for i := range s.Steps {
		for _, y := range s.Steps[i].Sheets {
			t.stay(s.Plan, i, y)
		}
	}
	for _, e := range s.Readings {
		at := e.At
		if e.Since != nil {
			at = *e.Since
		}
		t.row("reading", seconds(at), "", "", "", "", "", "", "", number(float64(*e.Temperature)), text(e.Source), "", "")
	}
	for _, e := range s.Notes {
		t.row("note", seconds(e.At), "", "", "", "", "", "", "", "", "", "", text(e.Text))
	}
	for _, e := range s.Exceptions {
		if e.Kind == sequence.GapFound {
			continue // below, as a stretch
		}
		t.row(text(string(e.Kind)), seconds(e.At), "", text(e.Step), count(e.Sheet), "", "", "", "", "", "", "", text(e.Text))
	}
	for _, g := range s.Gaps {
		t.row("gap", seconds(g.From), seconds(g.To), "", "", "", "", "", "", "", "", "", "")
	}
	for _, c := range s.Missed {
		t.row("cue-missed", seconds(c.At), "", text(c.Step), count(c.Sheet), "", "", "", "", "", "", text(string(c.Kind)), "")
	}
	for _, n := range s.NotesAfter.List {
		t.row("note-later", "", "", "", "", "", "", "", "", "", text(n.Written.Format(time.RFC3339)), "", text(n.Sentence()))
	}
	return t.end()
}

// Sentence is a note with the state of the emulsion in it.
func (n Note) Sentence() string {
	var parts []string
	if n.Emulsion != "" {
		parts = append(parts, "emulsion "+string(n.Emulsion))
	}
	if len(n.Appearances) > 0 {
		parts = append(parts, "negatives "+joinAppearances(n.Appearances))
	}
	if n.Text != "" {
		parts = append(parts, n.Text)
	}
	return strings.Join(parts, ": ")
}

func joinAppearances(looks []Appearance) string {
	names := make([]string, len(looks))
	for i, l := range looks {
		names[i] = string(l)
	}
	return strings.Join(names, ", ")
}

type table struct {
	w   *csv.Writer
	err error
}

func newTable(out io.Writer, columns ...string) *table {
	t := &table{w: csv.NewWriter(out)}
	t.w.UseCRLF = true // RFC 4180
	t.row(columns...)
	return t
}

func (t *table) row(cells ...string) {
	if t.err == nil {
		t.err = t.w.Write(cells)
	}
}

func (t *table) end() error {
	t.w.Flush()
	if t.err == nil {
		t.err = t.w.Error()
	}
	return t.err
}

// stay is one sheet in step i.
func (t *table) stay(p *sequence.Plan, i int, y SheetInStep) {
	plannedAt, plannedUntil, developed := "", "", ""
	if planned, ok := p.PassageOf(i, y.Sheet); ok {
		plannedAt, plannedUntil = seconds(planned.In), seconds(planned.Out)
	}
	if y.Developed != nil {
		developed = number(100 * y.Developed.Share())
	}
	t.row("sheet", seconds(y.In), seconds(y.Out), text(p.Steps[i].Name), count(y.Sheet), text(string(p.Steps[i].Vessel)),
		plannedAt, plannedUntil, developed, "", "", "", "")
}

// text is a cell that a person, or a file from elsewhere, wrote.
func text(s string) string {
	seen := strings.Map(func(r rune) rune {
		if r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
	first, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(s, unicode.IsSpace))
	if strings.ContainsRune("=+-@＝＋－＠", first) {
		return "'" + seen
	}
	return seen
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// seconds is a time; empty for what has not happened.
func seconds(d sequence.Elapsed) string {
	if d == sequence.Never {
		return ""
	}
	return number(sequence.Seconds(d))
}

// count is a number of things; empty for none.
func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func moment(t *time.Time) string {
	if t == nil {
		return ""
	}
	return t.Format(time.RFC3339)
}
