package notebookcmd

// The notebook as scripts read it.

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// sessionEntryJSON is one session of the list.
type sessionEntryJSON struct {
	ID        string         `json:"id"`
	Recipe    *string        `json:"recipe"`
	Film      *string        `json:"film"`
	Started   *string        `json:"started"`
	Ended     *string        `json:"ended"`
	Status    journal.Status `json:"status"`
	Rehearsal bool           `json:"rehearsal"`
}

func asSessionEntryJSON(s *notebook.Summary) sessionEntryJSON {
	return sessionEntryJSON{ID: s.ID, Recipe: app.NilIfEmpty(s.Recipe), Film: app.NilIfEmpty(s.Film),
		Started: rfc3339(s.Started), Ended: rfc3339(s.Ended), Status: s.Status, Rehearsal: s.Rehearsal}
}

// rfc3339 is RFC 3339; nil where it is not known, or has not come.
func rfc3339(t *time.Time) *string {
	if t == nil {
		return nil
	}
	text := t.Format(time.RFC3339)
	return &text
}

// sessionJSON is one session in full.
type sessionJSON struct {
	Listed      sessionEntryJSON `json:",embed"`
	Vessel      *string          `json:"vessel"`
	Sheets      int              `json:"sheets"`
	Newer       bool             `json:"newer"`
	Problem     *string          `json:"problem"`
	Steps       []stepJSON       `json:"steps"`
	Readings    []readingJSON    `json:"readings"`
	Notes       []noteJSON       `json:"notes"`
	Wet         *wetJSON         `json:"wet"`
	Emulsion    *string          `json:"emulsion"`
	Events      []eventJSON      `json:"events"`
	Gaps        []spanJSON       `json:"gaps"`
	Holds       []spanJSON       `json:"holds"`
	Missed      []eventJSON      `json:"cues_missed"`
	Suggestions []string         `json:"suggestions"`
	Densities   []densitiesJSON  `json:"densities"`
}

type stepJSON struct {
	Name    string          `json:"name"`
	Kind    sequence.Kind   `json:"kind"`
	Bath    *string         `json:"bath"`
	Vessel  sequence.Vessel `json:"vessel"`
	Planned timesJSON       `json:"planned"`
	Actual  *timesJSON      `json:"actual"` // null where it was not begun
	Sheets  []stayJSON      `json:"sheets"`
}

// timesJSON has the names of plan --json. Actual time_s is the least that a sheet was given.
type timesJSON struct {
	Start *sequence.Elapsed `json:"start_s"`
	Moves *sequence.Elapsed `json:"moves_s"`
	End   *sequence.Elapsed `json:"end_s"`
	Time  *sequence.Elapsed `json:"time_s"`
}

type stayJSON struct {
	Sheet     int               `json:"sheet"`
	In        sequence.Elapsed  `json:"in_s"`
	Out       *sequence.Elapsed `json:"out_s"` // null while it is in
	Time      sequence.Elapsed  `json:"time_s"`
	Developed *float64          `json:"development_percent"` // null outside a developer
	Uncertain bool              `json:"uncertain"`           // counted past the end of the recipe's table
}

type readingJSON struct {
	At     sequence.Elapsed `json:"at_s"`
	T      *chem.Celsius    `json:"temperature_c"`
	Source string           `json:"source"`
}

// noteJSON has at_s where it was written while the session ran, written where afterwards.
type noteJSON struct {
	At       *sequence.Elapsed     `json:"at_s"`
	Written  *string               `json:"written"`
	Text     string                `json:"text"`
	Emulsion *string               `json:"emulsion"`
	Looks    []notebook.Appearance `json:"looks,omitzero"`
}

type wetJSON struct {
	Total   sequence.Elapsed  `json:"total_s"`
	Limit   *sequence.Elapsed `json:"limit_s"`
	Used    *float64          `json:"used"`
	Margin  *sequence.Elapsed `json:"margin_s"`
	LimitAt *sequence.Elapsed `json:"limit_at_s"`
	Session sequence.Elapsed  `json:"session_s"`
	Sheets  []sheetWetJSON    `json:"sheets"`
}

type sheetWetJSON struct {
	Sheet   int              `json:"sheet"`
	Total   sequence.Elapsed `json:"total_s"`
	Used    *float64         `json:"used"`
	Aside   bool             `json:"set_aside"`
	Vessels []vesselWetJSON  `json:"vessels"`
}

type vesselWetJSON struct {
	Vessel sequence.Vessel   `json:"vessel"`
	Time   sequence.Elapsed  `json:"time_s"`
	Limit  *sequence.Elapsed `json:"limit_s"`
}

type eventJSON struct {
	At    sequence.Elapsed `json:"at_s"`
	What  string           `json:"event,omitzero"`
	Cue   string           `json:"cue,omitzero"`
	Step  *string          `json:"step"`
	Sheet int              `json:"sheet"`
	Text  *string          `json:"text"`
}

