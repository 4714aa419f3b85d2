// Package holders is the screens of exposed sheets: the list of those that wait for their
// development, with what became of the others, and the sessions that are proposed for them.
// Start with Model, the list, and Groups.
package holders

import (
	"cmp"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Backend is what these screens need of the world.
type Backend interface {
	Sheets() ([]holders.ExposedSheet, []holders.Outcome, error)
	AddSheet(holders.ExposedSheet) error
	ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error // to nil takes it off
	Recipes() []recipes.Entry
	Recipe(name string) (sequence.Recipe, error)
	// KeepRecipe writes a recipe among the person's own, never over another, and
	// tells its name.
	KeepRecipe(sequence.Recipe) (name string, err error)
	Read(id string) (notebook.Session, error)
	Densities() []densities.ReadingsFile // newest first
}

// Model is the list: those that wait first.
type Model struct {
	b     Backend
	env   screen.Env
	list  []listed
	films []string // that recipes or sheets name
	waits int      // how many of the list wait
	read  bool
	fault string
	at    int
	pager *widget.Pager
	asked bool // x again takes the sheet off the list

	sheet *form.Form            // a sheet being added or changed; nil for none
	from  *holders.ExposedSheet // that is changed; nil for a new one
}

// listed is a sheet with what it wants, or what became of it.
type listed struct {
	holders.ExposedSheet
	outcome    holders.Outcome
	share      *float64 // how far it was developed, of what was planned
	time       sequence.Elapsed
	index      *float64 // exposure index at that time
	why        string   // why no time is known
	whyNoIndex string   // why no exposure index is known
}

// New makes the list.
func New(b Backend, env screen.Env) Model { return Model{b: b, env: env, pager: &widget.Pager{}} }

// listMsg is the list as it stands now; changed says that it answers a change, err why that
// was not made, or what of the list cannot be read.
type listMsg struct {
	list    []listed
	waits   int
	films   []string
	changed bool
	err     error
	unread  error
}

// Start reads the list.
func (m Model) Start() tea.Cmd { return m.load(nil) }

// Renew reads it anew.
func (m Model) Renew() (screen.Screen, tea.Cmd) { return m, m.load(nil) }

// load does something to the list, and reads it.
func (m Model) load(do func() error) tea.Cmd {
	b := m.b
	return func() tea.Msg {
		msg := listMsg{changed: do != nil}
		if do != nil {
			msg.err = do()
		}
		sheets, outcomes, err := b.Sheets()
		msg.unread = err
		msg.list, msg.waits = waitingFirst(b, sheets, outcomes)
		msg.films = filmNames(b, sheets)
		return msg
	}
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case listMsg:
		return m.loaded(msg)
	case tea.KeyMsg:
		if m.sheet != nil {
			return m.formKey(msg)
		}
		return m.key(msg.String())
	}
	return m, nil, nil
}

func (m Model) loaded(msg listMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.list, m.waits, m.films, m.read, m.fault = msg.list, msg.waits, msg.films, true, ""
	m.at = max(0, min(m.at, len(m.list)-1))
	if msg.unread != nil {
		m.fault = msg.unread.Error()
	}
	switch {
	case msg.err != nil:
		return m, screen.Message{Text: msg.err.Error(), Fault: true}, nil
	case msg.changed:
		m.sheet, m.from = nil, nil
	}
	return m, nil, nil
}

// chosen is the sheet under the cursor; nil where it does not wait.
func (m Model) chosen() *holders.ExposedSheet {
	if m.at >= m.waits {
		return nil
	}
	e := m.list[m.at].ExposedSheet
	return &e
}

// drop asks before a sheet is taken off the list; the same key again does it.
func (m Model) drop(again bool) (screen.Screen, screen.Action, tea.Cmd) {
	e := m.chosen()
	switch {
	case e == nil && m.at < len(m.list):
		return m, screen.Message{Text: "A sheet that was developed stays: its session names it."}, nil
	case e == nil:
		return m, nil, nil
	case !again:
		m.asked = true
		return m, screen.Message{Text: fmt.Sprintf("x again takes %s, %s, off the list; any other key leaves it.", safetext.Clean(e.Name()), safetext.Clean(e.Film))}, nil
	}
	b := m.b
	return m, nil, m.load(func() error { return b.ReplaceSheet(*e, nil) })
}

// Unsaved reports whether leaving now would lose something.
func (m Model) Unsaved() bool { return m.sheet != nil }

// wants is what a sheet was meant for, in a word.
func wants(e *holders.ExposedSheet) string {
	if e.Development == "" && e.Range != 0 {
		return fmt.Sprintf("%g stops", e.Range)
	}
	return cmp.Or(e.Development, "N")
}
