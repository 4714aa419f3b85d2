package scan

// What is asked before a picture is read.

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"
)

// The fields.
const (
	fieldFolder = iota
	fieldPicture
	fieldPanel
	fieldTablet
	fieldSteps
	fieldStep
	fieldSession // form.Sessions wants these three together
	fieldFilm
	fieldTimes
	fieldChannel
	fieldRead
)

// channels are those that may be chosen, in their order.
var channels = []scan.Channel{scan.Luminance, scan.Blue, scan.Green, scan.Red}

const (
	noPictures = "no picture here"
	noPanel    = "none"
)

// setup is what was answered so far.
type setup struct {
	form     form.Form
	folder   densities.PictureFolder
	sessions form.Sessions
}

func newSetup() setup {
	return setup{sessions: form.Sessions{Which: fieldSession}, form: form.Form{At: fieldPicture, Fields: []form.Field{
		{Label: "folder", Usual: "where wetside was started", Means: "The folder in which the pictures lie: enter, type it, enter."},
		{Label: "picture", Choices: []string{noPictures}, Means: "The negatives beside a step tablet, on a light panel or a scanner: PNG, TIFF or JPEG. \"wetside help scan\" tells how to take it."},
		{Label: "panel alone", Choices: []string{noPanel}, Means: "The same picture without film: it divides out uneven light. Without it, what shows of the panel about the strips does."},
		{Label: "tablet", Choices: []string{form.EqualSteps}, Means: "A calibrated tablet: a CSV in the folder with a column called tablet, or one that is kept beside the readings. Else equal steps, whose real densities may differ by 0.02."},
		{Label: "steps", Text: strconv.Itoa(curve.DefaultSteps), Means: "How many steps a tablet of equal steps has."},
		{Label: "step", Text: fmt.Sprint(curve.DefaultStep), Means: "Density from step to step, usually 0.15."},
		form.SessionField(),
		{Label: "film", Usual: "not named", Means: "The film's name, as in its recipe."},
		{Label: "times", Usual: "given on the picture", Means: "Developing times of the strips, such as 5m 7m 9m30s 13m, from left to right or from top to bottom. With a session: those that were planned; they become the times as they were."},
		{Label: "channel", Choices: []string{"visual", "blue", "green", "red"}, Means: "Stained negatives are read in blue for graded paper."},
		{Label: "Read the picture", Do: true, Means: "Tablet and strips are looked for; then they are shown, and can be moved."},
	}}}
}

// listed offers what lies in the folder; what was chosen stays where it is there.
func (s setup) listed(folder densities.PictureFolder) setup {
	s.folder = folder
	s.form.Fields = slices.Clone(s.form.Fields)
	offer := func(i int, first []string, list []string) {
		f := &s.form.Fields[i]
		was := f.Value()
		f.Choices, f.Fault = append(first, list...), ""
		f.Chosen = max(0, slices.Index(f.Choices, was))
	}
	names := folder.Pictures
	if len(names) == 0 {
		names = []string{noPictures}
	}
	offer(fieldPicture, nil, names)
	offer(fieldPanel, []string{noPanel}, folder.Pictures)
	var tablets []string
	for _, t := range folder.Tablets {
		tablets = append(tablets, t.Name)
	}
	offer(fieldTablet, []string{form.EqualSteps}, tablets)
	if folder.Err != nil {
		s.form.Fields[fieldFolder].Fault = folder.Err.Error()
	}
	return s
}

// request is a picture that shall be read.
type request struct {
	picture, panel string    // paths; panel is "" for none
	tablet         []float64 // densities, rising
	channel        scan.Channel
}

// request is what was asked for; with an error the field that wants something.
func (s setup) request() (r request, at int, err error) {
	f := s.form.Fields
	if len(s.folder.Pictures) == 0 {
		return r, fieldFolder, fmt.Errorf("no PNG, TIFF or JPEG lies there; enter, and type another folder")
	}
	if text := f[fieldTimes].Value(); text != "" {
		if _, err := curve.ParseTimes(text); err != nil {
			return r, fieldTimes, err
		}
	}
	r = request{picture: filepath.Join(s.folder.Path, f[fieldPicture].Value()), channel: channels[f[fieldChannel].Chosen]}
	if f[fieldPanel].Chosen > 0 {
		r.panel = filepath.Join(s.folder.Path, f[fieldPanel].Value())
	}
	r.tablet, at, err = s.form.Tablet(fieldTablet, s.folder.Tablets)
	if n := len(r.tablet); n > 1 && r.tablet[0] > r.tablet[n-1] {
		slices.Reverse(r.tablet)
	}
	return r, at, err
}

// times are the developing times that were typed.
func (s setup) times() []time.Duration {
	list, _ := curve.ParseTimes(s.form.Fields[fieldTimes].Value())
	return list
}

// asking is a key in the form.
func (m Model) asking(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	var event form.Event
	m.form, event = m.form.Update(k)
	switch {
	case event == form.Left:
		return m, screen.Back{}, nil
	case event == form.Quit:
		return m, screen.Quit{}, nil
	case event == form.Changed && m.form.At == fieldFolder:
		return m, nil, m.list(m.form.Fields[fieldFolder].Value())
	case event == form.Changed && m.form.At == fieldSession:
		var cmd tea.Cmd
		m.sessions, cmd = m.sessions.Changed(m.form, m.b)
		return m, nil, cmd
	case event == form.Done && m.busy == "":
		return m.begin()
	}
	return m, nil, nil
}

// begin reads the picture, or says at its field what is missing.
func (m Model) begin() (screen.Screen, screen.Action, tea.Cmd) {
	r, at, err := m.request()
	if m.form = m.form.Faulted(at, err); err != nil {
		return m, nil, nil
	}
	m.busy = "The picture is being read; a large one takes some seconds."
	return m, nil, func() tea.Msg { return open(m.b, r) }
}

// open reads the picture and looks for the strips.
func open(b Backend, r request) (msg openedMsg) {
	msg.tablet, msg.channel = r.tablet, r.channel
	if msg.picture, msg.of, msg.err = b.OpenPicture(r.picture); msg.err != nil {
		return msg
	}
	if r.panel != "" {
		if msg.flat, _, msg.err = b.OpenPicture(r.panel); msg.err != nil {
			return msg
		}
	}
	msg.found = measure(msg.picture, scan.Options{Tablet: r.tablet, Flat: msg.flat})
	msg.small = msg.picture.Small(smallSide, msg.found.result.Tone)
	return msg
}

// smallSide is the longer side of what is shown, in pixels: a little more than a wide window has.
const smallSide = 300
