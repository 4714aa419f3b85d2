package tui

// The root: which screen, which light, and where each message goes.

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// screenID is one of the screens.
type screenID int

const (
	recipeListScreen screenID = iota
	planScreen
	prepareScreen
	runScreen
	summaryScreen
	notebookScreen     // the notebook
	bottlesScreen      // bottles of mixed baths
	sessionScreen      // one session of the notebook
	compareScreen      // two of them beside each other
	holdersScreen      // exposed sheets
	holderGroupsScreen // sessions for them
	soundsScreen       // the sounds

	densitiesScreen
	readingSetupScreen // before readings: which film, which sheets
	readingsScreen     // readings, step after step
	curvesScreen       // what they come to
	filmTestScreen     // a film test to be planned
)

// Options is what a Model is made with.
type Options struct {
	Backend       Backend
	Now           func() time.Time
	Colours       int           // of the terminal: 256, or 16 and fewer
	Countdown     time.Duration // before the first dip
	Start         string        // a recipe to open at once; "" for the list
	RawConditions sequence.RawConditions
	Resume        string // a session to take up at once; "" for none
	// Dark says that the screen is dark already: a session is taken up in the dark.
	Dark bool
	// BlackUnconfirmed says that the terminal did not confirm a black background.
	BlackUnconfirmed bool
	// RehearsalSpeed is the speed of a rehearsal asked for on the command line; 0 for none.
	RehearsalSpeed float64
	SkipQuiet      bool // of a rehearsal that passes over the quiet between moves
	RehearseDark   bool // prepared, darkened and begun as with film
	// DefaultSpeed is that of a rehearsal asked for on the screens; 0 for the usual one.
	DefaultSpeed float64
	Defaults     sequence.RawConditions // where nothing is typed: the person's units and own limit
	AutoWhite    bool                   // white light of the screen by itself, where the room has it
	BigKeys      []string               // the big key, as bubbletea names keys; nil for the usual ones
	MenuKeys     []string               // the menu's key in the dark; nil for the usual one
}

// Model is the whole of the screens.
type Model struct {
	o    Options
	w, h int

	screen         screenID
	dark           bool // no cell is lit
	white          bool // the person asked for white light
	autoWhiteStep  int  // the step, counted from 2, in which white came by itself; 0 for none
	message        string
	messageIsError bool // the message is of something that could not be done
	messageAt      time.Time
	bigPress       pressDetector
	menuPress      pressDetector // the menu's key, in the dark
	escapePress    pressDetector // escape, in the dark
	menu           menuModel
	failure        Utterance // the session could not be begun or taken up; what a touch says where it failed
	// starting says that a session is being begun or taken up, or that the editor is open;
	// there is never a second.
	starting bool

	list       recipeListModel
	plan       planModel
	prep       prepareModel
	run        runModel
	summary    summaryModel
	subscreens []subscreen // the screens beside the way, the one shown last
	baseScreen screenID    // the one that the first of them was opened from

	generation int // of the tick that is awaited
}

// Messages.
type (
	tickMsg  struct{ generation int }
	begunMsg struct {
		session SessionView
		err     error
	}
)

// New makes the screens.
func New(o Options) Model {
	m := Model{o: o, w: 80, h: 24, dark: o.Dark, starting: o.Resume != ""}
	m.list = newRecipeList(o)
	return m
}

// leadOf is the lead of a rehearsal that begins by itself: none is needed but where
// the moves are practised in real time.
func (o Options) leadOf() time.Duration {
	if o.SkipQuiet {
		return o.Countdown
	}
	return 0
}

// asWithFilm is a session begun from the preparation: with film, or rehearsed as if.
func (o Options) asWithFilm(s SessionStart) SessionStart {
	if s.Countdown = o.Countdown; o.RehearseDark {
		s.RehearsalSpeed, s.SkipQuiet, s.Dark = o.RehearsalSpeed, o.SkipQuiet, true
	}
	return s
}

// Init opens what was asked for on the command line.
func (m Model) Init() tea.Cmd {
	switch {
	case m.o.Resume != "":
		return resumeCmd(m.o.Backend, m.o.Resume)
	case m.o.Start != "" && m.o.RehearsalSpeed > 0 && !m.o.RehearseDark:
		return beginCmd(m.o.Backend, SessionStart{Plan: m.plan.plan, RehearsalSpeed: m.o.RehearsalSpeed, SkipQuiet: m.o.SkipQuiet, Countdown: m.o.leadOf()})
	}
	return nil
}

