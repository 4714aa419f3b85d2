package tui

// The notebook: all sessions kept, searched by the words typed (film, vessel, day, bath,
// notes), each with its strip.

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// Shelf is where sessions are kept. Its calls may take a while.
type Shelf interface {
	Sessions() []notebook.Summary // newest first
	Read(id string) (notebook.Session, error)
	Note(id string, n notebook.Note) error
	PutAway(id string) error // out of the notebook, with a way back
}

// shelfModel is the list.
type shelfModel struct {
	all    []notebook.Summary
	shown  []notebook.Summary // those that are searched for
	read   bool               // all has come
	search string
	first  string  // the session that another is to be compared with; "" for none
	asking *asking // the search being typed
	at     int
	habits sequence.Habits
	open   *notebook.Session // the one under the cursor; nil until it is read
}

// Messages of the notebook's screens.
type (
	shelvedMsg struct{ list []notebook.Summary }
	openedMsg  struct {
		session notebook.Session
		err     error
	}
)

func (shelfModel) is() screen { return shelf }

// enterShelf opens the notebook.
func (m Model) enterShelf() (Model, tea.Cmd) {
	host := m.o.Host
	return m.enter(shelfModel{habits: m.o.Usual.Habits}), func() tea.Msg { return shelvedMsg{host.Sessions()} }
}

// enterShelfAgain has the notebook, which is shown, read anew.
func (m Model) enterShelfAgain() (Model, tea.Cmd) {
	host := m.o.Host
	return m, func() tea.Msg { return shelvedMsg{host.Sessions()} }
}

