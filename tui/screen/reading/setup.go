package reading

// Before readings: which film and sheets, how long they were developed, what they are read
// with. With a session chosen, the times are the sheets' own, by their temperatures.

import (
	"fmt"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
)

// Setup is what is asked before reading.
type Setup struct {
	b        Backend
	form     form.Form
	sessions form.Sessions      // that may be chosen
	tablets  []densities.Tablet // that may be chosen, behind form.EqualSteps
	naming   bool
}

// The fields.
const (
	setSession = iota // form.Sessions wants these three together
	setFilm
	setTimes
	setUnit
	setChannel
	setTablet
	setSteps
	setStep
	setMetered
	setBegin
)

var channels = []curve.Channel{curve.Visual, curve.Blue, curve.Green, curve.Red}

// channelName is a channel in words.
func channelName(c curve.Channel) string {
	if c == curve.Visual {
		return "visual"
	}
	return string(c)
}

// NewSetup makes it, for the sheets of a session where one is given.
func NewSetup(b Backend, of *notebook.Session) Setup {
	var names []string
	for _, c := range channels {
		names = append(names, channelName(c))
	}
	s := Setup{b: b, sessions: form.Sessions{Which: setSession}, form: form.Form{Live: true, Fields: []form.Field{
		form.SessionField(),
		{Label: "film", Usual: "as in its recipe", Means: "The film's name, as in its recipe."},
		{Label: "times", Usual: "5m 7m 9m30s 13m", Means: "Developing times of the sheets, in the order in which they are read: 5m 7m 9m30s 13m. With a session: those that were planned; they become the times as they were."},
		{Label: "read in", Choices: []string{"density", "stops"}, Means: "Densities of a densitometer; or stops of a spot meter over a light box, below clear light (a density of 0.30 for each)."},
		{Label: "channel", Choices: names, Means: "Stained negatives are read in blue for graded paper; for variable-contrast paper no one channel is right."},
		{Label: "tablet", Choices: []string{form.EqualSteps}, Means: "Equal steps; or a calibrated tablet, kept beside the readings as NAME.tablet.csv with a column called tablet."},
		{Label: "steps", Text: strconv.Itoa(curve.DefaultSteps), Means: "How many steps the tablet has, usually 21. Step 1 is its clearest part, the densest of the negative."},
		{Label: "step", Text: fmt.Sprint(curve.DefaultStep), Means: "Density from step to step, usually 0.15: not quite half a stop."},
		{Label: "metered", Usual: "not known", Means: "Where the tablet was exposed through a camera: the meter's index and the stops given over it, such as EI 50 +4. It gives the exposure index. Empty: not known."},
		{Label: "Begin reading", Do: true, Means: "Base plus fog first, then step after step."},
	}}}
	if of != nil {
		s.sessions, s.form = s.sessions.Only(s.form, *of)
	}
	return s
}

// Messages.
type (
	choicesMsg struct {
		sessions []notebook.Summary
		tablets  []densities.Tablet
	}
	namedMsg struct {
		name     string
		readings curve.Readings
	}
)

// Start finds what may be chosen.
func (s Setup) Start() tea.Cmd {
	return func() tea.Msg { return choicesMsg{s.b.Sessions(), s.b.Tablets()} }
}

// Update takes a message.
func (s Setup) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case choicesMsg:
		return s.offered(msg), nil, nil
	case form.SessionMsg:
		s.sessions, s.form = s.sessions.Took(s.form, msg.Session)
	case namedMsg:
		return s, screen.Several{screen.Back{}, screen.OpenReading{File: densities.ReadingsFile{Name: msg.name, Readings: msg.readings}},
			screen.Message{Text: "Base plus fog first, then step after step; enter takes what is typed."}}, nil
	case tea.KeyMsg:
		return s.key(msg)
	}
	return s, nil, nil
}

// offered puts the sessions and tablets into the form; what is chosen stays.
func (s Setup) offered(msg choicesMsg) Setup {
	s.tablets = msg.tablets
	s.sessions, s.form = s.sessions.Offered(s.form, msg.sessions)
	tablet := &s.form.Fields[setTablet]
	tablet.Choices = []string{form.EqualSteps}
	for _, one := range s.tablets {
		tablet.Choices = append(tablet.Choices, one.Name)
	}
	return s
}

func (s Setup) key(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	var event form.Event
	s.form, event = s.form.Update(k)
	switch {
	case event == form.Left:
		return s, screen.Back{}, nil
	case event == form.Quit:
		return s, screen.Quit{}, nil
	case event == form.Done:
		return s.begin()
	case event == form.Changed && s.form.At == setSession:
		var cmd tea.Cmd
		s.sessions, cmd = s.sessions.Changed(s.form, s.b)
		return s, nil, cmd
	}
	return s, nil, nil
}

// begin goes on to reading, or says at its field what is missing.
func (s Setup) begin() (screen.Screen, screen.Action, tea.Cmd) {
	if s.naming {
		return s, nil, nil
	}
	r, at, err := s.readings()
	if s.form = s.form.Faulted(at, err); err != nil {
		return s, nil, nil
	}
	s.naming = true
	return s, nil, func() tea.Msg { return namedMsg{s.b.NameDensities(r.Film), r} }
}

// readings is the empty columns that the form asks for; with an error the field that it is of.
func (s Setup) readings() (curve.Readings, int, error) {
	f := s.form.Fields
	r := curve.Readings{Film: f[setFilm].Value(), Channel: channels[f[setChannel].Chosen], Stops: f[setUnit].Chosen == 1, Metered: f[setMetered].Value()}
	times, err := curve.ParseTimes(f[setTimes].Value())
	if err != nil {
		return r, setTimes, err
	}
	var at int
	if r.Tablet, at, err = s.form.Tablet(setTablet, s.tablets); err != nil {
		return r, at, err
	}
	if r.Metered != "" {
		if _, err := curve.ParseExposed(r.Metered); err != nil {
			return r, setMetered, err
		}
	}
	id, sheets, err := s.sessions.Sheets(s.form, times)
	if err != nil {
		return r, setTimes, err
	}
	r.Session = id
	for _, d := range sheets {
		r.Add(d.Actual, d.Sheet)
	}
	return r, 0, nil
}
