package plan

// The form of today's conditions: the cursor, what is typed and chosen, and how it looks.

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// form is the draft with a cursor in it.
type form struct {
	draft
	at     int            // the field under the cursor; beyond them, the way to shorten
	typing *widget.Prompt // open on the field; nil while nothing is typed
	before string         // what stood in the field before
}

const (
	longestWord = 24 // as much as can be typed into one field
	labelWidth  = 17
	hintLines   = 4
)

// of is the form of another draft; the cursor stays, where there still is something under it.
func (f form) of(d draft) form {
	f.draft, f.typing = d, nil
	f.at = min(f.at, f.stops()-1)
	return f
}

// stops is how many places the cursor has.
func (f form) stops() int { return len(fields) + len(f.ways()) }

// moved puts the cursor some places on, round.
func (f form) moved(by int) form {
	f.at, f.typing = (f.at+by+f.stops())%f.stops(), nil
	return f
}

// onWay reports whether the cursor is on a way to shorten.
func (f form) onWay() bool { return f.at >= len(fields) }

// way is the one under the cursor; the kindest where the cursor is on a condition.
func (f form) way() int { return max(0, f.at-len(fields)) }

// change steps a number or a choice.
func (f form) change(by int) form {
	if f.onWay() {
		return f
	}
	one := fields[f.at]
	word := *one.of(&f.conditions)
	switch {
	case one.choices != nil:
		list := one.choices(f.draft)
		word = list[(max(0, slices.Index(list, word))+by+len(list))%len(list)]
	case one.step != 0:
		word = stepped(word, one.usual(f.plan, f.conditions.Units), float64(by)*one.step)
	default:
		return f
	}
	return f.of(f.with(f.at, word))
}

// begins opens a field that is typed: with its first character, or to change what stands there.
func (f form) begins(k tea.KeyMsg) form {
	if f.onWay() || fields[f.at].choices != nil {
		return f
	}
	word := *fields[f.at].of(&f.conditions)
	p := widget.NewPrompt("", "", word)
	switch name := k.String(); {
	case name == "backspace" || name == "ctrl+w" || name == "ctrl+u":
		if word == "" {
			return f
		}
	case len(name) == 1 && (name[0] >= '0' && name[0] <= '9' || name == "." || name == ":"):
		p = widget.NewPrompt("", "", "")
	default:
		return f
	}
	f.before = word
	return f.typed(p.Typed(k))
}

// typed takes the field as it is now; nothing that cannot stand in it.
func (f form) typed(p *widget.Prompt) form {
	word := p.Value()
	if len(word) > longestWord || strings.ContainsFunc(word, func(r rune) bool { return r < ' ' || r > '~' }) {
		return f
	}
	if word != *fields[f.at].of(&f.conditions) {
		f = f.of(f.with(f.at, word))
	}
	f.typing = p
	return f
}

// typingKey is a key while a value is typed: enter takes it, escape puts back what was there.
func (f form) typingKey(k tea.KeyMsg) form {
	switch k.String() {
	case "enter":
		if !f.broken() || f.fault.field != f.at { // else it says beside the field what is wrong
			f.typing = nil
		}
		return f
	case "esc":
		return f.of(f.with(f.at, f.before))
	}
	return f.typed(f.typing.Typed(k))
}

// means is what the field under the cursor is for.
func (f form) means(w int) []string {
	if f.onWay() {
		return nil
	}
	return widget.Painted(fields[f.at].means, w, style.Label)
}

// value is what stands in a field while nothing is typed into it: what is typed, as it is
// read, or what holds otherwise; nothing where that is the plan's to say and there is none.
func (f form) value(i int) (text string, typed bool) {
	one := fields[i]
	w := f.conditions
	word := *one.of(&w)
	broken := f.broken()
	switch {
	case word != "" && one.label == "wet limit" && !broken:
		return one.usual(f.plan, w.Units), true
	case word != "" && (one.shown == nil || broken && f.fault.field == i):
		return safetext.Clean(word), true
	case word != "":
		return safetext.Clean(one.shown(word, w.Units)), true
	case broken && one.planned:
		return "", false
	}
	return safetext.Clean(one.usual(f.plan, w.Units)), false
}

// hint is that under the whole width, always in as many rows.
func (f form) hint(w int) []string {
	n := 1
	if w < besideFrom {
		n = 3
	}
	return append(f.means(w), make([]string, n)...)[:n]
}

// rows is the fields, each in a row, with what is wrong beneath it. It tells the cursor's row.
func (f form) rows(w int) (rows []string, at int) {
	at = -1
	for i := range fields {
		if i == f.at {
			at = len(rows)
		}
		rows = append(rows, f.fieldRows(i, w)...)
		if f.broken() && f.fault.field == i {
			for _, r := range widget.Painted(f.fault.text, w-4, danger) {
				rows = append(rows, "    "+r)
			}
		}
	}
	if line := f.roundLine(); line != "" {
		rows = append(append(rows, ""), widget.Painted(line, w, style.Value)...)
	}
	return rows, at
}

func danger(s string) string { return style.Danger.Render(s) }

// fieldRows is one field: what was typed is brighter than what holds anyway. A value that is
// long goes on beneath itself.
func (f form) fieldRows(i, w int) []string {
	one, chosen := fields[i], i == f.at
	label := min(labelWidth, max(8, w-2-8))
	room := max(1, w-2-label-1)
	value, typed := f.value(i)
	paint := style.Value
	if typed {
		paint = style.Heading
	}
	if one.label == "wet limit" && widget.Width(value) > room { // a vessel a row
		value = strings.ReplaceAll(strings.ReplaceAll(value, ", ", "\n"), " in ", " ")
	}
	list := widget.Painted(value, room, paint)
	if chosen && f.typing != nil {
		list = []string{f.typing.View(room)}
	}
	list = widget.Hanging("  "+widget.Pad(style.Label(one.label), label), 2+label+1, list, w)
	for j := range list {
		if chosen {
			list[j] = widget.Chosen(list[j], w)
		}
	}
	return list
}

// pane is the form alone, around its cursor.
func (f form) pane(w, h int) string {
	var at int
	s := widget.Flowing(w, h, func(w int) (rows []string) {
		rows, at = f.rows(w)
		if len(rows) <= h-2 {
			rows, at = append([]string{style.Heading("Today")}, rows...), at+1
		}
		if !f.onWay() && len(rows)+hintLines < h {
			rows = append(append(rows, ""), f.means(w)...)
		}
		return rows
	})
	return s.Shows(max(0, at)).View()
}
