package bottles

import (
	"fmt"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// The bottles as they were read: which is chosen, and how they are shown.

// list is the mixed baths and the stock.
type list struct {
	bottles []bottles.Bottle
	stock   []sequence.Stock
	now     time.Time // when they were read
	fault   string    // why they could not be
	read    bool      // they have come
	at      int       // the bottle under the cursor
}

// came is the list as it stands now; the cursor stays.
func (l list) came(msg listMsg) list {
	next := list{bottles: msg.bottles, stock: msg.stock, now: msg.now, read: true, at: min(l.at, max(0, len(msg.bottles)-1))}
	if msg.err != nil {
		next.fault = msg.err.Error()
	}
	return next
}

// chosen is the bottle under the cursor; nil where there is none.
func (l list) chosen() *bottles.Bottle {
	if l.at < 0 || l.at >= len(l.bottles) {
		return nil
	}
	return &l.bottles[l.at]
}

// successor is the bottle that takes the place of the chosen one; nil for none.
func (l list) successor() *bottles.Bottle {
	c, ok := l.inventory().Successor(l.bottles[l.at])
	if !ok {
		return nil
	}
	return &c
}

func (l list) inventory() bottles.Inventory { return bottles.Inventory{Bottles: l.bottles} }

// table is the mixed baths.
func (l list) table(w, h int) widget.Table {
	t := l.mixedTable()
	t.Width, t.Height = w, h
	if w < 56 { // what it is and its age are told beneath
		t.Columns = append(t.Columns[:1:1], t.Columns[3:]...)
		for i, cells := range t.Rows {
			t.Rows[i] = append(cells[:1:1], cells[3:]...)
		}
	}
	return t
}

func (l list) mixedTable() widget.Table {
	t := widget.Table{Selected: l.at, Columns: []widget.Column{{Title: "bottle", Least: 10}, {Title: "used as"},
		{Title: "age", Right: true}, {Title: "sheets done", Right: true}, {Title: "state", Least: 12}}}
	for i := range l.bottles {
		b := &l.bottles[i]
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(b.Name)), style.Value(safetext.Clean(say.StepName(b.Bath.ID))),
			style.Value(say.BottleAge(b, l.now)), style.Value(say.BottleUse(b)), l.state(b)})
	}
	return t
}

// state is whether a bottle can still be used, by its word and by its colour.
func (l list) state(b *bottles.Bottle) string {
	switch r, word := say.BottleState(b, l.now); r {
	case say.Ready:
		return style.Done.Render(word)
	case say.AlmostSpent:
		return style.Value(word)
	case say.Spent:
		return style.Danger.Render(word)
	default:
		return style.Care.Render(word)
	}
}

// stockTable is the parts that baths are mixed from; "" where there is no room, or none is counted.
func (l list) stockTable(w, h int, u sequence.Units) string {
	if len(l.stock) == 0 || h < 3 {
		return ""
	}
	t := widget.Table{Selected: -1, Width: w, Height: h, Columns: []widget.Column{{Title: style.Heading("Stock"), Least: 10}, {Title: "part"},
		{Title: "left", Right: true}, {Title: "of", Right: true}, {Title: "", Least: 5}}}
	for _, s := range l.stock {
		left, state := say.Volume(s.Left, u), ""
		if s.Left <= 0 {
			left, state = "", style.Care.Render("empty")
		}
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(s.Bottle)), style.Value(safetext.Clean(s.Part)),
			style.Value(left), style.Label(say.Volume(s.Opened, u)), state})
	}
	return t.View()
}

// details is what is told of the chosen bottle.
func (l list) details(w int, u sequence.Units) []string {
	b := l.chosen()
	var rows []string
	if l.fault != "" {
		rows = append(rows, wrapped(l.fault, w, style.Heading)...)
	}
	if b == nil {
		return rows
	}
	_, word := say.BottleState(b, l.now)
	rows = append(rows, wrapped(fmt.Sprintf("%s: %s, %s", b.Name, word, say.BottleLeft(b)), w, style.Heading)...)
	used := ""
	if n := len(b.Sessions); n > 0 {
		used = say.Count(n, "session") + ", the last " + b.Sessions[n-1]
	}
	for _, fact := range [][2]string{
		{"mixed from", say.Amounts(&b.Bath, u)},
		{"used as", say.StepName(b.Bath.ID)},
		{"mixed", l.mixed(b, u)},
		{"second", say.BottleBehind(b)},
		{"fixing", say.BottleClearing(b)},
		{"", say.FixTimes(b.OpenBottle(l.now))},
		{"then", say.BottleFollower(b, l.inventory(), l.now)},
		{"reuse", say.BottleReuse(b, u)},
		{"tested", say.BottleSilver(b)},
		{"used in", used},
	} {
		if fact[1] != "" {
			rows = append(rows, widget.FieldRows(fact[0], fact[1], 10, min(w, prose))...)
		}
	}
	return rows
}

// mixed is when it was mixed, and how long it keeps.
func (l list) mixed(b *bottles.Bottle, u sequence.Units) string {
	text := say.DayAndTime(b.Mixed, u)
	age, life := b.OpenBottle(l.now).Age, b.Bath.WorkingLife
	if age < 0 {
		return text + ", in the future by this clock: is it right?"
	}
	text += ", " + say.Age(age) + " ago"
	switch {
	case life == 0:
		return text + "; how long it keeps is not given"
	case age > life:
		return text + "; it kept " + say.Age(life)
	}
	return text + "; it keeps " + say.Age(life)
}

func (l list) emptyView(w, h int, u sequence.Units) string {
	var rows []string
	switch {
	case !l.read:
		rows = wrapped("Reading the bottles.", w, style.Label)
	case l.fault != "":
		rows = wrapped(l.fault, w, style.Heading)
	default:
		rows = wrapped("No bath stands mixed: each plan counts on baths mixed fresh. o opens a bottle for each bath of a recipe, so that its age and its sheets are counted.", w, style.Value)
	}
	return widget.CutRows(l.overStock(strings.Join(rows, "\n"), w, h, u), h)
}

// overStock is a text with the stock beneath it, where there is room for that.
func (l list) overStock(text string, w, h int, u sequence.Units) string {
	if stock := l.stockTable(w, h-height(text)-1, u); stock != "" {
		return text + "\n\n" + stock
	}
	return text
}
