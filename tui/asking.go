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

type asking struct {
	prompt string
	of     action
	typed  string
}

// longestNote is as much as is taken down at once.
const longestNote = 200

// cursor stands behind what is being typed.
const cursor = "▂"

func (a asking) line() string { return a.prompt + " " + a.typed + cursor }

// edit is the line after a key. Enter and esc end it: done; kept says which.
func (a asking) edit(key string) (next asking, done, kept bool) {
	switch {
	case key == "esc", key == "enter":
		return a, true, key == "enter"
	case key == "backspace":
		_, n := utf8.DecodeLastRuneInString(a.typed)
		a.typed = a.typed[:len(a.typed)-n]
	case utf8.RuneCountInString(key) == 1 && len(a.typed) < longestNote:
		if r, _ := utf8.DecodeRuneInString(key); unicode.IsPrint(r) {
			a.typed += key
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
		return m.answered(a.of, strings.TrimSpace(a.typed))
	}
	return m, nil
}

// answered does what was asked for.
func (m Model) answered(of action, typed string) (tea.Model, tea.Cmd) {
	if typed == "" {
		return m, nil
	}
	switch of {
	case late:
		n, err := strconv.Atoi(typed)
		if err != nil {
			return m.sorry(strconv.Quote(typed) + " is no sheet's number"), nil
		}
		return m.do(sequence.Late{Sheet: n}, "noted; "+m.o.bigName()+" when sheet "+typed+" has moved")
	case lost:
		n, err := strconv.Atoi(typed)
		if err != nil {
			return m.sorry(strconv.Quote(typed) + " is no sheet's number"), nil
		}
		return m.do(sequence.Aside{Sheet: n}, "sheet "+typed+" is set aside; its wet time goes on")
	case temperature:
		r, err := m.o.Usual.Habits.ParseReading(typed)
		if err != nil {
			return m.sorry(err.Error()), nil
		}
		return m.reading(r)
	case remark:
		return m.do(sequence.Remark{Text: typed}, "noted")
	case stop:
		if !strings.EqualFold(typed, "yes") {
			return m.say("not ended: the session goes on"), nil
		}
		return m.do(sequence.Stop{}, "session ended")
	}
	return m, nil
}

// reading takes in a temperature and says what it changes.
func (m Model) reading(r sequence.Read) (tea.Model, tea.Cmd) {
	old := shift{m.run.look.Next, true}
	next, cmd := m.do(r, "read; what it changes is told")
	m = next.(Model)
	if !m.wrong {
		m.run.shifted = old
	}
	return m, cmd
}
