package tui

// One session of the notebook: planned above actual on one scale, how far each
// sheet came, what happened, what was noted, and what the record says for next time.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
)

// sessionModel is a session that was.
type sessionModel struct {
	noMessages
	session notebook.Session
	read    []densities.ReadingsFile // off its negatives
	habits  sequence.Units
	asking  *prompt
	first   int // row at the top
}

func newSession(host Backend, s notebook.Session, h sequence.Units) sessionModel {
	return sessionModel{session: s, habits: h}.linked(host)
}

// linked has the readings that were taken off the session's negatives.
func (o sessionModel) linked(host Backend) sessionModel {
	o.read = slices.DeleteFunc(host.Densities(), func(k densities.ReadingsFile) bool {
		return k.Err != nil || k.Readings.Session != o.session.ID
	})
	return o
}

func (o sessionModel) Refresh(host Backend) subscreen { return o.linked(host) }

func (sessionModel) id() screenID { return sessionScreen }

func (o sessionModel) typing() string {
	if o.asking == nil {
		return ""
	}
	return o.asking.line()
}

func (o sessionModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	if o.asking != nil {
		return o.noting(m, key)
	}
	return o.act(m, actionOf(sessionScreen, key))
}

// act does what a key asks for.
func (o sessionModel) act(m Model, a keyAction) (Model, tea.Cmd) {
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
		o.asking = &prompt{prompt: sessionPrompts[a], kind: a}
		return m.changed(o), nil
	case again:
		return m.planAgain(&o.session), nil
	case aside:
		return o.archive(m)
	case readings:
		return o.densities(m), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m, nil
}

// sessionPrompts ask for what is noted.
var sessionPrompts = map[keyAction]string{
	remark:   "note:",
	looks:    "the negatives are (good, thin, dense, fogged, uneven, scratched):",
	emulsion: "the emulsion is (sound, edges, frayed):",
}

// densities goes on with the readings of the session, or begins them.
func (o sessionModel) densities(m Model) Model {
	if len(o.read) > 0 {
		return m.enter(newReadings(o.read[0].Name, o.read[0].Readings))
	}
	return m.enter(newReadingSetup(m.o.Backend, o.session.ID))
}

// noting takes down what is typed and keeps it beside the record.
func (o sessionModel) noting(m Model, key string) (Model, tea.Cmd) {
	next, done, kept := o.asking.edit(key)
	o.asking = &next
	if done {
		o.asking = nil
	}
	if !kept || strings.TrimSpace(next.text) == "" {
		return m.changed(o), nil
	}
	n := notebook.Note{Written: m.o.Now()}
	words := strings.FieldsFunc(next.text, func(r rune) bool { return r == ' ' || r == ',' })
	switch next.kind {
	case looks:
		for _, w := range words {
			n.Appearances = append(n.Appearances, completePrefix(w, notebook.Appearances))
		}
	case emulsion:
		n.Emulsion = completePrefix(strings.Join(words, " "), notebook.Emulsions)
	default:
		n.Text = next.text
	}
	return o.note(m, n)
}

