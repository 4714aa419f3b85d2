package plan

// What follows from the conditions, as sections: the steps first, then what small errors do,
// cautions, ways to shorten, notes. Where not all have room, those that come last are folded
// into a row that says what they are and which key opens them.

import (
	"slices"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// section is rows with a blank one before them.
type section struct {
	rows   []string
	folded string   // what the fold calls it; "" for what is never folded
	short  []string // what stands in its place where it is folded; nil for nothing
	told   bool     // that says what it is: the fold need not name it too
}

// page is what follows from a draft.
type page struct {
	draft
	way    int         // that + applies
	chosen bool        // and the cursor is on
	risk   string      // of the plan to the emulsion, by what was noted
	offer  *film.Offer // the film's own time; nil for none
}

// tableFrom is the width from which what the hands do has a column of its own.
const tableFrom = 62

// whole is all sections, in the order in which they matter.
func (p page) whole(w int) []section {
	rest, budget := p.besides(w), 1
	if say.OverLimit(p.plan) {
		budget = 2
	}
	list := append([]section{p.dangers(w), p.steps(w)}, slices.Insert(rest, budget, p.budget(w), p.washes(w))...)
	if w < tableFrom {
		list = append(list, p.hands(w))
	}
	return list
}

// besides is what follows beside steps and error budget.
func (p page) besides(w int) []section {
	list := []section{p.cautions(w, sequence.Care), p.ways(w), p.gentler(w), p.told(w), p.baths(w), p.cautions(w, sequence.Note)}
	if say.OverLimit(p.plan) {
		list[0], list[1] = list[1], list[0]
	}
	return list
}

// headed is rows under a heading; an empty section where there are none.
func headed(heading string, rows []string, folded string) section {
	if len(rows) == 0 {
		return section{}
	}
	return section{rows: append([]string{style.Heading(heading)}, rows...), folded: folded}
}

// joined is sections with a blank row between them; those that are empty are left out.
func joined(list []section) (rows []string) {
	for _, s := range list {
		if len(s.rows) > 0 && len(rows) > 0 {
			rows = append(rows, "")
		}
		rows = append(rows, s.rows...)
	}
	return rows
}

// pane draws sections in a window. The list of ways is shown while the cursor is on it.
func (p page) pane(w, h int, sections func(int) []section) string {
	s := widget.Scroll{Width: w, Height: h, Text: strings.Join(joined(sections(w)), "\n")}
	switch {
	case s.Whole():
		return s.View()
	case p.chosen:
		rows, at, end := p.wayRows(s.Inner())
		s.Text = strings.Join(rows, "\n")
		return s.Shows(end).Shows(at).View()
	}
	return widget.Flowing(w, h, func(w int) []string { return folded(sections(w), w, h) }).View()
}

// reading is all that follows, in the whole width, from a row on.
func (p page) reading(first, w, h int) widget.Scroll {
	return widget.Flowing(w, h, func(w int) []string { return joined(p.whole(w)) }).Moved(first)
}

// folded is the sections that have room, and a row that names the others.
func folded(list []section, w, h int) (rows []string) {
	var names []string
	for _, s := range list {
		room := h - len(rows) - 2 // a blank row, and the one that names the others
		switch {
		case len(s.rows) == 0:
			continue
		case s.folded == "" || len(s.rows) <= room:
			rows = joined([]section{{rows: rows}, s})
			continue
		case len(s.short) > 0 && len(s.short) <= room:
			if rows = joined([]section{{rows: rows}, {rows: s.short}}); s.told {
				continue
			}
		}
		if !slices.Contains(names, s.folded) {
			names = append(names, s.folded)
		}
	}
	if len(rows)+1 < h {
		rows = append(rows, "")
	}
	return append(rows, fold(names, w))
}

// fold is the row that names what is folded; what has no room there is a mark.
func fold(names []string, w int) string {
	row := style.Key.Render("i") + "  " + strings.Join(names, ", ")
	for n := len(names); n > 0 && widget.Width(row) > w; {
		n--
		row = style.Key.Render("i") + "  " + strings.Join(append(names[:n:n], "…"), ", ")
	}
	return widget.Truncate(row, w)
}

// steps is the table of steps.
func (p page) steps(w int) section {
	return section{rows: widget.PlanSteps(p.plan, w).Lines()}
}

// baths is what each is mixed from, or the bottle that it comes from.
func (p page) baths(w int) section {
	const labels = 13
	var rows []string
	for i := range p.plan.Recipe.Baths {
		b := &p.plan.Recipe.Baths[i]
		from := say.Amounts(b, p.conditions.Units)
		if k, ok := p.plan.OpenBottle(b.ID); ok {
			from = "from " + k.Bottle
		}
		rows = append(rows, widget.FieldRows(safetext.Clean(say.StepName(b.ID)), from, labels, w)...)
	}
	return headed("Baths", rows, "baths")
}

// hands is what the hands do in each step, where the table has no room for it.
func (p page) hands(w int) section {
	var rows []string
	for i := range p.plan.Steps {
		name := safetext.Clean(say.StepName(p.plan.Steps[i].Name))
		for j, r := range widget.Wrap(name+": "+say.Hands(p.plan, i), max(1, w-2)) {
			if j > 0 {
				r = "  " + r
			}
			rows = append(rows, style.Value(r))
		}
	}
	return headed("Hands", rows, "hands")
}

// washes is how each wash is done, and to which residual; Prepare says what less would take.
func (p page) washes(w int) section {
	var rows []string
	for i := range p.plan.Steps {
		if how := say.WashingInShort(p.plan, i, p.conditions.Units); how != "" {
			name := safetext.Clean(say.StepName(p.plan.Steps[i].Name))
			rows = append(rows, widget.FieldRows(name, how, max(6, widget.Width(name)+1), w)...)
		}
	}
	return headed("Washing", rows, "washing")
}

// budget is what small errors do to each developing step; where there is no room for all, what they
// do together.
func (p page) budget(w int) section {
	s := section{folded: "error budget", told: true}
	all := planning.ErrorBudgets(p.plan)
	for _, e := range all {
		head := "Error budget"
		if len(all) > 1 {
			head += ", " + safetext.Clean(say.StepName(e.Step))
		}
		shares := say.ErrorBudget(e, p.conditions.Units)
		s.rows = append(s.rows, budgetRows(head, shares, w)...)
		s.short = append(s.short, budgetRows(head, shares[slices.IndexFunc(shares, together):], w)...)
	}
	return s
}

func together(s say.ErrorShare) bool { return s.Error == "together" }

// budgetRows are the shares behind their heading, those for which a row has no room beneath the first.
func budgetRows(head string, shares []say.ErrorShare, w int) (rows []string) {
	const gap = 3
	row, indent := style.Heading(head), widget.Width(head)
	if indent > w/2 {
		rows, row, indent = []string{widget.Truncate(row, w)}, "", 0
	}
	for i, s := range shares {
		paint := style.Value
		if together(s) {
			paint = style.Heading
		}
		part := style.Label(s.Error) + " " + paint(s.Percent)
		if i > 0 && widget.Width(row)+gap+widget.Width(part) > w {
			rows, row = append(rows, widget.Truncate(row, w)), ""
		}
		row = widget.Pad(row, max(indent, widget.Width(row))) + strings.Repeat(" ", gap) + part
	}
	return append(rows, widget.Truncate(row, w))
}
