package run

// The picture of the lit screen.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

const (
	wide      = 112 // columns from which the film stands at the right
	tall      = 26  // rows from which the word stands over the clock, both larger
	tallest   = 44  // rows beneath the strip from which the word is twice as large
	airy      = 15  // rows from which there is space between the parts
	narrow    = 62  // columns below which word and clock stand beneath each other
	mostWord  = 2   // largest scale of the word: beyond it, it would outshout the clock
	mostClock = 6
	large     = 4 // rows of large letters
)

// View draws the body.
func (m Model) View(w, h int) string {
	b := body{m.moment, facts{m.moment, m.env.Keys.BigName(), m.env.Keys.MenuName()}, m.form}
	return b.draw(w, h)
}

// body is the picture: the strip, what the hands do, the clock, and what else is to be known.
type body struct {
	moment
	facts facts
	form  form
}

func (b body) draw(w, h int) string {
	var rows []string
	if at := stripRows(h); at > 0 {
		rows = append(rows, lines(widget.Strip{Timeline: strips.Running(b.plan, b.look), Width: w, Rows: at, LimitIn: strips.LimitIn(b.plan, b.look)}.View())...)
	}
	if h >= airy {
		rows = append(rows, "")
	}
	room := h - len(rows)
	n, more := nowOf(b.plan, b.look), beside{b.moment}
	c := widget.Columns{Width: w, Left: w * 11 / 20, Least: 40}
	switch {
	case w >= wide:
		lw, rw, _ := c.Widths()
		left, right := b.recorded(b.left(n, lw, room), lw, room), more.rows(rw, room)
		rows = append(rows, lines(c.Join(strings.Join(left, "\n"), strings.Join(right, "\n")))...)
	case h >= tall:
		rows = append(rows, b.left(n, w, room)...)
		rows = under(rows, more.rows(w, h-len(rows)-1), h-len(rows)-1)
		rows = b.recorded(rows, w, h)
	default:
		rows = append(rows, b.left(n, w, room)...)
	}
	if len(rows) > h {
		rows = rows[:max(0, h)]
	}
	for i := range rows {
		rows[i] = widget.Truncate(rows[i], w)
	}
	return strings.Join(rows, "\n")
}

// under puts a part under others with a blank row between, where there is one and room for it.
func under(rows, part []string, room int) []string {
	if len(part) == 0 || len(part) > room {
		return rows
	}
	return append(append(rows, ""), part...)
}

func stripRows(h int) int {
	switch {
	case h >= airy:
		return widget.StripRows
	case h >= 12:
		return 3
	case h >= 10:
		return 2
	case h >= 7:
		return 1
	}
	return 0
}

// recorded is a part with what the record holds so far under it, where a tall window has room left.
func (b body) recorded(rows []string, w, h int) []string {
	if h < tall-widget.StripRows-1 {
		return rows
	}
	return under(rows, b.soFar(w, h-len(rows)-1), h-len(rows)-1)
}

// left is the hands, the clock, and the lines beneath: the form where one is open.
func (b body) left(n now, w, h int) []string {
	var rows []string
	switch {
	case h < 6:
		rows = []string{style.Key.Render(n.word+n.more) + "  " + style.Title(n.clock) + " " + style.Label(n.counted[0])}
	case h >= tall-widget.StripRows-1 && w >= narrow:
		rows = n.stacked(w, h)
	case w >= narrow:
		rows = sideBySide(n, w)
	default:
		rows = beneath(n, w)
	}
	if h >= airy-widget.StripRows {
		rows = append(rows, "")
	}
	if b.form.open() {
		rows = append(rows, b.form.rows(w)...)
		if len(rows) < h {
			rows = append(rows, "")
		}
	}
	return append(rows, b.facts.rows(w, h-len(rows))...)
}

// scale is how large the word can be in so many columns.
func (n now) scale(w int) int {
	return widget.BigDigits{Text: n.word + n.more, Width: w, Height: large, Most: 1}.Scale()
}

// large is the word in large letters with what belongs behind it, or without where there is no room.
func (n now) large(w, h int) string {
	for _, text := range []string{n.word + n.more, n.word} {
		if d := (widget.BigDigits{Text: text, Width: w, Height: h, Most: mostWord, Ink: style.Now}); d.Scale() > 0 {
			return d.View()
		}
	}
	return style.Key.Render(widget.Truncate(n.word+n.more, w))
}

