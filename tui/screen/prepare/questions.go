package prepare

// What is asked before film is opened, each with keys of its own: the big key, which a wet
// hand finds without looking, answers none of it.

import (
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// ask is one question.
type ask int

// The questions, in the order in which they are asked.
const (
	askDanger ask = iota
	askPanel
	askBlack
	askAround
	askFar
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
	askAround: {{"y", "accept", ""}},
	askFar:    {{"y", "accept", "over SSH: lamps, sleep and sound are another computer's, accepted"}},
	askSound:  {{"y", "go on without", "no sound, accepted"}},
}

// short is the question in a sentence with its keys.
func (a ask) short() string {
	switch a {
	case askDanger:
		return "the danger: y goes on in spite of it, esc changes the plan."
	case askPanel:
		return "the laptop's panel: c it is covered, o it was checked dark, l the laptop is outside the room."
	case askBlack:
		return "the background: y accepts that it may flash."
	case askAround:
		return "what is drawn around this window: y accepts it."
	case askFar:
		return "that wetside runs on another computer: y accepts it."
	}
	return "the sound: y goes on without it."
}

// questions are those of a plan on this laptop, with what was answered.
type questions struct {
	plan      *sequence.Plan
	units     sequence.Units
	sound     string // whether there is any, before a session
	black     bool   // the terminal did not confirm a black background
	around    string // what draws around the screens; "" for nothing
	hides     bool   // its line is switched off in the dark
	far       bool   // the program runs on another computer than the one before the person
	rehearsed bool   // no film is wet: nothing is asked about danger
	answers   [asksCount]string
}

// asks are the questions, in order.
func (q questions) asks() (list []ask) {
	if len(planning.Dangers(q.plan)) > 0 && !q.rehearsed {
		list = append(list, askDanger)
	}
	if !q.plan.HasDark() {
		return list
	}
	list = append(list, askPanel)
	if q.black {
		list = append(list, askBlack)
	}
	if q.around != "" {
		list = append(list, askAround)
	}
	if q.far {
		list = append(list, askFar)
	}
	if !q.hasSound() {
		list = append(list, askSound)
	}
	return list
}

func (q questions) hasSound() bool { return strings.HasPrefix(q.sound, "sound") }

// open is the first question without an answer; false where there is none.
func (q questions) open() (ask, bool) {
	for _, a := range q.asks() {
		if q.answers[a] == "" {
			return a, true
		}
	}
	return 0, false
}

// recorded is what is recorded of an answer to a question; false where the key answers none.
func (q questions) recorded(a ask, key string) (string, bool) {
	for _, one := range answersTo[a] {
		switch {
		case one.key != key:
		case a == askDanger:
			return q.dangerNote(), true
		case a == askAround:
			return say.AroundNote(q.around, q.hides), true
		default:
			return one.record, true
		}
	}
	return "", false
}

// dangerNote is what is recorded when the plan's dangers are accepted.
func (q questions) dangerNote() string {
	text := "danger accepted"
	for _, c := range planning.Dangers(q.plan) {
		text += "; " + say.Caution(c, q.plan, q.units)
	}
	return text
}

// notes are the answers, and once that the room was seen to.
func (q questions) notes() (list []string) {
	for _, a := range q.asks() {
		list = append(list, q.answers[a])
	}
	if q.plan.HasDark() {
		list = append(list, roomSeen)
	}
	return list
}

// laptopAnswered reports whether all that is asked of the laptop is answered.
func (q questions) laptopAnswered() bool {
	asks := slices.DeleteFunc(q.asks(), func(a ask) bool { return sectionOf(a) != laptopSection })
	return len(asks) > 0 && !slices.ContainsFunc(asks, func(a ask) bool { return q.answers[a] == "" })
}

func sectionOf(a ask) int {
	if a == askDanger {
		return knowSection
	}
	return laptopSection
}
