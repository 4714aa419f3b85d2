//go:build unix

package main

// A program with screens of the worst kind, for the tests of supervisor and guard: it
// draws lit cells whatever the light, resets colours, rings the bell, and dies in
// many ways. The test program becomes it, or wetside itself, by an environment
// variable, since the supervisor runs its own program again.

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// The variables.
const (
	probeAs     = "WETSIDE_TEST_AS"     // "probe", "holder" or "wetside"
	probeFolder = "WETSIDE_TEST_FOLDER" // where it leaves its number and its light
	probeHas    = "WETSIDE_TEST_SESSION"
	probeFault  = "WETSIDE_TEST_FAULT"          // a file that says where wetside panics
	probeWindow = "WETSIDE_TEST_RESTART_WINDOW" // the supervisor's, where it is not to be endless
	probeLamps  = "WETSIDE_TEST_LAMPS"          // a folder of lamps instead of the computer's own
)

func init() {
	if root := os.Getenv(probeLamps); root != "" {
		app.LampsFolder = root
	}
	if os.Getenv(probeAs) != "" {
		supervisor.RestartWindow = 24 * time.Hour // no machine is so slow that what a test does takes longer
		if d, err := time.ParseDuration(os.Getenv(probeWindow)); err == nil {
			supervisor.RestartWindow = d
		}
	}
	switch os.Getenv(probeAs) {
	case "probe":
		os.Exit(probeMain())
	case "holder":
		os.Exit(holderMain(os.Args[1]))
	case "wetside":
		if file := os.Getenv(probeFault); file != "" {
			os.Exit(cli.Run(faulty(file), os.Args[1:]))
		}
		main()
	}
}

func probeMain() int {
	pipe, status := supervisor.Start(os.Args[1:], func(id string) []string { return []string{"resume", id} },
		false, []string{" "})
	if pipe == nil {
		return status
	}
	g := light.NewGuard(os.Stdout)
	pipe.Begin(g)
	pipe.Say("said by the\x1b[7m probe")
	m := probeModel{pipe: pipe, guard: g, light: g.Light(), glow: room.NewBacklight(app.LampsFolder, pipe.DarkLamps, pipe.Lamps)}
	if id := os.Getenv(probeHas); id != "" {
		pipe.Session(id)
	}
	program := tea.NewProgram(drawnProbe{m}, tea.WithoutRenderer(), tea.WithInput(strings.NewReader("")), tea.WithOutput(g),
		tea.WithoutSignalHandler(), tea.WithoutCatchPanics())
	go func() {
		<-app.EndSignals()
		program.Quit()
	}()
	m.note("started", strings.Join(os.Args[1:], " "))
	keys := backend.Keyboard{In: os.Stdin}
	keys.Raw()
	keys.Tell(program.Send)
	go func() {
		if alone := pipe.Alone(); alone != nil {
			<-alone
			keys.Again()
			g.SetLight(g.Light())
		}
	}()
	go m.tellSizes(program)
	if _, err := program.Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	keys.Restore()
	m.glow.Close()
	pipe.End(g, func(supervisor.ChildState) func() { return func() {} })
	return 0
}

// holderMain takes a session as soon as nobody has it, and lets nobody else have it
// until its input ends.
func holderMain(id string) int {
	for {
		w, _, err := journal.Default().TakeUp(id)
		if err == nil {
			fmt.Println("held")
			io.Copy(io.Discard, os.Stdin)
			w.Close()
			return 0
		}
		time.Sleep(time.Millisecond)
	}
}

type probeModel struct {
	pipe  *supervisor.Pipe
	guard *light.Guard
	glow  *room.Backlight
	light light.Light
	w, h  int
	n     int
}

// drawnProbe draws the probe's view after each message, as the screens are drawn.
type drawnProbe struct{ probeModel }

func (d drawnProbe) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := d.probeModel.Update(msg)
	d.probeModel = next.(probeModel)
	d.guard.Show(d.View())
	return d, cmd
}

// tellSizes tells the program the terminal's size, at first and whenever it changes: without
// a renderer bubbletea does not.
func (m probeModel) tellSizes(program *tea.Program) {
	changed, _ := supervisor.WatchResize()
	for {
		if w, h, err := term.GetSize(int(m.guard.Fd())); err == nil {
			program.Send(tea.WindowSizeMsg{Width: w, Height: h})
		}
		<-changed
	}
}

type probeTick struct{}

func (m probeModel) Init() tea.Cmd { return m.tick() }

func (m probeModel) tick() tea.Cmd {
	return tea.Tick(30*time.Millisecond, func(time.Time) tea.Msg { return probeTick{} })
}

// note leaves word for the test: this process, and what it did last.
func (m probeModel) note(words ...string) {
	name := filepath.Join(os.Getenv(probeFolder), "note")
	os.WriteFile(name+".new", fmt.Appendf(nil, "%d %s", os.Getpid(), strings.Join(words, " ")), 0o600)
	os.Rename(name+".new", name)
}

func (m probeModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
		return m, tea.ClearScreen
	case probeTick:
		m.n++
		return m, m.tick()
	case tea.KeyMsg:
		if msg.Paste {
			return m, nil
		}
		switch msg.String() {
		case "D":
			return m.turn(light.Dark)
		case "L":
			return m.turn(light.Safelight)
		case "W":
			return m.turn(light.White)
		case "Q":
			return m, tea.Quit
		case "P":
			go func() { panic("in a goroutine") }()
		case "U":
			panic("in Update")
		case "C":
			return m, func() tea.Msg { panic("in a command") }
		case "V":
			m.n = -1 << 40
		}
	}
	return m, nil
}

func (m probeModel) turn(l light.Light) (tea.Model, tea.Cmd) {
	m.light = l
	m.pipe.Light(l)
	m.guard.SetLight(l)
	m.glow.Dark(l == light.Dark)
	m.note("light", l.String())
	return m, tea.ClearScreen
}

// View draws lit cells, in the dark too: there the guard must hold alone.
func (m probeModel) View() string {
	styles := []string{"\x1b[38;5;196;48;5;16m", "\x1b[0m", "\x1b[7m", "\x1b[97;107m", "\x1b[38;5;52;48;5;16m", "\x1b[m\a", "\x1b[?25h"}
	lines := make([]string, max(1, m.h))
	for y := range lines {
		if m.n < 0 {
			panic("in View")
		}
		style := styles[(y+m.n)%len(styles)]
		lines[y] = style + strings.Repeat("#", max(1, m.w-y%3)) + "\x1b[0m"
	}
	return strings.Join(lines, "\n")
}
