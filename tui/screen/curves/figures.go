package curves

// The figures: times for less and more contrast, each sheet, how sure it is, what to aim for,
// and where all that comes from.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// figures is all of them, in rows of at most w columns.
func (m Model) figures(w int) string {
	var parts []string
	add := func(rows ...string) {
		if len(rows) > 0 {
			parts = append(parts, strings.Join(rows, "\n"))
		}
	}
	if m.found != nil {
		add(m.found.times(w)...)
		add(m.found.perSheet(m.family, w))
	}
	add(m.slipRows(w)...)
	if m.found != nil {
		add(m.found.forPrint(m.family, w)...)
		add(m.found.sure(m.family, w)...)
	}
	add(m.sources(w)...)
	return strings.Join(parts, "\n\n")
}

func figure[T ~float64](x *T, digits int) string {
	if x == nil {
		return "–"
	}
	return say.Minus(fmt.Sprintf("%.*f", digits, float64(*x)))
}

// strong is a row with every cell bright.
func strong(cells []string) []string {
	for i := range cells {
		cells[i] = style.Strong.Render(cells[i])
	}
	return cells
}

// times are those of N-2 to N+2, or what one sheet tells.
func (f *found) times(w int) (rows []string) {
	if f.aim.Print != nil && f.met != nil {
		return f.prints(w)
	}
	t := widget.Table{Width: w, Selected: -1, Plain: true, Columns: []widget.Column{{Title: "for"}, {Title: "gradient", Right: true}, {Title: "develop", Right: true}, {Title: "90%", Right: true}, {Title: "EI", Right: true}}}
	outside := "outside tested times"
	if w < 60 {
		outside = "untested"
	}
	for _, d := range f.developments {
		if f.met != nil { // a contrast index has N alone, told above
			break
		}
		cells := []string{say.Minus(d.Name), fmt.Sprintf("%.2f", d.Wanted), "–", outside, "–"}
		if d.Target != nil {
			cells[2], cells[3] = seconds(d.Target.Time), bounds(d.Target.Low, d.Target.High)
			cells[4] = figure(f.out.IndexAt(time.Duration(d.Target.Time*float64(time.Second))), 0)
		}
		if d.Name == "N" {
			cells = strong(cells)
		}
		t.Rows = append(t.Rows, cells)
	}
	if len(t.Rows) > 0 {
		rows = strings.Split(withoutEmpty(t).View(), "\n")
	}
	if f.one != nil {
		rows = append(rows, widget.Painted(fmt.Sprintf("Assumed: the sheet had reached half of its limit, a growth of %.3f a minute, and that may be wrong by a third. A second sheet at another time tells.", float64(f.rate)), w, style.Value)...)
	}
	if f.fault != "" && f.normal() != nil {
		rows = append(rows, widget.Painted(f.fault, w, style.Value)...)
	}
	if f.published != "" {
		rows = append(rows, widget.Painted(f.published, w, style.Heading)...)
	}
	return rows
}

func bounds(low, high *float64) string {
	switch {
	case low == nil && high == nil:
		return "no bound"
	case low == nil:
		return "to " + seconds(*high)
	case high == nil:
		return "from " + seconds(*low)
	}
	return seconds(*low) + "–" + seconds(*high)
}

// perSheet is a row for each sheet, that nearest to the target bright.
func (f *found) perSheet(of curve.Family, w int) string {
	t := widget.Table{Width: w, Selected: -1, Plain: true, Columns: []widget.Column{{Title: "sheet", Right: true}, {Title: "b+f", Right: true, Least: 4},
		{Title: "speed pt", Right: true, Least: 5}, {Title: "gradient", Right: true, Least: 4}, {Title: "CI", Right: true, Least: 4}, {Title: "EI", Right: true, Least: 2}}}
	bright := f.nearest(of)
	for i, c := range f.out.Curves {
		index := c.ISOSpeed
		if index == nil {
			index = c.ExposureIndex
		}
		cells := []string{of.Label(i), fmt.Sprintf("%.2f", float64(c.BaseFog)), figure(c.SpeedPoint, 2),
			figure(c.AverageGradient, 2), figure(c.ContrastIndex, 2), figure(index, 0)}
		if i == bright {
			cells = strong(cells)
		}
		t.Rows = append(t.Rows, cells)
	}
	return withoutEmpty(t).View()
}

// withoutEmpty leaves the last column out where no row has a value: relative exposures have
// no index.
func withoutEmpty(t widget.Table) widget.Table {
	last := len(t.Columns) - 1
	if !slices.ContainsFunc(t.Rows, func(r []string) bool { return ansi.Strip(r[last]) != "–" }) {
		t.Columns = t.Columns[:last]
	}
	return t
}

