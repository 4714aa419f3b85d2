package tui

// The notebook: all sessions kept, searched by the words typed (film, vessel, day, bath,
// notes), each with its strip.

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/schedule"
)

// NotebookStore is where sessions are kept. Its calls may take a while.
type NotebookStore interface {
	Sessions() []notebook.Summary // newest first
	Read(id string) (notebook.Session, error)
	Note(id string, n notebook.Note) error
	Archive(id string) error // out of the notebook, with a way back
}

// notebookModel is the list.
type notebookModel struct {
	all         []notebook.Summary
	shown       []notebook.Summary // those that are searched for
	read        bool               // all has come
	search      string
	compareWith string  // the session that another is to be compared with; "" for none
	asking      *prompt // the search being typed
	at          int
	habits      sequence.Units
	open        *notebook.Session // the one under the cursor; nil until it is read
}

// Messages of the notebook's screens.
type (
	sessionsMsg struct{ list []notebook.Summary }
	openedMsg   struct {
		session notebook.Session
		err     error
	}
)

func (notebookModel) id() screenID { return notebookScreen }

// enterNotebook opens the notebook.
func (m Model) enterNotebook() (Model, tea.Cmd) {
	host := m.o.Backend
	return m.enter(notebookModel{habits: m.o.Defaults.Units}), func() tea.Msg { return sessionsMsg{host.Sessions()} }
}

// returnToNotebook has the notebook, which is shown, read anew.
func (m Model) returnToNotebook() (Model, tea.Cmd) {
	host := m.o.Backend
	return m, func() tea.Msg { return sessionsMsg{host.Sessions()} }
}

func (s notebookModel) HandleMsg(m Model, msg tea.Msg) (Model, tea.Cmd) {
	switch msg := msg.(type) {
	case sessionsMsg:
		s.all, s.read = msg.list, true
		return s.choose(m.changed(s), s.at)
	case openedMsg:
		if c := s.chosen(); c != nil && msg.err == nil && c.ID == msg.session.ID {
			s.open = &msg.session
		}
	}
	return m.changed(s), nil
}

// chosen is the session under the cursor; nil where there is none.
func (s notebookModel) chosen() *notebook.Summary {
	if s.at < 0 || s.at >= len(s.shown) {
		return nil
	}
	return &s.shown[s.at]
}

// choose finds what is searched for, puts the cursor on a line and has its session read.
func (s notebookModel) choose(m Model, at int) (Model, tea.Cmd) {
	s.shown = notebook.Search(s.all, s.search)
	s.at, s.open = min(max(0, at), max(0, len(s.shown)-1)), nil
	c := s.chosen()
	if c == nil {
		return m.changed(s), nil
	}
	return m.changed(s), readOne(m.o.Backend, c.ID)
}

func readOne(host Backend, id string) tea.Cmd {
	return func() tea.Msg {
		session, err := host.Read(id)
		return openedMsg{session, err}
	}
}

