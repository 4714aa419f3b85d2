package recipes

// What stands beside the list: of a recipe its answer, strip and steps, of a broken one
// its first fault, of a session what taking it up does.

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// chosen is the recipe under the cursor, planned; all empty for a session.
type chosen struct {
	plan  *sequence.Plan
	fault error // why there is no plan
}

// rows is about how many rows stand beside the list.
func (c chosen) rows() int {
	const besides = 8
	if c.plan == nil {
		return besides
	}
	return len(c.plan.Steps) + len(c.plan.Recipe.Baths) + besides
}

// choose moves the cursor and plans what it stands on. What was said of the last
// rehearsal is read by then.
func (m Model) choose(at int) Model {
	at = min(max(0, at), max(0, m.list.rows()-1))
	if at != m.list.at {
		m.rehearsed = false
	}
	m.list.at, m.chosen, m.scrolled = at, chosen{}, 0
	if e, ok := m.list.entry(); ok {
		m.chosen = m.planned(e)
	}
	return m
}

func (m Model) planned(e recipes.Entry) chosen {
	if e.Fault != nil {
		return chosen{fault: e.Fault}
	}
	r, err := m.b.Recipe(e.Name)
	if err != nil {
		return chosen{fault: err}
	}
	plan, err := planning.Resolve(r, sequence.Conditions{OwnLimit: m.env.Defaults.OwnLimit})
	if err != nil {
		return chosen{fault: err}
	}
	return chosen{plan: &plan}
}

// rehearsalWithin is how long a newcomer's rehearsal takes at most.
const rehearsalWithin = 55 * time.Second

// firstRehearsal is a recipe that rehearses by itself within that time; -1 for none, and
// where a session waits.
func (m Model) firstRehearsal() int {
	if len(m.list.unfinished) > 0 {
		return -1
	}
	return slices.IndexFunc(m.list.recipes, func(e recipes.Entry) bool {
		p := m.planned(e).plan
		return p != nil && !slices.ContainsFunc(p.Steps, func(s sequence.PlanStep) bool { return s.WaitForPerson }) &&
			float64(p.Wet.Session) <= float64(rehearsalWithin)*m.env.Speed()
	})
}

// beside draws what stands beside the list or below it.
func (m Model) beside(w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	return widget.Flowing(w, h, func(w int) []string { return m.about(w, h) }).Moved(m.scrolled).View()
}

func (m Model) about(w, h int) []string {
	if u, ok := m.list.session(); ok {
		return sessionRows(u, w, m.env.Units())
	}
	e, ok := m.list.entry()
	switch {
	case !ok:
		return widget.Painted("There is no recipe. n makes one, field by field.", w, style.Value)
	case m.chosen.plan == nil:
		return faultRows(e, m.chosen.fault, w, m.env.Units())
	}
	return planRows(m.chosen.plan, m.env.Units(), w, h)
}

func sessionRows(u screen.Unfinished, w int, units sequence.Units) []string {
	began := "It began on " + say.DayAndTime(u.Began, units)
	rows := []string{widget.Truncate(style.Heading(safetext.Clean(u.Recipe)), w), ""}
	switch {
	case u.Running:
		return append(rows, widget.Painted(began+", and another wetside carries it out now. enter asks before it is taken over.", w, style.Value)...)
	case u.Elsewhere:
		return append(rows, widget.Painted(began+" on another laptop, and may still be running there. enter asks before it is taken over.", w, style.Value)...)
	case u.Damaged != nil:
		text := fmt.Sprintf("%s, and its record is damaged from line %d on. Before it, %s. enter asks before it goes on from there.",
			began, u.Damaged.Line, say.LastKnown(u.Damaged.Plan, u.Damaged.State, u.Damaged.At))
		return append(rows, widget.Painted(text, w, style.Value)...)
	case u.Rehearsal:
		return append(rows, widget.Painted(began+", a rehearsal that was cut off. enter goes on with it.", w, style.Value)...)
	}
	return append(rows, widget.Painted(began+" and was cut off. Time went on since: enter takes it up where it is now.", w, style.Value)...)
}

