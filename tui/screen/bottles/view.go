package bottles

// The picture of the bottles: table, details, questions.

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

const (
	wide     = 108 // from this width on the details stand beside the table
	prose    = 80  // no sentence is longer
	leastFor = 12  // rows from which there is something beneath the table
)

// View draws the body.
func (m Model) View(w, h int) string {
	switch {
	case m.watch.runs():
		return m.watchView(w, h)
	case m.asked == whichRecipe:
		return m.recipesView(w, h)
	case m.asked != nothing:
		return m.scrolled(w, h, func(w int) string { return strings.Join(m.question(w), "\n") })
	case m.shelf:
		return m.scrolled(w, h, func(w int) string { return m.stockTable(w, 1<<20) })
	case len(m.bottles) == 0:
		return m.emptyView(w, h)
	case m.alone:
		return m.scrolled(w, h, func(w int) string { return strings.Join(m.details(w), "\n") })
	case w >= wide:
		c := widget.Columns{Width: w, Left: min(max(w/2, m.mixedTable().Natural()), w*2/3), Ruled: true}
		lw, rw, _ := c.Widths()
		left := m.table(lw, h)
		if stock := m.stockTable(lw, h-height(left)-1); stock != "" {
			left += "\n\n" + stock
		}
		left += strings.Repeat("\n", max(0, h-height(left)))
		return widget.CutRows(c.Join(left, strings.Join(m.details(rw), "\n")), h)
	case h < leastFor:
		return m.table(w, h)
	}
	t := m.table(w, h/2)
	rows := append([]string{t, ""}, m.details(w)...)
	text := strings.Join(rows, "\n")
	if stock := m.stockTable(w, h-height(text)-1); stock != "" {
		text += "\n\n" + stock
	}
	return widget.CutRows(text, h)
}

// scrolled is a text that may be longer than the window.
func (m Model) scrolled(w, h int, text func(w int) string) string {
	s := widget.Scroll{Width: w, Height: h, Text: text(w)}
	if !s.Whole() {
		s.Text = text(s.Inner())
	}
	*m.drawn = extent{height(s.Text), h}
	return s.Moved(m.first).View()
}

func height(s string) int { return strings.Count(s, "\n") + 1 }

func wrapped(text string, w int, ink func(string) string) []string {
	return widget.Painted(text, min(w, prose), ink)
}

// table is the mixed baths.
func (m Model) table(w, h int) string {
	t := m.mixedTable()
	t.Width, t.Height = w, h
	if w < 56 { // what it is and its age are told beneath
		t.Columns = append(t.Columns[:1:1], t.Columns[3:]...)
		for i, cells := range t.Rows {
			t.Rows[i] = append(cells[:1:1], cells[3:]...)
		}
	}
	return t.View()
}

func (m Model) mixedTable() widget.Table {
	t := widget.Table{Selected: m.at, Columns: []widget.Column{{Title: "bottle", Least: 10}, {Title: "used as"},
		{Title: "age", Right: true}, {Title: "sheets done", Right: true}, {Title: "state", Least: 12}}}
	for i := range m.bottles {
		b := &m.bottles[i]
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(b.Name)), style.Value(safetext.Clean(say.StepName(b.Bath.ID))),
			style.Value(say.BottleAge(b, m.now)), style.Value(say.BottleUse(b)), m.state(b)})
	}
	return t
}

