package bottles

// The clearing test: how long a scrap of film takes to clear in a fixer.

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
)

// stopwatch is the test of the chosen bottle.
type stopwatch struct {
	since time.Time
	shown time.Duration // since then, at the last look
}

func (w stopwatch) runs() bool { return !w.since.IsZero() }

// watchedMsg is a look at the stopwatch that began then.
type watchedMsg struct{ since time.Time }

// look comes back when the next second is over.
func (w stopwatch) look() tea.Cmd {
	since := w.since
	return tea.Tick(time.Second-w.shown%time.Second, func(time.Time) tea.Msg { return watchedMsg{since} })
}

// again is the time in which a key that starts the stopwatch is still the same touch.
const again = 2 * time.Second

const notClear = "Not clear after ten minutes: the fixer is spent, too weak or far too cold. Nothing was written down."

// begin starts the stopwatch.
func (m Model) begin() (Model, tea.Cmd) {
	m.asked = nothing
	m.b.SoundStopwatch(true)
	m.watch = stopwatch{since: m.env.Now()}
	return m, m.watch.look()
}

// stop ends the test, and has its time written down.
func (m Model) stop() (Model, screen.Action, tea.Cmd) {
	took := m.env.Now().Sub(m.watch.since)
	if took >= 0 && took < again {
		return m, nil, nil
	}
	m = m.unwatch()
	c := m.chosen()
	if c == nil {
		return m, nil, nil
	}
	if took <= 0 || took >= sequence.LongestClearing {
		return m, screen.Message{Text: notClear, Fault: true}, nil
	}
	b, name := m.b, c.Name
	m.busy = true
	return m, nil, m.do(func() error { return b.RecordClearing(name, took) }, "Written down: "+name+" clears in "+sequence.FormatElapsed(took)+".")
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
