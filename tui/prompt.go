package tui

// A line being typed at the foot of a screen: while a session runs a temperature, a
// note, a sheet. Only in the light.

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
)

type prompt struct {
	prompt string
	kind   keyAction
	text   string
}

// longestNote is as much as is taken down at once.
const longestNote = 200

// cursor stands behind what is being typed.
const cursor = "▂"

func (a prompt) line() string { return a.prompt + " " + a.text + cursor }

// edit is the line after a key. Enter and esc end it: done; kept says which.
func (a prompt) edit(key string) (next prompt, done, kept bool) {
	switch {
	case key == "esc", key == "enter":
		return a, true, key == "enter"
	case key == "backspace":
		_, n := utf8.DecodeLastRuneInString(a.text)
		a.text = a.text[:len(a.text)-n]
	case utf8.RuneCountInString(key) == 1 && len(a.text) < longestNote:
		if r, _ := utf8.DecodeRuneInString(key); unicode.IsPrint(r) {
			a.text += key
		}
	}
	return a, false, false
}

// answer edits the line, or takes it.
func (m Model) answer(key string) (tea.Model, tea.Cmd) {
	a, done, kept := m.run.asking.edit(key)
	m.run.asking = &a
	if done {
		m.run.asking = nil
	}
	if kept {
		return m.answered(a.kind, strings.TrimSpace(a.text))
	}
	return m, nil
}

// answered does what was asked for.
func (m Model) answered(of keyAction, typed string) (tea.Model, tea.Cmd) {
	if typed == "" {
		return m, nil
	}
	switch of {
	case lateKey:
		n, err := strconv.Atoi(typed)
		if err != nil {
			return m.showError(strconv.Quote(typed) + " is no sheet's number"), nil
		}
		return m.send(sequence.MarkLate{Sheet: n}, "noted; "+m.o.bigName()+" when sheet "+typed+" has moved")
	case lost:
		n, err := strconv.Atoi(typed)
		if err != nil {
			return m.showError(strconv.Quote(typed) + " is no sheet's number"), nil
		}
		return m.send(sequence.SetSheetAside{Sheet: n}, "sheet "+typed+" is set aside; its wet time goes on")
	case temperature:
		r, err := m.o.Defaults.Units.ParseReading(typed)
		if err != nil {
			return m.showError(err.Error()), nil
		}
		return m.reading(r)
	case remark:
		return m.send(sequence.AddNote{Text: typed}, "noted")
	case stop:
		if !strings.EqualFold(typed, "yes") {
			return m.showMessage("not ended: the session goes on"), nil
		}
		return m.send(sequence.EndSession{}, "session ended")
	}
	return m, nil
}

// reading takes in a temperature and says what it changes.
func (m Model) reading(r sequence.TakeReading) (tea.Model, tea.Cmd) {
	old := shiftedEnd{m.run.look.Next, true}
	next, cmd := m.send(r, "read; what it changes is told")
	m = next.(Model)
	if !m.messageIsError {
		m.run.shifted = old
	}
	return m, cmd
}
