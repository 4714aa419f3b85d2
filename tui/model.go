package tui

// The root: which screen, which light, and where each message goes.

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// screen is one of the screens.
type screen int

const (
	opening screen = iota
	planning
	preparing
	running
	after
	shelf    // the notebook
	rack     // bottles of mixed baths
	oneOld   // one session of the notebook
	twoOlds  // two of them beside each other
	waiting  // exposed sheets
	grouping // sessions for them
	lessons  // the sounds

	densities
	sheets    // before readings: which film, which sheets
	measuring // readings, step after step
	family    // what they come to
	trial     // a film test to be planned
)

// Options is what a Model is made with.
type Options struct {
	Host    Host
	Now     func() time.Time
	Colours int           // of the terminal: 256, or 16 and fewer
	Lead    time.Duration // before the first dip
	Start   string        // a recipe to open at once; "" for the list
	Words   sequence.Words
	TakeUp  string // a session to take up at once; "" for none
	// Dark says that the screen is dark already: a session is taken up in the dark.
	Dark bool
	// Unproven says that the terminal did not confirm a black background.
	Unproven bool
	// Rehearse is the speed of a rehearsal asked for on the command line; 0 for none.
	Rehearse float64
	Moves    bool // of a rehearsal that passes over the quiet between moves
	DarkToo  bool // prepared, darkened and begun as with film
	// Speed is that of a rehearsal asked for on the screens; 0 for the usual one.
	Speed float64
	Usual sequence.Words // where nothing is typed: the person's units and own limit
	White bool           // white light of the screen by itself, where the room has it
	Big   []string       // the big key, as bubbletea names keys; nil for the usual ones
	Menu  []string       // the menu's key in the dark; nil for the usual one
}

// Model is the whole of the screens.
type Model struct {
	o    Options
	w, h int

	screen  screen
	dark    bool // no cell is lit
	white   bool // the person asked for white light
	itself  int  // the step, counted from 2, in which white came by itself; 0 for none
	message string
	wrong   bool // the message is of something that could not be done
	said    time.Time
	press   presses
	second  presses // the menu's key, in the dark
	third   presses // escape, in the dark
	menu    menuModel
	why     Saying // the session could not be begun or taken up; what a touch says where it failed
	// starting says that a session is being begun or taken up, or that the editor is open;
	// there is never a second.
	starting bool

	list  openingModel
	plan  planModel
	prep  prepModel
	run   runModel
	after afterModel
	sides []side // the screens beside the way, the one shown last
	under screen // the one that the first of them was opened from

	generation int // of the tick that is awaited
}

// Messages.
type (
	tickMsg  struct{ generation int }
	begunMsg struct {
		session Session
		err     error
	}
)

// New makes the screens.
func New(o Options) Model {
	m := Model{o: o, w: 80, h: 24, dark: o.Dark, starting: o.TakeUp != ""}
	m.list = newOpening(o)
	return m
}

// leadOf is the lead of a rehearsal that begins by itself: none is needed but where
// the moves are practised in real time.
func (o Options) leadOf() time.Duration {
	if o.Moves {
		return o.Lead
	}
	return 0
}

// asWithFilm is a session begun from the preparation: with film, or rehearsed as if.
func (o Options) asWithFilm(s Start) Start {
	if s.Lead = o.Lead; o.DarkToo {
		s.Rehearse, s.Moves, s.Dark = o.Rehearse, o.Moves, true
	}
	return s
}

// Init opens what was asked for on the command line.
func (m Model) Init() tea.Cmd {
	switch {
	case m.o.TakeUp != "":
		return takingUp(m.o.Host, m.o.TakeUp)
	case m.o.Start != "" && m.o.Rehearse > 0 && !m.o.DarkToo:
		return beginning(m.o.Host, Start{Plan: m.plan.plan, Rehearse: m.o.Rehearse, Moves: m.o.Moves, Lead: m.o.leadOf()})
	}
	return nil
}

