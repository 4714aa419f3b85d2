package session

// The picture of one session, part after part.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
	"example.org/wetside/tui/widget"
)

const (
	wide     = 112 // from this width on in two columns
	leftWide = 62  // columns of the steps and sheets there
	prose    = 88  // no sentence is longer
	rowsHigh = 7   // of the strips
)

// View draws the body: what is asked below, the session above it.
func (m Model) View(w, h int) string {
	asked := m.asked(w, h)
	room := h
	if asked != "" {
		room = max(0, h-strings.Count(asked, "\n")-2)
	}
	if room == 0 {
		return asked
	}
	s := widget.Scroll{Width: w, Height: room}
	s.Text = m.text(w)
	if !s.Whole() {
		s.Text = m.text(s.Inner())
	}
	*m.drawn = extent{strings.Count(s.Text, "\n") + 1, room}
	body := s.Moved(m.first).View()
	if asked == "" {
		return body
	}
	return body + strings.Repeat("\n", max(0, room-strings.Count(body, "\n")-1)) + "\n\n" + asked
}

// asked is what is being typed or chosen; as high as it must be, and no higher than there is room.
func (m Model) asked(w, h int) string {
	switch {
	case m.writing != nil:
		return m.writing.View(w)
	case m.choices != nil:
		return m.choices.View(w, min(h, len(m.choices.options)+1))
	}
	return ""
}

// last is the row at the top when all is read.
func (m Model) last() int { return max(0, m.drawn.rows-m.drawn.shown) }

// text is all there is to read, drawn for a width.
func (m Model) text(w int) string {
	rows := m.head(w)
	var left, right string
	if w >= wide {
		c := widget.Columns{Width: w, Left: leftWide, Ruled: true}
		_, rw, _ := c.Widths()
		left, right = m.parts(leftWide, m.steps, m.sheets), m.parts(rw, m.happened, m.notes, m.next)
		return strings.Join(rows, "\n") + "\n\n" + m.parts(w, func(int) string { return c.Join(left, right) }, m.sources)
	}
	return strings.Join(rows, "\n") + "\n\n" + m.parts(w, m.steps, m.sheets, m.happened, m.notes, m.next, m.sources)
}

// parts are groups beneath each other, a blank row between them.
func (m Model) parts(w int, parts ...func(int) string) string {
	var list []string
	for _, part := range parts {
		if text := part(w); text != "" {
			list = append(list, text)
		}
	}
	return strings.Join(list, "\n\n")
}

func wrapped(text string, w int, ink func(string) string) []string {
	rows := widget.Wrap(safetext.Clean(text), min(w, prose))
	for i := range rows {
		rows[i] = ink(rows[i])
	}
	return rows
}

// head is the result, what was developed, what is wrong with the record, and the strips.
func (m Model) head(w int) []string {
	s := &m.session
	rows := wrapped(say.RecordResult(s), w, style.Heading)
	p := s.Plan
	rows = append(rows, wrapped(fmt.Sprintf("%s, %s%s", s.Film, say.FilmIn(p.Sheets, p.Vessel), m.judged()), w, style.Label)...)
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
	return rows
}

// judged is how negatives and emulsion were found.
func (m Model) judged() string {
	text := ""
	if list := m.session.NotesAfter.Appearances(); len(list) > 0 {
		text += "; negatives " + say.Looks(list)
	}
	if e := m.session.Emulsion; e != "" {
		text += "; emulsion " + say.Emulsion(e)
	}
	return text
}

// steps are the steps as planned and as they went.
func (m Model) steps(w int) string {
	t := widget.Table{Plain: true, Width: w, Selected: -1, Columns: []widget.Column{{Title: style.Heading("Steps")},
		{Title: "start", Right: true}, {Title: "planned", Right: true}, {Title: "actual", Right: true}, {Title: "differs", Right: true}}}
	for i := range m.session.Steps {
		st := &m.session.Steps[i]
		var planned, actual span
		var off sequence.Elapsed // of the sheet that differs most
		for _, y := range m.session.Plan.Passages {
			if y.Step == i {
				planned = planned.with(y.Out - y.In)
			}
		}
		for _, y := range st.Sheets {
			actual = actual.with(y.Given)
			if d := y.Given - m.planned(i, y.Sheet); max(d, -d) > max(off, -off) {
				off = d
			}
		}
		start, was := "", "not reached"
		if actual.any {
			start, was = sequence.FormatElapsed(st.Start), actual.String()
		}
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(say.StepName(st.Plan.Name))), style.Label(start),
			style.Label(planned.String()), style.Value(was), style.Value(signed(off))})
	}
	return t.View()
}

// planned is how long the plan has a sheet in a step.
func (m Model) planned(step, sheet int) sequence.Elapsed {
	for _, y := range m.session.Plan.Passages {
		if y.Step == step && y.Sheet == sheet {
			return y.Out - y.In
		}
	}
	return m.session.Plan.Steps[step].Given
}

// span is the shortest and the longest of several times.
type span struct {
	least, most sequence.Elapsed
	any         bool
}

func (s span) with(d sequence.Elapsed) span {
	if !s.any {
		return span{d, d, true}
	}
	return span{min(s.least, d), max(s.most, d), true}
}

