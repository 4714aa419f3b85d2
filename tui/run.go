package tui

// Running: the strip with its mark, a numeral to be read from two metres, what
// to do now as one large word and in plain letters, what comes next, wet time,
// development, sound.

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/say"
)

type runModel struct {
	session      SessionView
	look         engine.Snapshot
	strip        timeline
	asking       *prompt // a line being typed; nil if none
	habits       sequence.Units
	journalFault string // why the record is in memory alone; "" while it is not
	shifted      shiftedEnd
}

// shiftedEnd is a move that a reading put elsewhere. The zero value is none.
type shiftedEnd struct {
	next engine.Transfer // the move, At as it was before
	any  bool
}

func newRun(s SessionView, h sequence.Units) runModel {
	return runModel{session: s, habits: h}.refresh()
}

// refresh asks the session how it stands.
func (r runModel) refresh() runModel {
	r.look, r.journalFault = r.session.Snapshot(), r.session.UnsavedBecause()
	if c := r.look.LastCue; c != nil && c.Kind == sequence.CueReading {
		r.shifted = shiftedEnd{r.look.Next, true}
		r.shifted.next.At = c.At + c.For - c.Change
	}
	if r.look.Began {
		r.strip = runTimeline(r.session.Plan(), r.look)
	}
	return r
}

// tick redraws a running session and asks for the next redraw.
func (m Model) tick() (tea.Model, tea.Cmd) {
	if m.screen != runScreen {
		return m, nil
	}
	m = m.clearOldMessage()
	m.run = m.run.refresh()
	switch {
	case m.run.mustDarken(m.dark):
		m, cmd := m.setDark(true)
		m, again := m.laterInTheDark()
		return m, tea.Sequence(cmd, again)
	case m.dark:
		return m.laterInTheDark()
	case m.run.look.Over != "":
		m.summary, m.screen = newSummary(m.run.session, m.o.Defaults.Units), summaryScreen
		return m.showMessage(""), nil
	case m.white && !m.run.mayBeWhite():
		return m.repainted(false)
	case m.o.AutoWhite && !m.white && m.run.mayBeWhite() && m.autoWhiteStep != m.run.look.Step+2:
		m.autoWhiteStep = m.run.look.Step + 2 // once a step: what the person then chooses stays
		return m.repainted(true)
	}
	return m.tickAfter(m.run.redraw())
}

// repainted changes the palette and goes on.
func (m Model) repainted(white bool) (tea.Model, tea.Cmd) {
	m, cmd := m.setWhite(white)
	m, again := m.tickAfter(m.run.redraw())
	return m, tea.Sequence(cmd, again)
}

// redrawDark is how often the state is looked at while nothing is drawn.
const redrawDark = time.Second

// laterInTheDark is later, at the next whole second of the computer's clock, when the
// rest of the program is awake too.
func (m Model) laterInTheDark() (Model, tea.Cmd) {
	m.generation++
	g := m.generation
	return m, tea.Every(redrawDark, func(time.Time) tea.Msg { return tickMsg{g} })
}

// redraw is the time to the next second that is shown.
func (r runModel) redraw() time.Duration {
	speed := max(1, r.session.RehearsalSpeed())
	left := say.ShownSecond(r.look.Now) + time.Second - r.look.Now
	d := time.Duration(float64(left)/speed) + 5*time.Millisecond
	return min(max(d, 100*time.Millisecond), time.Second)
}

// mustDarken reports whether the room is dark again while the screen is lit.
func (r runModel) mustDarken(dark bool) bool {
	l := r.look
	return !dark && l.Began && l.Over == "" && !r.session.Lit() && l.Light == sequence.Dark && !l.LightOn
}

// bySafelight reports whether the step is one in which film lies open by safelight.
func (r runModel) bySafelight() bool {
	return r.look.Light == sequence.Safelight && r.look.Over == "" && !r.session.Lit()
}

func (m Model) runningKey(key string) (tea.Model, tea.Cmd) {
	if m.run.asking != nil {
		return m.answer(key)
	}
	s := m.run.session
	switch actionOf(runScreen, m.o.heard(key)) {
	case bigKeyAction:
		var t pressKind
		if m.bigPress, t = m.bigPress.press(m.o.Now()); t == samePress {
			return m, nil
		}
		return m.send(sequence.MoveOn{}, "moved on; u takes it back for 10 s")
	case undo:
		return m.send(sequence.Undo{}, "taken back")
	case holdKey:
		if s.Snapshot().Held {
			return m.send(sequence.EndHold{}, "going on")
		}
		return m.send(sequence.Hold{}, "held: the chemistry goes on; h ends it")
	case lateKey:
		m.run.asking = &prompt{prompt: "which sheet is still where it was?", kind: lateKey}
	case lost:
		m.run.asking = &prompt{prompt: "which sheet is lost, or set aside in plain water?", kind: lost}
	case advice:
		s.Say(SaysAdvice)
		a, ok := s.Advise()
		return m.showMessage(say.Advice(a, ok, s.Plan())), nil
	case temperature:
		m.run.asking = &prompt{prompt: "the developer reads (" + say.Degrees(22.5, m.o.Defaults.Units) + ", or " + say.Degrees(22.5, m.o.Defaults.Units) + "@3m):", kind: temperature}
	case remark:
		m.run.asking = &prompt{prompt: "note:", kind: remark}
	case stop:
		m.run.asking = &prompt{prompt: "end this session for good? type yes:", kind: stop}
	case lights:
		return m.whiteLight()
	case menu:
		s.SpeakState() // in the light nothing is chosen by ear
	}
	return m, nil
}

