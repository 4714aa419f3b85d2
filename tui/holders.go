package tui

// Exposed sheets that wait for their development, typed one a line; those that have
// had it stand beneath, with their session.

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/holders"
)

// HolderStore is where the list of sheets lies. Its calls may take a while.
type HolderStore interface {
	Sheets() ([]holders.ExposedSheet, []holders.Outcome, error)
	AddSheet(holders.ExposedSheet) error
	ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error // to nil takes it off
}

// holdersModel is the list.
type holdersModel struct {
	sheets       []holders.ExposedSheet // those that wait first
	outcomes     []holders.Outcome
	waitingCount int // how many of them wait
	read         bool
	fault        string
	at           int
	asking       *prompt // a sheet being typed
	change       *holders.ExposedSheet
	asked        keyAction // what is done when its key comes again
}

// holdersMsg is the list as it stands now.
type holdersMsg struct {
	sheets   []holders.ExposedSheet
	outcomes []holders.Outcome
	err      error
}

func (holdersModel) id() screenID { return holdersScreen }

// enterHolders opens the list.
func (m Model) enterHolders() (Model, tea.Cmd) { return m.enter(holdersModel{}), m.sheetsRead(nil) }

// sheetsRead does something to the list, and reads it.
func (m Model) sheetsRead(do func() error) tea.Cmd {
	host := m.o.Backend
	return func() tea.Msg {
		var err error
		if do != nil {
			err = do()
		}
		sheets, fates, unread := host.Sheets()
		return holdersMsg{sheets, fates, cmp.Or(err, unread)}
	}
}

func (w holdersModel) HandleMsg(m Model, msg tea.Msg) (Model, tea.Cmd) {
	got, ok := msg.(holdersMsg)
	if !ok {
		return m.changed(w), nil
	}
	w.sheets, w.outcomes, w.waitingCount, w.read, w.fault = nil, nil, 0, true, ""
	if got.err != nil {
		w.fault = got.err.Error()
	}
	for _, developed := range []bool{false, true} {
		for i := range got.sheets {
			if (got.outcomes[i].Session != "") == developed {
				w.sheets, w.outcomes = append(w.sheets, got.sheets[i]), append(w.outcomes, got.outcomes[i])
			}
		}
		if !developed {
			w.waitingCount = len(w.sheets)
		}
	}
	w.at = min(w.at, max(0, len(w.sheets)-1))
	return m.changed(w), nil
}

func (w holdersModel) typing() string {
	if w.asking == nil {
		return ""
	}
	return w.asking.line()
}

// sheetPrompt says how a sheet is typed.
const sheetPrompt = "holder, film, range in stops or N-1, N, N+1, exp 1/4 f22, shadow -2, note:"