// state is whether a bottle can still be used, by its word and by its colour.
func (m Model) state(b *bottles.Bottle) string {
	switch r, word := say.BottleState(b, m.now); r {
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
func (m Model) stockTable(w, h int) string {
	if len(m.stock) == 0 || h < 3 {
		return ""
	}
	u := m.env.Units()
	t := widget.Table{Selected: -1, Width: w, Height: h, Columns: []widget.Column{{Title: style.Heading("Stock"), Least: 10}, {Title: "part"},
		{Title: "left", Right: true}, {Title: "of", Right: true}, {Title: "", Least: 5}}}
	for _, s := range m.stock {
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
func (m Model) details(w int) []string {
	b := m.chosen()
	var rows []string
	if m.fault != "" {
		rows = append(rows, wrapped(m.fault, w, style.Heading)...)
	}
	if b == nil {
		return rows
	}
	_, word := say.BottleState(b, m.now)
	rows = append(rows, wrapped(fmt.Sprintf("%s: %s, %s", b.Name, word, say.BottleLeft(b)), w, style.Heading)...)
	field := func(label, value string) {
		const column = 10
		for i, row := range widget.Wrap(safetext.Clean(value), max(8, min(w, prose)-column-2)) {
			if i > 0 {
				label = ""
			}
			rows = append(rows, widget.Field(label, style.Value(row), column, w))
		}
	}
	if amounts := say.Amounts(&b.Bath, m.env.Units()); amounts != "" {
		field("mixed from", amounts)
	}
	field("used as", say.StepName(b.Bath.ID))
	field("mixed", m.mixed(b))
	if clears := say.BottleClearing(b); clears != "" {
		field("fixing", clears)
		if times := say.FixTimes(b.OpenBottle(m.now)); times != "" {
			field("", times)
		}
	}
	if n := len(b.Sessions); n > 0 {
		field("used in", say.Count(n, "session")+", the last "+b.Sessions[n-1])
	}
	return rows
}

// mixed is when it was mixed, and how long it keeps.
func (m Model) mixed(b *bottles.Bottle) string {
	text := say.DayAndTime(b.Mixed, m.env.Units())
	age, life := b.OpenBottle(m.now).Age, b.Bath.WorkingLife
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

func (m Model) emptyView(w, h int) string {
	var rows []string
	switch {
	case !m.read:
		rows = wrapped("Reading the bottles.", w, style.Label)
	case m.fault != "":
		rows = wrapped(m.fault, w, style.Heading)
	default:
		rows = wrapped("No bath stands mixed: each plan counts on baths mixed fresh. o opens a bottle for each bath of a recipe, so that its age and its sheets are counted.", w, style.Value)
	}
	text := strings.Join(rows, "\n")
	if stock := m.stockTable(w, h-height(text)-1); stock != "" {
		text += "\n\n" + stock
	}
	return widget.CutRows(text, h)
}

func (m Model) recipesView(w, h int) string {
	t := widget.Table{Selected: m.pick, Width: w, Height: max(1, h-2), Columns: []widget.Column{{Title: "recipe"}, {Title: "film"}}}
	for _, e := range m.choice {
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(e.Title)), style.Value(safetext.Clean(e.Film))})
	}
	head := style.Heading(widget.Truncate("For which recipe were the baths mixed?", w))
	if h < leastFor {
		t.Height = max(1, h-1)
		return widget.CutRows(head+"\n"+t.View(), h)
	}
	return head + "\n\n" + t.View()
}

// question is what is asked before it is done, with what it means.
func (m Model) question(w int) []string {
	var rows []string
	add := func(ink func(string) string, texts ...string) {
		for _, t := range texts {
			rows = append(rows, wrapped(t, w, ink)...)
		}
	}
	const silver = "Used fixer holds silver: collect it. Local rules decide where it goes."
	switch c := m.chosen(); m.asked {
	case retireIt:
		add(style.Heading, "Retire "+c.Name+"? This cannot be undone. y retires it.")
		add(style.Value, "", "No plan draws on it any more. "+silver)
	case swapIt:
		add(style.Heading, "Retire "+c.Name+", and "+m.successor().Name+" takes its place as "+c.Bath.ID+"? This cannot be undone. y swaps them.")
		add(style.Value, "", "Of two fixing baths the first is spent first: the second takes its place, and a new second is mixed. "+silver)
	case testIt:
		add(style.Heading, "Clearing test of "+c.Name+": enter starts the stopwatch as a scrap of film goes in.")
		add(style.Value, "", "In the light, gloves on, the room aired. Move the scrap about until nothing milky is left.",
			"At twice the time of fresh fixer it is spent (NAVEDTRA 14209 p. 249). The time is written down for this bottle; type it as the plan's clearing time.")
	case openThem:
		rows = append(rows, m.openingRows(w)...)
	}
	return rows
}

// openingRows are the baths of a recipe with what they are mixed from and what they can do to people.
func (m Model) openingRows(w int) []string {
	rows := wrapped("Mixed now, for "+m.of.Title+"? y opens a bottle for each bath.", w, style.Heading)
	for i := range m.of.Baths {
		b := &m.of.Baths[i]
		rows = append(rows, "")
		rows = append(rows, wrapped(b.ID+": "+say.Amounts(b, m.env.Units()), w, style.Value)...)
		for _, h := range say.HazardsIn(m.of, b) {
			level := sequence.Care
			if strings.HasPrefix(h, "Never") { // what must never be done
				level = sequence.Danger
			}
			if h != say.SafetyReminder {
				rows = append(rows, widget.CautionRows(level, h, min(w, prose))...)
			}
		}
	}
	return append(append(rows, ""), wrapped(say.SafetyReminder, w, style.Value)...)
}

// watchView is the stopwatch while it runs.
func (m Model) watchView(w, h int) string {
	c := m.chosen()
	head := ""
	if c != nil {
		head = style.Heading(widget.Truncate("Clearing in "+safetext.Clean(c.Name)+": enter when nothing milky is left", w))
	}
	digits := widget.BigDigits{Text: sequence.FormatElapsed(m.watch.shown.Truncate(time.Second)), Width: w, Height: max(1, min(h-4, 9)), Ink: style.Strong}
	rows := []string{head, "", digits.View()}
	if c != nil && c.FreshClearing > 0 {
		rows = append(rows, "", style.Value(widget.Truncate("spent from "+sequence.FormatElapsed(2*c.FreshClearing)+" ("+sequence.FormatElapsed(c.FreshClearing)+" when fresh)", w)))
	}
	return widget.CutRows(strings.Join(rows, "\n"), h)
}
