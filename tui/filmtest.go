package tui

// A film test to be planned from a recipe: how many sheets are spent, round which time.
// It becomes a recipe of its own, which is planned as any other.

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// FilmTests makes film tests.
type FilmTests interface {
	// FilmTest is a recipe made into a film test round a developing time, "" for the
	// recipe's own; and what to know before it, in paragraphs.
	FilmTest(r sequence.Recipe, sheets int, guess string) (test sequence.Recipe, told []string, err error)
	// Forecast says how well the test will tell the time; it may take a second.
	Forecast(r sequence.Recipe, sheets int, guess string) string
}

// filmTestModel is the screen.
type filmTestModel struct {
	noInput
	from   sequence.Recipe
	sheets int
	guess  string
	at     int // 0: sheets, 1: guess
	test   sequence.Recipe
	words  []string // what to know before it
	fault  string   // why there is no test of that kind
	sure   string   // how well it will tell the time; "" while that is worked out
}

// expectedMsg is what was worked out for one choice.
type expectedMsg struct {
	sheets      int
	guess, text string
}

// How many sheets are spent; as the command has it.
const (
	fewestSheets = 2
	usualSheets  = 4
	manySheets   = 12
)

func (filmTestModel) id() screenID { return filmTestScreen }

// enterFilmTest plans a film test from the recipe under the cursor.
func (m Model) enterFilmTest() (Model, tea.Cmd) {
	e, ok := m.list.recipe()
	if !ok {
		return m.showError("choose a recipe: the film test is made from it"), nil
	}
	r, err := m.o.Backend.Recipe(e.Name)
	if err != nil {
		return m.showError(e.Name + " cannot be used as it is"), nil
	}
	t := filmTestModel{from: r, sheets: usualSheets}
	return t.again(m.enter(t))
}

// again makes the test anew and has its worth worked out.
func (t filmTestModel) again(m Model) (Model, tea.Cmd) {
	host, r, n, guess := m.o.Backend, t.from, t.sheets, t.guess
	t.fault, t.sure = "", ""
	test, told, err := host.FilmTest(r, n, guess)
	if err != nil {
		t.fault = err.Error()
		return m.changed(t), nil
	}
	t.test, t.words = test, told
	return m.changed(t), func() tea.Msg { return expectedMsg{n, guess, host.Forecast(r, n, guess)} }
}

func (t filmTestModel) HandleMsg(m Model, msg tea.Msg) (Model, tea.Cmd) {
	if e, ok := msg.(expectedMsg); ok && e.sheets == t.sheets && e.guess == t.guess {
		t.sure = e.text
	}
	return m.changed(t), nil
}

func (t filmTestModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	switch a := actionOf(filmTestScreen, key); a {
	case up, down:
		t.at = 1 - t.at
	case left, right:
		if t.at == 0 {
			by := 1
			if a == left {
				by = -1
			}
			t.sheets = min(max(fewestSheets, t.sheets+by), manySheets)
			return t.again(m)
		}
	case enter:
		return t.plan(m), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	default:
		if next, _, _ := (prompt{text: t.guess}).edit(key); t.at == 1 && next.text != t.guess {
			t.guess = next.text
			return t.again(m)
		}
	}
	return m.changed(t), nil
}

// plan writes the test among the person's own recipes and goes on to its plan.
func (t filmTestModel) plan(m Model) Model {
	if t.fault != "" {
		return m.changed(t).showError(t.fault)
	}
	name, err := m.o.Backend.KeepRecipe(t.test)
	if err != nil {
		return m.changed(t).showError(err.Error())
	}
	p, err := newPlan(m.o.Backend, name, m.o.Defaults)
	if err != nil {
		return m.changed(t).showError(err.Error())
	}
	m.list = m.home().list // the new one among them
	m.subscreens, m.plan, m.screen = nil, p, planScreen
	return m.showMessage("written: " + t.test.Title + ", a recipe of your own; the one that it started from is as it was")
}

func (t filmTestModel) draw(g grid, f frame) {
	g.text(f.head, "Film test: "+safetext.Clean(t.from.Title), strong)
	const lines = 2
	l := listOf(f.body, lines).stripless(f.body)
	g.form(l.list, lines, t.at, func(i int) (string, string, bool) {
		if i == 0 {
			return "sheets", fmt.Sprint(t.sheets), false
		}
		return "guess", t.shownGuess(), t.guess != ""
	})
	g.paragraphs(l.about, t.about())
}

func (t filmTestModel) shownGuess() string {
	if t.guess == "" && t.at == 0 {
		return "the recipe's time"
	}
	return t.guess
}

// about is what the test comes to, or why there is none.
func (t filmTestModel) about() []prepLine {
	if t.fault != "" {
		return lined(t.fault, strong)
	}
	sure := t.sure
	if sure == "" {
		sure = "how well it will tell the time is being worked out"
	}
	return sections(append([]prepLine{{t.words[0], strong}}, lined(sure, text)...), lined(strings.Join(t.words[1:], "\n"), dim))
}
