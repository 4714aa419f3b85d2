package run

// The lines beneath the clock: what is wrong first, then what comes next, wet time,
// development, the sheets that are lost, and in a rehearsal what the real gesture is.

import (
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const labelWidth = 9

// facts are those lines, with the names of the keys that they tell of.
type facts struct {
	moment
	big, menu string
}

// rows are as many of them as there is room for: of more the last are left out.
func (m facts) rows(w, h int) []string {
	if h <= 0 {
		return nil
	}
	var rows []string
	add := func(text string, paint func(string) string) {
		rows = append(rows, widget.Painted(safetext.Clean(text), w, paint)...)
	}
	for _, text := range m.wrong() {
		add(text, style.Title)
	}
	if m.sleepless() {
		add(m.asleep(), style.Value)
	}
	figures := m.figures(w)
	var taught []string
	if text := m.teaching(); text != "" {
		taught = widget.Painted(text, w, style.Value)
	}
	if len(rows) > 0 && len(rows)+1+len(figures)+1+len(taught) <= h { // what is wrong stands apart
		rows = append(rows, "")
	}
	rows = append(rows, figures...)
	if spare := h - len(rows) - len(taught); len(taught) > 0 && spare >= 1 {
		rows = append(rows, "")
	}
	rows = append(rows, taught...)
	for _, text := range m.quiet() {
		add(text, style.Label)
	}
	return rows[:min(len(rows), h)]
}

// figures are the lines with a label each.
func (m facts) figures(w int) []string {
	p, l := m.plan, m.look
	room := w - labelWidth - 2
	var rows []string
	add := func(label, value string) { rows = append(rows, widget.Field(label, value, labelWidth, w)) }
	if next := m.next(room); next != "" {
		add("next", style.Value(next))
	}
	if list := say.WetNow(p, l); len(list) > 0 {
		add("wet", m.wet(fitting(room, list...)))
	}
	if d := l.Develop; d != nil {
		add("developed", style.Value(fitting(room, say.DevelopedNow(d, m.leading(), m.units)...)))
		if next := say.ReadNext(d); next != nil {
			add("read it", style.Value(fitting(room, next...)))
		}
	}
	if off := say.NotAsMeant(p, l.Sheets); off != "" {
		rows = append(rows, widget.Painted(safetext.Clean(off), w, style.Title)...)
	}
	for k, s := range l.Sheets {
		if s.Aside {
			rows = append(rows, style.Value(widget.Truncate(safetext.Clean(say.Aside(p, l, k)), w)))
		}
	}
	return rows
}

// wet colours the wet time, and what is too long.
func (m facts) wet(text string) string {
	head, rest := text, ""
	if i := strings.IndexAny(text, ",;"); i >= 0 {
		head, rest = text[:i], text[i:]
	}
	paint := style.Value
	if margin := m.look.Wet.Margin; margin != nil && *margin < 0 {
		paint = func(s string) string { return style.Danger.Render(s) }
	}
	return style.Water.Render(head) + paint(rest)
}

// leading is the sheet whose development is told; "" where all are alike.
func (m facts) leading() string {
	p, l := m.plan, m.look
	for k, s := range l.Sheets {
		if s.Step >= 0 && s.Step < len(p.Steps) && p.Steps[s.Step].Kind == sequence.Develop {
			if len(l.Sheets) == 1 || p.MovesTogether(s.Step) {
				return ""
			}
			return p.Recipe.Load.SheetName(k + 1)
		}
	}
	return ""
}

// fitting is the first of several that fits a width; the last where none does.
func fitting(w int, list ...string) string {
	for _, s := range list {
		if widget.Width(s) <= w {
			return s
		}
	}
	return list[len(list)-1]
}

// next is the coming cue and the coming transfer, with their times.
func (m facts) next(w int) string {
	p, l := m.plan, m.look
	n := l.Next
	if n.At == sequence.Never {
		return ""
	}
	list := say.NextTransfer(p, n)
	what := list[min(1, len(list)-1)]
	last := list[len(list)-1] + " " + sequence.FormatElapsed(n.At)
	at := fitting(w, what+" "+sequence.FormatElapsed(n.At), last)
	if moved := m.moved(); moved != "" && l.Overdue == 0 {
		return fitting(w, what+", "+moved, at)
	}
	c := l.NextCue
	switch {
	case l.Overdue > 0:
		return what + " on your signal"
	case c != nil && c.At < n.At:
		return fitting(w, say.CueOfSheet(*c)+" "+sequence.FormatElapsed(c.At)+" · "+at, at)
	}
	return at
}

// moved is the old end and the new one, where a reading moved it by a second or more.
func (m facts) moved() string {
	n, was := m.look.Next, m.shifted.next
	if !m.shifted.any || n.Step != was.Step || n.Sheet != was.Sheet || (n.At-was.At).Abs() < time.Second {
		return ""
	}
	return say.SinceReading(n.At, was.At)
}

// soundless tells whether nothing is heard.
func (m facts) soundless() bool {
	return m.look.SoundLost != "" || !strings.HasPrefix(m.sound, "sound")
}

// wrong is what must be known before all else.
func (m facts) wrong() (list []string) {
	l := m.look
	if l.SoundLost != "" {
		list = append(list, say.NoSound(l.SoundLost))
	} else if m.soundless() {
		list = append(list, say.NoSound(m.sound))
	}
	if why := m.unsaved; why != "" {
		list = append(list, why)
	}
	if text := m.gap(); text != "" {
		list = append(list, text)
	}
	if l.Over != "" {
		return list
	}
	switch {
	case l.Held && l.Overdue > 0:
		list = append(list, "Time is up, held, "+sequence.FormatElapsed(l.Overdue.Truncate(time.Second))+" overdue: "+m.big+" when it is done, h to go on."+m.leftSo())
	case l.Held:
		list = append(list, "Held: the film stays, the chemistry goes on. Press h to go on.")
	case l.Waiting:
		list = append(list, "Time is up: "+m.big+" when it is done."+m.leftSo())
	}
	if l.LightOffered && !l.LightOn && l.Light == sequence.Dark {
		list = append(list, "Safe to turn on the room light.")
	}
	return list
}

// leftSo is when the wet time is used up should nobody go on: a bath that is overdue lasts
// until somebody ends it.
func (m facts) leftSo() string {
	if at := m.look.Wet.LimitAt; at != nil {
		return " Left so, the wet limit is at " + sequence.FormatElapsed(max(time.Second, *at)) + "."
	}
	return ""
}

// gap is what is asked after nothing ran for a while, until the person goes on.
func (m facts) gap() string {
	for _, e := range slices.Backward(m.events) {
		switch {
		case e.Kind == sequence.HoldEnded, e.Kind == sequence.Undone, e.Kind == sequence.Transferred && e.Act > 0:
			return ""
		case e.Kind == sequence.Held && e.Act == 0 && e.Text != "" && m.look.Held:
			return say.Capital(strings.TrimSuffix(e.Text, ": say go when it is done")) + ": look where the film is, then h to go on."
		case e.Kind == sequence.GapFound && e.Since != nil && m.look.Now-e.At < gapFor:
			return "Nothing ran from " + sequence.FormatElapsed(*e.Since) + " to " + sequence.FormatElapsed(e.At) + "."
		}
	}
	return ""
}

// gapFor is how long a gap is told that asks for nothing.
const gapFor = time.Minute

// quiet is what is good to know.
func (m facts) quiet() (list []string) {
	p, l := m.plan, m.look
	if l.Step >= 0 && p.Steps[l.Step].Note != "" {
		list = append(list, p.Steps[l.Step].Note)
	}
	if !m.sleepless() && m.asleep() != "" && !strings.HasPrefix(m.asleep(), "sleep blocked") {
		list = append(list, m.asleep())
	}
	return list
}

// sleepless reports whether the laptop may fall asleep in the session: that stands before the figures,
// where it is never left out.
func (m facts) sleepless() bool { return strings.HasPrefix(m.sleep, "sleep NOT") }

// asleep is what is known of the laptop's sleep; why it is not kept awake is in the journal.
func (m facts) asleep() string {
	text, _, _ := strings.Cut(m.sleep, " (")
	if m.sleepless() {
		return "Sleep is " + strings.TrimPrefix(strings.Replace(text, "NOT", "not", 1), "sleep ")
	}
	return text
}

// teaching is the real gesture of the moment, in a rehearsal.
func (m facts) teaching() string {
	if m.speed == 0 || m.look.Over != "" {
		return ""
	}
	l, big, menu := m.look, m.big, m.menu
	switch {
	case l.Hands == nil:
		return "With film: two presses of " + big + " in the dark begin the session, one press only speaks."
	case l.CanUndo:
		return "u undoes for ten seconds. In the dark: " + menu + ", then " + big + " when it says undo."
	case l.LightOffered && !l.LightOn && l.Light == sequence.Dark:
		return "With film the screen is black until now: two presses of " + big + " bring it back."
	case l.Waiting:
		return "This bath waits for your signal: here " + big + ", in the dark two presses."
	case l.InRow:
		return "A sheet is stuck? In the dark two presses pause the row, two more move it. l: a sheet is late."
	case l.Step == 0:
		tip := "In the dark one press of " + big + " speaks: what to do, for how long."
		if m.soundless() {
			return tip
		}
		return tip + " Here " + menu + " does: try it."
	case l.Light == sequence.Dark:
		return "In the dark two presses of " + big + " move on before the time is up; here one does. Try it, then u."
	}
	return ""
}