// Opened returns the model with the recipe asked for on the command line open.
func (m Model) Opened() (Model, error) {
	if m.o.Start == "" {
		return m, nil
	}
	p, err := newPlan(m.o.Backend, m.o.Start, m.o.RawConditions)
	if err != nil {
		return m, err
	}
	m.plan, m.screen, m.starting = p, planScreen, m.starting || m.o.RehearsalSpeed > 0 && !m.o.RehearseDark
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
	if s := m.topSubscreen(); s != nil {
		return s.HandleMsg(m, msg)
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
	m.message, m.messageIsError = "", false
	if key == allKeys && !m.typing() {
		return m.showMessage(helpInFull(m.screen, m.o.bigName())), nil
	}
	switch m.screen {
	case recipeListScreen:
		return m.openingKey(actionOf(recipeListScreen, key))
	case planScreen:
		return m.planningKey(key)
	case prepareScreen:
		return m.preparingKey(actionOf(prepareScreen, m.o.heard(key)))
	case runScreen:
		return m.runningKey(key)
	case summaryScreen:
		return m.afterKey(actionOf(summaryScreen, key))
	}
	if s := m.topSubscreen(); s != nil {
		return s.HandleKey(m, key)
	}
	return m, nil
}

// showMessage shows a message; sorry one about what could not be done.
func (m Model) showMessage(text string) Model {
	m.message, m.messageIsError, m.messageAt = text, false, m.o.Now()
	return m
}

// messageTime is how long a message stands: as long as what it says can be taken back.
const messageTime = 10 * time.Second

// clearOldMessage takes down a message that has stood for its time; what could not be done
// stands until the next key.
func (m Model) clearOldMessage() Model {
	if !m.messageIsError && m.message != "" && m.o.Now().Sub(m.messageAt) > messageTime {
		m.message = ""
	}
	return m
}

func (m Model) showError(text string) Model {
	m.message, m.messageIsError = strings.ReplaceAll(text, "\n", "; "), true
	return m
}

// setDark darkens or lights the screen: the light is told at once, the screen is
// drawn anew from nothing.
func (m Model) setDark(dark bool) (Model, tea.Cmd) {
	m.dark = dark
	if dark {
		m.white = false // light that comes back may be red only
	}
	m.o.Backend.Light(m.light())
	return m, tea.ClearScreen
}

// setWhite changes the palette.
func (m Model) setWhite(white bool) (Model, tea.Cmd) {
	m.white = white
	m.o.Backend.Light(m.light())
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
	case m.screen == prepareScreen:
		return m.prep.plan.Steps[0].RoomLight == sequence.Safelight
	case m.screen == runScreen:
		return m.run.bySafelight()
	}
	return m.o.Resume != "" && m.run.session == nil
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
	case recipeListScreen:
		m.list.draw(g, f)
	case planScreen:
		m.plan.draw(g, f)
	case prepareScreen:
		m.prep.draw(g, f)
	case runScreen:
		m.run.draw(g, f)
	case summaryScreen:
		m.summary.draw(g, f)
	}
	if s := m.topSubscreen(); s != nil {
		s.draw(g, f)
	}
	g.drawFooter(f, note, l)
	g.text(f.keys, help(m.screen, f.keys.w, m.o.bigName()), dim)
	return g.render(m.palette())
}

// typing reports whether a line is being typed at the foot.
func (m Model) typing() bool {
	if s := m.topSubscreen(); s != nil {
		return s.typing() != ""
	}
	return m.screen == runScreen && m.run.asking != nil
}

// note is the line that is being typed, or the message, or else that a running session
// is kept nowhere.
func (m Model) note() (string, brightness) {
	switch ask := m.run.asking; {
	case m.screen == runScreen && ask != nil:
		return safetext.Clean(ask.line()), bright
	case m.topSubscreen() != nil && m.topSubscreen().typing() != "":
		return safetext.Clean(strings.TrimSpace(m.message + "  " + m.topSubscreen().typing())), bright
	case m.messageIsError:
		return safetext.Clean(m.message), bright
	case m.screen == runScreen && m.message == "":
		return safetext.Clean(m.run.journalFault), strong
	}
	return safetext.Clean(m.message), text
}

// drawFooter draws the message: of one that is too long for its rows, the end, where
// something is being typed.
func (g grid) drawFooter(f frame, note string, l brightness) {
	rows := wrapText(note, f.message.w)
	if over := len(rows) - f.message.h; over > 0 && strings.HasSuffix(note, cursor) {
		rows = rows[over:]
		note = strings.Join(rows, " ")
	}
	g.wrap(f.message, note, l)
}

// resume resumes a session.
func (m Model) resume(id string) (tea.Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	return m.showMessage("one moment"), resumeCmd(m.o.Backend, id)
}

func resumeCmd(host Backend, id string) tea.Cmd {
	return func() tea.Msg {
		s, err := host.Resume(id)
		return begunMsg{s, err}
	}
}

// start begins a session.
func (m Model) start(s SessionStart) (tea.Model, tea.Cmd) {
	if m.starting {
		return m, nil
	}
	m.starting = true
	return m.showMessage("one moment"), beginCmd(m.o.Backend, s)
}

func beginCmd(host Backend, s SessionStart) tea.Cmd {
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
		if m.failure = SaysNotBegun; errors.Is(msg.err, ErrElsewhere) {
			m.failure = SaysElsewhere
		}
		if m.dark {
			m.o.Backend.Say(m.failure)
		}
		return m.showError(msg.err.Error()), nil
	}
	m.run, m.screen, m.white, m.autoWhiteStep, m.menu = newRun(msg.session, m.o.Defaults.Units), runScreen, false, 0, menuModel{}
	return m.showMessage("").tick()
}

// tickAfter asks for a redraw after d, and makes every earlier request stale.
func (m Model) tickAfter(d time.Duration) (Model, tea.Cmd) {
	m.generation++
	g := m.generation
	return m, tea.Tick(d, func(time.Time) tea.Msg { return tickMsg{g} })
}
