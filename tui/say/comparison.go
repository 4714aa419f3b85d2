package say

// Two sessions beside each other: what was done, and what came of it.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// ComparedRow is one thing told of both sessions; "" where there is nothing to tell.
type ComparedRow struct{ Label, A, B string }

// Differs reports whether the two are unlike in it.
func (r ComparedRow) Differs() bool { return r.A != r.B }

// Compared tells two sessions row by row, like beside like: what was planned beside what was
// planned, a reading beside a reading, a step beside the step that it is paired with, a sheet
// beside the sheet of its number where they differ. A session whose plan cannot be read has
// its head alone.
func Compared(a, b *notebook.Session, h sequence.Units) []ComparedRow {
	rows := []ComparedRow{
		{"began", began(a, h), began(b, h)},
		{"recipe", a.Recipe, b.Recipe},
		{"film", a.Film, b.Film},
		{"vessel", string(a.Vessel), string(b.Vessel)},
		{"sheets", fmt.Sprint(a.Sheets), fmt.Sprint(b.Sheets)},
		{"planned at", readingOrNone(a.PlannedAt(), h), readingOrNone(b.PlannedAt(), h)},
		{"first reading", readingOrNone(a.FirstReading(), h), readingOrNone(b.FirstReading(), h)},
	}
	for _, p := range notebook.Pairs(a, b) {
		rows = append(rows, ComparedRow{pairName(p), spanGiven(p.A), spanGiven(p.B)})
		for k := 1; k <= p.EachSheet(); k++ {
			rows = append(rows, ComparedRow{fmt.Sprintf("  sheet %d", k), sheetGiven(p.A, k), sheetGiven(p.B, k)})
		}
	}
	return append(rows,
		ComparedRow{"outcome", Status(a.Status), Status(b.Status)},
		ComparedRow{"development", wholeDevelopment(a), wholeDevelopment(b)},
		ComparedRow{"wet time", wetOfLimit(a), wetOfLimit(b)},
		ComparedRow{"emulsion", string(a.Emulsion), string(b.Emulsion)},
		ComparedRow{"negatives", Looks(a.NotesAfter.Appearances()), Looks(b.NotesAfter.Appearances())},
		ComparedRow{"cues missed", missedCues(a), missedCues(b)},
		ComparedRow{"notes", allNotes(a), allNotes(b)},
	)
}

func began(s *notebook.Session, h sequence.Units) string {
	if s.Started == nil {
		return s.Day()
	}
	return s.Started.Format("2006-01-02 ") + TimeOfDay(*s.Started, h)
}

func readingOrNone(t *sequence.Celsius, h sequence.Units) string {
	if t == nil {
		return ""
	}
	return Reading(*t, h)
}

// pairName is the step's in both, or in each.
func pairName(p notebook.Pair) string {
	switch {
	case p.A == nil:
		return p.B.Plan.Name
	case p.B == nil || p.A.Plan.Name == p.B.Plan.Name:
		return p.A.Plan.Name
	}
	return p.A.Plan.Name + ", " + p.B.Plan.Name
}

// spanGiven is how long the sheets had in a step: "7:30", "7:28 to 7:31", "" for not at all.
func spanGiven(s *notebook.StepDone) string {
	least, most := s.Span()
	if least == sequence.Never {
		return ""
	}
	from, to := sequence.FormatElapsed(least), sequence.FormatElapsed(most)
	if from == to {
		return from
	}
	return from + " to " + to
}

// sheetGiven is how long one sheet had, and how far it was developed; "" for not at all.
func sheetGiven(s *notebook.StepDone, k int) string {
	if s == nil {
		return ""
	}
	for _, y := range s.Sheets {
		if y.Sheet != k {
			continue
		}
		text := sequence.FormatElapsed(y.Given)
		if y.Developed != nil {
			text += fmt.Sprintf(", %d%%", sequence.PercentDeveloped(y.Developed.Share()))
		}
		return text
	}
	return ""
}

// wholeDevelopment is how far development came of what was planned.
func wholeDevelopment(s *notebook.Session) string {
	share, ok := s.DevelopedShare()
	switch {
	case !ok:
		return ""
	case s.Doubtful():
		return fmt.Sprintf("%.0f%% (uncertain)", 100*share)
	}
	return fmt.Sprintf("%.0f%%", 100*share)
}

func wetOfLimit(s *notebook.Session) string {
	switch {
	case s.Wet.Total == 0:
		return ""
	case s.Wet.Used == nil:
		return sequence.FormatElapsed(s.Wet.Total)
	}
	return fmt.Sprintf("%s, %d%% of its limit", sequence.FormatElapsed(s.Wet.Total), sequence.PercentUsed(*s.Wet.Used))
}

func missedCues(s *notebook.Session) string {
	if len(s.Missed) == 0 {
		return "none"
	}
	return fmt.Sprint(len(s.Missed))
}

// allNotes are the notes of the session and after it.
func allNotes(s *notebook.Session) string {
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
