package tui

// Preparing: what to mix and when, the order of the trays, what to see to; then
// the big key. Where the first step is dark it darkens the screen for loading,
// and two presses begin.

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// A session with a dark step asks these before film is opened, one press of the
// big key for the first answer.
const (
	askPanel = "Is the panel covered, measured off, or the laptop outside? space: covered"
	askBlack = "The terminal did not say that its background is black; a resize may flash. space: accepted"
	askSound = "There is no sound. space: go on without"
)

// answers are what is recorded of them.
var answers = map[string]string{askPanel: "panel covered", askBlack: "background not confirmed black, accepted", askSound: "no sound, accepted"}

type prepModel struct {
	plan    *sequence.Plan
	lines   []prepLine
	first   int    // line at the top
	sound   string // the state of the sound
	asks    []string
	answers []string
}

type prepLine struct {
	text string
	l    level
}

func newPrep(p *sequence.Plan, sound string, unproven bool) prepModel {
	m := prepModel{plan: p, sound: sound}
	m.lines = append(m.lines, mixing(p)...)
	m.lines = append(m.lines, trays(p)...)
	m.lines = append(m.lines, beforeStart(p)...)
	if m.darkFirst() {
		m.asks = append(m.asks, askPanel)
		if unproven {
			m.asks = append(m.asks, askBlack)
		}
		if !strings.HasPrefix(sound, "sound") {
			m.asks = append(m.asks, askSound)
		}
	}
	return m
}

func (p prepModel) darkFirst() bool { return p.plan.Steps[0].RoomLight == sequence.Dark }

// mixing says what to measure for each bath that the plan uses.
func mixing(p *sequence.Plan) []prepLine {
	list := []prepLine{{"Mix", strong}}
	for _, b := range p.Recipe.Baths {
		list = append(list, prepLine{"  " + b.ID + ": " + amounts(b), text})
		if b.TrayLife > 0 {
			list = append(list, prepLine{"    once mixed it keeps for " + sequence.Clock(b.TrayLife) + ": mix it last", dim})
		}
		for _, c := range b.Cautions {
			list = append(list, prepLine{"    " + c, dim})
		}
	}
	return append(list, prepLine{})
}

// amounts is how much of each part makes the bath's volume.
func amounts(b sequence.Bath) string {
	sum := 0.0
	for _, part := range b.Parts {
		sum += part.Parts
	}
	if sum == 0 || b.Volume == 0 {
		return fmt.Sprintf("%.0f ml", float64(b.Volume))
	}
	var parts []string
	for _, part := range b.Parts {
		parts = append(parts, fmt.Sprintf("%s %.4g ml", part.Name, float64(b.Volume)*part.Parts/sum))
	}
	return strings.Join(parts, ", ")
}

// trays is the order of the baths, as they stand from left to right.
func trays(p *sequence.Plan) []prepLine {
	list := []prepLine{{"Set out, in this order", strong}}
	for i := range p.Steps {
		st := &p.Steps[i]
		line := fmt.Sprintf("  %d  %s", i+1, st.Name)
		if st.Bath != "" {
			line += ", " + st.Bath
		}
		if st.Temperature != nil {
			line += fmt.Sprintf(", %.4g C", float64(*st.Temperature))
		}
		list = append(list, prepLine{fmt.Sprintf("%s, %s", line, st.Vessel), text})
	}
	return append(list, prepLine{})
}

func beforeStart(p *sequence.Plan) []prepLine {
	list := []prepLine{{"See to", strong},
		{"  the thermometer: what does the developer read now?", text},
		{"  electricity: the laptop on the dry side, behind a residual-current device", text}}
	if p.Steps[0].RoomLight == sequence.Dark {
		list = append(list, prepLine{"  light: phone, watch, power lamps, the gap under the door", text},
			prepLine{"  the laptop: its black panel still glows; cover it or leave it outside", text})
	}
	return list
}

func (m Model) preparingKey(a action) (tea.Model, tea.Cmd) {
	p := &m.prep
	switch a {
	case up:
		p.first = max(0, p.first-1)
	case down:
		p.first = min(max(0, len(p.lines)-1), p.first+1)
	case back:
		m.screen = planning
	case leave:
		return m, tea.Quit
	case big:
		return m.ready()
	}
	return m, nil
}

// ready answers the next question, or begins: at once where nothing is dark,
// else by darkening the screen.
func (m Model) ready() (tea.Model, tea.Cmd) {
	p := &m.prep
	if n := len(p.answers); n < len(p.asks) {
		p.answers = append(p.answers[:n:n], answers[p.asks[n]])
		return m, nil
	}
	if !p.darkFirst() {
		return m, m.start(Start{Plan: p.plan, Lead: m.o.Lead, Notes: p.answers})
	}
	m.press, m.second = presses{}, presses{}
	return m.setDark(true)
}

// question is what the big key answers next, "" for nothing.
func (p prepModel) question() string {
	if n := len(p.answers); n < len(p.asks) {
		return p.asks[n]
	}
	return ""
}

func (p prepModel) draw(g grid, f frame) {
	g.text(f.head, "Prepare: "+recipes.Clean(p.plan.Recipe.Title), strong)
	body := f.body
	ask := p.question()
	if ask == "" && p.darkFirst() {
		ask = "space: the screen goes black. Load; then press twice to begin."
	} else if ask == "" {
		ask = "space: begin"
	}
	rows := len(wrapped(ask, body.w))
	g.wrap(rect{body.x, body.y + body.h - rows, body.w, rows}, ask, bright)
	room := rect{body.x, body.y, body.w, body.h - rows - 1}
	used := 0
	for _, line := range p.lines[p.first:] {
		if used >= room.h {
			g.right(room.row(room.h-1), "↓", bright)
			break
		}
		used += p.drawLine(g, room.from(used), line)
	}
}

// drawLine draws one line, its indentation kept where it wraps.
func (p prepModel) drawLine(g grid, r rect, line prepLine) int {
	if line.text == "" {
		return 1
	}
	in := len(line.text) - len(strings.TrimLeft(line.text, " "))
	return max(1, g.wrap(rect{r.x + in, r.y, r.w - in, r.h}, recipes.Clean(line.text), line.l))
}
