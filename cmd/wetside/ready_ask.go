package main

// The person before the terminal, asked by wetside ready: one key for an answer.

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"
)

// person is somebody who can be asked.
type person struct {
	in    io.Reader
	out   io.Writer
	tty   *os.File
	width int
	left  bool // asked to end it all
}

// The times of a question.
const (
	answerTime = 2 * time.Minute        // after it nobody is there
	stray      = 150 * time.Millisecond // what comes sooner was meant for what was before
)

// gone tells whether the person has left.
func (w *person) gone() bool { return w != nil && w.left }

// key waits for a key and returns it as the screens name it; "" where none came. What
// was pasted is no key.
func (w *person) key(limit time.Duration) string {
	if w.left {
		return ""
	}
	if was, err := term.MakeRaw(int(w.tty.Fd())); err == nil { // where nothing is drawn, the library does not
		defer term.Restore(int(w.tty.Fd()), was)
	}
	m := listening{limit: limit, began: time.Now()}
	end, err := tea.NewProgram(m, tea.WithInput(w.in), tea.WithOutput(io.Discard), tea.WithoutRenderer(),
		tea.WithoutSignalHandler()).Run()
	heard, ok := end.(listening)
	if w.left = ok && heard.key == "ctrl+c"; w.left || !ok || err != nil {
		return ""
	}
	return heard.key
}

// yes asks a question; answered is false where the person did not want to say.
func (w *person) yes(question string) (yes, answered bool) {
	text := strings.TrimSuffix(hanging("  ? ", question+" [y/n, enter to pass]", w.width), "\n")
	fmt.Fprint(w.out, "\n", text, " ")
	defer fmt.Fprint(w.out, "\n\n")
	for {
		switch w.key(answerTime) {
		case "y", "Y":
			fmt.Fprint(w.out, "yes")
			return true, true
		case "n", "N":
			fmt.Fprint(w.out, "no")
			return false, true
		case "enter", "esc", "":
			fmt.Fprint(w.out, "-")
			return false, false
		}
	}
}

// say tells the person what comes next.
func (w *person) say(text string) { fmt.Fprint(w.out, "\n", hanging("  ", text, w.width)) }

// listening waits for one key.
type listening struct {
	limit time.Duration
	began time.Time
	key   string
}

type nobodyMsg struct{}

// Init starts the time.
func (l listening) Init() tea.Cmd {
	return tea.Tick(l.limit, func(time.Time) tea.Msg { return nobodyMsg{} })
}

// Update takes the first key that is no stray.
func (l listening) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case nobodyMsg:
		return l, tea.Quit
	case tea.KeyMsg:
		if msg.Paste || time.Since(l.began) < stray {
			return l, nil
		}
		if l.key = msg.String(); msg.Type == tea.KeyRunes && len(msg.Runes) > 1 {
			l.key = string(msg.Runes[:1]) // several came in one read
		}
		return l, tea.Quit
	}
	return l, nil
}

// View shows nothing: the question stands on the terminal already.
func (l listening) View() string { return "" }