// faultRows is the first fault of a broken recipe and how many more there are.
func faultRows(e recipes.Entry, err error, w int, h sequence.Units) []string {
	rows := []string{widget.Truncate(style.Heading(safetext.Clean(e.Name))+"   "+style.Danger.Render("cannot be used"), w), ""}
	var faults recipes.Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		return append(rows, widget.Painted(safetext.Clean(say.Error(err, h)), w, style.Value)...)
	}
	rows = append(rows, widget.Painted(faultText(faults[0]), w, style.Value)...)
	next := "e opens it there."
	if n := len(faults) - 1; n == 1 {
		next = "There is 1 more fault. " + next
	} else if n > 1 {
		next = fmt.Sprintf("There are %d more faults. %s", n, next)
	}
	return append(append(rows, ""), widget.Painted(next, w, style.Label)...)
}

// faultText is a fault without its file's name, which stands above it.
func faultText(f recipes.Fault) string {
	where := ""
	if f.Line > 0 {
		where = fmt.Sprintf("Line %d, ", f.Line)
	}
	f.File, f.Line = "", 0
	return where + strings.TrimPrefix(f.Error(), ": ")
}

// planRows are the answer, the strip, the steps and what the recipe says of itself.
func planRows(p *sequence.Plan, u sequence.Units, w, h int) []string {
	const airy, tall = 16, 5 + widget.StripRows
	steps := widget.PlanSteps(p, w)
	if h < airy {
		steps = widget.BriefSteps(p, w)
	}
	var rows []string
	gap := func() {
		if h >= airy {
			rows = append(rows, "")
		}
	}
	if h >= airy {
		rows = append(rows, widget.Painted(safetext.Clean(p.Recipe.Title), w, style.Heading)...)
		gap()
	}
	rows = append(rows, widget.PlanAnswer(p, u, w)...)
	gap()
	strip := 2
	if h >= tall+len(steps.Rows) {
		strip = widget.StripRows
	}
	if h > 4 {
		rows = append(rows, strings.Split(widget.PlanStrip(p, w, strip).View(), "\n")...)
		gap()
	}
	rows = append(rows, strings.Split(steps.View(), "\n")...)
	rows = append(append(rows, ""), filmAndBaths(&p.Recipe, u, w)...)
	if about := safetext.Clean(p.Recipe.About); about != "" {
		rows = append(append(rows, ""), widget.Painted(about, min(w, prose), style.Label)...)
	}
	return rows
}

// filmAndBaths is what the recipe is for and what its baths are mixed from.
func filmAndBaths(r *sequence.Recipe, u sequence.Units, w int) []string {
	const labels = 13
	film := []string{safetext.Clean(r.Film.Name)}
	if r.Film.BoxSpeed > 0 {
		film = append(film, fmt.Sprintf("box speed %g", r.Film.BoxSpeed))
	}
	if r.Film.ExposureIndex > 0 {
		film = append(film, fmt.Sprintf("exposed at %g", r.Film.ExposureIndex))
	}
	var rows []string
	add := func(label, value string) { rows = append(rows, widget.Field(label, style.Value(value), labels, w)) }
	add("film", strings.Join(film, ", "))
	add("sheets", fmt.Sprintf("%d of %s %s", r.Load.Sheets, safetext.Clean(r.Load.Size.Name), r.Load.Vessel.In()))
	for _, b := range r.Baths {
		mix := safetext.Clean(r.MixtureOf(&sequence.Step{Bath: b.ID}))
		if b.Volume > 0 {
			mix += ", " + say.Volume(b.Volume, u)
		}
		add(safetext.Clean(say.StepName(b.ID)), mix)
	}
	return rows
}

// prose is the width that is read without losing the row.
const prose = 76
