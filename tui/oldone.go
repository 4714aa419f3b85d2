package tui

// One session of the notebook: planned above actual on one scale, how far each
// sheet came, what happened, what was noted, and what the record says for next time.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// oldModel is a session that was.
type oldModel struct {
	deaf
	session notebook.Session
	read    []notebook.KeptReadings // off its negatives
	habits  sequence.Habits
	asking  *asking
	first   int // row at the top
}

func newOldOne(host Host, s notebook.Session, h sequence.Habits) oldModel {
	return oldModel{session: s, habits: h}.linked(host)
}

// linked has the readings that were taken off the session's negatives.
func (o oldModel) linked(host Host) oldModel {
	o.read = slices.DeleteFunc(host.Densities(), func(k notebook.KeptReadings) bool {
		return k.Err != nil || k.Readings.Session != o.session.ID
	})
	return o
}

func (o oldModel) renewed(host Host) side { return o.linked(host) }

func (oldModel) is() screen { return oneOld }

func (o oldModel) typing() string {
	if o.asking == nil {
		return ""
	}
	return o.asking.line()
}

func (o oldModel) keyed(m Model, key string) (Model, tea.Cmd) {
	if o.asking != nil {
		return o.noting(m, key)
	}
	return o.act(m, actionOf(oneOld, key))
}

// act does what a key asks for.
func (o oldModel) act(m Model, a action) (Model, tea.Cmd) {
	switch a {
	case up, down:
		by := 1
		if a == up {
			by = -1
		}
		l := oldOf(frameOf(m.w, m.h, 1).body)
		o.first = scroll(o.rows(l.lines.w), l.lines.h, o.first+by)
		return m.changed(o), nil
	case remark, looks, emulsion:
		o.asking = &asking{prompt: oldPrompts[a], of: a}
		return m.changed(o), nil
	case again:
		return m.planAgain(&o.session), nil
	case aside:
		return o.putAway(m)
	case readings:
		return o.densities(m), nil
	case back:
		return m.back(), nil
	case leave:
		return m, tea.Quit
	}
	return m, nil
}

// oldPrompts ask for what is noted.
var oldPrompts = map[action]string{
	remark:   "note:",
	looks:    "the negatives are (good, thin, dense, fogged, uneven, scratched):",
	emulsion: "the emulsion is (sound, edges, frayed):",
}

// densities goes on with the readings of the session, or begins them.
func (o oldModel) densities(m Model) Model {
	if len(o.read) > 0 {
		return m.enter(newReading(o.read[0].Name, o.read[0].Readings))
	}
	return m.enter(newSheets(m.o.Host, o.session.ID))
}

// noting takes down what is typed and keeps it beside the record.
func (o oldModel) noting(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := o.asking.edit(key)
	o.asking = &next
	if done {
		o.asking = nil
	}
	if !kept || strings.TrimSpace(next.typed) == "" {
		return m.changed(o), nil
	}
	n := notebook.Note{Written: m.o.Now()}
	words := strings.FieldsFunc(next.typed, func(r rune) bool { return r == ' ' || r == ',' })
	switch next.of {
	case looks:
		for _, w := range words {
			n.Looks = append(n.Looks, meant(w, notebook.Looks))
		}
	case emulsion:
		n.Emulsion = meant(strings.Join(words, " "), notebook.Emulsions)
	default:
		n.Text = next.typed
	}
	return o.note(m, n)
}

// meant is the word of a list that a typed beginning stands for; the beginning itself
// where it stands for none, or for several.
func meant[W ~string](typed string, list []W) W {
	found := W(typed)
	n := 0
	for _, w := range list {
		if strings.HasPrefix(string(w), strings.ToLower(typed)) {
			found, n = w, n+1
		}
	}
	if n != 1 {
		return W(typed)
	}
	return found
}

// putAway takes the session out of the notebook; the message says how it comes back.
func (o oldModel) putAway(m Model) (Model, tea.Cmd) {
	if err := m.o.Host.PutAway(o.session.ID); err != nil {
		return m.sorry(err.Error()), nil
	}
	next, cmd := m.back().enterShelfAgain()
	return next.say("put away; wetside notebook " + o.session.ID + " --bring-back brings it back"), cmd
}

func (o oldModel) note(m Model, n notebook.Note) (Model, tea.Cmd) {
	if err := m.o.Host.Note(o.session.ID, n); err != nil {
		return m.changed(o).sorry(err.Error()), nil
	}
	if s, _ := m.o.Host.Read(o.session.ID); s.Plan != nil {
		o.session = s
	}
	told := "noted"
	if len(n.Looks) > 0 {
		told = strings.Join(append([]string{told + "."}, o.session.CausesFor(o.habits)...), " ")
	}
	return m.changed(o).say(told), nil
}

