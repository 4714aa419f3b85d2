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
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	// FilmTest is a recipe made into a film test as it is ordered.
	FilmTest(sequence.Recipe, Order) (Made, error)
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

// Order is what is asked for: what is worked out late for another one is nothing.
type Order struct {
	Sheets     int
	Vessel     sequence.Vessel // "": the one that keeps the film under its limit
	Proposed   bool            // the times that the notebook proposes, instead of the usual series
	Guess      string          // a developing time that the test goes round; "": the recipe's own
	StraightOn bool            // each sheet goes to the fixer by itself, instead of all out together
}

// Made is a film test, what to know before it, in paragraphs, and which sheets would say most.
type Made struct {
	Test   sequence.Recipe
	Told   []string
	Advice film.Proposal
}

// Messages.
type (
	madeMsg struct {
		Made
		order Order
		plan  *sequence.Plan
		err   error
	}
	forecastMsg struct {
		order Order
		text  string
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
	fieldTimes
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
		{Label: "times", Choices: []string{"the usual series", "as proposed"}, Means: "The usual series is spread evenly round the guess. As proposed: those that would narrow the film's time most, by all that the notebook knows of it."},
		{Label: "guess", Usual: "the recipe's time", Means: "A developing time that is thought right, such as 7m or 7:30; the test goes round it."},
		{Label: "sheets leave", Choices: []string{"all together", "each straight on"}, Means: "All leave the developer at one moment, the longest time in first; or each is pulled at its own time and goes through an acid stop bath to the fixer by itself. None waits in water."},
		{Label: "Write the test and plan it", Do: true, Means: "The test is written among your own recipes; the one that it is made from stays as it is."},
	}}}
}

func (m Model) chosen() Order {
	f := m.form.Fields
	return Order{fewestSheets + f[fieldSheets].Chosen, vessels[f[fieldVessel].Chosen], f[fieldTimes].Chosen > 0, f[fieldGuess].Value(), f[fieldLeave].Chosen > 0}
}

// Start works the test out.
func (m Model) Start() tea.Cmd { return m.work() }

// work makes the test, and has its worth forecast.
func (m Model) work() tea.Cmd {
	b, r, o := m.b, m.from, m.chosen()
	made := func() tea.Msg {
		msg := madeMsg{order: o}
		if msg.Made, msg.err = b.FilmTest(r, o); msg.err == nil {
			if p, err := planning.Resolve(msg.Test, sequence.Conditions{}); err == nil {
				msg.plan = &p
			}
		}
		return msg
	}
	if o.Proposed { // what the sheets say together with all else is the proposal's to say
		return made
	}
	return tea.Batch(made, func() tea.Msg { return forecastMsg{o, b.Forecast(r, o.Sheets, o.Guess)} })
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case madeMsg:
		if msg.order == m.chosen() {
			m.made = &msg
			m.form = faulted(m.form, msg)
		}
	case forecastMsg:
		if msg.order == m.chosen() {
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
	r := m.made.Test
	return m, nil, func() tea.Msg {
		name, err := m.b.KeepRecipe(r)
		return wroteMsg{name, r.Title, err}
	}
}
