// Package curves is the screen of what readings come to: the developing time first, the
// curves of all sheets in one plot, speed and gradients as a table, and the recipe that
// follows. Start with Model; working.go evaluates, outside Update.
package curves

import (
	"errors"
	"sort"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	Read(id string) (notebook.Session, error)
	KeepRecipe(sequence.Recipe) (name string, err error)
	OwnSessions(except ...string) *curve.OwnSessions // how the person's sessions differ; nil where they are too few
}

// Model is the screen.
type Model struct {
	b        Backend
	env      screen.Env
	name     string
	readings curve.Readings
	family   curve.Family
	sheets   []int             // of each curve, in the readings
	session  *notebook.Session // that developed the sheets; nil where none is known
	starts   []startingRecipe  // that the new recipe may start from
	slips    []string          // readings that do not fit, a sentence each

	unmatched error // why the session's times could not be taken; nil where they were

	form    aimForm
	found   *found // nil while it is worked out
	turn    int    // of the evaluation that is waited for
	written string // name of the recipe that was written
	writing bool
	table   bool // of a narrow window's two pages the second
	alone   bool // in a wide window the plot without the figures
	first   int  // row at the top of the figures
}

// startingRecipe is a recipe to start from.
type startingRecipe struct {
	title  string
	recipe func() (sequence.Recipe, error)
}

// readingError is what one reading may be off, for slips and smoothing.
const readingError curve.Density = 0.02

// The choices of smoothing, in their order.
const (
	smoothByReadings = iota
	smoothByStated
	smoothNothing
)

// New makes it. It errs where no sheet has two readings.
func New(b Backend, env screen.Env, f densities.ReadingsFile) (Model, error) {
	m := Model{b: b, env: env, name: f.Name, readings: f.Readings}
	if f.Err != nil {
		return m, f.Err
	}
	m.family, m.sheets, m.session, m.unmatched = f.FamilyBySession(b.Read)
	m.family.Notes = nil // planned and actual times stand in the figures, a row each
	if len(m.family.Curves) == 0 {
		return m, errors.New("no sheet has two readings yet; a curve needs more")
	}
	m.slips = m.findSlips()
	m.startFrom()
	m.form.all = append(allFields(), m.startField())
	m.form.ask()
	return m, nil
}

// startFrom finds the recipes that a new one may start from: that of the session that
// developed the sheets; without one those that name the film first.
func (m *Model) startFrom() {
	if s := m.session; s != nil { // of a damaged one what stands before the damage
		m.starts = append(m.starts, startingRecipe{s.Plan.Recipe.Title, func() (sequence.Recipe, error) { return s.Plan.Recipe, nil }})
	}
	list := recipes.Usable(m.b.Recipes())
	sort.SliceStable(list, func(i, j int) bool {
		return ofFilm(list[i], m.readings.Film) > ofFilm(list[j], m.readings.Film)
	})
	for _, e := range list {
		m.starts = append(m.starts, startingRecipe{e.Title, func() (sequence.Recipe, error) { return m.b.Recipe(e.Name) }})
	}
}

// ofFilm is 1 for a recipe of a film, else 0.
func ofFilm(e recipes.Entry, film string) int {
	if film != "" && (e.Film == film || strings.Contains(e.Title, film)) {
		return 1
	}
	return 0
}

// startField asks which recipe the new one starts from: only the person knows in which bath
// and vessel the sheets were developed where no session says it.
func (m *Model) startField() form.Field {
	f := form.Field{Label: fieldStart, Usual: "←→ chooses it",
		Means: "The recipe that the sheets were developed by: the new one has its baths and steps, and the times that were found."}
	for _, s := range m.starts {
		f.Choices = append(f.Choices, s.title)
	}
	if m.session == nil {
		f.Chosen = -1
	}
	return f
}

// Start has the readings evaluated.
func (m Model) Start() tea.Cmd { return m.evaluate() }

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return m.key(msg)
	case found:
		if msg.turn == m.turn {
			m.found = &msg
		}
	case wroteMsg:
		return m.wrote(msg)
	}
	return m, nil, nil
}

const pageRows = 6

// write writes the recipe that follows from the curves, from the one that was chosen.
func (m Model) write() (screen.Screen, screen.Action, tea.Cmd) {
	fault := func(text string) (screen.Screen, screen.Action, tea.Cmd) {
		return m, screen.Message{Text: text, Fault: true}, nil
	}
	switch at := m.form.field(fieldStart).Chosen; {
	case m.writing:
		return m, nil, nil
	case m.found == nil:
		return fault("The times are not worked out yet.")
	case len(m.starts) == 0:
		return fault("There is no recipe to start from: make one first.")
	case at < 0:
		m.form.At, m.table, m.alone = len(m.form.Fields)-1, true, false
		return fault("Which recipe were the sheets developed by? ←→ chooses it, w then writes the new one.")
	default:
		m.writing = true
		return m, nil, m.writeFrom(m.starts[at], *m.found, m.env.Now())
	}
}

// writeFrom refines a recipe and keeps it.
func (m Model) writeFrom(from startingRecipe, f found, day time.Time) tea.Cmd {
	result := densities.FilmTestResult{Results: f.out, Wanted: f.wanted, Day: day, Film: m.readings.Film, Source: "readings " + m.name + ".csv"}
	if m.session != nil {
		result.Source = "session " + m.session.ID + ", " + result.Source
		if t, ok := densities.TestConditionsOf(m.session.Plan); ok {
			result.Conditions = &t
		}
	}
	if f.met != nil {
		result.Aimed = f.met.Aimed()
	}
	return func() tea.Msg {
		r, err := from.recipe()
		if err == nil {
			r, err = densities.Refine(r, result)
		}
		var name string
		if err == nil {
			name, err = m.b.KeepRecipe(r)
		}
		return wroteMsg{name, r.Title, err}
	}
}

// wroteMsg tells whether the recipe was written.
type wroteMsg struct {
	name, title string
	err         error
}

func (m Model) wrote(msg wroteMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.writing = false
	if msg.err != nil {
		return m, screen.Message{Text: say.Error(msg.err, m.env.Units()), Fault: true}, nil
	}
	m.written = msg.name
	return m, screen.Message{Text: "Written: " + safetext.Clean(msg.title) + ", a recipe of your own; the one that it starts from is as it was. p plans it."}, nil
}

// plan goes on to planning with the recipe that was written.
func (m Model) plan() (screen.Screen, screen.Action, tea.Cmd) {
	if m.written == "" {
		return m, screen.Message{Text: "w writes the recipe first; p then plans it."}, nil
	}
	return m, screen.OpenPlan{Name: m.written, Conditions: m.env.Defaults}, nil
}
