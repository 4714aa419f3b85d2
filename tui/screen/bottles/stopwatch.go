package bottles

// The clearing test: how long a scrap of film takes to clear in a fixer.

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// stopwatch is the test of the chosen bottle.
type stopwatch struct {
	since time.Time
	shown time.Duration // since then, at the last look
}

func (sw stopwatch) runs() bool { return !sw.since.IsZero() }

// watchedMsg is a look at the stopwatch that began then.
type watchedMsg struct{ since time.Time }

// look comes back when the next second is over.
func (sw stopwatch) look() tea.Cmd {
	since := sw.since
	return tea.Tick(time.Second-sw.shown%time.Second, func(time.Time) tea.Msg { return watchedMsg{since} })
}

// again is the time in which a key that starts the stopwatch is still the same touch.
const again = 2 * time.Second

const notClear = "Not clear after ten minutes: the fixer is spent, too weak or far too cold. Nothing was written down."

// begin starts the stopwatch.
func (m Model) begin() (screen.Screen, screen.Action, tea.Cmd) {
	m.asked = nothing
	m.b.SoundStopwatch(true)
	m.watch = stopwatch{since: m.env.Now()}
	return m, nil, m.watch.look()
}

// stop ends the test, and has its time written down.
func (m Model) stop() (Model, screen.Action, tea.Cmd) {
	took := m.env.Now().Sub(m.watch.since)
	if took >= 0 && took < again {
		return m, nil, nil
	}
	m = m.unwatch()
	c := m.list.chosen()
	if c == nil {
		return m, nil, nil
	}
	if took <= 0 || took >= sequence.LongestClearing {
		return m, screen.Message{Text: notClear, Fault: true}, nil
	}
	name := c.Name
	m.busy = true
	return m, nil, m.do(func() error { return m.b.RecordClearing(name, took) },
		"Written down: "+name+" clears in "+sequence.FormatElapsed(took)+".")
}

// unwatch stops the stopwatch.
func (m Model) unwatch() Model {
	if m.watch.runs() {
		m.b.SoundStopwatch(false)
	}
	m.watch = stopwatch{}
	return m
}

// looked shows the time, and gives up where it makes no sense to go on.
func (m Model) looked(msg watchedMsg) (Model, screen.Action, tea.Cmd) {
	if msg.since != m.watch.since || !m.watch.runs() {
		return m, nil, nil
	}
	m.watch.shown = max(0, m.env.Now().Sub(m.watch.since))
	if m.watch.shown >= sequence.LongestClearing {
		return m.unwatch(), screen.Message{Text: notClear, Fault: true}, nil
	}
	return m, nil, m.watch.look()
}

// view is the stopwatch while it runs, for a bottle.
func (sw stopwatch) view(c *bottles.Bottle, w, h int) string {
	head := ""
	if c != nil {
		head = style.Heading(widget.Truncate("Clearing in "+safetext.Clean(c.Name)+": enter when nothing milky is left", w))
	}
	digits := widget.BigDigits{Text: sequence.FormatElapsed(sw.shown.Truncate(time.Second)), Width: w, Height: max(1, min(h-4, 9)), Ink: style.Strong}
	rows := []string{head, "", digits.View()}
	if c != nil && c.FreshClearing > 0 {
		rows = append(rows, "", style.Value(widget.Truncate("spent from "+sequence.FormatElapsed(2*c.FreshClearing)+" ("+sequence.FormatElapsed(c.FreshClearing)+" when fresh)", w)))
	}
	return widget.CutRows(strings.Join(rows, "\n"), h)
}