func (w holdersModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	if w.asking != nil {
		return w.typed(m, key)
	}
	a := actionOf(holdersScreen, key)
	again := a != noAction && a == w.asked
	w.asked = noAction
	switch a {
	case up:
		w.at = max(0, w.at-1)
	case down:
		w.at = min(w.at+1, max(0, len(w.sheets)-1))
	case addSheet:
		w.asking, w.change = &prompt{prompt: sheetPrompt}, nil
	case enter:
		if e := w.chosen(); e != nil {
			w.asking, w.change = &prompt{prompt: sheetPrompt, text: sheetTyped(e)}, e
		}
	case dropSheet:
		return w.drop(m, again)
	case group:
		return m.changed(w).enterHolderGroups(w.sheets[:w.waitingCount])
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m.changed(w), nil
}

// chosen is the sheet under the cursor; nil where it does not wait.
func (w holdersModel) chosen() *holders.ExposedSheet {
	if w.at >= w.waitingCount {
		return nil
	}
	return &w.sheets[w.at]
}

// drop asks before a sheet is taken off the list; the same key again does it.
func (w holdersModel) drop(m Model, again bool) (Model, tea.Cmd) {
	e := w.chosen()
	switch {
	case e == nil:
		return m.changed(w), nil
	case !again:
		w.asked = dropSheet
		return m.changed(w).showMessage("x again takes " + e.Name() + " off the list"), nil
	}
	host, from := m.o.Backend, *e
	return m.changed(w), m.sheetsRead(func() error { return host.ReplaceSheet(from, nil) })
}

// typed edits the line, or takes it. A line that makes no sheet stays to be mended.
func (w holdersModel) typed(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := w.asking.edit(key)
	w.asking = &next
	if !done {
		return m.changed(w), nil
	}
	if !kept || strings.TrimSpace(next.text) == "" {
		w.asking = nil
		return m.changed(w), nil
	}
	e, err := parseSheet(next.text)
	if err != nil {
		return m.changed(w).showError(err.Error()), nil
	}
	host, from := m.o.Backend, w.change
	w.asking, w.change = nil, nil
	if from == nil {
		e.Exposed = m.o.Now().Truncate(time.Second)
		return m.changed(w), m.sheetsRead(func() error { return host.AddSheet(e) })
	}
	e.Exposed = from.Exposed
	return m.changed(w), m.sheetsRead(func() error { return host.ReplaceSheet(*from, &e) })
}

// The beginnings of what may follow in any order before the note.
const (
	exposureWord = "exp "
	shadowWord   = "shadow "
)

// parseSheet reads "3A, Plover 80, 7, exp 1/4 f22, shadow -2, the salt pans": the third
// is the range, a development or a gradient, or both ("N-1 7"); what follows and is
// neither exposure nor shadow is the note.
func parseSheet(line string) (holders.ExposedSheet, error) {
	cells := strings.Split(line, ",")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	var notes []string
	e := holders.ExposedSheet{}
	for _, c := range cells[min(3, len(cells)):] {
		if text, ok := strings.CutPrefix(c, exposureWord); ok && e.Exposure == "" {
			e.Exposure = text
		} else if text, ok := strings.CutPrefix(c, shadowWord); ok && e.Shadow == "" {
			e.Shadow = text
		} else {
			notes = append(notes, c)
		}
	}
	cells = append(cells, "", "")
	holder := strings.TrimRightFunc(cells[0], func(r rune) bool { return r < '0' || r > '9' })
	e.Holder, e.Film, e.Note = cmp.Or(holder, cells[0]), cells[1], strings.Join(notes, ", ")
	e.Side = strings.TrimPrefix(cells[0], e.Holder)
	e.Range, e.Development = rangeAndDevelopment(strings.Fields(cells[2]))
	return e, e.Check()
}

// stopsWord may follow a range, and must where it could be a gradient.
const stopsWord = "stops"

// rangeAndDevelopment parts "N-1 7": a number from 2 up is stops, a smaller one a
// gradient unless it is called stops.
func rangeAndDevelopment(words []string) (stops float64, development string) {
	const leastStops = 2
	var rest []string
	for i, w := range words {
		n, err := strconv.ParseFloat(w, 64)
		called := i+1 < len(words) && words[i+1] == stopsWord
		switch {
		case err == nil && stops == 0 && (called || n >= leastStops):
			stops = n
		case w != stopsWord || i == 0:
			rest = append(rest, w)
		}
	}
	return stops, strings.Join(rest, " ")
}

// sheetTyped is a sheet as it would be typed.
func sheetTyped(e *holders.ExposedSheet) string {
	third := e.Development
	if e.Range != 0 {
		third = strings.TrimSpace(third + " " + strconv.FormatFloat(e.Range, 'f', -1, 64) + " " + stopsWord)
	}
	cells := []string{e.Name(), e.Film, third}
	if e.Exposure != "" {
		cells = append(cells, exposureWord+e.Exposure)
	}
	if e.Shadow != "" {
		cells = append(cells, shadowWord+e.Shadow)
	}
	if e.Note != "" {
		cells = append(cells, e.Note)
	}
	if len(cells) == 3 && third == "" {
		cells = cells[:2]
	}
	return strings.Join(cells, ", ")
}

func (w holdersModel) draw(g grid, f frame) {
	g.text(f.head, "Sheets waiting", strong)
	if w.read {
		g.right(f.head, fmt.Sprintf("%d wait, %d developed", w.waitingCount, len(w.sheets)-w.waitingCount), dim)
	}
	body := below(f.body)
	switch {
	case w.fault != "":
		lines := broken(lined(w.fault, strong), body.w)
		g.paragraphs(rect{body.x, body.y, body.w, min(len(lines), body.h)}, lines)
		body = body.from(len(lines) + 1)
	case !w.read:
		g.text(body, "reading the list", dim)
	case len(w.sheets) == 0:
		g.paragraphs(body, []prepLine{{"No sheet waits. Press a to put one on the list, or type a CSV file: wetside holders import FILE.", dim}})
	}
	list, about := notedOf(body, len(w.sheets))
	const widest = 114 // columns between a sheet and what it wants are read across
	g.listed(list.narrowed(widest), len(w.sheets), w.at, w.line)
	if w.at < len(w.sheets) {
		e := &w.sheets[w.at]
		g.paragraphs(about, []prepLine{{safetext.Clean(e.Name() + ", " + e.Film + sheetNotes(e)), text}})
	}
}

// sheetNotes is what was written down of a sheet beside its film, behind a semicolon each.
func sheetNotes(e *holders.ExposedSheet) string {
	words := []string{""}
	if !e.Exposed.IsZero() {
		words = append(words, "exposed "+e.Exposed.Local().Format(time.DateOnly))
	}
	if e.Exposure != "" {
		words = append(words, e.Exposure)
	}
	if e.Range != 0 {
		words = append(words, fmt.Sprintf("subject of %g stops", e.Range))
	}
	if e.Shadow != "" {
		words = append(words, "shadow placed "+e.Shadow)
	}
	if e.Development != "" {
		words = append(words, "meant for "+e.Development)
	}
	if e.Note != "" {
		words = append(words, e.Note)
	}
	return strings.Join(words, "; ")
}

// line is one sheet: what it is, and what it wants or became.
func (w holdersModel) line(i int) (string, string, brightness) {
	e := &w.sheets[i]
	name := fmt.Sprintf("%-5s %-16s %s", e.Name(), e.Film, e.Note)
	if f := w.outcomes[i]; f.Session != "" {
		return name, fmt.Sprintf("sheet %d of %s", f.Sheet, f.Session), dim
	}
	what := cmp.Or(e.Development, "N")
	if e.Development == "" && e.Range != 0 {
		what = fmt.Sprintf("%g stops", e.Range)
	}
	return name, what, text
}

// filmRecipes are a recipe for each film that waits: one's own before the shipped.
func filmRecipes(h Backend, sheets []holders.ExposedSheet) []filmRecipe {
	entries := slices.DeleteFunc(h.Recipes(), func(e recipes.Entry) bool { return e.Fault != nil })
	slices.SortStableFunc(entries, func(a, b recipes.Entry) int {
		switch {
		case a.IsOwn == b.IsOwn:
			return 0
		case a.IsOwn:
			return -1
		}
		return 1
	})
	var list []filmRecipe
	for i := range sheets {
		film := sheets[i].Film
		if slices.ContainsFunc(list, func(r filmRecipe) bool { return r.film == film }) {
			continue
		}
		r := filmRecipe{film: film}
		for _, e := range entries {
			if e.Film == film {
				r.names = append(r.names, e.Name)
			}
		}
		list = append(list, r)
	}
	return list
}

// filmRecipe is a film and the recipes that there are for it.
type filmRecipe struct {
	film  string
	names []string
	at    int // the one that is used
}
