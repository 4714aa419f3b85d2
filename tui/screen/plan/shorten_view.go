package plan

// How the ways to shorten the wet time look: what each saves, and all about the one that is chosen.

import (
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// ways is what was applied, and what would shorten the wet time.
func (p page) ways(w int) section {
	rows, _, _ := p.wayRows(w)
	return section{rows: rows, folded: say.Count(len(p.draft.ways()), "way"), short: p.kindest(w)}
}

// wayRows are their rows, and the first and the last row of the one under the cursor.
func (p page) wayRows(w int) (rows []string, at, end int) {
	for i, t := range p.applied {
		text := "applied: " + safetext.Clean(t.text)
		if i == len(p.applied)-1 {
			text += " (- undoes it)"
		}
		rows = append(rows, widget.Painted(text, w, style.Label)...)
	}
	all := p.draft.ways()
	if len(all) == 0 {
		return rows, 0, 0
	}
	if len(rows) > 0 {
		rows = append(rows, "")
	}
	heading := style.Heading("Ways to shorten wet time")
	if w < tableFrom {
		return p.narrowWays(append(rows, widget.Truncate(heading, w)), w)
	}
	t := widget.Table{Width: w, Selected: -1, Columns: []widget.Column{{Title: heading, Least: 12}, {Title: "saves", Right: true}, {Title: "then", Right: true}}}
	for _, way := range all {
		t.Rows = append(t.Rows, []string{safetext.Clean(say.Shortening(way, p.conditions.Units).Name), sequence.FormatElapsed(way.Saves), p.then(way)})
	}
	if p.chosen {
		t.Selected, at = p.way, len(rows)+1+p.way
	}
	rows = append(rows, strings.Split(t.View(), "\n")...)
	return append(rows, p.aboutWay(all[p.way], w)...), at, at
}

// narrowWays has beneath each way what it comes to.
func (p page) narrowWays(rows []string, w int) (list []string, at, end int) {
	for i, way := range p.draft.ways() {
		about := widget.Painted(say.Sentence(way.Text), w-2, style.Value)
		about = append(about, p.comesTo(way))
		if i == p.way {
			about = append(about, widget.Painted(costs(way), w-2, style.Label)...)
		}
		for j, r := range about {
			mark := "  "
			if i == p.way && j == 0 {
				mark = style.Key.Render("+") + " "
			}
			if i == p.way && p.chosen {
				mark = style.Now.Render("▌") + " "
			}
			if r = widget.Truncate(mark+r, w); i == p.way && p.chosen {
				r = style.SelectedRow(r, w)
				if j == 0 {
					at = len(rows)
				}
			}
			rows = append(rows, r)
		}
		if i == p.way {
			end = len(rows) - 1
		}
	}
	return rows, at, end
}

// kindest is the way that + applies, in few rows.
func (p page) kindest(w int) []string {
	all := p.draft.ways()
	if len(all) == 0 {
		return nil
	}
	way := all[p.way]
	rows := append(widget.Painted(say.Sentence(way.Text), w-2, style.Value), p.comesTo(way))
	return widget.Hanging(style.Key.Render("+"), 2, rows, w)
}

// comesTo is what a way saves, and the time in hand that it leaves.
func (p page) comesTo(way sequence.Shortening) string {
	return style.Label("saves ") + style.Value(sequence.FormatElapsed(way.Saves)) + style.Label(", then ") + p.then(way)
}

// costs is what a way costs, and what to watch for.
func costs(way sequence.Shortening) (text string) {
	if way.Price != "" {
		text = "Costs: " + way.Price + ". "
	}
	if way.Caution != "" {
		text += say.Sentence(way.Caution)
	}
	return safetext.Clean(strings.TrimSpace(text))
}

// then is the time in hand that a way leaves.
func (p page) then(way sequence.Shortening) string {
	text := say.InHand(way.Margin)
	switch {
	case way.Margin == nil:
		return style.Label(text)
	case *way.Margin < 0:
		return danger(text)
	case *way.Margin >= p.recipe.Film.WetWarning:
		return style.Done.Render(text)
	}
	return text
}

// aboutWay is the whole of what the way that + applies does, and what it costs.
func (p page) aboutWay(way sequence.Shortening, w int) []string {
	rows := widget.Painted(say.Sentence(way.Text)+" "+costs(way), w-2, style.Label)
	return widget.Hanging(style.Key.Render("+"), 2, rows, w)
}
