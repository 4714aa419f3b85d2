package main

// The screens: the program with its terminal.

import (
	"os"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui"
	"example.org/wetside/tui/room"
)

// look is what the screens are opened on.
type look struct {
	aloud
	lead   time.Duration
	recipe string // "" for the list
	words  sequence.Words
	rehearsal
	takeUp string // a session; "" for none

	thermometer thermometer
}

// screens opens the screens, or, where there is no terminal for them, says what
// there is instead. What is wrong with the command line is said before anything is
// opened; the screens then run in a child of this process. In the child there may be
// darkness already: there it is heard that a session cannot be taken up.
func (p *program) screens(l look) error {
	if isWailing() {
		return p.wail(l.aloud)
	}
	colours := room.Colours(os.Getenv)
	tty, ok := p.terminal()
	if !ok || colours == 0 {
		if l.recipe != "" || l.takeUp != "" {
			return usage("the screens need a terminal with colours; expected --plain")
		}
		return p.greet()
	}
	if !isKept() {
		if err := p.mayOpen(l); err != nil {
			return err
		}
	}
	if n, err := findRecipe(l.recipe); err == nil {
		l.words = l.words.Or(n.words) // of a session that is done again
	}
	pipe, status := keep(os.Args[1:], func(id string) []string {
		return append([]string{"resume", id, "--sound", l.sound, "--voice", string(l.voice)}, p.habitWords()...)
	}, l.audible(), p.settings.Big)
	if pipe == nil {
		return ended(status)
	}
	guard := room.NewGuard(tty)
	pipe.Begin(guard)
	h := newHost(p, l, pipe, guard)
	err := p.showWhat(l, h, colours)
	if err != nil {
		pipe.Say(err.Error())
	}
	h.close()
	pipe.End(guard, func(a account) func() { return p.bewail(l.aloud, a) }) // not deferred: a panic does not say goodbye
	if err != nil {
		return errFound
	}
	return nil
}

// showWhat opens the screens on what was asked for.
func (p *program) showWhat(l look, h *host, colours int) error {
	guard := h.guard
	m, err := tui.New(tui.Options{Host: h, Now: time.Now, Colours: colours, Lead: l.lead, Start: l.recipe,
		Words: l.words, TakeUp: l.takeUp, Rehearse: l.factor, Moves: l.moves, DarkToo: l.dark, Dark: guard.Light() == sequence.Dark && l.takeUp != "",
		Unproven: !guard.Confirmed(), Usual: p.own(sequence.Words{}), White: p.settings.White,
		Big: p.settings.Big, Menu: p.settings.Menu, Speed: p.settings.Speed}).Opened()
	if err != nil {
		return err
	}
	return p.show(m, h)
}

// ended is the exit status of the child as an error.
func ended(status int) error {
	if status == fine {
		return nil
	}
	return errFound
}

// mayOpen finds what is wrong with the words before the terminal is touched.
func (p *program) mayOpen(l look) error {
	if l.takeUp != "" {
		_, err := resumable(journal.Default(), l.takeUp)
		return err
	}
	if l.recipe == "" {
		return nil
	}
	_, err := p.resolve(l.recipe, l.words)
	return err
}

// show runs the screens until they are left, a signal ends them, or the session is
// gone. Screens whose terminal has vanished never end by themselves; they stay for
// as long as the session that they were showing.
func (p *program) show(m tui.Model, h *host) error {
	h.keys.take()
	defer h.keys.give()
	program := tea.NewProgram(drawnOn(h.guard, m), tea.WithoutRenderer(), tea.WithInput(os.Stdin), tea.WithOutput(h.guard),
		tea.WithoutSignalHandler(), tea.WithoutCatchPanics())
	done := make(chan error, 1)
	go func() {
		_, err := program.Run()
		done <- err
	}()
	changed, stop := resized()
	defer stop()
	ending, vanished := p.stop(), hangups()
	var over <-chan struct{}
	for {
		select {
		case err := <-done:
			return err
		case <-changed:
			if w, hh, err := term.GetSize(int(h.guard.Fd())); err == nil {
				go program.Send(tea.WindowSizeMsg{Width: w, Height: hh})
			}
		case sig := <-ending:
			if sig != os.Interrupt || !h.editing.Load() { // a key of the editor's
				go program.Quit()
			}
		case <-h.gone:
			return leave(program, done)
		case <-vanished:
			vanished, over = nil, h.sessionOver()
		case <-over:
			return leave(program, done)
		}
	}
}

// leaving is how long the screens are given to end by themselves.
const leaving = 2 * time.Second

// leave ends screens that may not be able to end.
func leave(program *tea.Program, done <-chan error) error {
	go program.Quit()
	select {
	case err := <-done:
		return err
	case <-time.After(leaving):
		return nil
	}
}

// terminal is the terminal to draw on; false where in or output is none.
func (p *program) terminal() (*os.File, bool) {
	out, ok := p.out.(*os.File)
	in, inOK := p.in.(*os.File)
	if !ok || !inOK || !term.IsTerminal(int(out.Fd())) || !term.IsTerminal(int(in.Fd())) {
		return nil, false
	}
	return out, true
}
