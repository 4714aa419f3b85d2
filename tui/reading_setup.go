package tui

// Before readings: which film and sheets, how long they were developed, what they are
// read with. With a session chosen, the times are the sheets' own, by their doses.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
)

// readingSetupModel is what is asked before reading.
type readingSetupModel struct {
	noInput
	noMessages
	sessions []notebook.Summary // that may be chosen; the first is none
	tablets  []densities.Tablet
	session  int
	found    []notebook.SheetDevelopment // of the session chosen
	unit     int
	channel  int
	tablet   int // 0: equal steps
	film     string
	times    string
	steps    string
	step     string
	metered  string
	at       int
}

var (
	units    = []string{"density", "stops"}
	channels = []curve.Channel{curve.Visual, curve.Blue, curve.Green, curve.Red}
)

// sheetField is one line of the form.
type sheetField struct {
	label string
	typed func(*readingSetupModel) *string // nil where it is chosen
	shown func(*readingSetupModel) string
	turn  func(*readingSetupModel, Backend, int) // nil where it is typed
	help  string
}

var sheetFields = []sheetField{
	{label: "session", shown: (*readingSetupModel).sessionShown, turn: (*readingSetupModel).turnSession,
		help: "The session that developed the sheets: each then has the time that its temperatures came to."},
	{label: "film", typed: func(s *readingSetupModel) *string { return &s.film }, help: "The film's name, as in its recipe."},
	{label: "times", typed: func(s *readingSetupModel) *string { return &s.times },
		help: "Developing times of the sheets, in the order in which they are read: 5m 7m 9m30s 13m. With a session: those planned; they become the times as they were."},
	{label: "read in", shown: func(s *readingSetupModel) string { return units[s.unit] },
		turn: func(s *readingSetupModel, _ Backend, by int) { s.unit = (s.unit + by + len(units)) % len(units) },
		help: "Densities of a densitometer; or stops of a spot meter over a light box, below clear light (a density of 0.30 for each)."},
	{label: "channel", shown: func(s *readingSetupModel) string { return string(channels[s.channel]) },
		turn: func(s *readingSetupModel, _ Backend, by int) {
			s.channel = (s.channel + by + len(channels)) % len(channels)
		},
		help: "Stained negatives are read in blue for graded paper; for variable-contrast paper no one channel is right."},
	{label: "tablet", shown: (*readingSetupModel).tabletShown, turn: (*readingSetupModel).turnTablet,
		help: "Equal steps; or a calibrated tablet, kept beside the readings as NAME.tablet.csv with a column called tablet."},
	{label: "steps", typed: func(s *readingSetupModel) *string { return &s.steps }, help: "How many steps the tablet has; step 1 is its clearest, the densest of the negative."},
	{label: "step", typed: func(s *readingSetupModel) *string { return &s.step }, help: "Density from step to step; 0.15 is not quite half a stop."},
	{label: "metered", typed: func(s *readingSetupModel) *string { return &s.metered },
		help: "Where the tablet was exposed through a camera: the meter's index and the stops given over it, EI 50 +4. It gives the exposure index. Empty: not known."},
}

// newReadingSetup asks for new readings, of a session where id is not empty.
func newReadingSetup(host Backend, id string) readingSetupModel {
	s := readingSetupModel{sessions: []notebook.Summary{{}}, tablets: host.Tablets(), steps: strconv.Itoa(curve.DefaultSteps), step: fmt.Sprint(curve.DefaultStep)}
	for _, one := range host.Sessions() {
		if one.ID == id || one.Problem == "" && !one.Rehearsal && one.Ended != nil {
			s.sessions = append(s.sessions, one)
		}
	}
	if id != "" {
		s.session = max(0, slices.IndexFunc(s.sessions, func(one notebook.Summary) bool { return one.ID == id }))
		s.take(host)
	}
	return s
}

func (readingSetupModel) id() screenID { return readingSetupScreen }

func (s *readingSetupModel) sessionShown() string {
	if s.session == 0 {
		return "none"
	}
	one := s.sessions[s.session]
	return one.Day() + " " + one.Recipe
}

func (s *readingSetupModel) turnSession(host Backend, by int) {
	s.session = (s.session + by + len(s.sessions)) % len(s.sessions)
	s.take(host)
}

// take takes film and planned times from the session chosen.
func (s *readingSetupModel) take(host Backend) {
	s.found = nil
	if s.session == 0 {
		return
	}
	one := s.sessions[s.session]
	session, _ := host.Read(one.ID) // of a damaged one what stands before the damage
	s.film, s.found = one.Film, session.Developed()
	var times []string
	for _, d := range s.found {
		times = append(times, sequence.FormatElapsed(d.Planned))
	}
	s.times = strings.Join(times, " ")
}

