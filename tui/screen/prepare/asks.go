package prepare

// What is asked before film is opened, each with keys of its own: the big key, which a wet
// hand finds without looking, answers none of it.

import (
	"strings"

	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// ask is one question.
type ask int

// The questions, in the order in which they are asked.
const (
	askDanger ask = iota
	askPanel
	askBlack
	askAround
	askSound
	asksCount
)

// roomSeen is recorded by the touch that darkens or begins.
const roomSeen = "phones, watches, indicator LEDs, door, the order of the baths and the thermometer checked"

// answer is a key, what it says, and what is recorded.
type answer struct{ key, word, record string }

// answersTo are the keys of each question; of the danger what is recorded follows from the plan.
var answersTo = [asksCount][]answer{
	askDanger: {{"y", "go on in spite of it", ""}},
	askPanel: {{"c", "covered", "panel covered"}, {"o", "checked dark", "panel checked dark"},
		{"l", "outside the room", "laptop outside the room"}},
	askBlack:  {{"y", "accept", "background not confirmed black, accepted"}},
	askAround: {{"y", "accept", "accepted"}},
	askSound:  {{"y", "go on without", "no sound, accepted"}},
}

// short is the question in a sentence with its keys.
func (a ask) short() string {
	switch a {
	case askDanger:
		return "the danger. y goes on in spite of it, esc changes the plan."
	case askPanel:
		return "the laptop's panel. c it is covered, o it was checked dark, l the laptop is outside the room."
	case askBlack:
		return "the background. y accepts that it may flash."
	case askAround:
		return "what is drawn around this window. y accepts it."
	}
	return "the sound. y goes on without it."
}

// asks are the questions of this plan on this laptop. A rehearsal wets no film, and is not
// asked about danger.
func (m Model) asks() (list []ask) {
	if len(planning.Dangers(m.plan)) > 0 && !m.env.Rehearsal.Dark {
		list = append(list, askDanger)
	}
	if !m.plan.HasDark() {
		return list
	}
	list = append(list, askPanel)
	if m.env.BlackUnconfirmed {
		list = append(list, askBlack)
	}
	if m.env.Around != light.Nothing {
		list = append(list, askAround)
	}
	if !m.hasSound() {
		list = append(list, askSound)
	}
	return list
}

func (m Model) hasSound() bool { return strings.HasPrefix(m.sound, "sound") }

// open is the first question without an answer; false where there is none.
func (m Model) open() (ask, bool) {
	for _, a := range m.asks() {
		if m.answers[a] == "" {
			return a, true
		}
	}
	return 0, false
}

// answered takes a key as the answer to the open question, where it is one.
func (m Model) answered(key string) (Model, screen.Action) {
	a, open := m.open()
	if !open {
		return m, nil
	}
	for _, one := range answersTo[a] {
		if one.key != key {
			continue
		}
		switch m.answers[a] = one.record; a {
		case askDanger:
			m.answers[a] = m.dangerNote()
		case askAround:
			m.answers[a] = say.AroundNote(string(m.env.Around), m.env.HidesLine)
		}
		if next, more := m.open(); more && sectionOf(next) == laptopSection && m.section() == laptopSection {
			return m.goToAsk(next), nil
		} else if !more && m.section() == laptopSection {
			return m.goTo(roomSection), nil
		}
		return m, nil
	}
	return m.goToAsk(a), screen.Message{Text: "First: " + a.short()}
}

// dangerNote is what is recorded when the plan's dangers are accepted.
func (m Model) dangerNote() string {
	text := "danger accepted"
	for _, c := range planning.Dangers(m.plan) {
		text += "; " + say.Caution(c, m.plan, m.units())
	}
	return text
}

// notes are the answers, and once that the room was seen to.
func (m Model) notes() (list []string) {
	for _, a := range m.asks() {
		list = append(list, m.answers[a])
	}
	if m.plan.HasDark() {
		list = append(list, roomSeen)
	}
	return list
}

func sectionOf(a ask) int {
	if a == askDanger {
		return knowSection
	}
	return laptopSection
}
