package tui

// Opening: the sessions that were cut off, then the recipes.

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

type openingModel struct {
	unfinished []Unfinished
	recipes    []recipes.Entry
	newcomer   bool
	at         int
	strip      *strip // of the recipe chosen; nil where it cannot be planned
	about      string
}

func newOpening(h Host) openingModel {
	o := openingModel{unfinished: h.Unfinished(), recipes: h.Recipes(), newcomer: h.Newcomer()}
	return o.choose(h, 0)
}

// rows is how many lines can be chosen.
func (o openingModel) rows() int { return len(o.unfinished) + len(o.recipes) }

// recipe is the recipe chosen; false where a session is.
func (o openingModel) recipe() (recipes.Entry, bool) {
	i := o.at - len(o.unfinished)
	if i < 0 || i >= len(o.recipes) {
		return recipes.Entry{}, false
	}
	return o.recipes[i], true
}

// choose moves the cursor and plans what it stands on, for its strip.
func (o openingModel) choose(h Host, at int) openingModel {
	o.at = min(max(0, at), max(0, o.rows()-1))
	o.strip, o.about = nil, ""
	e, ok := o.recipe()
	if !ok {
		o.about = "This session was cut off. Enter takes it up where it is now."
		return o
	}
	if e.Fault != nil {
		o.about = e.Fault.Error()
		return o
	}
	o.about = e.About
	r, err := h.Recipe(e.Name)
	if err != nil {
		o.about = err.Error()
		return o
	}
	if p, err := sequence.Resolve(r, sequence.Conditions{}); err == nil {
		s := planStrip(&p)
		o.strip = &s
	}
	return o
}

func (m Model) openingKey(a action) (tea.Model, tea.Cmd) {
	switch a {
	case up:
		m.list = m.list.choose(m.o.Host, m.list.at-1)
	case down:
		m.list = m.list.choose(m.o.Host, m.list.at+1)
	case leave:
		return m, tea.Quit
	case enter, rehearse:
		return m.openChosen(a == rehearse)
	}
	return m, nil
}

// openChosen opens the recipe under the cursor, or takes up the session.
func (m Model) openChosen(rehearsal bool) (tea.Model, tea.Cmd) {
	e, ok := m.list.recipe()
	if !ok {
		if m.list.rows() == 0 {
			return m, nil
		}
		return m, m.takeUp(m.list.unfinished[m.list.at].ID)
	}
	p, err := newPlan(m.o.Host, e.Name, sequence.Words{})
	if err != nil {
		return m.sorry(err.Error()), nil
	}
	m.plan = p
	if rehearsal {
		return m, m.start(Start{Plan: p.plan, Rehearse: m.speed()})
	}
	m.screen = planning
	return m, nil
}

// usualSpeed is how fast a rehearsal is unless the command line says otherwise.
const usualSpeed = 30

func (m Model) speed() float64 {
	if m.o.Rehearse > 0 {
		return m.o.Rehearse
	}
	return usualSpeed
}

func (o openingModel) draw(g grid, f frame) {
	g.text(f.head, "wetside", strong)
	if o.newcomer {
		g.right(f.head, "new here? press r: a rehearsal, with no film", text)
	}
	l := listOf(f.body)
	first := max(0, min(o.at-l.list.h/2, o.rows()-l.list.h))
	for i := first; i < o.rows() && i-first < l.list.h; i++ {
		o.line(g, l.list.row(i-first), i)
	}
	g.wrap(l.about, recipes.Clean(o.about), dim)
	if o.strip != nil && l.strip.h > 0 {
		o.strip.draw(g, l.strip)
	}
}

// line draws one line of the list.
func (o openingModel) line(g grid, r rect, i int) {
	name, what, l := "", "", text
	if i < len(o.unfinished) {
		u := o.unfinished[i]
		name, what = "unfinished: "+u.Recipe, "began "+u.Began.Format("2 Jan 15:04")
		if u.Rehearsal {
			what = "rehearsal, " + what
		}
		l = strong
	} else {
		e := o.recipes[i-len(o.unfinished)]
		name, what = e.Title, fmt.Sprintf("%s, %d", e.Vessel, e.Sheets)
		if e.Fault != nil {
			name, what = e.Name, "cannot be used"
		} else if e.Own {
			what = "own, " + what
		}
	}
	if i == o.at {
		g.set(r.x, r.y, '█', bright)
		l = bright
	}
	room := r.w - 3 - len([]rune(what)) - 2
	g.text(rect{r.x + 2, r.y, room, 1}, recipes.Clean(name), l)
	g.right(r, recipes.Clean(what), dim)
}
