package recipes

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// The list: sessions that are unfinished, then the recipes, under their headings.

// list is what can be chosen, and what is.
type list struct {
	unfinished []screen.Unfinished
	recipes    []recipes.Entry // the person's own, then the shipped ones
	at         int             // first the unfinished sessions, then the recipes
}

const vesselsFrom = 64 // columns of a list that also shows vessels

// read reads what there is.
func read(b Backend) list {
	return list{unfinished: offered(b.Unfinished()), recipes: recipes.OwnFirst(b.Recipes())}
}

// again reads it anew; the cursor stays in its row.
func (l list) again(b Backend) list {
	next := read(b)
	next.at = l.at
	return next
}

// offered leaves out rehearsals but the newest: many may lie about.
func offered(list []screen.Unfinished) (kept []screen.Unfinished) {
	rehearsed := false
	for _, u := range list {
		if !u.Rehearsal || !rehearsed {
			kept = append(kept, u)
		}
		rehearsed = rehearsed || u.Rehearsal
	}
	return kept
}

// start is the line to begin on: a session that was cut off, else a recipe that can be used.
func (l list) start() int {
	if len(l.unfinished) > 0 {
		return 0
	}
	return max(0, slices.IndexFunc(l.recipes, func(e recipes.Entry) bool { return e.Fault == nil }))
}

// rows is how many lines can be chosen.
func (l list) rows() int { return len(l.unfinished) + len(l.recipes) }

// session is the session chosen; false where a recipe is.
func (l list) session() (screen.Unfinished, bool) {
	if l.at >= len(l.unfinished) {
		return screen.Unfinished{}, false
	}
	return l.unfinished[l.at], true
}

// entry is the recipe chosen; false where a session is.
func (l list) entry() (recipes.Entry, bool) {
	i := l.at - len(l.unfinished)
	if i < 0 || i >= len(l.recipes) {
		return recipes.Entry{}, false
	}
	return l.recipes[i], true
}

// indexOf is where the recipe of a name stands; -1 for nowhere.
func (l list) indexOf(name string) int {
	i := slices.IndexFunc(l.recipes, func(e recipes.Entry) bool { return e.Name == name })
	if i < 0 {
		return -1
	}
	return len(l.unfinished) + i
}

// count is how many recipes there are.
func (l list) count() string {
	own := 0
	for _, e := range l.recipes {
		if e.IsOwn {
			own++
		}
	}
	text := say.Count(len(l.recipes), "recipe")
	switch {
	case own == 0:
		return text + ", all shipped"
	case own == len(l.recipes):
		return text + ", your own"
	}
	return fmt.Sprintf("%s, %d of your own", text, own)
}

// line is one row of the list: a heading, or something that can be chosen.
type line struct {
	text string
	item int // -1 for a heading
}

// lines are all rows of the list, drawn for so many columns.
func (l list) lines(w int, u sequence.Units) []line {
	var rows []line
	heading := func(name string) {
		if len(rows) > 0 {
			rows = append(rows, line{"", -1})
		}
		rows = append(rows, line{columns(style.Heading(name), style.Label("vessel"), style.Label("sheets"), w), -1})
	}
	for i := range l.unfinished {
		if i == 0 {
			rows = append(rows, line{widget.Truncate(style.Heading("Unfinished"), w), -1})
		}
		rows = append(rows, line{sessionLine(l.unfinished[i], w, u), i})
	}
	for i, e := range l.recipes {
		switch {
		case i == 0 && e.IsOwn:
			heading("Yours")
		case !e.IsOwn && (i == 0 || l.recipes[i-1].IsOwn):
			heading("Shipped")
		}
		rows = append(rows, line{recipeLine(e, l.titleOf(i), w), len(l.unfinished) + i})
	}
	return rows
}

func sessionLine(u screen.Unfinished, w int, units sequence.Units) string {
	what := say.DayAndTime(u.Began, units)
	switch {
	case u.Running:
		what = "running in another wetside, " + what
	case u.Elsewhere:
		what = "on another laptop, " + what
	case u.Damaged != nil:
		what = "record damaged, " + what
	case u.Rehearsal:
		what = "rehearsal, " + what
	}
	return widget.Spread("  "+style.Value(safetext.Clean(u.Recipe)), style.Label(what), w)
}

// titleOf is a recipe's title, with its name where another bears the same title.
func (l list) titleOf(i int) string {
	e := &l.recipes[i]
	for k := range l.recipes {
		if k != i && l.recipes[k].Title == e.Title {
			return e.Title + ", " + e.Name
		}
	}
	return e.Title
}

func recipeLine(e recipes.Entry, title string, w int) string {
	if e.Fault != nil {
		return widget.Spread("  "+style.Value(safetext.Clean(e.Name)), style.Danger.Render("cannot be used"), w)
	}
	const indent = "  "
	title = widget.CutInside(safetext.Clean(title), titleRoom(w)-len(indent))
	return columns(indent+style.Value(title), style.Value(say.Vessel(e.Vessel)), style.Value(strconv.Itoa(e.Sheets)), w)
}

// The columns behind the title, and what parts them.
const columnGap, vesselWidth, sheetsWidth = 2, 13, 6

// titleRoom is how many columns of a row are a title's.
func titleRoom(w int) int {
	room := w - columnGap - sheetsWidth
	if w >= vesselsFrom {
		room -= columnGap + vesselWidth
	}
	return max(0, room)
}

// columns puts a title, a vessel where there is room, and the number of sheets in a row.
func columns(title, vessel, sheets string, w int) string {
	title = widget.Pad(title, titleRoom(w))
	if w >= vesselsFrom {
		title += "  " + widget.Pad(vessel, vesselWidth)
	}
	return widget.Truncate(title+"  "+widget.PadLeft(sheets, sheetsWidth), w)
}

// view is the rows around the cursor; where not all fit the last one says so.
func (l list) view(w, h int, u sequence.Units) string {
	lines := l.lines(w, u)
	at := max(0, slices.IndexFunc(lines, func(one line) bool { return one.item == l.at }))
	first, n, foot := 0, len(lines), ""
	if n > h {
		n = h
		if h >= 4 {
			n--
		}
		first = max(0, min(at-n/2, len(lines)-n))
		foot = fmt.Sprintf("  %d of %d", l.at+1, l.rows()) + widget.More(first, n, len(lines))
	}
	for n > 1 && foot != "" && first+n < len(lines) && lines[first+n-1].item < 0 && first+n-1 > at { // no heading without what it heads
		n--
	}
	var rows []string
	for _, one := range lines[first : first+n] {
		if one.item == l.at {
			one.text = widget.Chosen(one.text, w)
		}
		rows = append(rows, one.text)
	}
	if n < h && foot != "" {
		rows = append(rows, style.Label(widget.Truncate(foot, w)))
	}
	return strings.Join(rows, "\n")
}