// densitiesJSON is readings of negatives that are linked to the session.
type densitiesJSON struct {
	Name   string             `json:"name"`
	File   string             `json:"file"`
	Sheets []sheetDensityJSON `json:"sheets"`
}

type sheetDensityJSON struct {
	Sheet int              `json:"sheet"`
	Time  sequence.Elapsed `json:"time_s"` // as at the reference temperature
	Steps int              `json:"steps"`  // read
}

func asDensitiesJSON(desk densities.Store, id string) []densitiesJSON {
	list := []densitiesJSON{}
	for _, k := range desk.OfSession(id) {
		d := densitiesJSON{Name: k.Name, File: desk.Path(k.Name)}
		for _, c := range k.Readings.Sheets {
			d.Sheets = append(d.Sheets, sheetDensityJSON{c.Sheet, c.Time, c.Count()})
		}
		list = append(list, d)
	}
	return list
}

type spanJSON struct {
	From sequence.Elapsed `json:"from_s"`
	To   sequence.Elapsed `json:"to_s"`
}

// asSessionJSON gives a session in full; empty lists are [], what is not known null.
func asSessionJSON(s *notebook.Session) sessionJSON {
	t := sessionJSON{Listed: asSessionEntryJSON(&s.Summary), Vessel: app.NilIfEmpty(string(s.Vessel)), Sheets: s.Sheets, Newer: s.Newer,
		Problem: app.NilIfEmpty(s.Problem), Emulsion: app.NilIfEmpty(string(s.Emulsion)), Suggestions: s.Suggestions}
	for i := range s.Steps {
		t.Steps = append(t.Steps, asStepJSON(&s.Steps[i]))
	}
	for _, e := range s.Readings {
		r := readingJSON{At: e.At, T: e.Temperature, Source: e.Source}
		if e.Since != nil {
			r.At = *e.Since
		}
		t.Readings = append(t.Readings, r)
	}
	for _, e := range s.Notes {
		t.Notes = append(t.Notes, noteJSON{At: &e.At, Text: e.Text})
	}
	for _, n := range s.NotesAfter.List {
		t.Notes = append(t.Notes, noteJSON{Written: rfc3339(&n.Written), Text: n.Text, Emulsion: app.NilIfEmpty(string(n.Emulsion)), Looks: n.Appearances})
	}
	for _, e := range s.Exceptions {
		t.Events = append(t.Events, eventJSON{At: e.At, What: string(e.Kind), Step: app.NilIfEmpty(e.Step), Sheet: e.Sheet, Text: app.NilIfEmpty(e.Text)})
	}
	for _, c := range s.Missed {
		t.Missed = append(t.Missed, eventJSON{At: c.At, Cue: string(c.Kind), Step: app.NilIfEmpty(c.Step), Sheet: c.Sheet})
	}
	t.Densities = asDensitiesJSON(app.Densities(), s.ID)
	t.Gaps, t.Holds = asSpansJSON(s.Gaps), asSpansJSON(s.Holds)
	if s.Plan != nil {
		t.Wet = asWetJSON(&s.Wet)
	}
	return t
}

func asSpansJSON(list []notebook.Span) []spanJSON {
	var spans []spanJSON
	for _, g := range list {
		spans = append(spans, spanJSON(g))
	}
	return spans
}

func asStepJSON(st *notebook.StepDone) stepJSON {
	p := st.Plan
	t := stepJSON{Name: p.Name, Kind: p.Kind, Bath: app.NilIfEmpty(p.Bath), Vessel: p.Vessel,
		Planned: timesJSON{&p.Start, &p.FirstOut, &p.End, &p.Given}}
	if len(st.Sheets) == 0 {
		return t
	}
	least := st.Sheets[0].Given
	for _, y := range st.Sheets {
		stay := stayJSON{Sheet: y.Sheet, In: y.In, Out: nilIfNever(y.Out), Time: y.Given}
		if y.Developed != nil {
			share := 100 * y.Developed.Share()
			stay.Developed, stay.Uncertain = &share, y.Developed.Uncertain
		}
		least = min(least, y.Given)
		t.Sheets = append(t.Sheets, stay)
	}
	t.Actual = &timesJSON{nilIfNever(st.Start), nilIfNever(st.FirstOut), nilIfNever(st.LastOut), &least}
	return t
}

// nilIfNever is nil for what has not happened.
func nilIfNever(d sequence.Elapsed) *sequence.Elapsed {
	if d == sequence.Never {
		return nil
	}
	return &d
}

func asWetJSON(w *notebook.WetTime) *wetJSON {
	t := &wetJSON{Total: w.Total, Limit: w.Limit, Used: w.Used, Margin: w.Margin, LimitAt: w.LimitAt, Session: w.Session}
	for _, s := range w.Sheets {
		sheet := sheetWetJSON{Sheet: s.Sheet, Total: s.Total, Used: s.Used, Aside: s.Aside}
		for _, v := range s.Vessels {
			sheet.Vessels = append(sheet.Vessels, vesselWetJSON(v))
		}
		t.Sheets = append(t.Sheets, sheet)
	}
	return t
}
