package run

// The keys of the lit screen, and what each asks of the session.

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/widget"
)

// key is what a key does in the light; with a form open it belongs to that.
func (m Model) key(msg tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	if m.form.open() {
		return m.formKey(msg)
	}
	name := msg.String()
	if k, is := m.env.Keys.Of(name); is {
		if k == screen.MenuKey {
			m.session.SpeakState() // in the light nothing is chosen by ear
		}
		return m, nil, nil
	}
	switch name {
	case "u":
		return m.sent(sequence.Undo{}, "Undone.")
	case "h":
		if m.session.Snapshot().Held {
			return m.sent(sequence.EndHold{}, "Going on.")
		}
		return m.sent(sequence.Hold{}, "Held: the chemistry goes on. h goes on.")
	case "a":
		m.session.Say(screen.SaysAdvice)
		a, ok := m.session.Advise()
		return m, screen.Message{Text: say.Sentence(say.Advice(a, ok, m.session.Plan()))}, nil
	case "w":
		return m.whiteLight()
	case "l", "x", "t", "n", "s":
		return m.opened(name)
	}
	return m, nil, nil
}

// whiteLight changes between red and full colour, which only a room with white light allows.
func (m Model) whiteLight() (screen.Screen, screen.Action, tea.Cmd) {
	m = m.refreshed()
	if !m.white && !m.mayBeWhite() {
		return m, screen.Message{Text: "There is no white light in this step: the screen stays red.", Fault: true}, nil
	}
	m.white, m.whitely = !m.white, m.look.Step+2
	return m, nil, nil
}

// send asks something of the session and says what came of it.
func (m Model) send(c sequence.Command, done string) (Model, screen.Action, tea.Cmd) {
	if why := m.session.Refuse(c); why.Refused() {
		return m, screen.Message{Text: say.Sentence(say.Refusal(why, m.env.Units())), Fault: true}, nil
	}
	m.session.Do(c)
	m.generation++
	return m, screen.Message{Text: done}, m.tickAfter(shownWithin)
}

func (m Model) sent(c sequence.Command, done string) (screen.Screen, screen.Action, tea.Cmd) {
	return m.send(c, done)
}

// About is the head, the foot and the help.
func (m Model) About() screen.About {
	a := screen.About{Title: m.title(), Right: m.right(), Typing: m.form.open(), Help: m.help()}
	big := m.env.Keys.BigName()
	hold := bind("h", "hold")
	if m.look.Held {
		hold = bind("h", "go on")
	}
	switch {
	case m.form.choosing():
		a.Foot = []key.Binding{bind("enter", "take"), bind("←→", "choose"), bind("esc", "leave it")}
	case m.form.open():
		a.Foot = []key.Binding{bind("enter", "take"), bind("esc", "leave it")}
	case m.look.CanUndo:
		a.Foot = []key.Binding{bind(big, "move on"), bind("u", "undo"), hold, bind("s", "end session"), bind("l", "late"), bind("t", "temperature")}
	default:
		a.Foot = []key.Binding{bind(big, "move on"), hold, bind("s", "end session"), bind("l", "late"), bind("t", "temperature"), bind("n", "note")}
	}
	return a
}

// title is the step, and in a rehearsal that it is one.
func (m Model) title() string {
	p, l := m.session.Plan(), m.look
	step := "Before the first bath"
	if l.Step >= 0 {
		step = fmt.Sprintf("%s, %d of %d", say.StepName(p.Steps[l.Step].Name), l.Step+1, len(p.Steps))
		step = strings.ToUpper(step[:1]) + step[1:]
	}
	switch n := m.session.RehearsalSpeed(); {
	case m.session.SkipsQuiet():
		return "Rehearsal of the transfers · " + step
	case n == 1:
		return "Rehearsal · " + step
	case n > 0:
		return "Rehearsal " + strconv.FormatFloat(n, 'f', -1, 64) + "× · " + step
	}
	return step
}

// leastHead is how many columns of a head there surely are but in the narrowest windows.
const leastHead = 76

// right is the bath's temperature where one is known, the time, and the sound: of these as many
// as stand beside the title in an ordinary window.
func (m Model) right() string {
	const gap = 2
	var parts []string
	if d := m.look.Develop; d != nil && d.Temperature != nil {
		parts = append(parts, "bath "+m.env.Units().ToTenth(*d.Temperature))
	}
	if m.look.Step >= 0 {
		parts = append(parts, "at "+sequence.FormatElapsed(strips.ShownSecond(m.look.Now)))
	}
	parts = append(parts, say.SoundNow(m.session.Sound()))
	room := leastHead - gap - widget.Width(safetext.Clean(m.title()))
	for len(parts) > 1 && widget.Width(strings.Join(parts, "   ")) > room {
		parts = parts[:len(parts)-1]
	}
	return strings.Join(parts, "   ")
}

func bind(keys, word string) key.Binding {
	return key.NewBinding(key.WithKeys(keys), key.WithHelp(keys, word))
}

func (m Model) help() widget.Help {
	big := m.env.Keys.BigName()
	menu := screen.UsualMenu[0]
	if len(m.env.Keys.Menu) > 0 {
		menu = m.env.Keys.Menu[0]
	}
	return widget.Help{
		About: "A session goes on. The word is what the hands do now, the number how long until what stands beneath it. " +
			"The chemistry never waits: a hold only keeps the film where it is.",
		Groups: []widget.KeyGroup{
			{Purpose: "The hands", Keys: []key.Binding{bind(big, "the transfer is done now"), bind("u", "undo, for 10 s"),
				bind("h", "hold the film where it is; again to go on"), bind("l", "a sheet is late: still where it was"),
				bind("x", "a sheet is lost, or set aside in plain water")}},
			{Purpose: "The record", Keys: []key.Binding{bind("t", "the developer's temperature"), bind("n", "a note"), bind("a", "advice about the wet time")}},
			{Purpose: "In the dark", Keys: []key.Binding{bind(big, "one press speaks, two move on; in a row of transfers two pause it; where light is offered two bring it"),
				bind(menu, "the spoken menu; "+big+" takes what was offered")}},
			{Purpose: "Looking and leaving", Keys: []key.Binding{bind("w", "white or red screen, where the room has white light"), bind(menu, "speak how it stands"),
				bind("s", "end the session, after a question")}},
		}}
}