// completePrefix is the word of a list that a typed beginning stands for; the beginning itself
// where it stands for none, or for several.
func completePrefix[W ~string](typed string, list []W) W {
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

// archive takes the session out of the notebook; the message says how it comes back.
func (o sessionModel) archive(m Model) (Model, tea.Cmd) {
	if err := m.o.Backend.Archive(o.session.ID); err != nil {
		return m.showError(err.Error()), nil
	}
	next, cmd := m.back().returnToNotebook()
	return next.showMessage("put away; wetside notebook " + o.session.ID + " --restore brings it back"), cmd
}

func (o sessionModel) note(m Model, n notebook.Note) (Model, tea.Cmd) {
	if err := m.o.Backend.Note(o.session.ID, n); err != nil {
		return m.changed(o).showError(err.Error()), nil
	}
	if s, _ := m.o.Backend.Read(o.session.ID); s.Plan != nil {
		o.session = s
	}
	told := "noted"
	if len(n.Appearances) > 0 {
		told = strings.Join(append([]string{told + "."}, o.session.CausesIn(o.habits)...), " ")
	}
	return m.changed(o).showMessage(told), nil
}

func (o sessionModel) draw(g grid, f frame) {
	s := &o.session
	g.text(f.head, safetext.Clean(s.Recipe), strong)
	g.right(f.head, stateOf(&s.Summary)+whenOf(&s.Summary, o.habits), dim)
	l := oldOf(f.body)
	planned, actual := planTimeline(s.Plan), sessionTimeline(s)
	planned.limit, planned.name, actual.name = 0, "planned", "as it went"
	span, _ := actual.span()
	planned.scale = span
	actual.scale, _ = planned.span()
	planned.draw(g, l.planned)
	actual.draw(g, l.actual)
	g.scrolled(l.lines, o.rows(l.lines.w), o.first)
}

// rows are what there is to read, in rows of at most w columns.
func (o sessionModel) rows(w int) []prepLine {
	const arrow = 2
	s := &o.session
	w -= arrow
	first := broken(o.doubts(), w)
	return slices.Concat(first, table(stays(s.Plan, s.Passages), w),
		broken(sections(nil, o.sheets(), o.development(), o.happened(), o.later(), o.densitiesRead(), o.sources()), w))
}

// doubts is what is wrong with the record.
func (o sessionModel) doubts() []prepLine {
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
func (o sessionModel) densitiesRead() []prepLine {
	var list []prepLine
	for _, k := range o.read {
		list = append(list, prepLine{"densities: " + k.Name + ".csv, " + pluralise(len(k.Readings.Sheets), "sheet"), text})
	}
	return list
}

// sources are where the numbers come from: the film test that the times were found by,
// and the record itself.
func (o sessionModel) sources() []prepLine {
	list := []prepLine{{"kept in " + o.session.Path, dim}}
	if from := o.session.Plan.Recipe.Origin(); from != "" {
		list = append([]prepLine{{"times found by a film test: " + from, dim}}, list...)
	}
	return list
}

// sheets is how far each sheet came and how long it was wet.
func (o sessionModel) sheets() []prepLine {
	s := &o.session
	list := []prepLine{{}}
	for _, w := range s.Wet.Sheets {
		line := s.Plan.Recipe.Load.SheetName(w.Sheet) + ": "
		for _, st := range s.Steps {
			for _, y := range st.Sheets {
				if d := y.Developed; d != nil && d.Sheet == w.Sheet {
					line += fmt.Sprintf("developed %.0f%% of %s, ", 100*d.Share(), sequence.FormatElapsed(d.Of))
					if d.Uncertain {
						line += "uncertain (outside the recipe's table), "
					}
				}
			}
		}
		line += "wet for " + sequence.FormatElapsed(w.Total)
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
func (o sessionModel) development() []prepLine {
	s := &o.session
	var done []engine.Development
	for _, st := range s.Steps {
		for _, y := range st.Sheets {
			if y.Developed != nil {
				done = append(done, *y.Developed)
			}
		}
	}
	return lined(strings.Join(say.AllDeveloped(s.Plan, s.Passages, done, s.At, o.habits), "\n"), text)
}

// happened is what did not go by itself, and what was noted or read meanwhile.
func (o sessionModel) happened() []prepLine {
	s := &o.session
	var list []prepLine
	events := slices.Concat(s.Readings, s.Exceptions, s.Notes)
	slices.SortStableFunc(events, func(a, b sequence.Event) int { return cmp.Compare(a.At, b.At) })
	for _, e := range events {
		if say.Afterwards(e) {
			list = append(list, prepLine{say.EventLine(s.Plan, e, o.habits), text})
		}
	}
	if n := len(s.Missed); n > 0 {
		list = append(list, prepLine{pluralise(n, "cue") + " not given", strong})
	}
	return list
}

// later is what was noted afterwards, and what the numbers say for next time.
func (o sessionModel) later() []prepLine {
	var list []prepLine
	for _, n := range o.session.NotesAfter.List {
		list = append(list, prepLine{n.Written.Format("2 Jan 2006") + ": " + n.Sentence(), strong})
	}
	for _, t := range o.session.SuggestionsIn(o.habits) {
		list = append(list, prepLine{t, strong})
	}
	return list
}

// whenOf is when a session was.
func whenOf(s *notebook.Summary, h sequence.Units) string {
	if s.Started == nil {
		return s.Day()
	}
	return say.DateAndTime(*s.Started, h)
}
