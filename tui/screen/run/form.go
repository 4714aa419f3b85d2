package run

// What is asked in the light while a session goes on: which sheet, a temperature, a note,
// whether to end. The big key answers none of it.

import (
	"fmt"
	"slices"
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

// formOf is what a key asks, or why it cannot be asked now.
func formOf(key string, s screen.Session, u sequence.Units) (f form, not string) {
	f.asks = key
	switch key {
	case "l":
		f.label, f.means, f.choices = "late sheet", "It is still where it was before it was transferred.", late(s)
		if len(f.choices) == 0 {
			return form{}, "No sheet has been transferred yet."
		}
	case "x":
		f.label, f.means = "set aside", "Lost, ruined or in plain water: it is called no more; its wet time goes on."
		for _, n := range s.SheetsToSetAside() {
			f.choices = append(f.choices, choice{text: s.Plan().Recipe.Load.SheetName(n), sheet: n})
		}
		if len(f.choices) == 0 {
			return form{}, "No sheet can be set aside now."
		}
	case "t":
		f.means = "What the thermometer reads in the developer; " + say.Degrees(22.5, u) + "@3m for a reading of 3 min ago."
		f.prompt = *widget.NewPrompt("developer reads", strings.TrimPrefix(say.Temperature(20, u), say.Degrees(20, u)+" "), "").Hint(say.Degrees(20, u))
	case "n":
		f.means = "Kept in the record at this moment."
		f.prompt = *widget.NewPrompt("note", "", "")
	case "s":
		f.label, f.means = "end session", "The session is over for good; the film stays where it is."
		f.choices = []choice{{text: "no, go on"}, {text: "yes, end it", yes: true}}
	}
	return f, ""
}

// late are the sheets that may still be where they were, the one transferred last first.
func late(s screen.Session) (list []choice) {
	load := s.Plan().Recipe.Load
	var named []int
	for _, l := range s.LateSheets() {
		c := choice{text: load.SheetName(l.Sheet), sheet: l.Sheet}
		if l.Together {
			c.text = "the film"
		}
		list, named = append(list, c), append(named, l.Sheet)
		if l.Together {
			return list
		}
	}
	for n := 1; n <= s.Plan().Sheets; n++ {
		if !slices.Contains(named, n) && !s.Refuse(sequence.MarkLate{Sheet: n}).Refused() {
			list = append(list, choice{text: load.SheetName(n), sheet: n})
		}
	}
	return list
}

// typed is the form after a key: escape leaves it, arrows choose, the rest is typed.
func (f form) typed(msg tea.KeyMsg) form {
	switch name := msg.String(); {
	case name == "esc":
		return form{}
	case f.choosing():
		switch n := len(f.choices); name {
		case "left", "up":
			f.at = (f.at + n - 1) % n
		case "right", "down":
			f.at = (f.at + 1) % n
		}
	default:
		if p := f.prompt.Typed(msg); len([]rune(p.Value())) <= longestNote {
			f.prompt = *p
		}
	}
	return f
}

// rows draws it.
func (f form) rows(w int) []string {
	head := f.prompt.View(w)
	if f.choosing() {
		head = style.Label(f.label+"  ") + style.Now.Render("◂ ") + style.Title(f.choices[f.at].text) + style.Now.Render(" ▸") +
			style.Label(fmt.Sprintf("  %d of %d", f.at+1, len(f.choices)))
	}
	return append([]string{widget.Truncate(head, w)}, widget.Painted(f.means, w, style.Label)...)
}
