// Package screens opens the screens on a terminal: the supervisor's child, the guard before the
// terminal, bubbletea, and the end of all that.
//
// Start with Open. What is on the screens is in tui and the packages of tui/screen.
package screens

// The screens: the program with its terminal.

import (
	"errors"
	"os"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// Open opens the screens, or, where there is no terminal for them, says what
// there is instead. What is wrong with the command line is said before anything is
// opened; the screens then run in a child of this process. In the child there may be
// darkness already: there it is heard that a session cannot be taken up.
func Open(p *app.Env, l backend.ScreenOptions) error {
	if supervisor.IsHandler() {
		supervisor.HandBack()
		return nil
	}
	if supervisor.IsAnnouncer() {
		return supervisor.RunAnnouncer(p, l.SoundOptions)
	}
	profile := light.ProfileOf(os.Getenv)
	tty, ok := p.Terminal()
	if !ok || profile == light.NoColours {
		if l.Recipe != "" || l.TakeUp != "" {
			return app.Usagef("the screens need a terminal with colours; expected --plain")
		}
		return printWelcome(p)
	}
	if !light.Obeys(tty) {
		return errors.New("this console does not obey escape sequences, so it could not be made black; expected Windows Terminal, the console of Windows 10 or later, or --plain")
	}
	if !app.IsSupervised() {
		if err := checkOptions(p, l); err != nil {
			return err
		}
	}
	if n, err := app.FindRecipe(l.Recipe); err == nil {
		l.Conditions = l.Conditions.Or(n.Conditions) // of a session that is done again
	}
	pipe, status := supervisor.Start(os.Args[1:], func(id string) []string {
		return slices.Concat([]string{"resume", id, "--sound", l.Sink, "--voice", string(l.Voice)}, l.Thermometer.Args(), p.UnitArgs())
	}, l.Audible(), p.Settings.BigKeys)
	switch {
	case pipe == nil && status == app.ExitOK:
		return nil
	case pipe == nil:
		return app.ErrReported
	}
	guard := light.NewGuard(tty)
	if g := p.Settings.Glyphs; g == "plain" || g == "full" {
		guard.PlainGlyphs(g == "plain")
	}
	pipe.Begin(guard)
	h := backend.New(p, l, pipe, guard)
	err := openModel(p, l, h, guard, pipe)
	if err != nil {
		pipe.Say(err.Error())
	}
	h.Close()
	pipe.End(guard, func(a supervisor.ChildState) func() { return supervisor.AnnounceLost(p, l.SoundOptions, a) }) // not deferred: a panic does not say goodbye
	if err != nil {
		return app.ErrReported
	}
	return nil
}

// openModel opens the screens on what was asked for.
func openModel(p *app.Env, l backend.ScreenOptions, h backend.Backend, guard *light.Guard, pipe *supervisor.Pipe) error {
	defaults := p.WithSettings(sequence.RawConditions{})
	m, err := tui.New(tui.Options{
		Env: screen.Env{Now: time.Now, Defaults: defaults, Depth: depthOf(light.ProfileOf(os.Getenv)), RedDesk: p.Settings.RedDesk, Keys: screen.Keys{Big: p.Settings.BigKeys, Menu: p.Settings.MenuKeys},
			Countdown: l.Countdown, Rehearsal: screen.Rehearsal{Speed: l.Factor, SkipQuiet: l.MovesOnly, Dark: l.InDark},
			DefaultSpeed: p.Settings.RehearsalSpeed, BlackUnconfirmed: !guard.BlackConfirmed(),
			Around: guard.Around(), HidesLine: h.HidesLine(), OverSSH: room.OverSSH(os.Getenv)},
		Backend: h, Start: l.Recipe, Conditions: l.Conditions, Resume: l.TakeUp,
		Dark: guard.Light() == light.Dark && l.TakeUp != "", Red: p.Settings.RedDesk})
	if err != nil {
		return err
	}
	return runProgram(p, m, h, guard, pipe)
}

// checkOptions finds what is wrong with the words before the terminal is touched.
func checkOptions(p *app.Env, l backend.ScreenOptions) error {
	if l.TakeUp != "" {
		_, err := running.ReadResumable(journal.Default(), l.TakeUp)
		return err
	}
	if l.Recipe == "" {
		return nil
	}
	_, err := p.ResolvePlan(l.Recipe, l.Conditions)
	return err
}

// runProgram runs the screens until they are left, a signal ends them, or the session is
// gone. Screens whose terminal has vanished never end by themselves; they stay for
// as long as the session that they were showing.
func runProgram(p *app.Env, m tui.Model, h backend.Backend, guard *light.Guard, pipe *supervisor.Pipe) error {
	h.Keys.Raw()
	defer h.Keys.Restore()
	program := tea.NewProgram(drawOn(guard, m), tea.WithoutRenderer(), tea.WithInput(strings.NewReader("")), tea.WithOutput(guard),
		tea.WithoutSignalHandler(), tea.WithoutCatchPanics())
	lost := h.Keys.Tell(program.Send)
	done := make(chan error, 1)
	go func() {
		_, err := program.Run()
		done <- err
	}()
	changed, stop := supervisor.WatchResize()
	defer stop()
	ending, vanished := p.Signals(), app.Hangups()
	var over <-chan struct{}
	alone := pipe.Alone()
	for {
		select {
		case err := <-done:
			return err
		case <-changed:
			if w, hh, err := term.GetSize(int(guard.Fd())); err == nil {
				go program.Send(tea.WindowSizeMsg{Width: w, Height: hh})
			}
		case sig := <-ending:
			if sig != os.Interrupt || !h.Editing.Load() { // a key of the editor's
				go program.Quit()
			}
		case <-alone:
			alone = nil
			h.Keys.Again()
			guard.SetLight(guard.Light())
			go program.Send(tea.ClearScreen())
		case <-h.HandedOver:
			return quitWithin(program, done)
		case <-vanished:
			vanished, over = nil, h.SessionOver()
		case <-lost:
			lost, over = nil, h.SessionOver()
		case <-over:
			return quitWithin(program, done)
		}
	}
}

// quitLimit is how long the screens are given to end by themselves.
const quitLimit = 2 * time.Second

// quitWithin ends screens that may not be able to end.
func quitWithin(program *tea.Program, done <-chan error) error {
	go program.Quit()
	select {
	case err := <-done:
		return err
	case <-time.After(quitLimit):
		return nil
	}
}

// depthOf is how pictures are drawn on a terminal.
func depthOf(profile light.Profile) widget.Depth {
	switch profile {
	case light.FullColour:
		return widget.Colours
	case light.TwoFiftySix:
		return widget.Greys
	}
	return widget.Shades
}
