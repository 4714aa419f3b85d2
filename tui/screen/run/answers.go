package run

// What was answered in the light, asked of the session.

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// opened asks what a key is about.
func (m Model) opened(key string) (screen.Screen, screen.Action, tea.Cmd) {
	f, not := formOf(key, m.session, m.env.Units())
	if not != "" {
		return m, screen.Message{Text: not, Fault: true}, nil
	}
	m.form = f
	return m, nil, nil
}

// Interrupt asks whether to end the session: the film is wet, and leaving would not lift it.
func (m Model) Interrupt() (screen.Screen, screen.Action, tea.Cmd) { return m.opened("s") }

// answered does what was asked for; an empty line and a no leave the form.
func (m Model) answered() (screen.Screen, screen.Action, tea.Cmd) {
	f := m.form
	m.form = form{}
	if f.choosing() {
		return m.chosen(f)
	}
	switch typed := strings.TrimSpace(f.prompt.Value()); {
	case typed == "":
		return m, nil, nil
	case f.asks == "n":
		return m.noted(typed)
	default:
		m.form = f
		return m.reading(typed)
	}
}

func (m Model) chosen(f form) (screen.Screen, screen.Action, tea.Cmd) {
	c := f.choices[f.at]
	switch {
	case f.asks == "l":
		return m.sent(sequence.MarkLate{Sheet: c.sheet}, "Late: "+c.text+". "+m.env.Keys.BigName()+" when it is transferred.")
	case f.asks == "x":
		return m.sent(sequence.SetSheetAside{Sheet: c.sheet}, say.Sentence(c.text+" is set aside; its wet time goes on"))
	case c.yes:
		return m.sent(sequence.EndSession{}, "The session is ended.")
	}
	return m, screen.Message{Text: "Not ended: the session goes on."}, nil
}

// reading takes in a temperature. One far from what was expected is believed when it is
// confirmed; what is wrong stands beside the field.
func (m Model) reading(typed string) (screen.Screen, screen.Action, tea.Cmd) {
	r, err := m.env.Units().ParseReading(typed)
	if err != nil {
		m.form.prompt.Fault, m.form.means = "no temperature", say.Sentence(err.Error())
		return m, nil, nil
	}
	r.Confirmed = r.Confirmed || m.form.again == typed
	if why := m.session.Refuse(r); why.Refused() {
		m.form.prompt.Fault, m.form.again, m.form.means = "not taken", "", say.Sentence(say.Unlikely(why, r.Units))
		if why.AsksToConfirm() {
			m.form.again, m.form.means = typed, m.form.means+" Is that right? Enter again takes it."
		}
		return m, nil, nil
	}
	m.form = form{}
	m.shifted = shifted{m.look.Next, true}
	return m.sent(r, say.Taken(r))
}

// noted says so once the disk has the note.
func (m Model) noted(text string) (screen.Screen, screen.Action, tea.Cmd) {
	note := sequence.AddNote{Text: text}
	if m.session.Refuse(note).Refused() {
		return m.sent(note, "")
	}
	said := "Noted."
	if !m.session.DoAndKeep(note) {
		said = "Note taken; it is not on disk yet."
	}
	return m, screen.Message{Text: said}, m.tickAfter(shownWithin)
}
