package bottles

// The picture: the list, or what is asked, or the stopwatch.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
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
	u := m.env.Units()
	switch {
	case m.watch.runs():
		return m.watch.view(m.list.chosen(), w, h)
	case m.asked == whichRecipe:
		return m.recipesView(w, h)
	case m.asked != nothing:
		return m.scrolled(w, h, m.question)
	case m.stock:
		return m.scrolled(w, h, func(w int) []string { return strings.Split(m.list.stockTable(w, 1<<20, u), "\n") })
	case len(m.list.bottles) == 0:
		return m.list.emptyView(w, h, u)
	case m.alone:
		return m.scrolled(w, h, func(w int) []string { return m.list.details(w, u) })
	case w >= wide:
		c := widget.Columns{Width: w, Left: min(max(w/2, m.list.mixedTable().Natural()), w*2/3), Ruled: true}
		lw, rw, _ := c.Widths()
		left := m.list.overStock(m.pager.Draw(m.list.table(lw, h)), lw, h, u)
		left += strings.Repeat("\n", max(0, h-height(left)))
		return widget.CutRows(c.Join(left, strings.Join(m.list.details(rw, u), "\n")), h)
	case h < leastFor:
		return m.pager.Draw(m.list.table(w, h))
	}
	rows := append([]string{m.pager.Draw(m.list.table(w, h/2)), ""}, m.list.details(w, u)...)
	return widget.CutRows(m.list.overStock(strings.Join(rows, "\n"), w, h, u), h)
}

// scrolled is a text that may be longer than the window.
func (m Model) scrolled(w, h int, rows func(w int) []string) string {
	s := widget.Flowing(w, h, rows)
	*m.drawn = extent{height(s.Text), h}
	return s.Moved(m.first).View()
}

func height(s string) int { return strings.Count(s, "\n") + 1 }

func wrapped(text string, w int, ink func(string) string) []string {
	return widget.Painted(text, min(w, prose), ink)
}

func (m Model) recipesView(w, h int) string {
	t := widget.Table{Selected: m.pick, Width: w, Height: max(1, h-2), Columns: []widget.Column{{Title: "recipe"}, {Title: "film"}}}
	for _, e := range m.choice {
		t.Rows = append(t.Rows, []string{style.Value(safetext.Clean(e.Title)), style.Value(safetext.Clean(e.Film))})
	}
	head := style.Heading(widget.Truncate("For which recipe were the baths mixed?", w))
	if h < leastFor {
		t.Height = max(1, h-1)
		return widget.CutRows(head+"\n"+m.pager.Draw(t), h)
	}
	return head + "\n\n" + m.pager.Draw(t)
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
	switch c := m.list.chosen(); m.asked {
	case retireIt:
		add(style.Heading, "Retire "+c.Name+"? This cannot be undone. y retires it.")
		add(style.Value, "", "No plan draws on it any more. "+silver)
	case swapIt:
		add(style.Heading, "Retire "+c.Name+", and "+m.list.successor().Name+" takes its place as "+c.Bath.ID+"? This cannot be undone. y swaps them.")
		add(style.Value, "", "Of two fixing baths the first is spent first: the second takes its place, and a new second is mixed. "+silver)
	case testIt:
		add(style.Heading, "Clearing test of "+c.Name+": enter starts the stopwatch as a scrap of film goes in.")
		add(style.Value, "", "In the light, gloves on, the room aired. Move the scrap about until nothing milky is left.",
			"At twice the time of fresh fixer it is spent (NAVEDTRA 14209 p. 249). The time is written down for this bottle; type it as the plan's clearing time.")
	case replenishIt:
		rows = append(rows, replenishRows(m, c, w)...)
	case openThem:
		rows = append(rows, openingRows(m, w)...)
	}
	return rows
}

// openingRows are the baths of a recipe with what they are mixed from and what they can do to people.
func openingRows(m Model, w int) []string {
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
