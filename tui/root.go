// Package tui is the whole of the screens: which one is shown, which light there may be,
// where each message goes, and what the screens ask for. It draws head, foot and help
// around the screen's own body and knows nothing of what stands in it.
package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/recipes"
)

// Options is what a Model is made with.
type Options struct {
	screen.Env
	Backend Backend
	Start   string // a recipe to open at once; "" for the list
	// Conditions are those typed on the command line, for Start.
	Conditions sequence.RawConditions
	Resume     string // a session to take up at once; "" for none
	// Dark says that the screen is dark already: a session is taken up in the dark.
	Dark bool
	// Red says that the desk is red too: for those who plan in the darkroom.
	Red bool
}

// Model is the whole of the screens. Its zero value is no model: New makes one.
type Model struct {
	o    Options
	w, h int

	stack stack       // the screen that is shown, and those beneath it
	shown light.Light // what the backend was last told

	message    message
	help       *help // open over the screen; nil while it is not
	quitting   bool  // a question stands whether to leave
	starting   bool  // a session is being begun or taken up, or the editor is open; never two
	generation int   // of the tick by which a message goes

	next *screen.OpenPlan // the round after the session that was begun last; nil for none

	touches touches
}

// Messages.
type (
	begunMsg struct {
		session screen.Session
		err     error
	}
	messageGoneMsg struct{ generation int }
	openedMsg      struct{}
)

// New makes the screens; what was asked for on the command line is open. It errs where
// that makes no plan.
func New(o Options) (Model, error) {
	m := Model{o: o, w: 80, h: 24, shown: light.Red}
	m.stack = stack{recipes.New(o.Backend, o.Env)}
	switch {
	case o.Resume != "":
		m.starting = true
		m.stack = m.stack.under(waiting{env: o.Env, backend: o.Backend, id: o.Resume, dark: o.Dark})
	case o.Start != "":
		s, err := open(o.Backend, o.Env, screen.OpenPlan{Name: o.Start, Conditions: o.Conditions})
		if err != nil {
			return m, err
		}
		m.stack = m.stack.under(s)
	}
	if o.Dark {
		m.shown = light.Dark
	}
	return m.fitted(), nil
}

// with is the model with the shown screen changed.
func (m Model) with(s screen.Screen) Model {
	m.stack = m.stack.with(s)
	return m
}

// Init opens what was asked for on the command line.
func (m Model) Init() tea.Cmd {
	if m.o.Resume != "" {
		return resuming(m.o.Backend, screen.Resume{ID: m.o.Resume})
	}
	return tea.Batch(started(m.stack.top()), func() tea.Msg { return openedMsg{} })
}

// rehearses begins the rehearsal that the command line asked for: at once in the light, where
// there is nothing to prepare.
func (m Model) rehearses() (Model, tea.Cmd) {
	s, ok := m.stack.top().(screen.Rehearsed)
	if r := m.o.Rehearsal; !ok || m.o.Start == "" || r.Speed == 0 || r.Dark {
		return m, nil
	}
	return m.do(s.Rehearse())
}

// Update carries out one message, and then changes the light if the screen that is shown
// now asks for another.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m, cmd := m.update(msg)
	m, again := m.relight()
	return m.fitted(), tea.Batch(cmd, again)
}

// fitted tells the screen that is shown how much room its body has.
func (m Model) fitted() Model {
	if s, ok := m.stack.top().(screen.Sized); ok {
		f := frameOf(m)
		return m.with(s.Sized(f.inner(), f.body()))
	}
	return m
}

func (m Model) update(msg tea.Msg) (Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
		return m, tea.ClearScreen
	case tea.KeyMsg:
		return m.keys(msg)
	case QuietMsg:
		return m.quiet()
	case HeldMsg:
		return m.held(msg)
	case ReleasedMsg:
		if k, is := m.o.Keys.Of(msg.Key); is {
			m.touches[k] = m.touches[k].Release()
		}
		return m, nil
	case begunMsg:
		return m.begun(msg)
	case openedMsg:
		return m.rehearses()
	case messageGoneMsg:
		if msg.generation == m.generation && !m.message.fault {
			m.message = message{}
		}
		return m, nil
	case screen.EditedMsg:
		m.starting = false
		m, cmd := m.give(msg)
		return m, tea.Batch(tea.ClearScreen, cmd)
	}
	return m.give(msg)
}

// give hands a message to the screen that is shown. The answer to a screen that was left
// meanwhile is nothing to this one: each knows its own messages.
func (m Model) give(msg tea.Msg) (Model, tea.Cmd) {
	s, action, cmd := m.stack.top().Update(msg)
	m, done := m.with(s).do(action)
	return m, tea.Batch(cmd, done)
}

// relight tells the backend which light there is now, before the frame that it is for.
func (m Model) relight() (Model, tea.Cmd) {
	want := m.light()
	if want == m.shown {
		return m, nil
	}
	m.shown = want
	m.o.Backend.Light(want)
	return m, tea.ClearScreen
}

// light is what the screen that is shown may be seen in; a desk may be red too.
func (m Model) light() light.Light {
	if l := m.stack.light(); l != light.White || !m.o.Red {
		return l
	}
	return light.Red
}

// dark reports whether no cell is lit.
func (m Model) dark() bool { return m.light() == light.Dark }

// message is a sentence at the foot.
type message struct {
	text  string
	fault bool
}

// messageFor is how long a message stands: as long as what it says can be undone. One of
// a fault stands until the next key.
const messageFor = 10 * time.Second

func (m Model) say(text string, fault bool) (Model, tea.Cmd) {
	m.message = message{text, fault}
	m.generation++
	g := m.generation
	return m, tea.Tick(messageFor, func(time.Time) tea.Msg { return messageGoneMsg{g} })
}
