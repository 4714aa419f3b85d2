package session

// The session as it is read, part after part.

import (
	"fmt"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
	"example.org/wetside/tui/widget"
)

const (
	wide     = 112 // from this width on in two columns
	leftWide = 62  // columns of the steps and sheets there
	prose    = 88  // no sentence is longer
	rowsHigh = 7   // of the strips
	plotHigh = 12  // of the developer's temperature
)

// page is all there is to read of a session.
type page struct {
	session notebook.Session
	read    []densities.ReadingsFile // off its negatives
	learnt  *film.Learnt             // of the film's time; nil for nothing
	units   sequence.Units
}

// text is all there is to read, drawn for a width.
func (g page) text(w int) string {
	if w < wide {
		return beneath(w, g.head, g.steps, g.sheets, g.happened, g.notes, g.next, g.sources)
	}
	c := widget.Columns{Width: w, Left: leftWide, Ruled: true}
	_, rw, _ := c.Widths()
	both := c.Join(beneath(leftWide, g.steps, g.sheets, g.temperature), beneath(rw, g.happened, g.notes, g.next))
	return beneath(w, g.head, func(int) string { return both }, g.sources)
}

// beneath are groups beneath each other, a blank row between them.
func beneath(w int, parts ...func(int) string) string {
	var list []string
	for _, part := range parts {
		if text := part(w); text != "" {
			list = append(list, text)
		}
	}
	return strings.Join(list, "\n\n")
}

func wrapped(text string, w int, ink func(string) string) []string {
	return widget.Painted(text, min(w, prose), ink)
}

// head is the result, what was developed, what is wrong with the record, and the strips.
func (g page) head(w int) string {
	s := &g.session
	rows := wrapped(say.RecordResult(s), w, style.Heading)
	p := s.Plan
	rows = append(rows, wrapped(fmt.Sprintf("%s, %s%s", s.Film, say.FilmIn(p.Sheets, p.Vessel), g.judged()), w, style.Label)...)
	if s.Problem != "" {
		rows = append(rows, wrapped("Its record cannot be believed beyond this: "+s.Problem, w, style.Value)...)
	}
	if s.Newer {
		rows = append(rows, wrapped("Written by a newer wetside: shown as far as it is known here.", w, style.Value)...)
	}
	actual := timeline.OfRecord(p, s.Passages, s.At, s.Wet.LimitAt)
	pair := widget.Pair{Names: [2]string{"planned", "actual"}, Lines: [2]timeline.Timeline{timeline.OfPlan(p), actual}, Width: w, Rows: rowsHigh}
	past := pair.Lines[0].End()
	pair.Lines[0].Now, pair.Lines[0].Limit = &past, nil // quiet beside what was done
	if strips := pair.View(); strips != "" {
		rows = append(rows, "", strips)
	}
	return strings.Join(rows, "\n")
}

// judged is how negatives and emulsion were found.
func (g page) judged() string {
	text := ""
	if list := g.session.NotesAfter.Appearances(); len(list) > 0 {
		text += "; negatives " + say.Looks(list)
	}
	if e := g.session.Emulsion; e != "" {
		text += "; emulsion " + say.Emulsion(e)
	}
	return text
}

// happened is what did not go by itself, what was read and what was noted meanwhile.
func (g page) happened(w int) string {
	s := &g.session
	events := slices.Concat(s.Readings, s.Exceptions, s.Notes)
	sort.SliceStable(events, func(i, j int) bool { return events[i].At < events[j].At })
	var rows []string
	for _, e := range events {
		if text := say.Event(s.Plan, e, g.units); text != "" {
			rows = append(rows, dated(sequence.FormatElapsed(e.At), 7, text, w)...)
		}
	}
	if n := len(s.Missed); n > 0 {
		rows = append(rows, wrapped(say.Count(n, "cue")+" not given.", w, style.Value)...)
	}
	return headed("Readings, exceptions, notes", rows)
}

// dated is a sentence behind its time, in as many rows as it needs.
func dated(when string, column int, text string, w int) []string {
	rows := wrapped(text, max(8, w-column-2), style.Value)
	return widget.Hanging(style.Label(widget.PadLeft(when, column)), column+2, rows, w)
}

func headed(title string, rows []string) string {
	if len(rows) == 0 {
		return ""
	}
	return style.Heading(title) + "\n" + strings.Join(rows, "\n")
}

// notes is what was noted afterwards.
func (g page) notes(w int) string {
	var rows []string
	for _, n := range g.session.NotesAfter.List {
		rows = append(rows, dated(n.Written.Format("2 Jan 2006"), 11, say.LateNote(n), w)...)
	}
	for _, k := range g.read {
		rows = append(rows, wrapped("Densities: "+k.Name+", "+say.Count(len(k.Readings.Sheets), "sheet")+" read.", w, style.Value)...)
	}
	return headed("Noted afterwards", rows)
}

// next is what the record says for next time.
func (g page) next(w int) string {
	var rows []string
	add := func(text string) { // a blank row after a paragraph
		part := wrapped(text, w, style.Value)
		if n := len(rows); n > 1 && len(part) > 1 {
			rows = append(rows, "")
		}
		rows = append(rows, part...)
	}
	for _, t := range say.Findings(&g.session, g.units) {
		add(say.Tidy(t))
	}
	if c, ok := g.session.Correction(); ok {
		add("r repeats it with the developing time × " + c.Of(g.session.Plan.Conditions) + ".")
	}
	if g.learnt != nil {
		add(say.Learnt(g.learnt, g.units))
	}
	return headed("For next time", rows)
}

// temperature is the developer's, where it was read or drifted.
func (g page) temperature(w int) string {
	d := strips.Developer{Plan: g.session.Plan, Look: engine.Snapshot{Now: sequence.Never, Passages: g.session.Passages}, Events: g.session.Readings, Units: g.units}
	return strings.Join(d.Course(w, plotHigh), "\n")
}

// sources are where the times come from, and the record itself.
func (g page) sources(w int) string {
	var rows []string
	if from := g.session.Plan.Recipe.Origin(); from != "" {
		rows = append(rows, wrapped("Times found by a film test: "+from, w, style.Label)...)
	}
	if g.session.Path != "" { // no sentence: across the whole width
		text := safetext.Clean("Kept in " + g.session.Path)
		if widget.Width(text) > w { // broken where neither part is harder to copy
			folder, name := filepath.Split(text)
			text = folder + "\n" + name
		}
		rows = append(rows, widget.Painted(text, w, style.Label)...)
	}
	return strings.Join(rows, "\n")
}