// Opened returns the model with the recipe asked for on the command line open.
func (m Model) Opened() (Model, error) {
	if m.o.Start == "" {
		return m, nil
	}
	p, err := newPlan(m.o.Host, m.o.Start, m.o.Words)
	if err != nil {
		return m, err
	}
	m.plan, m.screen, m.starting = p, planning, m.starting || m.o.Rehearse > 0 && !m.o.DarkToo
	return m, nil
}

// Update carries out one message.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
		return m, tea.ClearScreen
	case tea.KeyMsg:
		return m.key(msg)
	case begunMsg:
		return m.begun(msg)
	case editedMsg:
		return m.edited(msg)
	case tickMsg:
		if msg.generation != m.generation {
			return m, nil
		}
		return m.tick()
	}
	if s := m.side(); s != nil {
		return s.told(m, msg)
	}
	return m, nil
}

// key gives each key of a message to the screen; several runes may come at once.
// What was pasted is left alone.
func (m Model) key(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	if msg.Paste {
		return m, nil
	}
	if msg.Type != tea.KeyRunes || len(msg.Runes) == 1 {
		return m.oneKey(msg.String())
	}
	var cmds []tea.Cmd
	for _, r := range msg.Runes {
		next, cmd := m.oneKey(string(r))
		m, cmds = next.(Model), append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

func (m Model) oneKey(key string) (tea.Model, tea.Cmd) {
	if m.dark {
		return m.darkKey(m.o.heard(key))
	}
	m.message, m.wrong = "", false
	if key == allKeys && !m.typing() {
		return m.say(helpInFull(m.screen, m.o.bigName())), nil
	}
	switch m.screen {
	case opening:
		return m.openingKey(actionOf(opening, key))
	case planning:
		return m.planningKey(key)
	case preparing:
		return m.preparingKey(actionOf(preparing, m.o.heard(key)))
	case running:
		return m.runningKey(key)
	case after:
		return m.afterKey(actionOf(after, key))
	}
	if s := m.side(); s != nil {
		return s.keyed(m, key)
	}
	return m, nil
}

// say shows a message; sorry one about what could not be done.
func (m Model) say(text string) Model {
	m.message, m.wrong, m.said = text, false, m.o.Now()
	return m
}

// sayFor is how long a message stands: as long as what it says can be taken back.
const sayFor = 10 * time.Second

// forget takes down a message that has stood for its time; what could not be done
// stands until the next key.
func (m Model) forget() Model {
	if !m.wrong && m.message != "" && m.o.Now().Sub(m.said) > sayFor {
		m.message = ""
	}
	return m
}

func (m Model) sorry(text string) Model {
	m.message, m.wrong = strings.ReplaceAll(text, "\n", "; "), true
	return m
}

// setDark darkens or lights the screen: the light is told at once, the screen is
// drawn anew from nothing.
func (m Model) setDark(dark bool) (Model, tea.Cmd) {
	m.dark = dark
	if dark {
		m.white = false // light that comes back may be red only
	}
	m.o.Host.Light(m.light())
	return m, tea.ClearScreen
}

// setWhite changes the palette.
func (m Model) setWhite(white bool) (Model, tea.Cmd) {
	m.white = white
	m.o.Host.Light(m.light())
	return m, tea.ClearScreen
}

// light is what the screen may show: red unless the room has white light and the
// person asked for it.
func (m Model) light() sequence.Light {
	switch {
	case m.dark:
		return sequence.Dark
	case m.white:
		return sequence.White
	}
	return sequence.Safelight
}

func (m Model) palette() palette {
	switch {
	case m.o.Colours < 256:
		return red16
	case m.white:
		return white256
	case m.bySafelight():
		return dim256
	}
	return red256
}

// bySafelight reports whether film lies open by safelight, or may: while a session is
// prepared that begins so, in such a step, and until one that was cut off is there again.
func (m Model) bySafelight() bool {
	switch {
	case m.screen == preparing:
		return m.prep.plan.Steps[0].RoomLight == sequence.Safelight
	case m.screen == running:
		return m.run.bySafelight()
	}
	return m.o.TakeUp != "" && m.run.session == nil
}

// View draws the screen.
func (m Model) View() string {
	g := newGrid(max(1, m.w), max(1, m.h))
	if m.dark {
		return g.render(m.palette())
	}
	if tooSmall(m.w, m.h) {
		g.text(rect{0, 0, m.w, 1}, "window too small", text)
		g.text(rect{0, 1, m.w, 1}, "40x12 at least", dim)
		return g.render(m.palette())
	}
	note, l := m.note()
	f := frameFor(m.w, m.h, note)
	switch m.screen {
	case opening:
		m.list.draw(g, f)
	case planning:
		m.plan.draw(g, f)
	case preparing:
		m.prep.draw(g, f)
	case running:
		m.run.draw(g, f)
	case after:
		m.after.draw(g, f)
	}
	if s := m.side(); s != nil {
		s.draw(g, f)
	}
	g.foot(f, note, l)
	g.text(f.keys, help(m.screen, f.keys.w, m.o.bigName()), dim)
	return g.render(m.palette())
}

// typing reports whether a line is being typed at the foot.
func (m Model) typing() bool {
	if s := m.side(); s != nil {
		return s.typing() != ""
	}
	return m.screen == running && m.run.asking != nil
}

// note is the line that is being typed, or the message, or else that a running session
// is kept nowhere.
func (m Model) note() (string, level) {
	switch ask := m.run.asking; {
	case m.screen == running && ask != nil:
		return recipes.Clean(ask.line()), bright
	case m.side() != nil && m.side().typing() != "":
		return recipes.Clean(strings.TrimSpace(m.message + "  " + m.side().typing())), bright
	case m.wrong:
		return recipes.Clean(m.message), bright
	case m.screen == running && m.message == "":
		return recipes.Clean(m.run.unkept), strong
	}
	return recipes.Clean(m.message), text
}

// foot draws the message: of one that is too long for its rows, the end, where
// something is being typed.
func (g grid) foot(f frame, note string, l level) {
	rows := wrapped(note, f.message.w)
	if over := len(rows) - f.message.h; over > 0 && strings.HasSuffix(note, cursor) {
		rows = rows[over:]
		note = strings.Join(rows, " ")
	}
	g.wrap(f.message, note, l)
}

// takeUp resumes a session.
func (m Model) takeUp(id string) (tea.Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	return m.say("one moment"), takingUp(m.o.Host, id)
}

func takingUp(host Host, id string) tea.Cmd {
	return func() tea.Msg {
		s, err := host.TakeUp(id)
		return begunMsg{s, err}
	}
}

// start begins a session.
func (m Model) start(s Start) (tea.Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	return m.say("one moment"), beginning(m.o.Host, s)
}

func beginning(host Host, s Start) tea.Cmd {
	return func() tea.Msg {
		session, err := host.Begin(s)
		return begunMsg{session, err}
	}
}

// begun shows the session that was started, or why it was not. A dark screen stays
// dark either way.
func (m Model) begun(msg begunMsg) (tea.Model, tea.Cmd) {
	m.starting = false
	if msg.err != nil {
		if m.why = SaysNotBegun; errors.Is(msg.err, ErrElsewhere) {
			m.why = SaysElsewhere
		}
		if m.dark {
			m.o.Host.Say(m.why)
		}
		return m.sorry(msg.err.Error()), nil
	}
	m.run, m.screen, m.white, m.itself, m.menu = newRun(msg.session, m.o.Usual.Habits), running, false, 0, menuModel{}
	return m.say("").tick()
}

// later asks for a redraw after d, and makes every earlier request stale.
func (m Model) later(d time.Duration) (Model, tea.Cmd) {
	m.generation++
	g := m.generation
	return m, tea.Tick(d, func(time.Time) tea.Msg { return tickMsg{g} })
}
