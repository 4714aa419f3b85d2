package tui

// Running: the strip with its mark, a numeral to be read from two metres, what
// to do now as one large word and in plain letters, what comes next, wet time,
// development, sound.

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

type runModel struct {
	session Session
	look    sequence.Look
	strip   strip
	asking  *asking // a line being typed; nil if none
}

func newRun(s Session) runModel { return runModel{session: s}.pull() }

// pull asks the session how it stands.
func (r runModel) pull() runModel {
	r.look = r.session.Look()
	if r.look.Began {
		r.strip = runStrip(r.session.Plan(), r.look)
	}
	return r
}

// tick redraws a running session and asks for the next redraw.
func (m Model) tick() (tea.Model, tea.Cmd) {
	if m.screen != running {
		return m, nil
	}
	m.run = m.run.pull()
	l := m.run.look
	if m.run.mustDarken(m.dark) {
		m, cmd := m.setDark(true)
		m, again := m.later(redrawDark)
		return m, tea.Sequence(cmd, again)
	}
	if l.Over != "" && !m.dark {
		m.after, m.screen = newAfter(m.run.session), after
		return m, nil
	}
	if m.dark {
		return m.later(redrawDark)
	}
	return m.later(m.run.redraw())
}

// redrawDark is how often the state is looked at while nothing is drawn.
const redrawDark = time.Second

// redraw is the time to the next second that is shown.
func (r runModel) redraw() time.Duration {
	speed := max(1, r.session.Rehearse())
	left := r.look.Left % time.Second
	if left <= 0 {
		left += time.Second
	}
	d := time.Duration(float64(left)/speed) + 5*time.Millisecond
	return min(max(d, 100*time.Millisecond), time.Second)
}

// mustDarken reports whether the room is dark again while the screen is lit.
func (r runModel) mustDarken(dark bool) bool {
	l := r.look
	return !dark && l.Began && l.Over == "" && r.session.Rehearse() == 0 && l.Light == sequence.Dark && !l.Lit
}

func (m Model) runningKey(key string) (tea.Model, tea.Cmd) {
	if m.run.asking != nil {
		return m.answer(key)
	}
	s := m.run.session
	switch actionOf(running, key) {
	case big:
		var t touch
		if m.press, t = m.press.hit(m.o.Now()); t == sameTouch {
			return m, nil
		}
		return m.do(sequence.MoveOn{}, "moved on; u takes it back within ten seconds")
	case undo:
		return m.do(sequence.Undo{}, "taken back")
	case hold:
		if s.Look().Held {
			return m.do(sequence.Go{}, "going on")
		}
		return m.do(sequence.Hold{}, "held: time, development and wet time go on; h goes on")
	case late:
		m.run.asking = &asking{prompt: "which sheet is still where it was?", of: late}
	case temperature:
		m.run.asking = &asking{prompt: "the developer reads (22.5, or 22.5@3m for three minutes ago):", of: temperature}
	case remark:
		m.run.asking = &asking{prompt: "note:", of: remark}
	case stop:
		m.run.asking = &asking{prompt: "stop this session for good? type yes:", of: stop}
	case lights:
		return m.whiteLight()
	}
	return m, nil
}

// whiteLight changes between the red palette and the normal one, which only a
// room with white light allows.
func (m Model) whiteLight() (tea.Model, tea.Cmd) {
	l := m.run.look
	if !m.white && !(l.Light == sequence.White || l.Lit || m.run.session.Rehearse() > 0) {
		return m.sorry("the room is dark: the screen stays red"), nil
	}
	m.white = !m.white
	m.o.Host.Light(m.light())
	return m, tea.ClearScreen
}

// do asks something of the session and says what came of it.
func (m Model) do(c sequence.Command, done string) (tea.Model, tea.Cmd) {
	s := m.run.session
	if why := s.Refuse(c); why != "" {
		return m.sorry(why), nil
	}
	s.Do(c)
	m = m.say(done)
	return m.later(50 * time.Millisecond)
}

// darkKey is all that a key can do while no cell is lit: one touch of the big key
// is answered with a sound and changes nothing, two act. The second key, twice,
// brings the light back while the film is still in its holders.
func (m Model) darkKey(key string) (tea.Model, tea.Cmd) {
	var t touch
	switch actionOf(m.screen, key) {
	case big:
		m.press, t = m.press.hit(m.o.Now())
		if t == twoTouches {
			return m.actInDark()
		}
		if t == oneTouch && m.screen == running {
			m.run.session.Answer()
		}
	case back:
		m.second, t = m.second.hit(m.o.Now())
		if t == twoTouches && m.screen == preparing {
			m, cmd := m.setDark(false)
			return m.say("the light is back; nothing has begun"), cmd
		}
	}
	return m, nil
}

// actInDark begins, brings back a light that was offered, or moves on.
func (m Model) actInDark() (tea.Model, tea.Cmd) {
	if m.screen == preparing {
		return m, m.start(Start{Plan: m.prep.plan, Lead: m.o.Lead, Notes: m.prep.answers})
	}
	s := m.run.session
	if l := s.Look(); l.Offer || l.Over != "" {
		s.Do(sequence.Tell{Kind: sequence.LightChanged, Text: "on"})
		m, cmd := m.setDark(false)
		m, again := m.later(50 * time.Millisecond)
		return m, tea.Sequence(cmd, again)
	}
	s.Do(sequence.MoveOn{})
	return m, nil
}

