package holders

// Sheets that wait, sorted into sessions: each with its sheets beneath. A sheet may be moved by
// hand where the limits let it.

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Groups is the sessions proposed.
type Groups struct {
	b      Backend
	env    screen.Env
	sheets []holders.ExposedSheet
	sorting
	sorted bool
	turn   int // of the sorting that is waited for
	at     int // row under the cursor
	pager  *widget.Pager
	rules  *form.Form
}

// sorting is the sheets sorted, and what they are sorted by.
type sorting struct {
	films  []filmRecipe
	by     holders.Grouper
	list   []holders.ProposedSession
	left   []holders.Unplaced
	curves map[string]curve.Results // of each film, from the newest readings that there are
}

// NewGroups makes it.
func NewGroups(b Backend, env screen.Env, sheets []holders.ExposedSheet) Groups {
	by := holders.Grouper{Printing: holders.UsualPrinting, Grouping: planning.Grouping{Tolerance: planning.DefaultTolerance}}
	return Groups{b: b, env: env, pager: &widget.Pager{}, sheets: slices.Clone(sheets), sorting: sorting{by: by}}
}

// Start sorts the sheets.
func (g Groups) Start() tea.Cmd { return g.sort("") }

// groupsMsg is the sheets sorted.
type groupsMsg struct {
	turn int
	sorting
	said string
	err  error
}

// sort proposes the sessions anew; said is said once that is done.
func (g Groups) sort(said string) tea.Cmd {
	b, env, sheets := g.b, g.env, g.sheets
	msg := groupsMsg{turn: g.turn, sorting: g.sorting, said: said}
	return func() tea.Msg {
		if msg.by.Conditions, msg.err = env.Defaults.Conditions(); msg.err != nil {
			return msg
		}
		if msg.films == nil {
			msg.films, msg.curves = filmRecipes(b, sheets), filmCurves(b, sheets)
			msg.by.Response = holders.ResponsesFrom(b.Densities(), b.Read)
		}
		msg.by.Recipes = nil
		for _, f := range msg.films {
			if len(f.names) == 0 {
				continue
			}
			r, err := b.Recipe(f.names[f.at])
			if err != nil {
				msg.err = err
				return msg
			}
			msg.by.Recipes = append(msg.by.Recipes, r)
		}
		msg.list, msg.left = msg.by.Propose(sheets)
		return msg
	}
}

// wroteMsg tells whether a session's recipe was written.
type wroteMsg struct {
	title string
	err   error
}

// Update takes a message.
func (g Groups) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case groupsMsg:
		if msg.turn != g.turn {
			return g, nil, nil
		}
		g.sorted = true
		if msg.err != nil {
			return g, screen.Message{Text: say.Error(msg.err, g.env.Units()), Fault: true}, nil
		}
		g.sorting = msg.sorting
		g.at = min(g.at, max(0, len(g.rows())-1))
		if msg.said != "" {
			return g, screen.Message{Text: msg.said}, nil
		}
	case wroteMsg:
		if msg.err != nil {
			return g, screen.Message{Text: msg.err.Error(), Fault: true}, nil
		}
		return g, screen.Message{Text: "Written: " + safetext.Clean(msg.title) + ", a recipe of your own."}, nil
	case tea.KeyMsg:
		if g.rules != nil {
			return g.rulesKey(msg)
		}
		return g.key(msg.String())
	}
	return g, nil, nil
}

// groupRow is a row of the list: a session, a sheet in it, or one that has none.
type groupRow struct{ session, sheet int } // sheet -1 for the session itself; session -1 for a sheet without one

func (g Groups) rows() (rows []groupRow) {
	for i, s := range g.list {
		rows = append(rows, groupRow{i, -1})
		for k := range s.Sheets {
			rows = append(rows, groupRow{i, k})
		}
	}
	for k := range g.left {
		rows = append(rows, groupRow{-1, k})
	}
	return rows
}

// row is the one under the cursor.
func (g Groups) row() groupRow {
	if rows := g.rows(); g.at < len(rows) {
		return rows[g.at]
	}
	return groupRow{-1, -1}
}

func (g Groups) key(name string) (screen.Screen, screen.Action, tea.Cmd) {
	if at, ok := g.pager.Move(g.at, len(g.rows()), name); ok {
		g.at = at
		return g, nil, nil
	}
	switch name {
	case "left":
		return g.move(-1)
	case "right":
		return g.move(1)
	case "o":
		return g.otherRecipe()
	case "s":
		f := g.rulesForm()
		g.rules = &f
	case "enter":
		if row := g.row(); row.session >= 0 {
			r := g.recipe(row.session)
			return g, screen.OpenPlan{Name: r.Title, Recipe: &r, Conditions: g.env.Defaults,
				Text: "Planned with these sheets, each by its name."}, nil
		}
	case "w":
		if row := g.row(); row.session >= 0 {
			r := g.recipe(row.session)
			return g, nil, func() tea.Msg {
				_, err := g.b.KeepRecipe(r)
				return wroteMsg{r.Title, err}
			}
		}
	case "esc":
		return g, screen.Back{}, nil
	case "q":
		return g, screen.Quit{}, nil
	}
	return g, nil, nil
}

// recipe is a session's, with what its sheets' prints ask for.
func (g Groups) recipe(session int) sequence.Recipe {
	s := &g.list[session]
	return say.WithPrints(s.Plan.Recipe, s.Sheets)
}

// move puts the sheet under the cursor into the session before or after; after the last it
// gets one of its own.
func (g Groups) move(by int) (screen.Screen, screen.Action, tea.Cmd) {
	row := g.row()
	if row.session < 0 || row.sheet < 0 {
		return g, screen.Message{Text: "Put the cursor on a sheet of a session; ←→ then move it.", Fault: true}, nil
	}
	to := row.session + by
	if to < 0 {
		return g, screen.Message{Text: "There is no session before this one.", Fault: true}, nil
	}
	name, before := g.list[row.session].Sheets[row.sheet].Name, len(g.list)
	list, err := g.by.Move(g.list, row.session, row.sheet, to)
	if err != nil {
		return g, screen.Message{Text: safetext.Clean(name + ": " + say.Error(err, g.env.Units())), Fault: true}, nil
	}
	if len(list) < before && to > row.session {
		to--
	}
	g.list = list
	g.at = max(0, slices.IndexFunc(g.rows(), func(r groupRow) bool {
		return r.session == to && r.sheet >= 0 && g.list[to].Sheets[r.sheet].Name == name
	}))
	return g, nil, nil
}

// otherRecipe takes the next recipe for the film under the cursor.
func (g Groups) otherRecipe() (screen.Screen, screen.Action, tea.Cmd) {
	row, film := g.row(), ""
	switch {
	case row.session >= 0:
		film = g.list[row.session].Recipe.Film.Name
	case row.sheet >= 0:
		film = g.sheets[g.left[row.sheet].Sheet].Film
	}
	i := slices.IndexFunc(g.films, func(f filmRecipe) bool { return f.film == film })
	if i < 0 {
		return g, nil, nil
	}
	g.films = slices.Clone(g.films)
	f := &g.films[i]
	if n := len(f.names); n < 2 {
		text := "There is " + []string{"no", "one"}[n] + " recipe for " + film + "."
		return g, screen.Message{Text: safetext.Clean(text), Fault: true}, nil
	}
	f.at = (f.at + 1) % len(f.names)
	g.turn++
	return g, nil, g.sort(safetext.Clean(film + " by " + f.names[f.at] + "."))
}
