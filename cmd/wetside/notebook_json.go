package main

// The notebook as scripts read it.

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// listedSession is one session of the list.
type listedSession struct {
	ID        string         `json:"id"`
	Recipe    *string        `json:"recipe"`
	Film      *string        `json:"film"`
	Started   *string        `json:"started"`
	Ended     *string        `json:"ended"`
	Status    journal.Status `json:"status"`
	Rehearsal bool           `json:"rehearsal"`
}

func asListed(s *notebook.Summary) listedSession {
	return listedSession{ID: s.ID, Recipe: orNull(s.Recipe), Film: orNull(s.Film),
		Started: moment(s.Started), Ended: moment(s.Ended), Status: s.Status, Rehearsal: s.Rehearsal}
}

func orNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// moment is RFC 3339; nil where it is not known, or has not come.
func moment(t *time.Time) *string {
	if t == nil {
		return nil
	}
	text := t.Format(time.RFC3339)
	return &text
}

// toldSession is one session in full.
type toldSession struct {
	Listed      listedSession   `json:",embed"`
	Vessel      *string         `json:"vessel"`
	Sheets      int             `json:"sheets"`
	Newer       bool            `json:"newer"`
	Problem     *string         `json:"problem"`
	Steps       []toldStep      `json:"steps"`
	Readings    []toldReading   `json:"readings"`
	Notes       []toldNote      `json:"notes"`
	Wet         *toldWet        `json:"wet"`
	Emulsion    *string         `json:"emulsion"`
	Events      []toldEvent     `json:"events"`
	Gaps        []toldSpan      `json:"gaps"`
	Holds       []toldSpan      `json:"holds"`
	Missed      []toldEvent     `json:"cues_missed"`
	Suggestions []string        `json:"suggestions"`
	Densities   []toldDensities `json:"densities"`
}

type toldStep struct {
	Name    string          `json:"name"`
	Kind    sequence.Kind   `json:"kind"`
	Bath    *string         `json:"bath"`
	Vessel  sequence.Vessel `json:"vessel"`
	Planned toldTimes       `json:"planned"`
	Actual  *toldTimes      `json:"actual"` // null where it was not begun
	Sheets  []toldStay      `json:"sheets"`
}

// toldTimes has the names of plan --json. Actual time_s is the least that a sheet was given.
type toldTimes struct {
	Start *sequence.Elapsed `json:"start_s"`
	Moves *sequence.Elapsed `json:"moves_s"`
	End   *sequence.Elapsed `json:"end_s"`
	Time  *sequence.Elapsed `json:"time_s"`
}

type toldStay struct {
	Sheet     int               `json:"sheet"`
	In        sequence.Elapsed  `json:"in_s"`
	Out       *sequence.Elapsed `json:"out_s"` // null while it is in
	Time      sequence.Elapsed  `json:"time_s"`
	Developed *float64          `json:"development_percent"` // null outside a developer
	Uncertain bool              `json:"uncertain"`           // counted past the end of the recipe's table
}

type toldReading struct {
	At     sequence.Elapsed `json:"at_s"`
	T      *chem.Celsius    `json:"temperature_c"`
	Source string           `json:"source"`
}

// toldNote has at_s where it was written while the session ran, written where afterwards.
type toldNote struct {
	At       *sequence.Elapsed `json:"at_s"`
	Written  *string           `json:"written"`
	Text     string            `json:"text"`
	Emulsion *string           `json:"emulsion"`
	Looks    []notebook.Look   `json:"looks,omitzero"`
}

type toldWet struct {
	Total   sequence.Elapsed  `json:"total_s"`
	Limit   *sequence.Elapsed `json:"limit_s"`
	Used    *float64          `json:"used"`
	Margin  *sequence.Elapsed `json:"margin_s"`
	LimitAt *sequence.Elapsed `json:"limit_at_s"`
	Session sequence.Elapsed  `json:"session_s"`
	Sheets  []toldSheetWet    `json:"sheets"`
}

type toldSheetWet struct {
	Sheet   int              `json:"sheet"`
	Total   sequence.Elapsed `json:"total_s"`
	Used    *float64         `json:"used"`
	Aside   bool             `json:"set_aside"`
	Vessels []toldVesselWet  `json:"vessels"`
}

type toldVesselWet struct {
	Vessel sequence.Vessel   `json:"vessel"`
	Time   sequence.Elapsed  `json:"time_s"`
	Limit  *sequence.Elapsed `json:"limit_s"`
}

type toldEvent struct {
	At    sequence.Elapsed `json:"at_s"`
	What  string           `json:"event,omitzero"`
	Cue   string           `json:"cue,omitzero"`
	Step  *string          `json:"step"`
	Sheet int              `json:"sheet"`
	Text  *string          `json:"text"`
}

