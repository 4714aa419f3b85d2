package notebookcmd

// The notebook as scripts read it: the notebook's own nouns, and beside them what a script
// finds under another name than a person does.

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
)

// sessionJSON is one session in full.
type sessionJSON struct {
	Head        notebook.Head     `json:",embed"`
	Vessel      sequence.Vessel   `json:"vessel"`
	Sheets      int               `json:"sheets"`
	Newer       bool              `json:"newer"`
	Problem     string            `json:"problem"`
	Steps       []stepJSON        `json:"steps"`
	Readings    []readingJSON     `json:"readings"`
	Notes       []noteJSON        `json:"notes"`
	Wet         *notebook.WetTime `json:"wet"`
	Emulsion    notebook.Emulsion `json:"emulsion"`
	Events      []eventJSON       `json:"events"`
	Gaps        []notebook.Span   `json:"gaps"`
	Holds       []notebook.Span   `json:"holds"`
	Missed      []eventJSON       `json:"cues_missed"`
	Suggestions []string          `json:"suggestions"`
	Densities   []densitiesJSON   `json:"densities"`
	Learnt      *film.Learnt      `json:"learnt"` // of the film's time; null for nothing
}

type stepJSON struct {
	Name    string                 `json:"name"`
	Kind    sequence.Kind          `json:"kind"`
	Bath    string                 `json:"bath"`
	Vessel  sequence.Vessel        `json:"vessel"`
	Planned timesJSON              `json:"planned"`
	Actual  *timesJSON             `json:"actual"` // null where it was not begun
	Sheets  []notebook.SheetInStep `json:"sheets"`
}

// timesJSON has the names of plan --json. Actual time_s is the least that a sheet was given.
type timesJSON struct {
	Start sequence.Elapsed `json:"start_s"`
	Moves sequence.Elapsed `json:"moves_s"`
	End   sequence.Elapsed `json:"end_s"`
	Time  sequence.Elapsed `json:"time_s"`
}

type readingJSON struct {
	At     sequence.Elapsed `json:"at_s"`
	T      *chem.Celsius    `json:"temperature_c"`
	Source string           `json:"source"`
}

// noteJSON has at_s where it was written while the session ran, written where afterwards.
type noteJSON struct {
	At       *sequence.Elapsed     `json:"at_s"`
	Written  time.Time             `json:"written"`
	Text     string                `json:"text"`
	Emulsion notebook.Emulsion     `json:"emulsion"`
	Looks    []notebook.Appearance `json:"looks,omitzero"`
}

type eventJSON struct {
	At    sequence.Elapsed   `json:"at_s"`
	What  sequence.EventKind `json:"event,omitzero"`
	Cue   sequence.CueKind   `json:"cue,omitzero"`
	Step  string             `json:"step"`
	Sheet int                `json:"sheet"`
	Text  string             `json:"text"`
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

// asSessionJSON gives a session in full; empty lists are [], what is not known null.
func asSessionJSON(s *notebook.Session) sessionJSON {
	t := sessionJSON{Head: s.Head, Vessel: s.Vessel, Sheets: s.Sheets, Newer: s.Newer,
		Problem: s.Problem, Emulsion: s.Emulsion, Gaps: s.Gaps, Holds: s.Holds, Suggestions: say.Findings(s, sequence.Units{})}
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
		t.Notes = append(t.Notes, noteJSON{Written: n.Written, Text: n.Text, Emulsion: n.Emulsion, Looks: n.Appearances})
	}
	for _, e := range s.Exceptions {
		t.Events = append(t.Events, eventJSON{At: e.At, What: e.Kind, Step: e.Step, Sheet: e.Sheet, Text: e.Text})
	}
	for _, c := range s.Missed {
		t.Missed = append(t.Missed, eventJSON{At: c.At, Cue: c.Kind, Step: c.Step, Sheet: c.Sheet})
	}
	t.Densities = asDensitiesJSON(app.Densities(), s.ID)
	t.Learnt = app.Films().Learnt(s)
	if s.Plan != nil {
		t.Wet = &s.Wet
	}
	return t
}

func asStepJSON(st *notebook.StepDone) stepJSON {
	p := st.Plan
	t := stepJSON{Name: p.Name, Kind: p.Kind, Bath: p.Bath, Vessel: p.Vessel, Sheets: st.Sheets,
		Planned: timesJSON{p.Start, p.FirstOut, p.End, p.Given}}
	if len(st.Sheets) == 0 {
		return t
	}
	least := st.Sheets[0].Given
	for _, y := range st.Sheets {
		least = min(least, y.Given)
	}
	t.Actual = &timesJSON{st.Start, st.FirstOut, st.LastOut, least}
	return t
}
