// Package filmtest is the screen on which a recipe becomes a film test: how many sheets are
// spent, in which vessel, round which time. It says how well the test will tell the time, and
// what to know before it; the test is a recipe of its own, planned as any other.
package filmtest

import (
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	// FilmTestIn is a recipe made into a film test in a vessel, "" for the one that keeps the
	// film under its limit, round a developing time, "" for the recipe's own; and what to know
	// before it, in paragraphs. Its sheets leave the developer together, or each goes straight on
	// to the fixer.
	FilmTestIn(r sequence.Recipe, v sequence.Vessel, sheets int, guess string, straightOn bool) (test sequence.Recipe, told []string, err error)
	// Forecast says how well the test will tell the time; it may take a second.
	Forecast(r sequence.Recipe, sheets int, guess string) string
	KeepRecipe(sequence.Recipe) (name string, err error)
}

// Model is the screen.
type Model struct {
	b       Backend
	env     screen.Env
	from    sequence.Recipe
	form    form.Form
	made    *madeMsg // nil while it is worked out
	sure    string   // how well it will tell the time; "" while that is worked out
	writing bool
	first   int // row of the text at the top
}

// choice is what was asked for: what is worked out late for another one is nothing.
type choice struct {
	sheets int
	vessel sequence.Vessel
	guess  string
	// straightOn has each sheet go to the fixer by itself
	straightOn bool
}

// Messages.
type (
	madeMsg struct {
		choice
		test sequence.Recipe
		plan *sequence.Plan
		told []string
		err  error
	}
	forecastMsg struct {
		choice
		text string
	}
	wroteMsg struct {
		name, title string
		err         error
	}
)

// The fields.
const (
	fieldSheets = iota
	fieldVessel
	fieldGuess
	fieldLeave
)

// How many sheets are spent; as the command has it.
const (
	fewestSheets = 2
	usualSheets  = 4
	mostSheets   = 12
)

// vessels are those that sheets can be pulled from one by one, behind the choice of the one
// that keeps the limit.
var vessels = []sequence.Vessel{"", sequence.Hangers, sequence.SingleTrays, sequence.Cradle, sequence.Tray}

// New makes it.
func New(b Backend, env screen.Env, r sequence.Recipe) Model {
	var counts, names []string
	for n := fewestSheets; n <= mostSheets; n++ {
		counts = append(counts, strconv.Itoa(n))
	}
	for _, v := range vessels {
		if v == "" {
			names = append(names, "as the wet limit allows")
			continue
		}
		names = append(names, say.Vessel(v))
	}
	return Model{b: b, env: env, from: r, form: form.Form{Live: true, Fields: []form.Field{
		{Label: "sheets", Choices: counts, Chosen: usualSheets - fewestSheets, Means: "Sheets to spend, usually 4: each is developed for a time of its own, and more of them tell the time better."},
		{Label: "vessel", Choices: names, Means: "The time that is found holds for this vessel and its agitation. Without a choice it is the kindest that keeps the film under its wet limit."},
		{Label: "guess", Usual: "the recipe's time", Means: "A developing time that is thought right, such as 7m or 7:30; the test goes round it."},
		{Label: "sheets leave", Choices: []string{"all together", "each straight on"}, Means: "All leave the developer at one moment, the longest time in first; or each is pulled at its own time and goes through an acid stop bath to the fixer by itself. None waits in water."},
		{Label: "Write the test and plan it", Do: true, Means: "The test is written among your own recipes; the one that it is made from stays as it is."},
	}}}
}

func (m Model) chosen() choice {
	f := m.form.Fields
	return choice{fewestSheets + f[fieldSheets].Chosen, vessels[f[fieldVessel].Chosen], f[fieldGuess].Value(), f[fieldLeave].Chosen > 0}
}

// Start works the test out.
func (m Model) Start() tea.Cmd { return m.work() }

// work makes the test, and has its worth forecast.
func (m Model) work() tea.Cmd {
	b, r, c := m.b, m.from, m.chosen()
	return tea.Batch(func() tea.Msg {
		msg := madeMsg{choice: c}
		if msg.test, msg.told, msg.err = b.FilmTestIn(r, c.vessel, c.sheets, c.guess, c.straightOn); msg.err == nil {
			if p, err := planning.Resolve(msg.test, sequence.Conditions{}); err == nil {
				msg.plan = &p
			}
		}
		return msg
	}, func() tea.Msg { return forecastMsg{c, b.Forecast(r, c.sheets, c.guess)} })
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case madeMsg:
		if msg.choice == m.chosen() {
			m.made = &msg
			m.form = faulted(m.form, msg)
		}
	case forecastMsg:
		if msg.choice == m.chosen() {
			m.sure = msg.text
		}
	case wroteMsg:
		m.writing = false
		if msg.err != nil {
			return m, screen.Message{Text: say.Error(msg.err, m.env.Units()), Fault: true}, nil
		}
		return m, screen.OpenPlan{Name: msg.name, Conditions: m.env.Defaults,
			Text: "Written: " + safetext.Clean(msg.title) + ", a recipe of your own; the one that it started from is as it was."}, nil
	case tea.KeyMsg:
		return m.key(msg)
	}
	return m, nil, nil
}

// faulted marks the field that a fault is about, by its first word.
func faulted(f form.Form, msg madeMsg) form.Form {
	f = f.Faulted(0, nil)
	if msg.err != nil && strings.HasPrefix(msg.err.Error(), "guess") {
		f.Fields[fieldGuess].Fault = strings.TrimPrefix(msg.err.Error(), "guess: ")
	}
	return f
}

func (m Model) key(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	const page = 6
	switch k.String() {
	case "pgup":
		m.first = max(0, m.first-page)
		return m, nil, nil
	case "pgdown":
		m.first = min(m.first+page, max(0, len(m.about(60))-page))
		return m, nil, nil
	}
	var event form.Event
	before := m.chosen()
	m.form, event = m.form.Update(k)
	switch {
	case event == form.Left:
		return m, screen.Back{}, nil
	case event == form.Quit:
		return m, screen.Quit{}, nil
	case event == form.Done:
		return m.write()
	case m.chosen() != before:
		m.made, m.sure, m.first = nil, "", 0
		return m, nil, m.work()
	}
	return m, nil, nil
}

// write writes the test among the person's own recipes, and goes on to its plan.
func (m Model) write() (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.writing:
		return m, nil, nil
	case m.made == nil:
		return m, screen.Message{Text: "The test is not worked out yet."}, nil
	case m.made.err != nil:
		return m, screen.Message{Text: say.Error(m.made.err, m.env.Units()), Fault: true}, nil
	}
	m.writing = true
	b, r := m.b, m.made.test
	return m, nil, func() tea.Msg {
		name, err := b.KeepRecipe(r)
		return wroteMsg{name, r.Title, err}
	}
}
