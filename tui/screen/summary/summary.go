// Package summary is what came of a session, right after it: the result in one line, then
// only what differed from plan, then what to do next. Start with Model.
package summary

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// Model is the screen.
type Model struct {
	env     screen.Env
	session screen.Session
	look    engine.Snapshot
	outcome string
	differs []say.Differed
	told    []string // what happened, with its time
	first   int      // row at the top
}

// New makes it of a session that is over.
func New(env screen.Env, s screen.Session) Model {
	m := Model{env: env, session: s, look: s.Snapshot()}
	events := s.Events()
	var done []engine.Development
	if state, err := engine.Replay(s.Plan(), events); err == nil {
		done = state.Developments()
	}
	m.outcome = m.headline(say.Outcome(s.Plan(), m.look, done))
	m.differs = say.AllDiffered(s.Plan(), m.look, done)
	for _, e := range events {
		if line := say.Event(s.Plan(), e, env.Units()); line != "" && say.Afterwards(e) {
			m.told = append(m.told, fmt.Sprintf("%8s  %s", sequence.FormatElapsed(e.At), safetext.Clean(line)))
		}
	}
	return m
}

// Light is white where the room may have it: a session that was ended early may leave film
// open, by safelight or in the dark.
func (m Model) Light() light.Light {
	if l := m.look; l.Light == sequence.White || m.session.Lit() || l.LightOn && l.LightOffered && l.Light == sequence.Dark {
		return light.White
	}
	if m.look.Over == sequence.SessionStopped && m.look.Light == sequence.Safelight {
		return light.Safelight // as dim as can be read: the film lies where it did
	}
	return light.Red
}

// Update takes a key.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	k, ok := msg.(tea.KeyMsg)
	if !ok {
		return m, nil, nil
	}
	open := func(then screen.Task) (screen.Screen, screen.Action, tea.Cmd) {
		return m, screen.OpenSession{ID: m.session.ID(), Then: then}, nil
	}
	switch k.String() {
	case "n":
		return open(screen.AddNote)
	case "v":
		return open(screen.DescribeNegatives)
	case "e":
		return open(screen.DescribeEmulsion)
	case "d":
		return open(screen.ReadDensities)
	case "a":
		return m, m.again(), nil
	case "enter", "esc":
		return m, screen.Home{}, nil
	case "q":
		return m, screen.Quit{Sure: true}, nil
	case "up", "k":
		return m.scrolled(-1), nil, nil
	case "down", "j":
		return m.scrolled(1), nil, nil
	case "pgup":
		return m.scrolled(-page), nil, nil
	case "pgdown":
		return m.scrolled(page), nil, nil
	}
	return m, nil, nil
}

const page = 6

// scrolled moves by rows, no further than there are some; View keeps the last in the window.
func (m Model) scrolled(by int) Model {
	m.first = max(0, min(m.first+by, len(m.differs)+len(m.told)+page))
	return m
}

// again plans the next round; where there is none the same recipe under the same conditions.
func (m Model) again() screen.Action {
	p := m.session.Plan()
	r := p.Recipe
	return screen.NextRound{Otherwise: screen.OpenPlan{Name: r.Title, Recipe: &r, Conditions: m.env.Defaults.Or(p.Conditions.Retyped()),
		Text: "As it was planned before: read the temperature anew."}}
}

// About is the head, the foot and the help.
func (m Model) About() screen.About {
	a := screen.About{Title: "Summary", Right: m.session.Plan().Recipe.Title}
	bind := func(keys, word string) key.Binding {
		return key.NewBinding(key.WithKeys(keys), key.WithHelp(keys, word))
	}
	note, looks, emulsion, densities := bind("n", "note"), bind("v", "negatives"), bind("e", "emulsion"), bind("d", "densities")
	home, again := bind("enter", "recipes"), bind("a", "next round")
	a.Foot = []key.Binding{home, note, looks, emulsion, densities, again}
	if m.rehearsed() {
		a.Foot = []key.Binding{home, again, note}
	}
	a.Help = widget.Help{
		About: "The session is over. What it came to stands in one line; beneath it only what was not as planned. " +
			"All of it is in the notebook, and what is noted later too.",
		Groups: []widget.KeyGroup{
			{Purpose: "Now, or when the film is dry", Keys: []key.Binding{bind("n", "a note"), bind("v", "how the negatives look"),
				bind("e", "the emulsion"), bind("d", "read densities")}},
			{Purpose: "Next", Keys: []key.Binding{bind("a", "plan the next round of the same recipe"), bind("enter", "the recipes"), bind("q", "leave wetside")}},
			{Purpose: "Looking", Keys: []key.Binding{bind("↑↓ pgup pgdn", "read on")}},
		}}
	return a
}