func (r runModel) draw(g grid, f frame) {
	p, l := r.session.Plan(), r.look
	r.head(g, f.head)
	at := runOf(f.body)
	r.strip.draw(g, at.strip)
	word, plain := nowWord(p, l)
	clock, level := r.numeral(), bright
	if scale := fitScale(clock, at.numeral.w, at.numeral.h); scale > 0 {
		g.large(at.numeral.x, at.numeral.y, clock, scale, level)
	} else {
		g.text(at.numeral, clock, level)
	}
	if scale := fitScale(word, at.word.w, at.word.h); at.word.h > 0 && scale > 0 {
		g.large(at.word.x, at.word.y, word, min(scale, 4), strong)
	}
	for i, line := range r.lines(p, plain) {
		if i < at.lines.h {
			g.text(at.lines.row(i), recipes.Clean(line.text), line.l)
		}
	}
}

// head is the title and the state of the sound; where both do not fit, missing
// sound is the more urgent.
func (r runModel) head(g grid, at rect) {
	sound, l := r.session.Sound(), dim
	if !strings.HasPrefix(sound, "sound") {
		l = strong
	}
	title := rect{at.x, at.y, at.w - len([]rune(sound)) - 2, 1}
	if title.w < 20 && l == dim {
		title, sound = at, ""
	}
	g.text(title, r.title(), strong)
	g.right(at, sound, l)
}

func (r runModel) title() string {
	title := recipes.Clean(r.session.Plan().Recipe.Title)
	if n := r.session.Rehearse(); n > 0 {
		return fmt.Sprintf("REHEARSAL x%s  %s", strconv.FormatFloat(n, 'f', -1, 64), title)
	}
	return title
}

// numeral is the time to the next change of bath, or how long it is overdue.
func (r runModel) numeral() string {
	if r.look.Next.At == sequence.Never {
		return sequence.Clock(r.look.Now)
	}
	left := r.look.Left
	if left > 0 {
		left += time.Second - 1 // a second is shown until it is over
		left = left.Truncate(time.Second)
	}
	return sequence.Clock(left)
}

// lines are what the picture says, in plain letters; the most needed first.
func (r runModel) lines(p *sequence.Plan, plain string) []prepLine {
	l := r.look
	step := "before the first bath"
	if l.Step >= 0 {
		step = p.Steps[l.Step].Name
	}
	list := []prepLine{{step + ": " + plain, bright}}
	list = append(list, prepLine{r.next(p), text})
	wet, level := r.wet(), text
	if l.Wet.Margin != nil && *l.Wet.Margin < p.Recipe.Film.WetWarning {
		level = bright
	}
	list = append(list, prepLine{wet, level})
	if d := l.Develop; d != nil {
		list = append(list, prepLine{developed(d), text})
	}
	return list
}

// next is the coming change of bath in words, and the next cue before it.
func (r runModel) next(p *sequence.Plan) string {
	n := r.look.Next
	if n.At == sequence.Never {
		return ""
	}
	what := "last lift"
	if n.Step < len(p.Steps) {
		what = "into " + p.Steps[n.Step].Name
	}
	if n.Sheet > 0 {
		what = fmt.Sprintf("sheet %d %s", n.Sheet, what)
	}
	line := fmt.Sprintf("next: %s at %s", what, sequence.Clock(n.At))
	if c := r.look.Coming; c != nil && c.At < n.At {
		line += fmt.Sprintf("; before that %s at %s", cueName(c), sequence.Clock(c.At))
	}
	return line
}

// wet is the worst sheet's wet time against its limit, with the forecast.
func (r runModel) wet() string {
	l := r.look
	if len(l.Sheets) == 0 {
		return ""
	}
	w := l.Sheets[l.Worst]
	line := "wet " + sequence.Clock(w.Wet)
	if len(l.Sheets) > 1 {
		line = fmt.Sprintf("wet %s (sheet %d)", sequence.Clock(w.Wet), l.Worst+1)
	}
	if l.Wet.Limit == nil {
		return line + ", no limit known"
	}
	line += fmt.Sprintf(", %.0f %% of what it stands", 100*w.Used)
	if l.Over != "" {
		return line
	}
	line += fmt.Sprintf("; at the end %.0f %%", 100**l.Wet.Used)
	if m := *l.Wet.Margin; m < 0 {
		return line + ", " + sequence.Clock(-m) + " TOO LONG"
	}
	return line + ", " + sequence.Clock(*l.Wet.Margin) + " left"
}

func developed(d *sequence.Developed) string {
	line := fmt.Sprintf("developed %s of %s", sequence.Clock(d.Done), sequence.Clock(d.Of))
	if d.At != nil {
		line += fmt.Sprintf(", as at %.4g C", float64(*d.At))
	}
	if d.Temperature != nil {
		line += fmt.Sprintf("; the bath at %.1f C", float64(*d.Temperature))
	}
	return line
}
