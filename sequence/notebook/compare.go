package notebook

// Two sessions beside each other: what was done, and what came of it.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
)

// Row is one thing told of both sessions, in words; "" where there is nothing to tell.
type Row struct{ Label, A, B string }

// Differs reports whether the two are unlike in it.
func (r Row) Differs() bool { return r.A != r.B }

// Compare tells the two sessions row by row, like beside like: what was planned beside
// what was planned, a reading beside a reading, a step beside the step of that name or
// else of its kind, a sheet beside the sheet of its number where they differ. A session whose plan cannot be read has its head alone.
func Compare(a, b *Session, h sequence.Units) []Row {
	rows := []Row{
		{"began", a.start(h), b.start(h)},
		{"recipe", a.Recipe, b.Recipe},
		{"film", a.Film, b.Film},
		{"vessel", string(a.Vessel), string(b.Vessel)},
		{"sheets", fmt.Sprint(a.Sheets), fmt.Sprint(b.Sheets)},
		{"planned at", a.plannedAt(h), b.plannedAt(h)},
		{"first reading", a.firstReading(h), b.firstReading(h)},
	}
	for _, p := range pairs(a, b) {
		rows = append(rows, p.row())
		rows = append(rows, p.sheets()...)
	}
	return append(rows,
		Row{"outcome", a.Status.Word(), b.Status.Word()},
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

// plannedAt is what the plan took the developer to read.
func (s *Session) plannedAt(h sequence.Units) string {
	if s.Plan == nil {
		return ""
	}
	if t := s.Plan.Conditions.BathTemperature; t != nil {
		return h.ToTenth(*t)
	}
	for i := range s.Plan.Steps {
		if w := s.Plan.Steps[i].TimeByTemperature; w != nil {
			return h.ToTenth(w.At)
		}
	}
	return ""
}

// firstReading is what was read first while the session ran; "" for nothing.
func (s *Session) firstReading(h sequence.Units) string {
	if len(s.Readings) == 0 {
		return ""
	}
	return h.ToTenth(*s.Readings[0].Temperature)
}

// pair is a step of each of two sessions, one of them nil where it has none alike.
type pair struct{ a, b *StepDone }

// pairs are the steps of the first session, each with that of the second which has its
// name, or else the next that is left of its kind; then what only the second has.
func pairs(a, b *Session) []pair {
	list := make([]pair, len(a.Steps))
	taken := make([]bool, len(b.Steps))
	match := func(alike func(x, y *sequence.PlanStep) bool) {
		for i := range a.Steps {
			list[i].a = &a.Steps[i]
			for j := range b.Steps {
				if list[i].b == nil && !taken[j] && alike(a.Steps[i].Plan, b.Steps[j].Plan) {
					list[i].b, taken[j] = &b.Steps[j], true
				}
			}
		}
	}
	match(func(x, y *sequence.PlanStep) bool { return x.Name == y.Name && x.Kind == y.Kind })
	match(func(x, y *sequence.PlanStep) bool { return x.Kind == y.Kind })
	for j := range b.Steps {
		if !taken[j] {
			list = append(list, pair{nil, &b.Steps[j]})
		}
	}
	return list
}

// name is the step's in both, or in each.
func (p pair) name() string {
	switch {
	case p.a == nil:
		return p.b.Plan.Name
	case p.b == nil || p.a.Plan.Name == p.b.Plan.Name:
		return p.a.Plan.Name
	}
	return p.a.Plan.Name + ", " + p.b.Plan.Name
}

func (p pair) row() Row { return Row{p.name(), p.a.given(), p.b.given()} }

// sheets are a row for each sheet of a developing step, where not all had the same time.
func (p pair) sheets() []Row {
	if !p.a.unlike() && !p.b.unlike() {
		return nil
	}
	var rows []Row
	for k := 1; k <= max(p.a.last(), p.b.last()); k++ {
		rows = append(rows, Row{fmt.Sprintf("  sheet %d", k), p.a.sheet(k), p.b.sheet(k)})
	}
	return rows
}

// worthTelling is by how much the times of sheets must differ to be told sheet by sheet:
// a bath that drifts makes some seconds (our own rule).
const worthTelling = 10 * time.Second

// unlike reports whether the sheets of a developing step had times that differ.
func (s *StepDone) unlike() bool {
	least, most := s.span()
	return s != nil && s.Plan.Kind == sequence.Develop && most-least >= worthTelling
}

// span is the shortest and the longest time of the step's sheets that were not set aside;
// Never and 0 for none.
func (s *StepDone) span() (least, most sequence.Elapsed) {
	least = sequence.Never
	if s == nil {
		return least, 0
	}
	for _, y := range s.Sheets {
		if !y.Aside {
			least, most = min(least, y.Given), max(most, y.Given)
		}
	}
	return least, most
}

// last is the number of the last sheet that came into the step.
func (s *StepDone) last() (n int) {
	if s == nil {
		return 0
	}
	for _, y := range s.Sheets {
		n = max(n, y.Sheet)
	}
	return n
}

// sheet is how long one sheet had, and how far it was developed; "" for not at all.
func (s *StepDone) sheet(k int) string {
	if s == nil {
		return ""
	}
	for _, y := range s.Sheets {
		if y.Sheet != k {
			continue
		}
		text := sequence.FormatElapsed(y.Given)
		if y.Developed != nil {
			text += fmt.Sprintf(", %d %%", sequence.PercentDeveloped(y.Developed.Share()))
		}
		return text
	}
	return ""
}

// given is how long the sheets had in the step: "7:30", "7:28 to 7:31", "" for not at all.
func (s *StepDone) given() string {
	least, most := s.span()
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
		text := fmt.Sprintf("%.0f%%", 100*share)
		if s.doubtful() {
			text += " (uncertain)"
		}
		return text
	}
	return ""
}

// doubtful reports whether a bath was outside the recipe's table while film was in it.
func (s *Session) doubtful() bool {
	for _, st := range s.Steps {
		if slices.ContainsFunc(st.Sheets, func(y SheetInStep) bool { return y.Developed != nil && y.Developed.Uncertain && !y.Aside }) {
			return true
		}
	}
	return false
}

func (s *Session) wetFor() string {
	if s.Wet.Total == 0 {
		return ""
	}
	text := sequence.FormatElapsed(s.Wet.Total)
	if s.Wet.Used != nil {
		text += fmt.Sprintf(", %d %% of its limit", sequence.PercentUsed(*s.Wet.Used))
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
