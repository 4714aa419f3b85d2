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
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/screen"

	"example.org/wetside/sequence/densities"
)

// The fields.
const (
	fieldFolder = iota
	fieldPicture
	fieldPanel
	fieldTablet
	fieldSteps
	fieldStep
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
	equalSteps = "equal steps"
)

func newForm() form.Form {
	return form.Form{At: fieldPicture, Fields: []form.Field{
		{Label: "folder", Usual: "where wetside was started", Means: "The folder in which the pictures lie: enter, type it, enter."},
		{Label: "picture", Choices: []string{noPictures}, Means: "The negatives beside a step tablet, on a light panel or a scanner: PNG, TIFF or JPEG. \"wetside help scan\" tells how to take it."},
		{Label: "panel alone", Choices: []string{noPanel}, Means: "The same picture without film: it divides out uneven light. Without it, what shows of the panel about the strips does."},
		{Label: "tablet", Choices: []string{equalSteps}, Means: "A calibrated tablet: a CSV in the folder with a column called tablet, or one that is kept beside the readings. Else equal steps, whose real densities may differ by 0.02."},
		{Label: "steps", Text: strconv.Itoa(curve.DefaultSteps), Means: "How many steps a tablet of equal steps has."},
		{Label: "step", Text: fmt.Sprint(curve.DefaultStep), Means: "Density from step to step, usually 0.15."},
		{Label: "film", Usual: "not named", Means: "The film's name, as in its recipe."},
		{Label: "times", Usual: "given on the picture", Means: "Developing times of the strips, such as 5m 7m 9m30s 13m, from left to right or from top to bottom."},
		{Label: "channel", Choices: []string{"visual", "blue", "green", "red"}, Means: "Stained negatives are read in blue for graded paper."},
		{Label: "Read the picture", Do: true, Means: "Tablet and strips are looked for; then they are shown, and can be moved."},
	}}
}

// listed offers what lies in the folder; what was chosen stays where it is there.
func (m Model) listed(folder densities.PictureFolder) Model {
	m.folder = folder
	m.form.Fields = slices.Clone(m.form.Fields)
	offer := func(i int, first []string, list []string) {
		f := &m.form.Fields[i]
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
	offer(fieldTablet, []string{equalSteps}, tablets)
	if folder.Err != nil {
		m.form.Fields[fieldFolder].Fault = folder.Err.Error()
	}
	return m
}

// asking is a key in the form.
func (m Model) asking(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	if !m.form.Typing() && k.String() == "q" {
		return m, screen.Quit{}, nil
	}
	var event form.Event
	m.form, event = m.form.Update(k)
	switch {
	case event == form.Left:
		return m, screen.Back{}, nil
	case event == form.Changed && m.form.At == fieldFolder:
		return m, nil, m.list(m.form.Fields[fieldFolder].Value())
	case event == form.Done && m.busy == "":
		return m.begin()
	}
	return m, nil, nil
}

// begin reads the picture, or says at its field what is missing.
func (m Model) begin() (screen.Screen, screen.Action, tea.Cmd) {
	for i := range m.form.Fields {
		m.form.Fields[i].Fault = ""
	}
	at, err := m.check()
	if err != nil {
		m.form.Fields[at].Fault, m.form.At = err.Error(), at
		return m, nil, nil
	}
	tablet, at, err := m.chosenTablet()
	if err != nil {
		m.form.Fields[at].Fault, m.form.At = err.Error(), at
		return m, nil, nil
	}
	f := m.form.Fields
	panel := ""
	if f[fieldPanel].Chosen > 0 {
		panel = filepath.Join(m.folder.Path, f[fieldPanel].Value())
	}
	picture := filepath.Join(m.folder.Path, f[fieldPicture].Value())
	m.busy = "The picture is being read; a large one takes some seconds."
	b, channel := m.b, channels[f[fieldChannel].Chosen]
	return m, nil, func() tea.Msg { return open(b, picture, panel, tablet, channel) }
}

// open reads the picture and looks for the strips.
func open(b Backend, picture, panel string, tablet []float64, channel scan.Channel) (msg openedMsg) {
	msg.tablet, msg.channel = tablet, channel
	if msg.picture, msg.of, msg.err = b.OpenPicture(picture); msg.err != nil {
		return msg
	}
	if panel != "" {
		if msg.flat, _, msg.err = b.OpenPicture(panel); msg.err != nil {
			return msg
		}
	}
	msg.found = measure(msg.picture, scan.Options{Tablet: tablet, Flat: msg.flat})
	msg.small = msg.picture.Small(smallSide, msg.found.result.Tone)
	return msg
}

// smallSide is the longer side of what is shown, in pixels: a little more than a wide window has.
const smallSide = 300

// check is which field wants something.
func (m Model) check() (at int, err error) {
	f := m.form.Fields
	if len(m.folder.Pictures) == 0 {
		return fieldFolder, fmt.Errorf("no PNG, TIFF or JPEG lies there; enter, and type another folder")
	}
	if text := f[fieldTimes].Value(); text != "" {
		if _, err := curve.ParseTimes(text); err != nil {
			return fieldTimes, err
		}
	}
	return 0, nil
}

// times are the developing times that were typed.
func (m Model) times() []time.Duration {
	list, _ := curve.ParseTimes(m.form.Fields[fieldTimes].Value())
	return list
}

// chosenTablet is the tablet's densities, rising; with an error the field that it is of.
func (m Model) chosenTablet() (tablet []float64, at int, err error) {
	f := m.form.Fields
	if i := f[fieldTablet].Chosen; i > 0 {
		for _, d := range m.folder.Tablets[i-1].Steps {
			tablet = append(tablet, float64(d))
		}
		if n := len(tablet); n > 1 && tablet[0] > tablet[n-1] {
			slices.Reverse(tablet)
		}
		return tablet, fieldTablet, nil
	}
	n, err := strconv.Atoi(f[fieldSteps].Value())
	if err != nil {
		return nil, fieldSteps, fmt.Errorf("%q is no number; expected how many, such as 21", f[fieldSteps].Value())
	}
	step, err := form.Number(f[fieldStep].Value(), "a density such as 0.15")
	if err != nil {
		return nil, fieldStep, err
	}
	tablet, err = curve.NominalTablet(n, step)
	return tablet, fieldSteps, err
}
