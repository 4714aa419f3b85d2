package page

// A session that was: planned above actual, then what was out of the ordinary.

import (
	"fmt"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// SessionPage is what a page tells of one session. Where Plan is nil nothing of it
// but the head can be told.
type SessionPage struct {
	Title, ID, Status string
	When              string // from when to when, in words
	Rehearsal         bool
	WrittenByNewer    bool   // written by a newer wetside
	Problem           string // what is wrong with its record; "" for nothing

	Plan      *sequence.Plan
	Passages  []sequence.Passage   // what has happened; Out is Never while a sheet is in
	Developed []engine.Development // of the stays in developers
	At        sequence.Elapsed     // until when it is known
	Wet       []SheetWetTime
	LimitAt   *sequence.Elapsed // when the worst sheet used its limit up, or would have; nil where none is known

	Readings, Exceptions, Notes []sequence.Event
	Missed                      []sequence.Cue // not given because the program was away
	NotesAfter                  []LateNote
	Densities                   []string      // readings that are linked to it, a line each
	Curves                      []CurveFamily // what they come to, for the picture
	Suggestions                 []string
	Record                      string         // name of the file that it is kept in; "" where not known
	Units                       sequence.Units // of whoever reads it
}

// CurveFamily is the curves of some readings.
type CurveFamily struct {
	Family  curve.Family
	Results curve.Results
}

// SheetWetTime is the wet time of one sheet.
type SheetWetTime struct {
	Sheet   int
	Total   sequence.Elapsed
	Vessels string   // in words
	Used    *float64 // share of the limits; nil where none is known
	Aside   bool     // set aside in water
}

// LateNote is a note written when the session was over.
type LateNote struct{ When, Text string }

// SessionText is the session as a page of so many columns.
func SessionText(s *SessionPage, width int) string {
	b := &strings.Builder{}
	for _, line := range s.head() {
		hangingText(b, "", line, width)
	}
	if s.Plan != nil {
		fmt.Fprintln(b)
		for _, line := range sessionLines(s, width) {
			fmt.Fprintln(b, line)
		}
		fmt.Fprintln(b)
		stepTable(b, s, width)
	}
	for _, sec := range s.sections() {
		fmt.Fprintf(b, "\n%s\n", sec.Title)
		for _, line := range sec.Lines {
			hangingText(b, "  ", line, width)
		}
	}
	return b.String()
}

// head is the session in a few lines.
func (s *SessionPage) head() []string {
	title := s.Title
	if title == "" {
		title = "a session whose recipe cannot be read"
	}
	status := s.Status
	if s.Rehearsal {
		status += ", a rehearsal"
	}
	lines := []string{title, fmt.Sprintf("%s: %s", s.ID, status)}
	if s.When != "" {
		lines[1] += ", " + s.When
	}
	if s.Plan != nil {
		lines = append(lines, planFacts(s.Plan, s.Units))
	}
	if s.WrittenByNewer {
		lines = append(lines, "Written by a newer wetside: shown as far as it is known here.")
	}
	if s.Problem != "" {
		lines = append(lines, "Its record cannot be believed beyond this: "+s.Problem)
	}
	return lines
}

// stepRow is one step of a session in words.
type stepRow struct {
	Name                                       string
	PlannedStart, PlannedEnd, Planned          string
	Start, FirstOut, LastOut, Given, Developed string // "" where it has not come to that
}

// steps puts planned and actual beside each other.
func (s *SessionPage) steps() []stepRow {
	rows := make([]stepRow, len(s.Plan.Steps))
	for i := range rows {
		st := &s.Plan.Steps[i]
		rows[i] = stepRow{Name: st.Name, PlannedStart: clock(st.Start), PlannedEnd: clock(st.End), Planned: clock(st.Given)}
		r, t := &rows[i], s.stepSpan(i)
		if t.sheets == 0 {
			continue
		}
		r.Start, r.Given = clock(t.in), fromTo(clock(t.least), clock(t.most), " to ")
		if t.first != sequence.Never {
			r.FirstOut = clock(t.first)
		}
		if t.last != sequence.Never {
			r.LastOut = clock(t.last)
		}
		r.Developed = s.developed(i)
	}
	return rows
}

// stepSpan is a step as it went.
type stepSpan struct {
	sheets          int
	in, first, last sequence.Elapsed // first and last out; Never where it has not come to that
	end             sequence.Elapsed // as far as is known
	least, most     sequence.Elapsed // given
}

func (s *SessionPage) stepSpan(i int) stepSpan {
	t := stepSpan{in: sequence.Never, first: sequence.Never, least: sequence.Never}
	for _, y := range s.Passages {
		if y.Step != i {
			continue
		}
		out := min(y.Out, max(s.At, y.In))
		t.sheets++
		t.in, t.first, t.last = min(t.in, y.In), min(t.first, y.Out), max(t.last, y.Out)
		t.end, t.least, t.most = max(t.end, out), min(t.least, out-y.In), max(t.most, out-y.In)
	}
	if t.sheets < s.Plan.Sheets {
		t.last = sequence.Never
	}
	return t
}

// developed is how far development came in step i: "98 to 101 %".
func (s *SessionPage) developed(i int) string {
	var least, most float64
	found, doubt := false, ""
	for _, d := range s.Developed {
		if d.Step != i {
			continue
		}
		if !found {
			least, most, found = d.Share(), d.Share(), true
		}
		least, most = min(least, d.Share()), max(most, d.Share())
		if d.Uncertain {
			doubt = " (uncertain)"
		}
	}
	if !found {
		return ""
	}
	return fromTo(fmt.Sprintf("%.0f", 100*least), fmt.Sprintf("%.0f", 100*most), "–") + "%" + doubt
}

// fromTo is a range, or the one value where both are alike.
func fromTo(a, b, between string) string {
	if a == b {
		return a
	}
	return a + between + b
}

// tableWidth is how many columns the table needs.
const tableWidth = 76

// stepTable is a table, or where that is too wide a line for each step.
func stepTable(b *strings.Builder, s *SessionPage, width int) {
	rows, name := s.steps(), 4
	if width < tableWidth {
		for _, r := range rows {
			hangingText(b, "", r.line(), width)
		}
		return
	}
	for _, r := range rows {
		name = max(name, len([]rune(r.Name)))
	}
	name = min(name, 14)
	line := func(step, start, first, last, given, planned, developed string) {
		text := fmt.Sprintf("%-*s %8s %9s %8s  %-16s %8s  %s", name, widget.Truncate(step, name), start, first, last, given, planned, developed)
		fmt.Fprintln(b, strings.TrimRight(text, " "))
	}
	line("step", "start", "first out", "last out", "given", "planned", "developed")
	for _, r := range rows {
		line(r.Name, r.Start, r.FirstOut, r.LastOut, r.Given, r.Planned, r.Developed)
	}
}

// line is the row in one line.
func (r stepRow) line() string {
	if r.Start == "" {
		return r.Name + ": not begun"
	}
	text := fmt.Sprintf("%s: from %s, given %s, planned %s", r.Name, r.Start, r.Given, r.Planned)
	if r.Developed != "" {
		text += ", developed " + r.Developed
	}
	return text
}

// densities is the title of the section that has the curves' pictures.
const densities = "Densities"

// section is a titled list.
type section struct {
	Title string
	Lines []string
}

// sections are the parts of the page that have something in them.
func (s *SessionPage) sections() []section {
	all := []section{
		{"Development", s.development()},
		{"Wet time", s.wet()},
		{"Temperatures", s.temperatures()},
		{"Exceptions", s.lines(s.Exceptions)},
		{"Cues not given", s.missed()},
		{"Notes", append(s.lines(s.Notes), s.later()...)},
		{densities, s.Densities},
		{"What this record suggests", s.Suggestions},
		{"Where this comes from", s.sources()},
	}
	var list []section
	for _, sec := range all {
		if len(sec.Lines) > 0 {
			list = append(list, sec)
		}
	}
	return list
}

// sources are the record, and the film test that the developing times were found by.
func (s *SessionPage) sources() []string {
	var lines []string
	if s.Plan != nil && s.Plan.Recipe.Origin() != "" {
		lines = append(lines, "developing times found by a film test: "+s.Plan.Recipe.Origin())
	}
	if s.Record != "" {
		lines = append(lines, "the record: "+s.Record)
	}
	return lines
}

// development is each sheet's time in its developer, and how that was mixed and moved.
func (s *SessionPage) development() []string {
	if s.Plan == nil {
		return nil
	}
	return say.AllDeveloped(s.Plan, s.Passages, s.Developed, s.At, s.Units)
}

func (s *SessionPage) wet() []string {
	var lines []string
	for _, w := range s.Wet {
		lines = append(lines, say.SheetWet(s.Plan.Recipe.Load.SheetName(w.Sheet), w.Total, w.Vessels, w.Used, w.Aside))
	}
	return lines
}

// maxListed is the longest list of readings or missed cues that is told in full.
const maxListed = 12

func (s *SessionPage) temperatures() []string {
	if len(s.Readings) > maxListed {
		low, high := *s.Readings[0].Temperature, *s.Readings[0].Temperature
		for _, e := range s.Readings {
			low, high = min(low, *e.Temperature), max(high, *e.Temperature)
		}
		first, last := s.Readings[0], s.Readings[len(s.Readings)-1]
		return append(s.lines([]sequence.Event{first, last}),
			fmt.Sprintf("%d readings in all, from %s to %s", len(s.Readings), say.Degrees(low, s.Units), say.Temperature(high, s.Units)))
	}
	return s.lines(s.Readings)
}

// lines tells events as plain mode does.
func (s *SessionPage) lines(events []sequence.Event) []string {
	var lines []string
	for _, e := range events {
		if text := say.Event(s.Plan, e, s.Units); text != "" {
			lines = append(lines, clock(e.At)+"  "+text)
		}
	}
	return lines
}

func (s *SessionPage) missed() []string {
	var lines []string
	for _, c := range s.Missed {
		lines = append(lines, say.MissedCue(s.Plan, c))
	}
	if n := len(lines); n > maxListed {
		lines = append(lines[:maxListed-1], fmt.Sprintf("and %d more, up to %s", n-maxListed+1, clock(s.Missed[n-1].At)))
	}
	return lines
}

func (s *SessionPage) later() []string {
	var lines []string
	for _, l := range s.NotesAfter {
		lines = append(lines, l.When+"  "+l.Text)
	}
	return lines
}