func (s *readingSetupModel) tabletShown() string {
	if s.tablet == 0 {
		return "equal steps"
	}
	return s.tablets[s.tablet-1].Name
}

func (s *readingSetupModel) turnTablet(_ Backend, by int) {
	n := len(s.tablets) + 1
	s.tablet = (s.tablet + by + n) % n
}

func (s readingSetupModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	f := sheetFields[s.at]
	switch a := actionOf(readingSetupScreen, key); a {
	case up:
		s.at = (s.at + len(sheetFields) - 1) % len(sheetFields)
	case down:
		s.at = (s.at + 1) % len(sheetFields)
	case left, right:
		if f.turn != nil {
			by := 1
			if a == left {
				by = -1
			}
			f.turn(&s, m.o.Backend, by)
		}
	case enter:
		return s.begin(m), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	default:
		if f.typed != nil {
			word := f.typed(&s)
			next, _, _ := prompt{text: *word}.edit(key)
			*word = next.text
		}
	}
	return m.changed(s), nil
}

// begin goes on to reading, or says what is missing.
func (s readingSetupModel) begin(m Model) Model {
	r, err := s.readings()
	if err != nil {
		return m.changed(s).showError(err.Error())
	}
	reading := newReadings(m.o.Backend.NameDensities(r.Film), r)
	return m.changed(reading).showMessage("base plus fog first, then step after step; enter takes what is typed")
}

// readings is the empty columns that the form asks for.
func (s *readingSetupModel) readings() (curve.Readings, error) {
	r := curve.Readings{Film: strings.TrimSpace(s.film), Channel: channels[s.channel], Stops: s.unit == 1, Metered: strings.TrimSpace(s.metered)}
	times, err := curve.ParseTimes(s.times)
	if err != nil {
		return r, err
	}
	if r.Metered != "" {
		if _, err := curve.ParseExposed(r.Metered); err != nil {
			return r, err
		}
	}
	if err := s.steppedBy(&r); err != nil {
		return r, err
	}
	if s.session == 0 {
		for _, t := range times {
			r.Add(t, 0)
		}
		return r, nil
	}
	r.Session = s.sessions[s.session].ID
	found, err := densities.Match(times, nil, s.found)
	if err != nil {
		return r, err
	}
	for _, d := range found {
		r.Add(d.Actual, d.Sheet)
	}
	return r, nil
}

// steppedBy puts the tablet in.
func (s *readingSetupModel) steppedBy(r *curve.Readings) (err error) {
	if s.tablet > 0 {
		for _, d := range s.tablets[s.tablet-1].Steps {
			r.Tablet = append(r.Tablet, float64(d))
		}
		return nil
	}
	n, err1 := strconv.Atoi(s.steps)
	step, err2 := strconv.ParseFloat(strings.Replace(s.step, ",", ".", 1), 64)
	if err1 != nil || err2 != nil {
		return fmt.Errorf("tablet: %q steps of %q; expected numbers such as 21 and 0.15", s.steps, s.step)
	}
	r.Tablet, err = curve.NominalTablet(n, step)
	return err
}

func (s readingSetupModel) draw(g grid, f frame) {
	g.text(f.head, "New readings", strong)
	l := listOf(f.body, len(sheetFields)).stripless(f.body)
	g.form(l.list, len(sheetFields), s.at, func(i int) (string, string, bool) {
		field := sheetFields[i]
		if field.typed != nil {
			return field.label, *field.typed(&s), true
		}
		return field.label, field.shown(&s), false
	})
	g.paragraphs(l.about, s.about())
}

// about is what the field under the cursor is for, and what the session's sheets had.
func (s *readingSetupModel) about() []prepLine {
	list := []prepLine{{sheetFields[s.at].help, dim}}
	for _, d := range s.found {
		list = append(list, prepLine{fmt.Sprintf("sheet %d: planned %s, developed %s", d.Sheet, sequence.FormatElapsed(d.Planned), sequence.FormatElapsed(d.Actual)), text})
	}
	return list
}

// form draws labelled lines, one under the cursor; what is typed ends in a cursor there.
func (g grid) form(r rect, lines, at int, line func(int) (label, value string, typed bool)) {
	const column = 10
	first := max(0, min(at-r.h/2, lines-r.h))
	for i := first; i < lines && i-first < r.h; i++ {
		label, value, typed := line(i)
		row, l := r.row(i-first), strong
		if i == at {
			g.set(row.x, row.y, '█', bright)
			l = bright
			if typed {
				value += cursor
			}
		}
		in := row.beside(2)
		g.text(in.narrowed(column), label, dim)
		g.text(in.beside(column), safetext.Clean(value), l)
	}
}