func (s notebookModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	if s.asking != nil {
		return s.searching(m, key)
	}
	switch actionOf(notebookScreen, key) {
	case up:
		return s.choose(m, s.at-1)
	case down:
		return s.choose(m, s.at+1)
	case search:
		s.asking = &prompt{prompt: "film, vessel, day, bath, words of notes:", text: s.search}
		return m.changed(s), nil
	case enter:
		return s.reading(m)
	case beside:
		return s.comparing(m)
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m, nil
}

// Refresh has what was noted meanwhile.
func (s notebookModel) Refresh(host Backend) subscreen {
	c := s.chosen()
	if c == nil {
		return s
	}
	session, err := host.Read(c.ID)
	if session.Path == "" && err != nil {
		return s
	}
	s.shown = slices.Clone(s.shown)
	s.shown[s.at], s.open = session.Summary, &session
	if i := slices.IndexFunc(s.all, func(one notebook.Summary) bool { return one.ID == c.ID }); i >= 0 {
		s.all = slices.Clone(s.all)
		s.all[i] = session.Summary
	}
	return s
}

// reading opens the session under the cursor.
func (s notebookModel) reading(m Model) (Model, tea.Cmd) {
	c := s.chosen()
	if c == nil {
		return m, nil
	}
	session, err := m.o.Backend.Read(c.ID)
	if session.Plan == nil {
		if err == nil {
			err = unreadable(c.ID)
		}
		return m.showError(err.Error()), nil
	}
	return m.enter(newSession(m.o.Backend, session, m.o.Defaults.Units)), nil
}

func unreadable(id string) error { return fmt.Errorf("%s: nothing of it can be read", id) }

// comparing takes the session under the cursor as the first of two, or compares it
// with the one taken.
func (s notebookModel) comparing(m Model) (Model, tea.Cmd) {
	c := s.chosen()
	switch {
	case c == nil:
		return m, nil
	case s.compareWith == "":
		s.compareWith = c.ID
		return m.changed(s).showMessage("now c on the session to compare it with"), nil
	case s.compareWith == c.ID:
		s.compareWith = ""
		return m.changed(s).showMessage("compared with none"), nil
	}
	a, err := m.o.Backend.Read(s.compareWith)
	if err != nil {
		return m.showError(err.Error()), nil
	}
	b, err := m.o.Backend.Read(c.ID)
	if err != nil {
		return m.showError(err.Error()), nil
	}
	s.compareWith = ""
	return m.changed(s).enter(newCompare(a, b, s.habits)), nil
}

// searching types what is searched for; the list follows each key.
func (s notebookModel) searching(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := s.asking.edit(key)
	s.asking, s.search = &next, next.text
	if done {
		s.asking = nil
	}
	if done && !kept {
		s.search = ""
	}
	return s.choose(m, 0)
}

func (s notebookModel) typing() string {
	if s.asking == nil {
		return ""
	}
	return s.asking.line()
}

func (s notebookModel) draw(g grid, f frame) {
	g.text(f.head, "Notebook", strong)
	g.right(f.head, s.count(), dim)
	if len(s.shown) == 0 {
		g.paragraphs(below(f.body), []prepLine{{s.nothing(), dim}})
		return
	}
	l := listOf(f.body, len(s.shown))
	g.listed(l.list, len(s.shown), s.at, func(i int) (string, string, brightness) {
		name, when, level := sessionLine(&s.shown[i])
		if s.shown[i].ID == s.compareWith {
			name, level = "≠ "+name, strong
		}
		return name, when, level
	})
	g.paragraphs(l.about, s.about())
	if s.open != nil && s.open.Plan != nil && l.strip.h > 0 {
		sessionTimeline(s.open).draw(g, l.strip)
	}
}

func (s notebookModel) count() string {
	switch {
	case !s.read:
		return ""
	case s.search != "":
		return fmt.Sprintf("%d of %d with %q", len(s.shown), len(s.all), safetext.Clean(s.search))
	}
	return pluralise(len(s.all), "session")
}

func (s notebookModel) nothing() string {
	switch {
	case !s.read:
		return "reading the notebook"
	case len(s.all) == 0:
		return "No session is kept yet. Each one keeps itself here, rehearsals too."
	}
	return "None of them has all these words in it: a film, a vessel, a day such as 2026-11, a bath, words of a note."
}

// sessionLine is a session's line in the list: what, and when.
func sessionLine(s *notebook.Summary) (string, string, brightness) {
	name, when, l := s.Recipe, s.Day(), text
	if name == "" {
		name = s.ID
	}
	if s.Rehearsal && s.Problem == "" {
		l = dim
	}
	return name, stateOf(s) + when, l
}

// stateOf is what is out of the ordinary with a session, before its date; "" for nothing.
func stateOf(s *notebook.Summary) string {
	switch {
	case s.Problem != "" && s.Rehearsal:
		return "damaged rehearsal, "
	case s.Problem != "":
		return "damaged, "
	case s.Rehearsal:
		return "rehearsal, "
	case s.Status != "done":
		return s.Status.Word() + ", "
	}
	return ""
}

// about is what is told of the session under the cursor.
func (s notebookModel) about() []prepLine {
	c := s.chosen()
	if c.Problem != "" {
		return []prepLine{{c.Problem, strong}}
	}
	list := []prepLine{{fmt.Sprintf("%s, %s in %s", c.Film, pluralise(c.Sheets, "sheet"), c.Vessel), text}}
	if c.Emulsion != "" {
		list = append(list, prepLine{"emulsion: " + string(c.Emulsion), text})
	}
	if s.open != nil {
		for _, n := range s.open.NotesAfter.List {
			list = append(list, prepLine{n.Sentence(), dim})
		}
		list = append(list, lined(strings.Join(s.open.SuggestionsIn(s.habits), "\n"), dim)...)
	}
	return list
}

// sessionTimeline is the strip of a session that was, as it went.
func sessionTimeline(s *notebook.Session) timeline {
	p := timeline{plan: s.Plan, segments: schedule.Segments(s.Plan, s.Passages)}
	p = p.close(sequence.Wet{Total: s.Wet.Total, Limit: s.Wet.Limit, Used: s.Wet.Used, Margin: s.Wet.Margin, LimitAt: s.Wet.LimitAt, Session: s.Wet.Session})
	p.end = max(p.end, min(s.At, p.end))
	p.now = p.end
	return p
}

// pluralise is a count with its noun.
func pluralise(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
