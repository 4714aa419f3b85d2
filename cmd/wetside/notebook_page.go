package main

// A session of the notebook as a page shows it.

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
)

// asPage gives a session to the page.
func asPage(s *notebook.Session, h sequence.Habits) *page.Session {
	v := &page.Session{Title: s.Recipe, ID: s.ID, Status: s.Status.Word(), When: fromTo(s.Started, s.Ended, h),
		Rehearsal: s.Rehearsal, Newer: s.Newer, Problem: s.Problem, Plan: s.Plan, Passages: s.Passages, At: s.At,
		Readings: s.Readings, Told: s.Told, Notes: s.Notes, Missed: s.Missed, Suggests: s.SuggestsFor(h), Habits: h}
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
		v.Wet = append(v.Wet, page.SheetWet{Sheet: w.Sheet, Total: w.Total, Used: w.Used, Vessels: vesselsOf(w), Aside: w.Aside})
	}
	for _, n := range s.Later.Notes {
		v.Later = append(v.Later, page.Later{When: h.Date(n.Written), Text: n.Words()})
	}
	for _, k := range desk().Of(s.ID) {
		f, r := evaluated(k)
		v.Densities = append(v.Densities, densityLines(k, f, r)...)
		if len(r.Curves) > 0 {
			v.Curves = append(v.Curves, page.Family{Family: f, Results: r})
		}
	}
	if s.Later.Bad > 0 {
		v.Later = append(v.Later, page.Later{When: "-", Text: fmt.Sprintf("%d more that cannot be read", s.Later.Bad)})
	}
	return v
}

// evaluated is the curves that readings come to; none where they are too few.
func evaluated(k notebook.KeptReadings) (curve.Family, curve.Results) {
	f, _ := k.Readings.Family(k.Name + ".csv")
	var q curve.Request
	if box, err := curve.ParseMetered(k.Readings.Metered); err == nil {
		q.Box = &box
	}
	r, err := curve.Evaluate(f, q)
	if err != nil {
		return f, curve.Results{}
	}
	return f, r
}

// densityLines are what was read off negatives of a session and where it is kept, then
// a line for each curve.
func densityLines(k notebook.KeptReadings, f curve.Family, r curve.Results) []string {
	var sheets []string
	for _, c := range k.Readings.Sheets {
		text := sequence.Clock(c.Time)
		if c.Sheet > 0 {
			text = fmt.Sprintf("sheet %d, %s", c.Sheet, text)
		}
		sheets = append(sheets, fmt.Sprintf("%s: %d steps", text, c.Read()))
	}
	lines := []string{k.Name + ".csv: " + strings.Join(sheets, "; ")}
	for i, c := range r.Curves {
		line := sequence.Clock(f.Curves[i].Time) + fmt.Sprintf(": base plus fog %.2f", float64(c.BaseFog))
		if c.SpeedPoint != nil {
			line += fmt.Sprintf(", speed point at %.2f", float64(*c.SpeedPoint))
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

// vesselsOf is "tray 5:00, hangers 6:00", or the one vessel alone.
func vesselsOf(w notebook.SheetWet) string {
	if len(w.Vessels) == 1 {
		return string(w.Vessels[0].Vessel)
	}
	var list []string
	for _, v := range w.Vessels {
		list = append(list, fmt.Sprintf("%s %s", v.Vessel, sequence.Clock(v.Time)))
	}
	return strings.Join(list, ", ")
}

// fromTo is when a session was, in words.
func fromTo(from, to *time.Time, h sequence.Habits) string {
	if from == nil {
		return ""
	}
	text := h.Date(*from)
	switch {
	case to == nil:
		return text
	case to.Format(time.DateOnly) == from.Format(time.DateOnly):
		return text + " to " + h.TimeOfDay(*to)
	}
	return text + " to " + h.Date(*to)
}