// toldDensities is readings of negatives that are linked to the session.
type toldDensities struct {
	Name   string        `json:"name"`
	File   string        `json:"file"`
	Sheets []toldDensity `json:"sheets"`
}

type toldDensity struct {
	Sheet int              `json:"sheet"`
	Time  sequence.Elapsed `json:"time_s"` // as at the reference temperature
	Steps int              `json:"steps"`  // read
}

func asDensities(desk notebook.Desk, id string) []toldDensities {
	list := []toldDensities{}
	for _, k := range desk.Of(id) {
		d := toldDensities{Name: k.Name, File: desk.Path(k.Name)}
		for _, c := range k.Readings.Sheets {
			d.Sheets = append(d.Sheets, toldDensity{c.Sheet, c.Time, c.Read()})
		}
		list = append(list, d)
	}
	return list
}

type toldSpan struct {
	From sequence.Elapsed `json:"from_s"`
	To   sequence.Elapsed `json:"to_s"`
}

// asTold gives a session in full; empty lists are [], what is not known null.
func asTold(s *notebook.Session) toldSession {
	t := toldSession{Listed: asListed(&s.Summary), Vessel: orNull(string(s.Vessel)), Sheets: s.Sheets, Newer: s.Newer,
		Problem: orNull(s.Problem), Emulsion: orNull(string(s.Emulsion)), Suggestions: s.Suggests}
	for i := range s.Steps {
		t.Steps = append(t.Steps, asStep(&s.Steps[i]))
	}
	for _, e := range s.Readings {
		r := toldReading{At: e.At, T: e.Temperature, Source: e.Source}
		if e.Since != nil {
			r.At = *e.Since
		}
		t.Readings = append(t.Readings, r)
	}
	for _, e := range s.Notes {
		t.Notes = append(t.Notes, toldNote{At: &e.At, Text: e.Text})
	}
	for _, n := range s.Later.Notes {
		t.Notes = append(t.Notes, toldNote{Written: moment(&n.Written), Text: n.Text, Emulsion: orNull(string(n.Emulsion)), Looks: n.Looks})
	}
	for _, e := range s.Told {
		t.Events = append(t.Events, toldEvent{At: e.At, What: string(e.Kind), Step: orNull(e.Step), Sheet: e.Sheet, Text: orNull(e.Text)})
	}
	for _, c := range s.Missed {
		t.Missed = append(t.Missed, toldEvent{At: c.At, Cue: string(c.Kind), Step: orNull(c.Step), Sheet: c.Sheet})
	}
	t.Densities = asDensities(desk(), s.ID)
	t.Gaps, t.Holds = asSpans(s.Gaps), asSpans(s.Holds)
	if s.Plan != nil {
		t.Wet = asWet(&s.Wet)
	}
	return t
}

func asSpans(list []notebook.Span) []toldSpan {
	var spans []toldSpan
	for _, g := range list {
		spans = append(spans, toldSpan(g))
	}
	return spans
}

func asStep(st *notebook.Step) toldStep {
	p := st.Plan
	t := toldStep{Name: p.Name, Kind: p.Kind, Bath: orNull(p.Bath), Vessel: p.Vessel,
		Planned: toldTimes{&p.Start, &p.Moves, &p.End, &p.Given}}
	if len(st.Sheets) == 0 {
		return t
	}
	least := st.Sheets[0].Given
	for _, y := range st.Sheets {
		stay := toldStay{Sheet: y.Sheet, In: y.In, Out: known(y.Out), Time: y.Given}
		if y.Developed != nil {
			share := 100 * y.Developed.Share()
			stay.Developed, stay.Uncertain = &share, y.Developed.Uncertain
		}
		least = min(least, y.Given)
		t.Sheets = append(t.Sheets, stay)
	}
	t.Actual = &toldTimes{known(st.Start), known(st.FirstOut), known(st.LastOut), &least}
	return t
}

// known is nil for what has not happened.
func known(d sequence.Elapsed) *sequence.Elapsed {
	if d == sequence.Never {
		return nil
	}
	return &d
}

func asWet(w *notebook.Wet) *toldWet {
	t := &toldWet{Total: w.Total, Limit: w.Limit, Used: w.Used, Margin: w.Margin, LimitAt: w.LimitAt, Session: w.Session}
	for _, s := range w.Sheets {
		sheet := toldSheetWet{Sheet: s.Sheet, Total: s.Total, Used: s.Used, Aside: s.Aside}
		for _, v := range s.Vessels {
			sheet.Vessels = append(sheet.Vessels, toldVesselWet(v))
		}
		t.Sheets = append(t.Sheets, sheet)
	}
	return t
}
