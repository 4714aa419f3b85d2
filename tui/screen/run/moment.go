package run

// The session as it was last looked at: all that is drawn comes of it.

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/widget"
)

// moment is what a session tells of itself at one.
type moment struct {
	plan   *sequence.Plan
	units  sequence.Units
	look   engine.Snapshot
	events []sequence.Event // as far as they are shown; nil in the dark
	lit    bool             // a rehearsal that keeps its light in the dark
	speed  float64          // times as fast; 0 for no rehearsal
	quick  bool             // it passes over the quiet between transfers

	sound, sleep, unsaved string // which sound, whether the laptop is kept awake, why the record is not on the disk

	shifted shifted
}

// shifted is a transfer that a reading put elsewhere. The zero value is none.
type shifted struct {
	next engine.Transfer // the transfer, At as it was before
	any  bool
}

// of asks a session how it stands; in the dark what only drawing needs is left out.
func (m moment) of(s screen.Session, dark bool) moment {
	m.plan, m.look = s.Plan(), s.Snapshot()
	m.lit, m.speed, m.quick = s.Lit(), s.RehearsalSpeed(), s.SkipsQuiet()
	if c := m.look.LastCue; c != nil && c.Kind == sequence.CueReading {
		m.shifted = shifted{m.look.Next, true}
		m.shifted.next.At = c.At + c.For - c.Change
	}
	m.events = nil
	if !dark {
		m.events, m.sound, m.sleep, m.unsaved = s.Events(), s.Sound(), s.Sleep(), s.UnsavedBecause()
	}
	return m
}

// redraw is the time to the next second that is shown.
func (m moment) redraw() time.Duration {
	left := strips.ShownSecond(m.look.Now) + time.Second - m.look.Now
	d := time.Duration(float64(left)/max(1, m.speed)) + 5*time.Millisecond
	return min(max(d, 100*time.Millisecond), time.Second)
}

// title is the step, and in a rehearsal that it is one.
func (m moment) title() string {
	p, l := m.plan, m.look
	step := "Before the first bath"
	if l.Step >= 0 {
		step = say.Capital(fmt.Sprintf("%s, %d of %d", say.StepName(p.Steps[l.Step].Name), l.Step+1, len(p.Steps)))
	}
	switch n := m.speed; {
	case m.quick:
		return "Rehearsal of the transfers · " + step
	case n == 1:
		return "Rehearsal · " + step
	case n > 0:
		return "Rehearsal " + strconv.FormatFloat(n, 'f', -1, 64) + "× · " + step
	}
	return step
}

// leastHead is how many columns of a head there surely are but in the narrowest windows.
const leastHead = 76

// right is the bath's temperature where one is known, the time, and the sound: of these as many
// as stand beside the title in an ordinary window.
func (m moment) right() string {
	const gap = 2
	var parts []string
	if d := m.look.Develop; d != nil && d.Temperature != nil {
		parts = append(parts, "bath "+say.BathNow(d, m.units))
	}
	if m.look.Step >= 0 {
		parts = append(parts, "at "+sequence.FormatElapsed(strips.ShownSecond(m.look.Now)))
	}
	parts = append(parts, say.SoundNow(m.sound))
	room := leastHead - gap - widget.Width(safetext.Clean(m.title()))
	for len(parts) > 1 && widget.Width(strings.Join(parts, "   ")) > room {
		parts = parts[:len(parts)-1]
	}
	return strings.Join(parts, "   ")
}
