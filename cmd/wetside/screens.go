package main

// The screens: the program with its terminal.

import (
	"os"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/sequence"
	"example.org/wetside/tui"
)

// look is what the screens are opened on.
type look struct {
	sound    string
	lead     time.Duration
	recipe   string // "" for the list
	words    sequence.Words
	rehearse float64 // 0 for no rehearsal
	takeUp   string  // a session; "" for none

	thermometer thermometer
}

// framesPerSecond bounds bubbletea's renderer; the screens redraw once a second.
const framesPerSecond = 10

// screens opens the screens, or, where there is no terminal for them, says what
// there is instead.
func (p *program) screens(l look) error {
	tty, ok := p.terminal()
	if !ok {
		if l.recipe != "" || l.takeUp != "" {
			return usage("the screens need a terminal with colours; expected --plain")
		}
		return p.greet()
	}
	h := newHost(p, l)
	defer h.close()
	m, err := tui.New(tui.Options{Host: h, Now: time.Now, Colours: colours(), Lead: l.lead, Start: l.recipe,
		Words: l.words, TakeUp: l.takeUp, Rehearse: l.rehearse}).Opened()
	if err != nil {
		return err
	}
	program := tea.NewProgram(m, tea.WithAltScreen(), tea.WithFPS(framesPerSecond), tea.WithInput(tty), tea.WithOutput(tty),
		tea.WithoutSignalHandler())
	go func() {
		<-p.stop()
		program.Quit()
	}()
	_, err = program.Run()
	return err
}

// terminal is the terminal to draw on; false where the output is none, or one
// without colours.
func (p *program) terminal() (*os.File, bool) {
	out, ok := p.out.(*os.File)
	in, inOK := p.in.(*os.File)
	if !ok || !inOK || !term.IsTerminal(int(out.Fd())) || !term.IsTerminal(int(in.Fd())) {
		return nil, false
	}
	kind := os.Getenv("TERM")
	return out, kind != "dumb" && kind != ""
}

// colours is how many colours the terminal is believed to have. NO_COLOR is not
// heeded: red on black is a matter of safety here.
func colours() int {
	if os.Getenv("COLORTERM") != "" || strings.Contains(os.Getenv("TERM"), "256color") {
		return 256
	}
	return 16
}