func (o oldModel) draw(g grid, f frame) {
	s := &o.session
	g.text(f.head, recipes.Clean(s.Recipe), strong)
	g.right(f.head, stateOf(&s.Summary)+whenOf(&s.Summary, o.habits), dim)
	l := oldOf(f.body)
	planned, actual := planStrip(s.Plan), oldStrip(s)
	planned.limit, planned.name, actual.name = 0, "planned", "as it went"
	span, _ := actual.span()
	planned.scale = span
	actual.scale, _ = planned.span()
	planned.draw(g, l.planned)
	actual.draw(g, l.actual)
	g.scrolled(l.lines, o.rows(l.lines.w), o.first)
}

// rows are what there is to read, in rows of at most w columns.
func (o oldModel) rows(w int) []prepLine {
	const arrow = 2
	s := &o.session
	w -= arrow
	first := broken(o.doubts(), w)
	return slices.Concat(first, table(stays(s.Plan, s.Passages), w),
		broken(sections(nil, o.sheets(), o.development(), o.happened(), o.later(), o.densitiesRead(), o.sources()), w))
}

// doubts is what is wrong with the record.
func (o oldModel) doubts() []prepLine {
	var list []prepLine
	if p := o.session.Problem; p != "" {
		list = append(list, prepLine{"Its record cannot be believed beyond this: " + p, bright})
	}
	if o.session.Newer {
		list = append(list, prepLine{"Written by a newer wetside: shown as far as it is known here.", strong})
	}
	if len(list) > 0 {
		list = append(list, prepLine{})
	}
	return list
}

// densitiesRead is what was read off the negatives.
func (o oldModel) densitiesRead() []prepLine {
	var list []prepLine
	for _, k := range o.read {
		list = append(list, prepLine{"densities: " + k.Name + ".csv, " + plural(len(k.Readings.Sheets), "sheet"), text})
	}
	return list
}

// sources are where the numbers come from: the film test that the times were found by,
// and the record itself.
func (o oldModel) sources() []prepLine {
	list := []prepLine{{"kept in " + o.session.Path, dim}}
	if from := o.session.Plan.Recipe.Origin(); from != "" {
		list = append([]prepLine{{"times found by a film test: " + from, dim}}, list...)
	}
	return list
}

// sheets is how far each sheet came and how long it was wet.
func (o oldModel) sheets() []prepLine {
	s := &o.session
	list := []prepLine{{}}
	for _, w := range s.Wet.Sheets {
		line := s.Plan.Recipe.Load.Sheet(w.Sheet) + ": "
		for _, st := range s.Steps {
			for _, y := range st.Sheets {
				if d := y.Developed; d != nil && d.Sheet == w.Sheet {
					line += fmt.Sprintf("developed %.0f%% of %s, ", 100*d.Share(), sequence.Clock(d.Of))
					if d.Uncertain {
						line += "uncertain (outside the recipe's table), "
					}
				}
			}
		}
		line += "wet for " + sequence.Clock(w.Total)
		if w.Used != nil {
			line += fmt.Sprintf(", %.0f %% of its limit", 100**w.Used)
		}
		if w.Aside {
			line += ", set aside in water"
		}
		list = append(list, prepLine{line, text})
	}
	return list
}

// development is each sheet's time in its developer, and how that was mixed and moved.
func (o oldModel) development() []prepLine {
	s := &o.session
	var done []sequence.Development
	for _, st := range s.Steps {
		for _, y := range st.Sheets {
			if y.Developed != nil {
				done = append(done, *y.Developed)
			}
		}
	}
	return lined(strings.Join(s.Plan.SayDeveloped(s.Passages, done, s.At, o.habits), "\n"), text)
}

// happened is what did not go by itself, and what was noted or read meanwhile.
func (o oldModel) happened() []prepLine {
	s := &o.session
	var list []prepLine
	events := slices.Concat(s.Readings, s.Told, s.Notes)
	slices.SortStableFunc(events, func(a, b sequence.Event) int { return cmp.Compare(a.At, b.At) })
	for _, e := range events {
		if line, ok := eventLine(e, o.habits); ok {
			list = append(list, prepLine{fmt.Sprintf("%8s  %s", sequence.Clock(e.At), line), text})
		}
	}
	if n := len(s.Missed); n > 0 {
		list = append(list, prepLine{plural(n, "cue") + " not given", strong})
	}
	return list
}

// later is what was noted afterwards, and what the numbers say for next time.
func (o oldModel) later() []prepLine {
	var list []prepLine
	for _, n := range o.session.Later.Notes {
		list = append(list, prepLine{n.Written.Format("2 Jan 2006") + ": " + n.Words(), strong})
	}
	for _, t := range o.session.SuggestsFor(o.habits) {
		list = append(list, prepLine{t, strong})
	}
	return list
}

// whenOf is when a session was.
func whenOf(s *notebook.Summary, h sequence.Habits) string {
	if s.Started == nil {
		return s.Day()
	}
	return h.Date(*s.Started)
}
