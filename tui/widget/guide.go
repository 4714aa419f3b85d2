package widget

// A guide: its markdown as rows of a terminal, on the command line and over a screen.

import (
	"regexp"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
)

// Guide is a guide in a window that may be lower than it.
type Guide struct {
	Text          string // markdown; its first heading is Title
	Width, Height int
	First         int // row at the top
}

// guideProse is how wide a guide's sentences are at most.
const guideProse = 84

// Title is the guide's first heading.
func (g Guide) Title() string {
	title, _, _ := strings.Cut(strings.TrimPrefix(g.Text, "# "), "\n")
	return title
}

// Scroll is what follows the title as a body that can be moved; its First is the one to keep.
func (g Guide) Scroll() Scroll {
	s := Scroll{Width: g.Width, Height: g.Height, First: g.First}
	_, body, _ := strings.Cut(g.Text, "\n")
	s.Text = strings.Join(GuideRows(strings.TrimLeft(body, "\n"), min(s.Inner(), guideProse), style.Value, style.Heading), "\n")
	return s
}

// GuideRows is markdown of the few kinds that guides are written in, in rows of so many columns:
// sentences and lists are wrapped anew, what is typed stays as it is while it has room. Headings
// and what is set apart within a line are strong, without the marks that say so.
func GuideRows(text string, width int, plain, strong func(string) string) (rows []string) {
	r := guideRows{width: max(1, width), plain: plain, strong: strong}
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	for i := 0; i < len(lines); {
		i += r.block(lines[i:])
	}
	return r.rows
}

type guideRows struct {
	width         int
	plain, strong func(string) string
	rows          []string
}

// typed is how far what is typed is set in.
const typed = "    "

// listMark begins an item of a list.
var listMark = regexp.MustCompile(`^(- |\d+\. )`)

// block takes the lines that belong together from the front, and tells how many they were.
func (r *guideRows) block(lines []string) int {
	line := lines[0]
	switch {
	case line == "":
		r.rows = append(r.rows, "")
	case strings.HasPrefix(line, typed):
		r.typed(line)
	case strings.HasPrefix(line, "#"):
		r.rows = append(r.rows, mapped(Wrap(strings.TrimLeft(line, "# "), r.width), r.strong)...)
	case strings.HasPrefix(line, "|"):
		return r.table(lines)
	default:
		n := 1
		for n < len(lines) && goesOn(lines[n]) {
			n++
		}
		mark := listMark.FindString(line)
		r.sentences(mark, strings.Join(lines[:n], " ")[len(mark):])
		return n
	}
	return 1
}

// goesOn tells whether a line belongs to the sentences before it.
func goesOn(line string) bool {
	return line != "" && !strings.HasPrefix(line, typed) && !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "|") && !listMark.MatchString(line)
}

// typed is a line as it is typed or stands in a file; what has no room goes on further in.
func (r *guideRows) typed(line string) {
	if ansi.StringWidth(line) <= r.width {
		r.rows = append(r.rows, r.plain(line))
		return
	}
	in := line[:len(line)-len(strings.TrimLeft(line, " "))]
	for i, row := range Wrap(line, max(1, r.width-len(in)-2)) {
		if i == 1 {
			in += "  "
		}
		r.rows = append(r.rows, r.plain(Truncate(in+row, r.width)))
	}
}

// sentences are wrapped behind their mark.
func (r *guideRows) sentences(mark, text string) {
	text, strong := apart(text)
	for i, row := range r.emphasised(Wrap(text, max(1, r.width-len(mark))), strong) {
		if i > 0 {
			mark = blanks(len(mark))
		}
		r.rows = append(r.rows, Truncate(r.plain(mark)+row, r.width))
	}
}

// table is rows of two cells, the second wrapped behind the widest of the first.
func (r *guideRows) table(lines []string) int {
	n, column := 0, 0
	var cells [][2]string
	for ; n < len(lines) && strings.HasPrefix(lines[n], "|"); n++ {
		left, right, _ := strings.Cut(strings.Trim(lines[n], "| "), " | ")
		if strings.HasPrefix(left, "-") {
			continue
		}
		left, _ = apart(left)
		cells = append(cells, [2]string{left, right})
		column = max(column, ansi.StringWidth(left))
	}
	column = min(column, r.width/2)
	for _, c := range cells {
		left := c[0]
		text, strong := apart(c[1])
		for _, row := range r.emphasised(Wrap(text, max(1, r.width-column-2)), strong) {
			r.rows = append(r.rows, Truncate(r.plain(Pad(left, column)+"  ")+row, r.width))
			left = ""
		}
	}
	return n
}

// emphasis is what a guide sets apart within a line: code and strong words.
var emphasis = regexp.MustCompile("`([^`]+)`|\\*\\*([^*]+)\\*\\*|\\*([^* ][^*]*)\\*")

// apart is a text without the marks of what is set apart in it, and which of its characters that
// are no blanks are.
func apart(text string) (bare string, strong []bool) {
	add := func(part string, is bool) {
		bare += part
		for _, c := range part {
			if !unicode.IsSpace(c) {
				strong = append(strong, is)
			}
		}
	}
	last := 0
	for _, m := range emphasis.FindAllStringSubmatchIndex(text, -1) {
		add(text[last:m[0]], false)
		for g := 2; g < len(m); g += 2 {
			if m[g] >= 0 {
				add(text[m[g]:m[g+1]], true)
			}
		}
		last = m[1]
	}
	add(text[last:], false)
	return bare, strong
}

// emphasised paints wrapped rows: wrapping moves blanks alone, so that the characters between
// them are still those that apart counted.
func (r *guideRows) emphasised(rows []string, strong []bool) []string {
	at := 0
	for i, row := range rows {
		out, run, is := "", "", false
		for _, c := range row {
			if !unicode.IsSpace(c) {
				if next := at < len(strong) && strong[at]; next != is {
					out, run, is = out+r.paint(run, is), "", next
				}
				at++
			}
			run += string(c)
		}
		rows[i] = out + r.paint(run, is)
	}
	return rows
}

// paint paints words, and the blank behind them as that of a plain text.
func (r *guideRows) paint(words string, strong bool) string {
	if words == "" || !strong {
		return r.plain(words)
	}
	bare := strings.TrimRight(words, " ")
	return r.strong(bare) + r.plain(words[len(bare):])
}