func (s shelfModel) told(m Model, msg tea.Msg) (Model, tea.Cmd) {
	switch msg := msg.(type) {
	case shelvedMsg:
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
func (s shelfModel) chosen() *notebook.Summary {
	if s.at < 0 || s.at >= len(s.shown) {
		return nil
	}
	return &s.shown[s.at]
}

// choose finds what is searched for, puts the cursor on a line and has its session read.
func (s shelfModel) choose(m Model, at int) (Model, tea.Cmd) {
	s.shown = notebook.Search(s.all, s.search)
	s.at, s.open = min(max(0, at), max(0, len(s.shown)-1)), nil
	c := s.chosen()
	if c == nil {
		return m.changed(s), nil
	}
	return m.changed(s), readOne(m.o.Host, c.ID)
}

func readOne(host Host, id string) tea.Cmd {
	return func() tea.Msg {
		session, err := host.Read(id)
		return openedMsg{session, err}
	}
}

func (s shelfModel) keyed(m Model, key string) (Model, tea.Cmd) {
	if s.asking != nil {
		return s.searching(m, key)
	}
	switch actionOf(shelf, key) {
	case up:
		return s.choose(m, s.at-1)
	case down:
		return s.choose(m, s.at+1)
	case search:
		s.asking = &asking{prompt: "film, vessel, day, bath, words of notes:", typed: s.search}
		return m.changed(s), nil
	case enter:
		return s.reading(m)
	case beside:
		return s.comparing(m)
	case back:
		return m.back(), nil
	case leave:
		return m, tea.Quit
	}
	return m, nil
}

// renewed has what was noted meanwhile.
func (s shelfModel) renewed(host Host) side {
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
func (s shelfModel) reading(m Model) (Model, tea.Cmd) {
	c := s.chosen()
	if c == nil {
		return m, nil
	}
	session, err := m.o.Host.Read(c.ID)
	if session.Plan == nil {
		if err == nil {
			err = unreadable(c.ID)
		}
		return m.sorry(err.Error()), nil
	}
	return m.enter(newOldOne(m.o.Host, session, m.o.Usual.Habits)), nil
}

func unreadable(id string) error { return fmt.Errorf("%s: nothing of it can be read", id) }

// comparing takes the session under the cursor as the first of two, or compares it
// with the one taken.
func (s shelfModel) comparing(m Model) (Model, tea.Cmd) {
	c := s.chosen()
	switch {
	case c == nil:
		return m, nil
	case s.first == "":
		s.first = c.ID
		return m.changed(s).say("now c on the session to compare it with"), nil
	case s.first == c.ID:
		s.first = ""
		return m.changed(s).say("compared with none"), nil
	}
	a, err := m.o.Host.Read(s.first)
	if err != nil {
		return m.sorry(err.Error()), nil
	}
	b, err := m.o.Host.Read(c.ID)
	if err != nil {
		return m.sorry(err.Error()), nil
	}
	s.first = ""
	return m.changed(s).enter(newTwoOlds(a, b, s.habits)), nil
}

// searching types what is searched for; the list follows each key.
func (s shelfModel) searching(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := s.asking.edit(key)
	s.asking, s.search = &next, next.typed
	if done {
		s.asking = nil
	}
	if done && !kept {
		s.search = ""
	}
	return s.choose(m, 0)
}

func (s shelfModel) typing() string {
	if s.asking == nil {
		return ""
	}
	return s.asking.line()
}

func (s shelfModel) draw(g grid, f frame) {
	g.text(f.head, "Notebook", strong)
	g.right(f.head, s.count(), dim)
	if len(s.shown) == 0 {
		g.paragraphs(below(f.body), []prepLine{{s.nothing(), dim}})
		return
	}
	l := listOf(f.body, len(s.shown))
	g.listed(l.list, len(s.shown), s.at, func(i int) (string, string, level) {
		name, when, level := sessionLine(&s.shown[i])
		if s.shown[i].ID == s.first {
			name, level = "≠ "+name, strong
		}
		return name, when, level
	})
	g.paragraphs(l.about, s.about())
	if s.open != nil && s.open.Plan != nil && l.strip.h > 0 {
		oldStrip(s.open).draw(g, l.strip)
	}
}

func (s shelfModel) count() string {
	switch {
	case !s.read:
		return ""
	case s.search != "":
		return fmt.Sprintf("%d of %d with %q", len(s.shown), len(s.all), recipes.Clean(s.search))
	}
	return plural(len(s.all), "session")
}

func (s shelfModel) nothing() string {
	switch {
	case !s.read:
		return "reading the notebook"
	case len(s.all) == 0:
		return "No session is kept yet. Each one keeps itself here, rehearsals too."
	}
	return "None of them has all these words in it: a film, a vessel, a day such as 2026-11, a bath, words of a note."
}

// sessionLine is a session's line in the list: what, and when.
func sessionLine(s *notebook.Summary) (string, string, level) {
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
func (s shelfModel) about() []prepLine {
	c := s.chosen()
	if c.Problem != "" {
		return []prepLine{{c.Problem, strong}}
	}
	list := []prepLine{{fmt.Sprintf("%s, %s in %s", c.Film, plural(c.Sheets, "sheet"), c.Vessel), text}}
	if c.Emulsion != "" {
		list = append(list, prepLine{"emulsion: " + string(c.Emulsion), text})
	}
	if s.open != nil {
		for _, n := range s.open.Later.Notes {
			list = append(list, prepLine{n.Words(), dim})
		}
		list = append(list, lined(strings.Join(s.open.SuggestsFor(s.habits), "\n"), dim)...)
	}
	return list
}

// oldStrip is the strip of a session that was, as it went.
func oldStrip(s *notebook.Session) strip {
	p := strip{plan: s.Plan, segments: s.Plan.Segments(s.Passages)}
	p = p.close(sequence.Wet{Total: s.Wet.Total, Limit: s.Wet.Limit, Used: s.Wet.Used, Margin: s.Wet.Margin, LimitAt: s.Wet.LimitAt, Session: s.Wet.Session})
	p.end = max(p.end, min(s.At, p.end))
	p.now = p.end
	return p
}

// plural is a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
