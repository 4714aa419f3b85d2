package doctor

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

// Prompter is somebody who can be asked.
type Prompter struct {
	In    io.Reader
	Out   io.Writer
	TTY   *os.File
	Width int
	left  bool // asked to end it all
}

// The times of a question.
const (
	answerLimit  = 2 * time.Minute        // after it nobody is there
	StrayKeyTime = 150 * time.Millisecond // what comes sooner was meant for what was before
)

// gone tells whether the person has left.
func (w *Prompter) gone() bool { return w != nil && w.left }

// key waits for a key and returns it as the screens name it; "" where none came. What
// was pasted is no key.
func (w *Prompter) key(limit time.Duration) string {
	if w.left {
		return ""
	}
	if was, err := term.MakeRaw(int(w.TTY.Fd())); err == nil { // where nothing is drawn, the library does not
		defer term.Restore(int(w.TTY.Fd()), was)
	}
	m := keyModel{limit: limit, began: time.Now()}
	end, err := tea.NewProgram(m, tea.WithInput(w.In), tea.WithOutput(io.Discard), tea.WithoutRenderer(),
		tea.WithoutSignalHandler()).Run()
	heard, ok := end.(keyModel)
	if w.left = ok && heard.key == "ctrl+c"; w.left || !ok || err != nil {
		return ""
	}
	return heard.key
}

// yes asks a question; answered is false where the person did not want to say.
func (w *Prompter) yes(question string) (yes, answered bool) {
	text := strings.TrimSuffix(hangingIndent("  ? ", question+" [y/n, enter to pass]", w.Width), "\n")
	fmt.Fprint(w.Out, "\n", text, " ")
	defer fmt.Fprint(w.Out, "\n\n")
	for {
		switch w.key(answerLimit) {
		case "y", "Y":
			fmt.Fprint(w.Out, "yes")
			return true, true
		case "n", "N":
			fmt.Fprint(w.Out, "no")
			return false, true
		case "enter", "esc", "":
			fmt.Fprint(w.Out, "-")
			return false, false
		}
	}
}

// judge asks a question: yes and no are what its answers come to.
func (w *Prompter) judge(question string, yes, no finding) finding {
	switch said, answered := w.yes(question); {
	case !answered:
		return finding{yes.Check, LevelCare, "not answered", askAdvice}
	case !said:
		return no
	}
	return yes
}

// say tells the person what comes next.
func (w *Prompter) say(text string) { fmt.Fprint(w.Out, "\n", hangingIndent("  ", text, w.Width)) }

// keyModel waits for one key.
type keyModel struct {
	limit time.Duration
	began time.Time
	key   string
}

type timeoutMsg struct{}

// Init starts the time.
func (l keyModel) Init() tea.Cmd {
	return tea.Tick(l.limit, func(time.Time) tea.Msg { return timeoutMsg{} })
}

// Update takes the first key that is no stray.
func (l keyModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case timeoutMsg:
		return l, tea.Quit
	case tea.KeyMsg:
		if msg.Paste || time.Since(l.began) < StrayKeyTime {
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
func (l keyModel) View() string { return "" }