// whiteLight changes between the red palette and the normal one, which only a
// room with white light allows.
func (m Model) whiteLight() (tea.Model, tea.Cmd) {
	if !m.white && !m.run.mayBeWhite() {
		return m.showError("no white light in this step: the screen stays red"), nil
	}
	return m.setWhite(!m.white)
}

// mayBeWhite reports whether the room may have white light: in a white step, in a
// rehearsal, and where the last sheet is fixed and the person put the light on.
// Light put on for a safelight step is no leave for white.
func (r runModel) mayBeWhite() bool {
	l := r.look
	return l.Light == sequence.White || l.LightOn && l.Light == sequence.Dark || r.session.Lit()
}

// send asks something of the session and says what came of it.
func (m Model) send(c sequence.Command, done string) (tea.Model, tea.Cmd) {
	s := m.run.session
	if why := s.Refuse(c); why != "" {
		return m.showError(why), nil
	}
	s.Do(c)
	m = m.showMessage(done)
	return m.tickAfter(shownWithin)
}

// After a command the state is looked at again so soon; light that was put on must
// be in it by then, or the screen is dark again.
const (
	shownWithin = 50 * time.Millisecond
	heardWithin = 250 * time.Millisecond
)

func (r runModel) draw(g grid, f frame) {
	p, l := r.session.Plan(), r.look
	r.head(g, f.head)
	at := runOf(f.body)
	r.strip.draw(g, at.strip)
	word, plain := say.Instruction(p, l)
	right := g.numeral(at.numeral, r.numeral())
	if scale := min(fitScale(word, at.word.w, at.word.h), largestWord); scale > 0 {
		g.drawLarge(at.word.x, at.word.y, word, scale, strong)
	} else {
		g.text(at.numeral.row(at.numeral.h/2).beside(right+2), word, bright)
	}
	for i, line := range r.lines(p, plain, at.lines.w) {
		if i < at.lines.h {
			g.text(at.lines.row(i), safetext.Clean(line.text), line.l)
		}
	}
}

// largestWord is the scale beyond which the word would outshout the numeral.
const largestWord = 4

// numeral draws a time as large as there is room for and returns its width.
func (g grid) numeral(r rect, clock string) int {
	scale := fitScale(clock, r.w, r.h)
	if scale == 0 {
		return g.text(r, clock, bright) - r.x
	}
	g.drawLarge(r.x, r.y, clock, scale, bright)
	w, _ := digitSize(clock, scale)
	return w
}

// head is the title and the state of the sound. Where both do not fit sound that is
// there is left out, and why it is missing gets what the title can spare.
func (r runModel) head(g grid, at rect) {
	title, sound, l := r.title(), r.session.Sound(), dim
	least, between := min(utf8.RuneCountInString(title), at.w/2), 2
	room := at.w - least - between
	switch long := utf8.RuneCountInString(sound) > room; {
	case !strings.HasPrefix(sound, "sound"):
		sound, l = cut(sound, room), strong
	case long:
		sound, between = "", 0
	}
	g.text(at.narrowed(at.w-utf8.RuneCountInString(sound)-between), title, strong)
	g.right(at, sound, l)
}

func (r runModel) title() string {
	title := safetext.Clean(r.session.Plan().Recipe.Title)
	switch n := r.session.RehearsalSpeed(); {
	case r.session.SkipsQuiet():
		return "REHEARSAL of the moves  " + title
	case n > 0:
		return fmt.Sprintf("REHEARSAL x%s  %s", strconv.FormatFloat(n, 'f', -1, 64), title)
	}
	return title
}

// numeral is the time to the next change of bath, or how long it is overdue.
func (r runModel) numeral() string {
	if r.look.Next.At == sequence.Never {
		return sequence.FormatElapsed(r.look.Now)
	}
	return sequence.FormatElapsed(say.LeftOn(r.look, r.look.Now+r.look.Left))
}