func (m Model) rehearsed() bool { return m.session.RehearsalSpeed() > 0 }

// View draws the body.
func (m Model) View(w, h int) string {
	var head []string
	for _, r := range widget.Wrap(safetext.Clean(m.outcome), w) {
		head = append(head, style.Title(r))
	}
	if h >= 16 {
		head = append(head, "")
		strip := widget.Strip{Timeline: strips.Running(m.session.Plan(), m.look), Width: w, Rows: widget.StripRows}
		head = append(append(head, strings.Split(strip.View(), "\n")...), "")
	}
	if len(head) >= h {
		return strings.Join(head[:max(0, h)], "\n")
	}
	s := widget.Scroll{Width: w, Height: h - len(head)}
	s.Text = strings.Join(m.rows(s.Inner()), "\n")
	return strings.Join(append(head, strings.Split(s.Moved(m.first).View(), "\n")...), "\n")
}

// rows are what differed, what to do next, what happened and where the record lies.
func (m Model) rows(w int) []string {
	rows := m.difference(w)
	rows = append(rows, "")
	for _, r := range widget.Wrap(m.next(), w) {
		rows = append(rows, style.Value(r))
	}
	if len(m.told) > 0 {
		rows = append(rows, "", style.Heading("What happened"))
		for _, line := range m.told {
			rows = append(rows, toldRows(line, w)...)
		}
	}
	record := "kept in " + m.session.Record()
	paint := style.Label
	if why := m.session.UnsavedBecause(); why != "" {
		record, paint = why, style.Title
	}
	rows = append(rows, "")
	for _, r := range widget.Wrap(safetext.Clean(record), w) {
		rows = append(rows, paint(r))
	}
	return rows
}

func (m Model) difference(w int) []string {
	t := widget.Table{Plain: true, Selected: -1, Width: w, Columns: []widget.Column{{Title: "differed from plan"},
		{Title: "planned", Right: true}, {Title: "actual", Right: true}, {Title: "change", Right: true}}}
	for _, d := range m.differs {
		t.Rows = append(t.Rows, []string{safetext.Clean(d.What), d.Planned, d.Actual, d.Change})
	}
	if len(t.Rows) == 0 {
		return []string{style.Done.Render(widget.Truncate("All of it went as planned.", w))}
	}
	return strings.Split(t.View(), "\n")
}

// next is what comes next.
func (m Model) next() string {
	switch {
	case m.rehearsed():
		return "That was a rehearsal: no film was wet, and it is kept apart in the notebook. Next: enter for the recipes, choose one and plan it " +
			"for today's temperature; Prepare then leads to the dark. a plans this one again."
	case m.look.Over == sequence.SessionStopped && m.Light() != light.White:
		return "Film may lie open: the screen stays red here. The recipes come in white light, so cover it first."
	case m.look.Over == sequence.SessionStopped:
		return "n notes why it was ended. a plans the same recipe again."
	}
	red := ""
	if m.Light() == light.Red {
		red = " The last step was not in white light: the screen stays red here, the recipes come in white."
	}
	for i := range m.session.Plan().Steps {
		if len(m.session.Plan().Steps[i].Doses) > 0 {
			return "A film test: when the negatives are dry, d reads their densities, here or in the notebook." + red
		}
	}
	return "When the film is dry: v how the negatives look, e the emulsion, n a note; here or in the notebook. a plans the next round." + red
}

// toldRows is a line behind its time, which goes on beneath itself where it is long.
func toldRows(line string, w int) (rows []string) {
	const times = 10
	at, what := line[:times], line[times:]
	for _, r := range widget.Wrap(what, max(1, w-times)) {
		rows = append(rows, style.Value(widget.Truncate(at+r, w)))
		at = strings.Repeat(" ", times)
	}
	return rows
}

// headline is the result; of a rehearsal what was rehearsed, and how, before it.
func (m Model) headline(outcome string) string {
	if !m.rehearsed() {
		return outcome
	}
	how := "in the dark"
	if m.session.Lit() {
		how = "in the light"
	}
	if m.session.SkipsQuiet() {
		how = "with real hands, " + how
	} else {
		how += fmt.Sprintf(", %g×", m.session.RehearsalSpeed())
	}
	return "Rehearsed " + how + ": " + strings.TrimSuffix(m.session.Plan().Recipe.Title, ".") + ". " + strings.TrimSpace(strings.TrimPrefix(outcome, "Done."))
}