// closeBy is the word with what belongs behind it a little closer, where that fits and the
// ordinary spacing does not; nil elsewhere.
func (n now) closeBy(w int) []string {
	const gap = 2
	if n.more == "" || n.scale(w) > 0 {
		return nil
	}
	word := widget.BigDigits{Text: n.word, Width: w, Height: large, Most: 1, Ink: style.Now}
	more := widget.BigDigits{Text: strings.TrimSpace(n.more), Width: w, Height: large, Most: 1, Ink: style.Now}
	if word.Scale() == 0 || more.Scale() == 0 {
		return nil
	}
	rows, behind := lines(word.View()), lines(more.View())
	left := widget.Width(word.View())
	if left+gap+widget.Width(more.View()) > w {
		return nil
	}
	for i := range rows {
		rows[i] = widget.Pad(rows[i], left+gap) + behind[i]
	}
	return rows
}

// stacked is the word over the clock, with air; in the tallest windows the word is larger too.
func (n now) stacked(w, h int) []string {
	most := large
	if h >= tallest {
		most = mostWord * large
	}
	rows := lines(n.large(w, most))
	rows = append(rows, style.Label(widget.Truncate(n.sentence(w), w)), "")
	room := min(h-len(rows)-11, 24)
	rows = append(rows, lines(widget.BigDigits{Text: n.clock, Width: w, Height: max(large, room), Most: mostClock, Ink: style.Strong}.View())...)
	return append(rows, n.until(w))
}

// sentence is what the hands do, in as many words as there is room for.
func (n now) sentence(w int) string {
	return fitting(w, append([]string{n.plain}, n.shorter...)...)
}

// until is what the clock counts to.
func (n now) until(w int) string {
	head, rest, _ := strings.Cut(safetext.Clean(fitting(w, n.counted...)), " ")
	return widget.Truncate(style.Label(head)+" "+style.Title(rest), w)
}

// sideBySide is the word and the clock beside each other, each over its line.
func sideBySide(n now, w int) []string {
	const gap, closest = 4, 2
	digits := widget.BigDigits{Text: n.clock, Width: w, Height: large, Most: 1, Ink: style.Strong}.View()
	across := func(text string) int { return max(widget.Width(digits), min(w*2/5, widget.Width(text))) }
	right, least := across(n.counted[0]), across(n.counted[len(n.counted)-1])
	if n.scale(w-right-gap) == 0 { // the word needs the room more than what the clock counts to, if it then has it
		more := n.scale(w-least-gap) > 0 || n.closeBy(w-least-closest) != nil
		if more || (now{word: n.word}).scale(w-right-gap) == 0 {
			right = least
		}
	}
	left := w - right - gap
	word := lines(n.large(left, large))
	if near := n.closeBy(left + gap - closest); near != nil {
		word, left = near, left+gap-closest
	} else if n.more != "" && n.scale(left) == 0 {
		n.plain = n.numbered()
	}
	for len(word) < large {
		word = append(word, "")
	}
	word = append(word, style.Label(widget.Truncate(n.sentence(left), left)))
	clock := append(lines(digits), n.until(right))
	for i := range word {
		word[i] = widget.Pad(word[i], w-right) + clock[i]
	}
	return word
}

// numbered is the sentence with the sheet's number, which the large word has no room for.
func (n now) numbered() string {
	if of := "sheet" + n.more; !strings.Contains(strings.ToLower(n.plain), of) && !strings.HasSuffix(n.more, " s") {
		return say.Sentence(of) + " " + n.plain
	}
	return n.plain
}

// beneath is the word in ordinary letters over the clock, for a narrow window.
func beneath(n now, w int) []string {
	rows := []string{style.Key.Render(widget.Truncate(n.word+n.more, w))}
	rows[0] = widget.Truncate(rows[0]+"  "+style.Label(n.plain), w)
	rows = append(rows, lines(widget.BigDigits{Text: n.clock, Width: w, Height: large, Most: 1, Ink: style.Strong}.View())...)
	return append(rows, n.until(w))
}

func lines(s string) []string { return strings.Split(s, "\n") }