// lines are what the picture says, in plain letters; the most needed first.
func (r runModel) lines(p *sequence.Plan, plain string, w int) []prepLine {
	l := r.look
	step := "before the first bath"
	if l.Step >= 0 {
		step = p.Steps[l.Step].Name
	}
	list := []prepLine{{fitting(w, step+": "+plain, plain), bright}, {r.next(p, w), text}}
	if moved := r.endShift(); moved != "" {
		list = append(list, prepLine{moved, strong})
	}
	wet := prepLine{fitting(w, say.WetTimeNow(r.session.Plan(), r.look)...), text}
	if l.Wet.Margin != nil && *l.Wet.Margin < p.Recipe.Film.WetWarning {
		wet.l = bright
	}
	list = append(list, wet)
	if l.LightOffered && !l.LightOn && l.Light == sequence.Dark && l.Over == "" {
		list = append(list, prepLine{"light is possible: in the dark two presses bring it", strong})
	}
	if d := l.Develop; d != nil {
		list = append(list, prepLine{fitting(w, say.DevelopedSoFar(d, r.habits)...), text})
	}
	if where := setAsideText(p, l.Sheets); where != "" {
		list = append(list, prepLine{where, text})
	}
	list = append(list, lostSheets(p, l)...)
	if late := developmentFaults(l.Sheets); late != "" {
		list = append(list, prepLine{late, strong})
	}
	if l.Step >= 0 && p.Steps[l.Step].Note != "" {
		list = append(list, prepLine{p.Steps[l.Step].Note, dim})
	}
	if sleep := r.session.Sleep(); sleep != "" {
		l := dim
		if !strings.HasPrefix(sleep, "sleep blocked") {
			l = text
		}
		list = append(list, prepLine{sleep, l})
	}
	return list
}

// lostSheets tells of each sheet that is set aside how long it has been wet: nothing
// else on the screen counts it any more.
func lostSheets(p *sequence.Plan, l engine.Snapshot) []prepLine {
	var list []prepLine
	for k, s := range l.Sheets {
		if !s.Aside {
			continue
		}
		line := p.Recipe.Load.SheetName(k+1) + " set aside in water, wet " + sequence.FormatElapsed(s.Wet)
		if l.Wet.Limit != nil {
			line += fmt.Sprintf(": %.0f%% of its limit", 100*s.Used)
		}
		list = append(list, prepLine{line, dim})
	}
	return list
}

// setAsideText tells where the sheets are while they are not all in one bath.
func setAsideText(p *sequence.Plan, sheets []engine.SheetSnapshot) string {
	var parts []string
	for i := 0; i < len(sheets); {
		k := i
		for k < len(sheets) && sheets[k].Step == sheets[i].Step && sheets[k].Aside == sheets[i].Aside {
			k++
		}
		which := strconv.Itoa(i + 1)
		if k > i+1 {
			which += "-" + strconv.Itoa(k)
		}
		at := place(p, sheets[i].Step)
		if sheets[i].Aside {
			at = "set aside"
		}
		parts = append(parts, which+" "+at)
		i = k
	}
	if len(parts) < 2 {
		return ""
	}
	return "sheets: " + strings.Join(parts, ", ")
}

// developmentFaults names the sheets that have more or less of their development than meant,
// each with how much.
func developmentFaults(sheets []engine.SheetSnapshot) string {
	const worthSaying = 0.005
	var far, little []string
	for k, s := range sheets {
		text := fmt.Sprintf("sheet %d, %.0f%%", k+1, 100*s.DevelopedShare)
		if s.Uncertain {
			text += " (uncertain)"
		}
		switch part := s.DevelopedShare - 1; {
		case part > worthSaying:
			far = append(far, text)
		case s.DevelopedShare > 0 && part < -worthSaying:
			little = append(little, text)
		}
	}
	var parts []string
	if len(far) > 0 {
		parts = append(parts, "Overdeveloped: "+strings.Join(far, "; "))
	}
	if len(little) > 0 {
		parts = append(parts, "Underdeveloped: "+strings.Join(little, "; "))
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, "; ") + " (100% is right)"
}

func place(p *sequence.Plan, step int) string {
	switch {
	case step < 0:
		return "dry"
	case step >= len(p.Steps):
		return "out"
	}
	return "in " + p.Steps[step].Name
}

// next is the coming change of bath in words, and the next cue before it.
func (r runModel) next(p *sequence.Plan, w int) string {
	n := r.look.Next
	if n.At == sequence.Never {
		return ""
	}
	what := "last lift"
	if n.Step < len(p.Steps) {
		what = "into " + p.Steps[n.Step].Name
	}
	if n.Sheet > 0 {
		what = p.Recipe.Load.SheetName(n.Sheet) + " " + what
	}
	if r.look.Overdue > 0 {
		return "next: " + what + ", when you say so"
	}
	short := "next: " + what + " at " + sequence.FormatElapsed(n.At)
	c := r.look.NextCue
	if c == nil || c.At >= n.At {
		return short
	}
	return fitting(w, fmt.Sprintf("%s; before that %s at %s", short, say.CueOfSheet(c), sequence.FormatElapsed(c.At)), short)
}

// endShift tells the old end and the new one, where a reading moved it by a second or more.
func (r runModel) endShift() string {
	n, was := r.look.Next, r.shifted.next
	if !r.shifted.any || n.At == sequence.Never || r.look.Overdue > 0 || n.Step != was.Step || n.Sheet != was.Sheet || (n.At-was.At).Abs() < time.Second {
		return ""
	}
	return "since the reading it comes at " + sequence.FormatElapsed(n.At) + " instead of " + sequence.FormatElapsed(was.At)
}
