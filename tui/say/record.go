package say

// A session that was: what came of it, in words.

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

var parted = regexp.MustCompile(`([0-9]) %`)

// Tidy is a sentence of the notebook with its percentages written without a space, and a
// capital at its beginning.
func Tidy(sentence string) string { return Capital(Percentages(sentence)) }

// Percentages writes those of a text without a space.
func Percentages(text string) string { return parted.ReplaceAllString(text, "$1%") }

// LateNote is what was noted when a session was over: "Negatives thin; emulsion sound; light
// at the window".
func LateNote(n notebook.Note) string {
	var parts []string
	if len(n.Appearances) > 0 {
		parts = append(parts, "negatives "+Looks(n.Appearances))
	}
	if n.Emulsion != "" {
		parts = append(parts, "emulsion "+Emulsion(n.Emulsion))
	}
	if n.Text != "" {
		parts = append(parts, n.Text)
	}
	return Capital(strings.Join(parts, "; "))
}

// Looks are the looks of negatives: "thin, uneven".
func Looks(list []notebook.Appearance) string {
	names := make([]string, len(list))
	for i, a := range list {
		names[i] = string(a)
	}
	return strings.Join(names, ", ")
}

// Status is how a session stands: a stop is a bath.
func Status(s journal.Status) string {
	if s == journal.Stopped {
		return "ended early"
	}
	return string(s)
}

// RecordState is what is out of the ordinary with a session, in a word or two; "" for nothing.
func RecordState(s *notebook.Summary) string {
	word := ""
	switch {
	case s.Problem != "":
		word = "damaged"
	case s.Status == journal.Stopped && s.Rehearsal:
		return "part rehearsed"
	case s.Status == journal.Stopped:
		word = Status(s.Status)
	case s.Status == journal.Open:
		word = "not finished"
	case s.Status != journal.Done:
		word = string(s.Status)
	}
	if s.Rehearsal {
		return strings.TrimSpace(word + " rehearsal")
	}
	return word
}

// RecordResult is what came of a session, in one line: "Done. Every sheet developed to
// within 1%; wet 26:20, 86% of limit."
func RecordResult(s *notebook.Session) string {
	parts := filled(RecordDevelopment(s), RecordWet(s), recordAside(s))
	if len(parts) == 0 {
		return recordEnd(s)
	}
	return recordEnd(s) + " " + Capital(strings.Join(parts, "; ")) + "."
}

// recordEnd is how it ended.
func recordEnd(s *notebook.Session) string {
	switch {
	case s.Problem != "":
		return "Damaged: shown as far as its record can be believed."
	case s.Status == journal.Stopped && s.Plan != nil:
		return "Ended early, after " + sequence.FormatElapsed(s.At) + recordStep(s) + "."
	case s.Status == journal.Open:
		return "Not finished: no end is recorded."
	case s.Rehearsal:
		return "Rehearsal, without film."
	}
	return "Done."
}

// recordStep is where film was last.
func recordStep(s *notebook.Session) string {
	for _, st := range slices.Backward(s.Steps) {
		if len(st.Sheets) > 0 {
			return " in " + StepName(st.Plan.Name)
		}
	}
	return ""
}

// RecordDevelopment is how far the sheets were developed of what was planned: "every sheet
// developed to within 1%", "developed 84% to 104%"; "" where none left a developer.
func RecordDevelopment(s *notebook.Session) string {
	list := slices.DeleteFunc(s.Developed(), func(d notebook.SheetDevelopment) bool { return WasSetAside(s, d.Sheet) })
	var shares []float64
	for _, d := range list {
		if d.Planned <= 0 {
			return ""
		}
		shares = append(shares, float64(d.Actual)/float64(d.Planned))
	}
	return developedWithin(shares)
}

// WasSetAside reports whether a sheet was set aside in water: it counts no more.
func WasSetAside(s *notebook.Session, sheet int) bool {
	for i := range s.Steps { // also of steps that do not count as wet
		if slices.ContainsFunc(s.Steps[i].Sheets, func(y notebook.SheetInStep) bool { return y.Sheet == sheet && y.Aside }) {
			return true
		}
	}
	return slices.ContainsFunc(s.Wet.Sheets, func(w notebook.SheetWetTime) bool { return w.Sheet == sheet && w.Aside })
}

// recordAside is which sheets were set aside: "sheet 3 set aside"; "" for none.
func recordAside(s *notebook.Session) string {
	var names []string
	for n := 1; s.Plan != nil && n <= s.Plan.Sheets; n++ {
		if WasSetAside(s, n) {
			names = append(names, strconv.Itoa(n))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return "sheet " + names[0] + " set aside"
	}
	return "sheets " + strings.Join(names, ", ") + " set aside"
}

// RecordWet is the wet time and what it used of the limit: "wet 26:20, 86% of limit"; ""
// where nothing was wet.
func RecordWet(s *notebook.Session) string {
	if s.Wet.Total == 0 {
		return ""
	}
	text := "wet " + WetShare(s.Wet.Total, s.Wet.Used)
	if m := s.Wet.Margin; m != nil && *m < 0 {
		text += ", " + sequence.FormatElapsed(-*m) + " too long"
	}
	return text
}

// WetShare is a wet time with its share of the limit; without one where none is known.
func WetShare(total sequence.Elapsed, used *float64) string {
	text := sequence.FormatElapsed(total)
	if used != nil {
		text += ", " + Share(*used) + " of limit"
	}
	return text
}

// Emulsion is a state of the emulsion, in a word or two.
func Emulsion(e notebook.Emulsion) string {
	switch e {
	case notebook.EmulsionLifted:
		return "frilled"
	case notebook.EmulsionTorn:
		return "torn"
	}
	return string(e)
}

// FilmIn is what was developed and in what: "6 sheets in trays", "2 sheets in a daylight tank".
func FilmIn(n int, v sequence.Vessel) string {
	if v == "" {
		return Count(n, "sheet")
	}
	return Count(n, "sheet") + " " + strings.ReplaceAll(v.In(), "-", " ")
}

// EmulsionMeaning is what a state of the emulsion stands for.
func EmulsionMeaning(e notebook.Emulsion) string {
	return map[notebook.Emulsion]string{
		notebook.EmulsionSound:  "whole, as before it was wet",
		notebook.EmulsionLifted: "lifted or frilled at the edges",
		notebook.EmulsionTorn:   "scratched or torn in the picture",
	}[e]
}

// AppearanceMeaning is what a look of the negatives stands for.
func AppearanceMeaning(a notebook.Appearance) string {
	return map[notebook.Appearance]string{
		notebook.Good:      "as wanted",
		notebook.Thin:      "less density than wanted",
		notebook.Dense:     "more density than wanted",
		notebook.Fogged:    "a veil where there should be none",
		notebook.Uneven:    "streaks, mottle or dark edges",
		notebook.Scratched: "marks of handling",
	}[a]
}
