package page

// A session that was: planned above actual, then what was out of the ordinary.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

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
	lines := []string{title}
	if s.Result != "" {
		lines = append(lines, s.Result)
	}
	facts := fmt.Sprintf("%s: %s", s.ID, status)
	if s.When != "" {
		facts += ", " + s.When
	}
	lines = append(lines, facts)
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

// sections are the parts of the page that have something in them.
func (s *SessionPage) sections() []say.Section {
	all := []say.Section{
		{Title: "Development", Lines: s.development()},
		{Title: "Wet time", Lines: s.wet()},
		{Title: "Temperatures", Lines: s.temperatures()},
		{Title: "Exceptions", Lines: s.lines(s.Exceptions)},
		{Title: "Cues not given", Lines: s.missed()},
		{Title: "Notes", Lines: append(s.lines(s.Notes), s.later()...)},
		{Title: densities, Lines: s.Densities},
		{Title: "What was learnt of the film", Lines: s.Learnt},
		{Title: "What this record suggests", Lines: s.Suggestions},
		{Title: "Where this comes from", Lines: s.sources()},
	}
	return slices.DeleteFunc(all, func(sec say.Section) bool { return len(sec.Lines) == 0 })
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

// wet is how long the sheets were wet, a line for those in a row that are alike.
func (s *SessionPage) wet() (lines []string) {
	told := func(w SheetWetTime, sheets []int) string {
		return say.SheetWet(say.SheetNames(&s.Plan.Recipe.Load, sheets), w.Total, w.Vessels, w.Used, w.Aside)
	}
	var sheets []int
	for i, w := range s.Wet {
		sheets = append(sheets, w.Sheet)
		if i+1 == len(s.Wet) || told(w, nil) != told(s.Wet[i+1], nil) {
			lines, sheets = append(lines, told(w, sheets)), nil
		}
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
			fmt.Sprintf("%d readings in total, from %s to %s", len(s.Readings), say.Degrees(low, s.Units), say.Temperature(high, s.Units)))
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