// slipRows name the readings that do not fit, brightest: they spoil the rest.
func (m Model) slipRows(w int) (rows []string) {
	for _, s := range m.slips {
		rows = append(rows, widget.CautionRows(sequence.Care, s, w)...)
	}
	return rows
}

// forPrint is what to aim for, on the base of the sheet nearest to the target: fog grows
// with time.
func (f *found) forPrint(of curve.Family, w int) (rows []string) {
	if f.aim.Print != nil && f.met != nil {
		rows = f.atThePrint(w)
	} else if f.aim.Average == 0 {
		rows = nil
	} else if i := f.nearest(of); i >= 0 && i < len(f.out.Curves) {
		shadows, highlights := f.wanted.AimDensities(f.out.Curves[i].BaseFog)
		rows = append(rows, widget.Painted(fmt.Sprintf("Aim for shadows of %.2f and highlights of %.2f, on a base plus fog of %.2f as at %s.",
			float64(shadows), float64(highlights), float64(f.out.Curves[i].BaseFog), of.Label(i)), w, style.Value)...)
	}
	if g := f.out.Growth; g != nil {
		growth := fmt.Sprintf("growth  %.2f (1 − e^(−%.3f t)), t in minutes", g.Limit, float64(g.K))
		if g.Induction > 0.05 {
			growth = fmt.Sprintf("growth  %.2f (1 − e^(−%.3f (t − %.1f))), t in minutes", g.Limit, float64(g.K), float64(g.Induction))
		}
		rows = append(rows, widget.Painted(growth, w, style.Label)...)
	}
	return rows
}

// sure is how sure each curve's values are.
func (f *found) sure(of curve.Family, w int) []string {
	t := widget.Table{Width: w, Selected: -1, Plain: true, Columns: []widget.Column{{Title: "sheet", Right: true}, {Title: "speed pt, 90%", Right: true}, {Title: "gradient, 90%", Right: true}}}
	for i, c := range f.out.Curves {
		in := c.Intervals
		if in == nil || in.SpeedPoint == nil || in.AverageGradient == nil {
			continue
		}
		t.Rows = append(t.Rows, []string{of.Label(i), say.Minus(fmt.Sprintf("%.2f to %.2f", in.SpeedPoint.Low, in.SpeedPoint.High)),
			fmt.Sprintf("%.2f–%.2f", in.AverageGradient.Low, in.AverageGradient.High)})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	e := f.out.Errors
	text := fmt.Sprintf("For a reading error of %.3f and scatter from sheet to sheet.", float64(e.Reading))
	if e.Tests > 0 {
		text = fmt.Sprintf("For a reading error of %.3f and %.1f%% from sheet to sheet; times also for %.1f%% from session to session%s.", float64(e.Reading), 100*e.Sheets, 100*e.Sessions, ownSessions(e))
	}
	if e.Pictures > 0 {
		text += fmt.Sprintf(" The pictures state %.3f for their densities; a surer one counts more.", float64(e.Pictures))
	}
	return append([]string{t.View()}, widget.Painted(text, w, style.Label)...)
}

// ownSessions says where the scatter from session to session is from.
func ownSessions(e curve.Scatters) string {
	if e.Own == nil {
		return ", which is usual"
	}
	return fmt.Sprintf(", from %d of your sessions", e.Own.Sessions)
}

// sources are the records that the numbers come from, and what was taken for granted.
func (m Model) sources(w int) (rows []string) {
	add := func(s string, paint func(string) string) { rows = append(rows, widget.Painted(s, w, paint)...) }
	r := m.readings
	for _, origin := range densities.Origins(r) {
		add("Read off "+origin+".", style.Label)
	}
	switch {
	case r.Session == "":
		add("No session is linked: the developing times are those that were typed.", style.Label)
	case m.session == nil:
		add("Session "+r.Session+" cannot be read here: the times are those kept with the readings.", style.Value)
	default:
		what := "Session " + r.Session
		if m.session.Rehearsal {
			what += ", a rehearsal"
		}
		add(what+".", style.Label)
		if m.unmatched != nil {
			add("The times are those kept with the readings: "+m.unmatched.Error()+".", style.Value)
		}
		for _, one := range m.session.Developed() {
			add(fmt.Sprintf("sheet %d: planned %s, actual %s", one.Sheet, sequence.FormatElapsed(one.Planned), sequence.FormatElapsed(one.Actual)), style.Label)
		}
	}
	if m.found != nil {
		for _, n := range m.found.out.Notes {
			if !slices.Contains(m.slips, n) {
				add(n, style.Label)
			}
		}
	}
	add("A home test gives a speed by ISO arithmetic, never an ISO speed.", style.Label)
	return rows
}
