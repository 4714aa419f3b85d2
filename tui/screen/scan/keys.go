package scan

// The keys on the picture: strips chosen and moved, doubts answered, times given, all of it kept.

import (
	"fmt"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

func (m Model) key(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch name := k.String(); name {
	case "esc":
		m.look = look{}
	case "q":
		return m, screen.Quit{}, nil
	case "tab":
		m.at = (m.at + 1) % len(m.marks)
	case "shift+tab":
		m.at = (m.at + len(m.marks) - 1) % len(m.marks)
	case "e":
		m.part = (m.part + 1) % (lastEnd + 1)
	case "left":
		return m.moved(-1, 0)
	case "right":
		return m.moved(1, 0)
	case "up":
		return m.moved(0, -1)
	case "down":
		return m.moved(0, 1)
	case "t":
		return m.askTime()
	case "k", "x":
		return m.answer(name == "k")
	case "n":
		return m.added()
	case "d":
		return m.dropped()
	case "enter":
		return m.accept()
	}
	return m, nil, nil
}

// moved moves the strip, or one end of it, by so many parts of a step, and has it read anew.
func (m Model) moved(dx, dy float64) (screen.Screen, screen.Action, tea.Cmd) {
	to, ok := m.shifted(dx, dy)
	if !ok {
		return m, screen.Message{Text: "That is the edge of the picture."}, nil
	}
	m.look = to
	return m.reads(nil)
}

// added lays another strip beneath the chosen one, to be moved.
func (m Model) added() (screen.Screen, screen.Action, tea.Cmd) {
	m.look = m.another()
	return m.reads(screen.Message{Text: "A new outline: the arrows move it onto its strip."})
}

// dropped leaves a strip out.
func (m Model) dropped() (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.at == 0:
		return m, screen.Message{Text: "The tablet stays: all densities are read by it."}, nil
	case len(m.marks) == 2:
		return m, screen.Message{Text: "This is the only strip."}, nil
	}
	m.look = m.without()
	return m.reads(nil)
}

// askTime opens a place for the developing time of the chosen strip.
func (m Model) askTime() (screen.Screen, screen.Action, tea.Cmd) {
	if m.at == 0 {
		return m, screen.Message{Text: "The tablet was not developed: tab chooses a strip."}, nil
	}
	text := ""
	if t := m.marks[m.at].time; t > 0 {
		text = chem.FormatDuration(t)
	}
	m.typing = widget.NewPrompt("developed for", "", text).Hint("7m30s")
	return m, nil, nil
}

// typed is a key while a developing time is typed.
func (m Model) typed(k tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch k.String() {
	case "esc":
		m.typing = nil
	case "enter":
		text := m.typing.Value()
		d, err := chem.ParseDuration(text)
		if err == nil && d <= 0 {
			err = fmt.Errorf("%q; expected a time such as 7m30s", text)
		}
		if err != nil {
			m.typing = m.typing.Faulted(err.Error())
			return m, nil, nil
		}
		one := m.marks[m.at]
		one.time = d
		m.look, m.typing = m.changed(one), nil
	default:
		m.typing = m.typing.Typed(k)
	}
	return m, nil, nil
}

// answer keeps the doubtful step that is asked about, or leaves it out.
func (m Model) answer(keep bool) (screen.Screen, screen.Action, tea.Cmd) {
	k := m.doubtful(m.at)
	if k < 0 {
		return m, screen.Message{Text: "No step of this strip is asked about."}, nil
	}
	one := m.marks[m.at]
	one.answers = append(slices.Clone(one.answers), answer{k, keep})
	m.look = m.changed(one)
	return m, nil, nil
}

// accept keeps the readings, once all that is doubtful was asked about.
func (m Model) accept() (screen.Screen, screen.Action, tea.Cmd) {
	switch {
	case m.busy != "":
		return m, screen.Message{Text: m.busy}, nil
	case m.result == nil:
		return m, screen.Message{Text: m.fault, Fault: true}, nil
	}
	for i := 1; i < len(m.marks); i++ {
		if k := m.doubtful(i); k >= 0 {
			m.at = i
			return m, screen.Message{Text: fmt.Sprintf("Strip %d, step %d: dust, a scratch or an edge in it. k keeps it, x leaves it out.", i, k+1)}, nil
		}
	}
	for i := 1; i < len(m.marks); i++ {
		if m.marks[i].time == 0 {
			m.at = i
			return m.askTime()
		}
	}
	for i := 1; i < len(m.marks); i++ {
		if m.marks[i].at.Unsure && !m.sure {
			m.at, m.sure = i, true
			return m, screen.Message{Text: fmt.Sprintf("Strip %d may lie one step too far along: look at its ends. enter again takes it so.", i)}, nil
		}
	}
	session, sheets, err := m.developed()
	if err != nil {
		return m, screen.Message{Text: err.Error() + ". t gives a strip another time.", Fault: true}, nil
	}
	m.busy = "The readings are being kept."
	return m, nil, m.keep(session, sheets)
}

// developed is which sheet each strip is, and how long that was developed.
func (m Model) developed() (session string, sheets []notebook.SheetDevelopment, err error) {
	var times []time.Duration
	for _, one := range m.marks[1:] {
		times = append(times, one.time)
	}
	return m.sessions.Sheets(m.form, times)
}

// keep has the readings on the disk.
func (m Model) keep(session string, sheets []notebook.SheetDevelopment) tea.Cmd {
	film := m.form.Fields[fieldFilm].Value()
	p := densities.PictureReadings{Pictures: []densities.ReadPicture{{Of: m.of, Result: m.answered()}}, Tablet: m.tablet, Film: film, Session: session,
		Sheets: sheets, Channel: m.channel, Day: m.env.Now()}
	return func() tea.Msg {
		r, left := p.Readings()
		name := m.b.NameDensities(film)
		err := m.b.KeepDensities(name, &r)
		return keptMsg{densities.ReadingsFile{Name: name, Readings: r}, left, err}
	}
}

// kept goes on to the readings.
func (m Model) kept(msg keptMsg) (screen.Screen, screen.Action, tea.Cmd) {
	m.busy = ""
	if msg.err != nil {
		return m, screen.Message{Text: "Not kept: " + msg.err.Error(), Fault: true}, nil
	}
	text := "Kept, with the picture's name. c shows the curves."
	if msg.left > 0 {
		text = fmt.Sprintf("Kept; %s without a density. c shows the curves.", say.Count(msg.left, "step"))
	}
	m.result = nil
	return m, screen.Several{screen.Back{}, screen.OpenReading{File: msg.file}, screen.Message{Text: text}}, nil
}
