package run

// What is asked in the light while a session goes on: which sheet, a temperature, a note,
// whether to end. The big key answers none of it.

import (
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// form is a question with its answer; the zero value asks nothing.
type form struct {
	asks    string // the key that opened it
	label   string
	means   string
	prompt  widget.Prompt
	choices []choice
	at      int
	again   string // a reading that was refused as unlikely: typed once more it is believed
}

// choice is one answer; 0 is a sheet of none.
type choice struct {
	text  string
	sheet int
	yes   bool
}

func (f form) open() bool     { return f.asks != "" }
func (f form) choosing() bool { return len(f.choices) > 0 }

// longestNote is as much as is taken down at once.
const longestNote = 200

// opened asks what a key is about.
func (m Model) opened(key string) (screen.Screen, screen.Action, tea.Cmd) {
	u := m.env.Units()
	f := form{asks: key}
	switch key {
	case "l":
		f.label, f.means, f.choices = "late sheet", "It is still where it was before it was transferred.", m.late()
		if len(f.choices) == 0 {
			return m, screen.Message{Text: "No sheet has been transferred yet.", Fault: true}, nil
		}
	case "x":
		f.label, f.means = "set aside", "Lost, ruined or in plain water: it is called no more; its wet time goes on."
		for _, n := range m.session.SheetsToSetAside() {
			f.choices = append(f.choices, choice{text: m.session.Plan().Recipe.Load.SheetName(n), sheet: n})
		}
		if len(f.choices) == 0 {
			return m, screen.Message{Text: "No sheet can be set aside now.", Fault: true}, nil
		}
	case "t":
		f.means = "What the thermometer in the developer reads; of a while ago " + say.Degrees(22.5, u) + "@3m."
		f.prompt = widget.NewPrompt("developer reads", strings.TrimPrefix(say.Temperature(20, u), say.Degrees(20, u)+" "), "").Hint(say.Degrees(20, u))
	case "n":
		f.means = "Kept in the record at this moment."
		f.prompt = widget.NewPrompt("note", "", "")
	case "s":
		f.label, f.means = "end session", "The session is over for good; the film stays where it is."
		f.choices = []choice{{text: "no, go on"}, {text: "yes, end it", yes: true}}
	}
	m.form = f
	return m, nil, nil
}

// Interrupt asks whether to end the session: the film is wet, and leaving would not lift it.
func (m Model) Interrupt() (screen.Screen, screen.Action, tea.Cmd) { return m.opened("s") }

// late are the sheets that may still be where they were, the one transferred last first.
func (m Model) late() (list []choice) {
	load := m.session.Plan().Recipe.Load
	var named []int
	for _, l := range m.session.LateSheets() {
		c := choice{text: load.SheetName(l.Sheet), sheet: l.Sheet}
		if l.Together {
			c.text = "the film"
		}
		list, named = append(list, c), append(named, l.Sheet)
		if l.Together {
			return list
		}
	}
	for n := 1; n <= m.session.Plan().Sheets; n++ {
		if !slices.Contains(named, n) && !m.session.Refuse(sequence.MarkLate{Sheet: n}).Refused() {
			list = append(list, choice{text: load.SheetName(n), sheet: n})
		}
	}
	return list
}

func (m Model) formKey(msg tea.KeyMsg) (screen.Screen, screen.Action, tea.Cmd) {
	switch name := msg.String(); {
	case name == "esc":
		m.form = form{}
	case name == "enter":
		return m.answered()
	case m.form.choosing():
		switch n := len(m.form.choices); name {
		case "left", "up":
			m.form.at = (m.form.at + n - 1) % n
		case "right", "down":
			m.form.at = (m.form.at + 1) % n
		}
	default:
		p := m.form.prompt.Typed(msg)
		if len([]rune(p.Value())) <= longestNote {
			m.form.prompt = p
		}
	}
	return m, nil, nil
}

// answered does what was asked for; an empty line and a no leave the form.
func (m Model) answered() (screen.Screen, screen.Action, tea.Cmd) {
	f, typed := m.form, strings.TrimSpace(m.form.prompt.Value())
	m.form = form{}
	if f.choosing() {
		return m.chosen(f)
	}
	switch {
	case typed == "":
		return m, nil, nil
	case f.asks == "n":
		return m.sent(sequence.AddNote{Text: typed}, "Noted.")
	}
	m.form = f
	return m.reading(typed)
}

func (m Model) chosen(f form) (screen.Screen, screen.Action, tea.Cmd) {
	c := f.choices[f.at]
	switch {
	case f.asks == "l":
		return m.sent(sequence.MarkLate{Sheet: c.sheet}, "Late: "+c.text+". "+m.env.Keys.BigName()+" when it is transferred.")
	case f.asks == "x":
		return m.sent(sequence.SetSheetAside{Sheet: c.sheet}, say.Sentence(c.text+" is set aside; its wet time goes on"))
	case c.yes:
		return m.sent(sequence.EndSession{}, "The session is ended.")
	}
	return m, screen.Message{Text: "Not ended: the session goes on."}, nil
}

// reading takes in a temperature. One far from what was expected is believed when it is
// confirmed; what is wrong stands beside the field.
func (m Model) reading(typed string) (screen.Screen, screen.Action, tea.Cmd) {
	r, err := m.env.Units().ParseReading(typed)
	if err != nil {
		m.form.prompt.Fault = "no temperature"
		m.form.means = say.Sentence(err.Error())
		return m, nil, nil
	}
	r.Confirmed = r.Confirmed || m.form.again == typed
	if why := m.session.Refuse(r); why.Refused() {
		m.form.prompt.Fault, m.form.again, m.form.means = "not taken", "", say.Sentence(say.Unlikely(why, r.Units))
		if why.AsksToConfirm() {
			m.form.again, m.form.means = typed, m.form.means+" Is that right? Enter again takes it."
		}
		return m, nil, nil
	}
	m.form = form{}
	m.shifted = shifted{m.look.Next, true}
	return m.sent(r, "Taken. What it changes is said.")
}

// rows draws it.
func (f form) rows(w int) []string {
	head := f.prompt.View(w)
	if f.choosing() {
		c := f.choices[f.at].text
		head = style.Label(f.label+"  ") + style.Now.Render("◂ ") + style.Title(c) + style.Now.Render(" ▸") +
			style.Label("  "+strconv.Itoa(f.at+1)+" of "+strconv.Itoa(len(f.choices)))
	}
	rows := []string{widget.Truncate(head, w)}
	for _, r := range widget.Wrap(f.means, w) {
		rows = append(rows, style.Label(r))
	}
	return rows
}
