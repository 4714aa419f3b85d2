package form

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
)

// NoSession is the first choice of a field that asks for a session.
const NoSession = "none"

// SessionReader is where sessions are found.
type SessionReader interface {
	Sessions() []notebook.Summary // newest first
	Read(id string) (notebook.Session, error)
}

// Sessions are those that may have developed the sheets that densities are read of. In the form they are
// three fields: Which, then the film and the times that were planned, both filled by the one chosen.
type Sessions struct {
	Which     int                         // the field's place
	Developed []notebook.SheetDevelopment // the chosen one's sheets
	list      []notebook.Summary
}

// SessionMsg is a session that was chosen.
type SessionMsg struct{ Session notebook.Session }

// SessionField asks for it.
func SessionField() Field {
	return Field{Label: "session", Choices: []string{NoSession}, Means: "The session that developed the sheets: each then has the time that its temperatures came to."}
}

func sessionName(s notebook.Summary) string { return s.Day() + " " + s.Recipe }

// Offered puts sessions that came to their end into the form; what is chosen stays.
func (s Sessions) Offered(f Form, all []notebook.Summary) (Sessions, Form) {
	was, _ := s.Chosen(f)
	s.list = nil
	for _, one := range all {
		if one.Problem == "" && !one.Rehearsal && one.Ended != nil {
			s.list = append(s.list, one)
		}
	}
	if was.ID != "" && !slices.ContainsFunc(s.list, func(o notebook.Summary) bool { return o.ID == was.ID }) {
		s.list = append([]notebook.Summary{was}, s.list...)
	}
	f.Fields = slices.Clone(f.Fields)
	field := &f.Fields[s.Which]
	field.Choices, field.Chosen = []string{NoSession}, 0
	for i, one := range s.list {
		field.Choices = append(field.Choices, sessionName(one))
		if one.ID == was.ID {
			field.Chosen = i + 1
		}
	}
	return s, f
}

// Only has one session to choose, and chooses it.
func (s Sessions) Only(f Form, one notebook.Session) (Sessions, Form) {
	s.list = []notebook.Summary{one.Summary}
	f.Fields = slices.Clone(f.Fields)
	f.Fields[s.Which].Choices, f.Fields[s.Which].Chosen = []string{NoSession, sessionName(one.Summary)}, 1
	return s.Took(f, one)
}

// Chosen is the session; false for none.
func (s Sessions) Chosen(f Form) (notebook.Summary, bool) {
	i := f.Fields[s.Which].Chosen
	if i < 1 || i > len(s.list) {
		return notebook.Summary{}, false
	}
	return s.list[i-1], true
}

// Changed reads the session that was chosen; its SessionMsg is for Took.
func (s Sessions) Changed(f Form, from SessionReader) (Sessions, tea.Cmd) {
	s.Developed = nil
	one, ok := s.Chosen(f)
	if !ok {
		return s, nil
	}
	return s, func() tea.Msg {
		session, _ := from.Read(one.ID) // of a damaged one what stands before the damage
		session.Summary = one
		return SessionMsg{session}
	}
}

// Took takes film and planned times from a session, where it is still the one chosen.
func (s Sessions) Took(f Form, one notebook.Session) (Sessions, Form) {
	if chosen, ok := s.Chosen(f); !ok || chosen.ID != one.ID {
		return s, f
	}
	s.Developed = one.Developed()
	var times []string
	for _, d := range s.Developed {
		times = append(times, sequence.FormatElapsed(d.Planned))
	}
	f.Fields = slices.Clone(f.Fields)
	f.Fields[s.Which+1].Text, f.Fields[s.Which+2].Text = one.Film, strings.Join(times, " ")
	f.Fields[s.Which+2].Fault = ""
	return s, f
}

// Sheets are the sheets of those times: of the session chosen, with the time that each had, else with
// those times and no number. It errs for a time that the session has no sheet of.
func (s Sessions) Sheets(f Form, times []time.Duration) (id string, sheets []notebook.SheetDevelopment, err error) {
	one, ok := s.Chosen(f)
	if ok {
		sheets, err = densities.Match(times, nil, s.Developed)
		return one.ID, sheets, err
	}
	for _, t := range times {
		sheets = append(sheets, notebook.SheetDevelopment{Planned: t, Actual: t})
	}
	return "", sheets, nil
}