// String is "7:30", or "6:01–6:04" where sheets differ.
func (s span) String() string {
	least, most := sequence.FormatElapsed(s.least), sequence.FormatElapsed(s.most)
	switch {
	case !s.any:
		return ""
	case least == most:
		return least
	}
	return least + "–" + most
}

// signed is a difference with its sign; "" within a second.
func signed(d sequence.Elapsed) string {
	switch {
	case d >= time.Second:
		return "+" + sequence.FormatElapsed(d)
	case d <= -time.Second:
		return "−" + sequence.FormatElapsed(-d)
	}
	return ""
}

// sheets are each sheet's developing time, its equivalent at the reference temperature, and wet time.
func (m Model) sheets(w int) string {
	s := &m.session
	t := widget.Table{Plain: true, Width: w, Selected: -1, Columns: []widget.Column{{Title: style.Heading("Sheets")},
		{Title: "developed", Right: true}, {Title: m.reference(), Right: true}, {Title: "of plan", Right: true}, {Title: "wet", Right: true}, {Title: "of limit", Right: true}}}
	for _, x := range s.Wet.Sheets {
		row := []string{style.Value(safetext.Clean(s.Plan.Recipe.Load.SheetName(x.Sheet))), "", "", "", sequence.FormatElapsed(x.Total), ""}
		for _, st := range s.Steps {
			for _, y := range st.Sheets {
				if d := y.Developed; d != nil && y.Sheet == x.Sheet && row[1] == "" {
					row[1], row[2], row[3] = sequence.FormatElapsed(y.Given), sequence.FormatElapsed(d.Done), say.Percent(d.Share())
					if d.Uncertain { // the bath was outside the recipe's table
						row[3] = "about " + row[3]
					}
				}
			}
		}
		if x.Used != nil {
			row[5] = say.Share(*x.Used)
		}
		for i := 1; i < len(row); i++ {
			row[i] = style.Value(row[i])
		}
		if x.Aside {
			row[5] = style.Value("set aside")
		} else if x.Used != nil && *x.Used > 1 {
			row[5] = style.Danger.Render("over " + say.Share(*x.Used))
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		return ""
	}
	rows := []string{t.View()}
	for i := range s.Plan.Steps {
		if s.Plan.Steps[i].Kind == sequence.Develop {
			rows = append(rows, wrapped(say.Capital(say.Developer(s.Plan, i)), w, style.Label)...)
		}
	}
	return strings.Join(rows, "\n")
}

// reference heads the column of times as at the reference temperature.
func (m Model) reference() string {
	for i := range m.session.Plan.Steps {
		st := &m.session.Plan.Steps[i]
		if st.Kind == sequence.Develop && st.TimeByTemperature != nil {
			return "at " + say.Temperature(st.TimeByTemperature.At, m.env.Units())
		}
	}
	return "counted"
}

// happened is what did not go by itself, what was read and what was noted meanwhile.
func (m Model) happened(w int) string {
	s := &m.session
	events := slices.Concat(s.Readings, s.Exceptions, s.Notes)
	slices.SortStableFunc(events, func(a, b sequence.Event) int { return cmp.Compare(a.At, b.At) })
	var rows []string
	for _, e := range events {
		if text := say.Event(s.Plan, e, m.env.Units()); text != "" {
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
	for i := range rows {
		if i > 0 {
			when = ""
		}
		rows[i] = style.Label(widget.PadLeft(when, column)) + "  " + rows[i]
	}
	return rows
}

func headed(title string, rows []string) string {
	if len(rows) == 0 {
		return ""
	}
	return style.Heading(title) + "\n" + strings.Join(rows, "\n")
}

// notes is what was noted afterwards.
func (m Model) notes(w int) string {
	var rows []string
	for _, n := range m.session.NotesAfter.List {
		rows = append(rows, dated(n.Written.Format("2 Jan 2006"), 11, say.LateNote(n), w)...)
	}
	for _, k := range m.read {
		rows = append(rows, wrapped("Densities: "+k.Name+", "+say.Count(len(k.Readings.Sheets), "sheet")+" read.", w, style.Value)...)
	}
	return headed("Noted afterwards", rows)
}

// next is what the record says for next time.
func (m Model) next(w int) string {
	var rows []string
	for _, t := range m.session.SuggestionsIn(m.env.Units()) {
		rows = append(rows, wrapped(say.Tidy(t), w, style.Value)...)
	}
	if c, ok := m.session.Correction(); ok {
		rows = append(rows, wrapped("r repeats it with the developing time × "+c.Of(m.session.Plan.Conditions)+".", w, style.Value)...)
	}
	return headed("For next time", rows)
}

// sources are where the times come from, and the record itself.
func (m Model) sources(w int) string {
	var rows []string
	if from := m.session.Plan.Recipe.Origin(); from != "" {
		rows = append(rows, wrapped("Times found by a film test: "+from, w, style.Label)...)
	}
	if m.session.Path != "" { // no sentence: across the whole width
		for _, row := range widget.Wrap(safetext.Clean("Kept in "+m.session.Path), w) {
			rows = append(rows, style.Label(row))
		}
	}
	return strings.Join(rows, "\n")
}
