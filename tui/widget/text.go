package widget

// Texts: how wide, cut, broken into lines, put beside each other.

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/style"
)

// cutMark stands where something was cut off.
const cutMark = "…"

// Width is how many columns the widest row of a text takes.
func Width(s string) (w int) {
	for row := range strings.SplitSeq(s, "\n") {
		w = max(w, ansi.StringWidth(row))
	}
	return w
}

// Truncate cuts a row to so many columns, the last of them a mark.
func Truncate(s string, width int) string {
	if width <= 0 {
		return ""
	}
	return ansi.Truncate(s, width, cutMark)
}

// CutInside is Truncate for titles: what stands behind the last comma tells one from another, as a day does, and is
// kept where it takes half of the room at most.
func CutInside(s string, width int) string {
	last := max(0, strings.LastIndex(s, ", "))
	end := ansi.StringWidth(s[last:])
	if ansi.StringWidth(s) <= width || end > width/2 {
		return Truncate(s, width)
	}
	return ansi.Truncate(s[:last], width-end, cutMark) + s[last:]
}

// Pad cuts or fills a row to exactly so many columns.
func Pad(s string, width int) string {
	s = Truncate(s, width)
	return s + blanks(width-ansi.StringWidth(s))
}

// PadLeft is Pad with the text at the right.
func PadLeft(s string, width int) string {
	s = Truncate(s, width)
	return blanks(width-ansi.StringWidth(s)) + s
}

func blanks(n int) string { return strings.Repeat(" ", max(0, n)) }

// Spread is a row with a text at its left and one at its right end. Where both have no
// room the left one is cut, down to half of the row, then the right one.
func Spread(left, right string, width int) string {
	const gap = 2
	if right == "" {
		return Truncate(left, width)
	}
	l, r := ansi.StringWidth(left), ansi.StringWidth(right)
	if l+gap+r > width {
		left = Truncate(left, max(width-gap-r, (width-gap)/2))
		l = ansi.StringWidth(left)
		right = Truncate(right, width-gap-l)
		r = ansi.StringWidth(right)
	}
	return Truncate(left+blanks(width-l-r)+right, width)
}

// Wrap breaks a text without colours into rows of so many columns. A number is not parted
// from its unit; a word that is longer than a row is broken too.
func Wrap(s string, width int) []string {
	if width <= 0 {
		return nil
	}
	var rows []string
	for line := range strings.SplitSeq(s, "\n") {
		row, used := "", 0
		for _, word := range tied(line, width) {
			n := ansi.StringWidth(word)
			if used > 0 && used+1+n > width {
				rows, row, used = append(rows, row), "", 0
			}
			for n > width {
				head := ansi.Truncate(word, width, "")
				if head == "" {
					head = Truncate(word, width) // one character wider than the row
					word = head
				}
				rows, word = append(rows, head), strings.TrimPrefix(word, head)
				n = ansi.StringWidth(word)
			}
			if used > 0 {
				row, used = row+" ", used+1
			}
			row, used = row+word, used+n
		}
		rows = append(rows, row)
	}
	return rows
}

// Painted is a text of any origin made fit for a terminal, broken into rows and painted.
func Painted(text string, width int, paint func(string) string) (rows []string) {
	for line := range strings.SplitSeq(text, "\n") {
		rows = append(rows, mapped(Wrap(safetext.Clean(line), max(1, width)), paint)...)
	}
	return rows
}

// Hanging is rows that hang from a head, so many columns in.
func Hanging(head string, in int, rows []string, width int) []string {
	for i, r := range rows {
		rows[i] = Truncate(Pad(head, in)+r, width)
		head = ""
	}
	return rows
}

// FieldRows is Field with a value that goes on beneath itself where it is long.
func FieldRows(label, value string, labelWidth, width int) (rows []string) {
	const gap = 2
	for _, r := range Painted(value, width-labelWidth-gap, style.Value) {
		rows = append(rows, Field(label, r, labelWidth, width))
		label = ""
	}
	return rows
}

// Chosen is a row of two blanks and a text as the one under the cursor.
func Chosen(row string, width int) string {
	return style.SelectedRow(Truncate(style.Now.Render("▌")+strings.TrimPrefix(row, " "), width), width)
}

// CutRows is the first rows of a text, one at least.
func CutRows(text string, height int) string {
	rows := strings.Split(text, "\n")
	return strings.Join(rows[:min(len(rows), max(1, height))], "\n")
}

// units are what is not parted from the number before it.
var units = []string{"%", "s", "min", "h", "days", "°C", "°F", "ml", "L", "g", "stops", "sheets"}

// tied is the words of a line, each number together with its unit where both have room.
func tied(line string, width int) (words []string) {
	for _, w := range strings.Fields(line) {
		last := len(words) - 1
		if last >= 0 && slices.Contains(units, strings.TrimRight(w, ".,;:)")) && endsInDigit(words[last]) &&
			ansi.StringWidth(words[last])+1+ansi.StringWidth(w) <= width {
			words[last] += " " + w
			continue
		}
		words = append(words, w)
	}
	return words
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// Field is a label and its value, the values of several beneath each other.
func Field(label, value string, labelWidth, width int) string {
	return Truncate(style.Label(Pad(label, labelWidth))+"  "+value, width)
}
