package widget

// Tables with headings and numbers at the right.

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
)

// Column is one column of a table.
type Column struct {
	Title string
	Right bool // numbers, with their unit
	Least int  // it is not made narrower than this before others are; 0 for leastColumn
	Named bool // names of which the end tells one from another: they are cut inside
}

// Table is rows under headings. Cells without a colour are drawn in ink.
type Table struct {
	Columns       []Column
	Rows          [][]string
	Selected      int  // -1 for none
	Plain         bool // no row is ever selected: there is no margin for the mark
	Width, Height int  // Height 0 for as high as it is
	Empty         string
}

const (
	tableGap    = 2
	leastColumn = 8
	rowMark     = "▌"
	markWidth   = 2
)

// View draws it. The rows around the selected one are shown where not all fit, and the last
// row then says which.
func (t Table) View() string {
	if len(t.Rows) == 0 {
		return strings.Join(mapped(Wrap(t.Empty, t.Width), style.Label), "\n")
	}
	widths := t.widths()
	var rows []string
	if t.headed() {
		rows = append(rows, t.row(t.titles(), widths, false))
	}
	first, n := t.Shown()
	for i := first; i < first+n; i++ {
		rows = append(rows, t.row(t.Rows[i], widths, i == t.Selected))
	}
	if n < len(t.Rows) && t.foot() {
		where := fmt.Sprintf("%d to %d of %d", first+1, first+n, len(t.Rows))
		if t.Selected >= 0 {
			where = fmt.Sprintf("%d of %d", t.Selected+1, len(t.Rows))
		}
		rows = append(rows, style.Label(Truncate(blanks(t.margin())+where+More(first, n, len(t.Rows)), t.Width)))
	}
	return strings.Join(rows, "\n")
}

// Lines is View as rows; nil where the table is empty.
func (t Table) Lines() []string {
	if len(t.Rows) == 0 {
		return nil
	}
	return strings.Split(t.View(), "\n")
}

// More says on which side of n rows from the first on the others are.
func More(first, n, all int) string {
	switch {
	case first == 0:
		return "  ↓ more"
	case first+n == all:
		return "  ↑ more"
	}
	return "  ↑↓ more"
}

// Shown is which rows there is room for.
func (t Table) Shown() (first, n int) {
	n = len(t.Rows)
	room := t.Height
	if t.headed() {
		room--
	}
	if t.Height <= 0 || n <= room {
		return 0, n
	}
	if t.foot() {
		room--
	}
	room = max(1, room)
	first = max(0, min(t.Selected-room/2, n-room))
	return first, min(room, n)
}

// headed tells whether there is a row of headings.
func (t Table) headed() bool {
	named := slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Title != "" })
	return named && (t.Height <= 0 || t.Height >= 2)
}

// foot tells whether there is room for a row that says where one is.
func (t Table) foot() bool { return t.Height >= 4 || !t.headed() && t.Height >= 3 }

// titles are the headings, quiet where they have no colour of their own.
func (t Table) titles() (list []string) {
	for _, c := range t.Columns {
		if c.Title != "" && ansi.Strip(c.Title) == c.Title {
			c.Title = style.Label(c.Title)
		}
		list = append(list, c.Title)
	}
	return list
}

func (t Table) margin() int {
	if t.Plain {
		return 0
	}
	return markWidth
}

// Natural is how wide it would be if nothing were cut.
func (t Table) Natural() int {
	w := t.margin() + tableGap*max(0, len(t.Columns)-1)
	for _, n := range t.natural() {
		w += n
	}
	return w
}

func (t Table) natural() []int {
	list := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		list[i] = ansi.StringWidth(c.Title)
		for _, row := range t.Rows {
			if i < len(row) {
				list[i] = max(list[i], ansi.StringWidth(row[i]))
			}
		}
	}
	return list
}

// widths are the columns' widths, together no more than the table's: texts give way before
// numbers, the widest first.
func (t Table) widths() []int {
	list := t.natural()
	over := t.Natural() - t.Width
	for _, numbers := range []bool{false, true} {
		over = t.narrow(list, over, func(i int) int {
			c := t.Columns[i]
			switch {
			case c.Right && !numbers:
				return list[i]
			case c.Least > 0:
				return c.Least
			}
			return leastColumn
		})
	}
	t.narrow(list, over, func(int) int { return 1 })
	return list
}

// narrow takes columns away where least leaves any, and returns how many are still over.
func (t Table) narrow(list []int, over int, least func(int) int) int {
	for ; over > 0; over-- {
		widest := -1
		for i, w := range list {
			if w > least(i) && (widest < 0 || w > list[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		list[widest]--
	}
	return over
}

// row is one row, the selected one filled across the table.
func (t Table) row(cells []string, widths []int, selected bool) string {
	var b strings.Builder
	b.WriteString(blanks(t.margin()))
	for i, c := range t.Columns {
		text := ""
		if i < len(cells) {
			text = cells[i]
		}
		if i > 0 {
			b.WriteString(blanks(tableGap))
		}
		if c.Named {
			text = CutInside(text, widths[i])
		}
		if c.Right {
			b.WriteString(PadLeft(text, widths[i]))
		} else {
			b.WriteString(Pad(text, widths[i]))
		}
	}
	s := strings.TrimRight(b.String(), " ")
	if !selected {
		return Truncate(s, t.Width)
	}
	if t.margin() > 0 {
		s = style.Now.Render(rowMark) + strings.TrimPrefix(s, " ")
	}
	return style.SelectedRow(Truncate(s, t.Width), t.Width)
}

func mapped(rows []string, f func(string) string) []string {
	for i, r := range rows {
		rows[i] = f(r)
	}
	return rows
}

// Alike is rows with those in one that follow each other and are the same but for their first cell; name is
// that cell for the places of several.
func Alike(rows [][]string, name func(places []int) string) (list [][]string) {
	for i := 0; i < len(rows); {
		var places []int
		for k := i; k < len(rows) && slices.Equal(rows[k][1:], rows[i][1:]); k++ {
			places = append(places, k)
		}
		row := rows[i]
		if i += len(places); len(places) > 1 {
			row = append([]string{name(places)}, row[1:]...)
		}
		list = append(list, row)
	}
	return list
}
