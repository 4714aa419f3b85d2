package notebook

// Two sessions beside each other: what was done, and what came of it.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/sequence"
)

// Row is one thing told of both sessions, in words; "" where there is nothing to tell.
type Row struct{ Label, A, B string }

// Differs reports whether the two are unlike in it.
func (r Row) Differs() bool { return r.A != r.B }

// Compare tells the two sessions row by row: the steps of the first, then those that
// only the second has. A session whose plan cannot be read has its head alone.
func Compare(a, b *Session, h sequence.Units) []Row {
	rows := []Row{
		{"began", a.start(h), b.start(h)},
		{"recipe", a.Recipe, b.Recipe},
		{"film", a.Film, b.Film},
		{"vessel", string(a.Vessel), string(b.Vessel)},
		{"sheets", fmt.Sprint(a.Sheets), fmt.Sprint(b.Sheets)},
		{"first reading", a.firstReading(h), b.firstReading(h)},
	}
	for _, name := range stepNames(a, b) {
		rows = append(rows, Row{name, a.timeIn(name), b.timeIn(name)})
	}
	return append(rows,
		Row{"development", a.percent(), b.percent()},
		Row{"wet time", a.wetFor(), b.wetFor()},
		Row{"emulsion", string(a.Emulsion), string(b.Emulsion)},
		Row{"negatives", joinAppearances(a.NotesAfter.Appearances()), joinAppearances(b.NotesAfter.Appearances())},
		Row{"cues missed", missed(a), missed(b)},
		Row{"notes", a.allNotes(), b.allNotes()},
	)
}

func (s *Session) start(h sequence.Units) string {
	if s.Started == nil {
		return s.Day()
	}
	return s.Started.Format("2006-01-02 ") + h.TimeOfDay(*s.Started)
}

// firstReading is what the developer read first, or was said to read.
func (s *Session) firstReading(h sequence.Units) string {
	switch {
	case len(s.Readings) > 0:
		return h.ToTenth(*s.Readings[0].Temperature)
	case s.Plan != nil && s.Plan.Conditions.BathTemperature != nil:
		return h.ToTenth(*s.Plan.Conditions.BathTemperature)
	}
	return ""
}

// stepNames are the steps of both, those of a first.
func stepNames(a, b *Session) []string {
	var names []string
	for _, s := range []*Session{a, b} {
		for i := range s.Steps {
			if name := s.Steps[i].Plan.Name; !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// timeIn is how long the sheets had in a step: "7:30", "7:28 to 7:31", "" for not at all.
func (s *Session) timeIn(name string) string {
	least, most := sequence.Never, sequence.Elapsed(0)
	for i := range s.Steps {
		if s.Steps[i].Plan.Name != name {
			continue
		}
		for _, y := range s.Steps[i].Sheets {
			least, most = min(least, y.Given), max(most, y.Given)
		}
	}
	if least == sequence.Never {
		return ""
	}
	from, to := sequence.FormatElapsed(least), sequence.FormatElapsed(most)
	if from == to {
		return from
	}
	return from + " to " + to
}

// percent is how far development came of what was planned.
func (s *Session) percent() string {
	if share, ok := s.developed(); ok {
		return fmt.Sprintf("%.0f %%", 100*share)
	}
	return ""
}

func (s *Session) wetFor() string {
	if s.Wet.Total == 0 {
		return ""
	}
	text := sequence.FormatElapsed(s.Wet.Total)
	if s.Wet.Used != nil {
		text += fmt.Sprintf(", %.0f %% of its limit", 100**s.Wet.Used)
	}
	return text
}

func missed(s *Session) string {
	if len(s.Missed) == 0 {
		return "none"
	}
	return fmt.Sprint(len(s.Missed))
}

// allNotes are the notes of the session and after it.
func (s *Session) allNotes() string {
	var list []string
	for _, e := range s.Notes {
		list = append(list, e.Text)
	}
	for _, n := range s.NotesAfter.List {
		if n.Text != "" {
			list = append(list, n.Text)
		}
	}
	return strings.Join(list, "; ")
}
