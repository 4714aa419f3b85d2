package notebookcmd

// A session of the notebook as a page shows it.

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// asPageSession gives a session to the page.
func asPageSession(s *notebook.Session, h sequence.Units) *page.SessionPage {
	v := &page.SessionPage{Title: s.Recipe, ID: s.ID, Status: say.Status(s.Status), Result: say.RecordResult(s), When: whenText(s.Started, s.Ended, h),
		Rehearsal: s.Rehearsal, WrittenByNewer: s.Newer, Problem: s.Problem, Plan: s.Plan, Passages: s.Passages, At: s.At,
		Readings: s.Readings, Exceptions: s.Exceptions, Notes: s.Notes, Missed: s.Missed, Suggestions: say.Findings(s, h), Units: h}
	if l := app.Films().Learnt(s); l != nil {
		v.Learnt = []string{say.Learnt(l, h)}
	}
	if s.Path != "" {
		v.Record = filepath.Base(s.Path)
	}
	for _, st := range s.Steps {
		for _, y := range st.Sheets {
			if y.Developed != nil {
				v.Developed = append(v.Developed, *y.Developed)
			}
		}
	}
	v.LimitAt = s.Wet.LimitAt
	for _, w := range s.Wet.Sheets {
		v.Wet = append(v.Wet, page.SheetWetTime{Sheet: w.Sheet, Total: w.Total, Used: w.Used, Vessels: sheetVessels(w), Aside: w.Aside})
	}
	for _, n := range s.NotesAfter.List {
		v.NotesAfter = append(v.NotesAfter, page.LateNote{When: say.DateAndTime(n.Written, h), Text: say.LateNote(n)})
	}
	for _, k := range app.Densities().OfSession(s.ID) {
		f, r := evaluateReadings(k, s)
		v.Densities = append(v.Densities, densityText(k, f, r)...)
		if len(r.Curves) > 0 {
			v.Curves = append(v.Curves, page.CurveFamily{Family: f, Results: r})
		}
	}
	if s.NotesAfter.Bad > 0 {
		v.NotesAfter = append(v.NotesAfter, page.LateNote{When: "-", Text: fmt.Sprintf("%d more that cannot be read", s.NotesAfter.Bad)})
	}
	return v
}

// evaluateReadings is the curves that readings of a session come to; none where they are too few.
func evaluateReadings(k densities.ReadingsFile, s *notebook.Session) (curve.Family, curve.Results) {
	f, _, _, _ := k.FamilyBySession(func(string) (notebook.Session, error) { return *s, nil })
	f.Name += ".csv"
	var q curve.Request
	if box, err := curve.ParseExposed(k.Readings.Metered); err == nil {
		q.SpeedAnchor = &box
	}
	r, err := curve.Evaluate(f, q)
	if err != nil {
		return f, curve.Results{}
	}
	return f, r
}

// densityText are what was read off negatives of a session and where it is kept, then
// a line for each curve.
func densityText(k densities.ReadingsFile, f curve.Family, r curve.Results) []string {
	var sheets []string
	for _, c := range k.Readings.Sheets {
		text := sequence.FormatElapsed(c.Time)
		if c.Sheet > 0 {
			text = fmt.Sprintf("sheet %d, %s", c.Sheet, text)
		}
		sheets = append(sheets, fmt.Sprintf("%s: %d steps", text, c.Count()))
	}
	lines := []string{k.Name + ".csv: " + strings.Join(sheets, "; ")}
	for i, c := range r.Curves {
		line := sequence.FormatElapsed(f.Curves[i].Time) + fmt.Sprintf(": base plus fog %.2f", float64(c.BaseFog))
		if c.SpeedPoint != nil {
			line += strings.ReplaceAll(fmt.Sprintf(", speed point at log H %.2f", float64(*c.SpeedPoint)), "-", "−")
		}
		if c.AverageGradient != nil {
			line += fmt.Sprintf(", average gradient %.2f", *c.AverageGradient)
		}
		if c.ExposureIndex != nil {
			line += fmt.Sprintf(", exposure index %.0f", *c.ExposureIndex)
		}
		lines = append(lines, line)
	}
	return lines
}

// sheetVessels is "tray 5:00, hangers 6:00", or the one vessel alone.
func sheetVessels(w notebook.SheetWetTime) string {
	if len(w.Vessels) == 1 {
		return string(w.Vessels[0].Vessel)
	}
	var list []string
	for _, v := range w.Vessels {
		list = append(list, fmt.Sprintf("%s %s", v.Vessel, sequence.FormatElapsed(v.Time)))
	}
	return strings.Join(list, ", ")
}

// whenText is when a session was, in words.
func whenText(from, to *time.Time, h sequence.Units) string {
	if from == nil {
		return ""
	}
	text := say.DateAndTime(*from, h)
	switch {
	case to == nil:
		return text
	case to.Format(time.DateOnly) == from.Format(time.DateOnly):
		return text + " to " + say.TimeOfDay(*to, h)
	}
	return text + " to " + say.DateAndTime(*to, h)
}
