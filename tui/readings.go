package tui

// Reading: one step after another off a densitometer. The step's number stands
// large, what is typed beneath it, the curve grows beside them. Every entry is kept
// before the next; what does not fit the others is marked, and asked about where it
// turns the curve round.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/tui/braille"
)

// baseRow is the row of base plus fog.
const baseRow = -1

// readingsModel is the screen for it.
type readingsModel struct {
	noInput
	noMessages
	name      string
	r         curve.Readings
	col, row  int
	typed     string
	confirmed bool // what is typed was asked about: enter again takes it
	undo      []undoEntry
	doubtful  []int  // steps of this sheet
	lost      string // why the last entry is not on the disk; "" where it is
}

// undoEntry is an entry as it was before.
type undoEntry struct {
	col, row int
	was      *curve.Density
}

// readingError is what one reading may be off, for doubts and smoothing.
const readingError curve.Density = 0.02

// newReadings goes on where a step is still to be read.
func newReadings(name string, r curve.Readings) readingsModel {
	m := readingsModel{name: name, r: r, row: baseRow}
	for m.col < len(r.Sheets)-1 && m.full() {
		m.col++
	}
	for m.row < len(r.Tablet)-1 && *m.cell() != nil {
		m.row++
	}
	return m.looked()
}

func (readingsModel) id() screenID { return readingsScreen }

// cell is the entry under the cursor.
func (d *readingsModel) cell() **curve.Density {
	s := &d.r.Sheets[d.col]
	if d.row == baseRow {
		return &s.Base
	}
	return &s.Steps[d.row]
}

// full reports whether the sheet has all its readings.
func (d *readingsModel) full() bool {
	s := d.r.Sheets[d.col]
	return s.Base != nil && s.Count() == len(s.Steps)
}

// looked is the screen with the doubtful steps found anew.
func (d readingsModel) looked() readingsModel {
	d.doubtful = d.r.Doubtful(d.col, readingError)
	return d
}

func (d readingsModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	switch actionOf(readingsScreen, key) {
	case enter:
		return d.take(m), nil
	case up:
		return m.changed(d.to(d.col, d.row-1)), nil
	case down:
		return m.changed(d.to(d.col, d.row+1)), nil
	case left:
		return m.changed(d.to(d.col-1, d.row)), nil
	case right:
		return m.changed(d.to(d.col+1, d.row)), nil
	case undo:
		return d.undoEntry(m), nil
	case leaveOut:
		return d.leaveOut(m), nil
	case rotate:
		return d.turnRound(m), nil
	case curves:
		return d.curves(m.changed(d)), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	if strings.Contains("0123456789.,/ -+", key) || key == "backspace" {
		next, _, _ := prompt{text: d.typed}.edit(key)
		d.typed, d.confirmed = next.text, false
	}
	return m.changed(d), nil
}

// to moves the cursor; what was typed and not taken is gone.
func (d readingsModel) to(col, row int) readingsModel {
	d.col = min(max(0, col), len(d.r.Sheets)-1)
	d.row = min(max(baseRow, row), len(d.r.Tablet)-1)
	d.typed, d.confirmed = "", false
	return d.looked()
}

// next is the step after this one, the next sheet's after the last; false at the end.
func (d readingsModel) next() (readingsModel, bool) {
	switch {
	case d.row < len(d.r.Tablet)-1:
		return d.to(d.col, d.row+1), true
	case d.col < len(d.r.Sheets)-1:
		return d.to(d.col+1, baseRow), true
	}
	return d.to(d.col, d.row), false
}

// take takes what is typed, or asks about it. Nothing typed leaves the step as it is.
func (d readingsModel) take(m Model) Model {
	a, err := curve.ParseDensity(d.typed, d.r.Stops)
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	if a.Empty {
		n, more := d.next()
		m = m.changed(n)
		if !more {
			return m.showMessage("that was the last step of the last sheet; c shows the curves")
		}
		return m
	}
	if ask := a.Confirm; !d.confirmed {
		if ask == "" {
			ask = d.isReversal(a.Density)
		}
		if ask != "" {
			d.confirmed = true
			return m.changed(d).showMessage(ask)
		}
	}
	return d.put(m, &a.Density, a.TakenAs)
}

// isReversal is the question about a density that makes the curve fall; "" where none
// is needed.
func (d readingsModel) isReversal(x curve.Density) string {
	const most = 0.15 // as much may be a meter read to a third of a stop
	if d.row == baseRow {
		return ""
	}
	steps := d.r.Sheets[d.col].Steps
	for i := d.row - 1; i >= 0; i-- {
		if s := steps[i]; s != nil {
			if x > *s+most {
				return fmt.Sprintf("%.2f is above step %d, %.2f, which had more light: enter again keeps it", float64(x), i+1, float64(*s))
			}
			break
		}
	}
	for i := d.row + 1; i < len(steps); i++ {
		if s := steps[i]; s != nil {
			if x < *s-most {
				return fmt.Sprintf("%.2f is below step %d, %.2f, which had less light: enter again keeps it", float64(x), i+1, float64(*s))
			}
			break
		}
	}
	return ""
}

// put enters a density, or nothing, keeps all and goes on.
func (d readingsModel) put(m Model, x *curve.Density, said string) Model {
	d.undo = append(d.undo[:len(d.undo):len(d.undo)], undoEntry{d.col, d.row, *d.cell()})
	d = d.set(x)
	d = d.kept(m.o.Backend)
	slip := fresh(d.doubtful, d.looked().doubtful)
	n, more := d.next()
	m = m.changed(n)
	switch {
	case d.lost != "":
		return m.showError("not kept: " + d.lost + "; it goes on here, and each entry tries again")
	case x != nil && d.row != baseRow && d.reversed():
		return m.showMessage("was this strip read from its other end? " + d.firstStep() + "; r turns the sheet round")
	case slip >= 0:
		return m.showMessage(fmt.Sprintf("step %d, %.2f, does not fit the others: read it again, or x there leaves it out", slip+1, float64(*d.r.Sheets[d.col].Steps[slip])))
	case !more:
		return m.showMessage("that was the last step of the last sheet; c shows the curves")
	case said != "":
		return m.showMessage(said)
	}
	return m
}

// reversed reports whether a sheet's densities run the other way than its tablet's light,
// by and large: it was read from its other end. Fewer than four readings do not tell.
func (d readingsModel) reversed() bool {
	c, ok := d.r.Curve(d.col)
	if !ok || len(c.Readings) < 4 {
		return false
	}
	var x, y []float64
	for _, r := range c.Readings {
		x, y = append(x, float64(r.LogH)), append(y, float64(r.Density))
	}
	return curve.FitLine(x, y).Slope*(x[len(x)-1]-x[0]) < -0.3
}

// turnRound turns a sheet that was read from its other end.
func (d readingsModel) turnRound(m Model) Model {
	d.r.Sheets = slices.Clone(d.r.Sheets)
	steps := slices.Clone(d.r.Sheets[d.col].Steps)
	slices.Reverse(steps)
	d.r.Sheets[d.col].Steps, d.undo = steps, nil
	d = d.kept(m.o.Backend)
	return m.changed(d.to(d.col, d.row)).showMessage("the sheet is turned round: its last step is step 1 now; r turns it back")
}

// firstStep says which step is number 1.
func (d readingsModel) firstStep() string {
	n := len(d.r.Tablet)
	if n > 1 && d.r.Tablet[0] > d.r.Tablet[n-1] {
		return "step 1: the film's clearest patch"
	}
	return "step 1: the film's densest patch"
}

// fresh is the first doubtful step that was none before; -1 for none.
func fresh(before, now []int) int {
	for _, i := range now {
		if !slices.Contains(before, i) {
			return i
		}
	}
	return -1
}

// set changes the entry under the cursor in a copy of its sheet: the screen before
// stays as it was.
func (d readingsModel) set(x *curve.Density) readingsModel {
	d.r.Sheets = slices.Clone(d.r.Sheets)
	d.r.Sheets[d.col].Steps = slices.Clone(d.r.Sheets[d.col].Steps)
	*d.cell() = x
	return d
}

// kept has the readings on the disk.
func (d readingsModel) kept(host Backend) readingsModel {
	d.lost = ""
	if err := host.KeepDensities(d.name, &d.r); err != nil {
		d.lost = err.Error()
	}
	return d
}

// leaveOut empties the entry under the cursor: a doubtful one, or a step that cannot
// be read.
func (d readingsModel) leaveOut(m Model) Model {
	if *d.cell() == nil {
		return m.changed(d.to(d.col, d.row)).showMessage("nothing is read here")
	}
	return d.put(m, nil, d.rowName()+" is left out; u brings it back")
}

// undoEntry takes the last entry back, and goes there.
func (d readingsModel) undoEntry(m Model) Model {
	if d.typed != "" {
		return m.changed(d.to(d.col, d.row))
	}
	n := len(d.undo)
	if n == 0 {
		return m.changed(d).showMessage("nothing was entered yet")
	}
	was := d.undo[n-1]
	d.undo = d.undo[:n-1]
	d = d.to(was.col, was.row).set(was.was).kept(m.o.Backend).looked()
	return m.changed(d).showMessage("taken back")
}

// curves shows what the readings come to.
func (d readingsModel) curves(m Model) Model {
	f, err := newCurves(m.o.Backend, d.name, d.r)
	if err != nil {
		return m.showError(err.Error())
	}
	return m.enter(f)
}

func (d readingsModel) rowName() string {
	if d.row == baseRow {
		return "base plus fog"
	}
	return fmt.Sprintf("step %d", d.row+1)
}

func (d readingsModel) draw(g grid, f frame) {
	head := "Reading"
	if d.r.Film != "" {
		head += ": " + d.r.Film
	}
	x := g.text(f.head, head, strong)
	state := d.unit() + ", " + string(cmp.Or(d.r.Channel, curve.Visual))
	if d.lost != "" {
		state = "NOT KEPT"
	}
	g.right(f.head.beside(x-f.head.x+1), state, dim)
	l := readOf(f.body)
	numeral := "base"
	if d.row != baseRow {
		numeral = fmt.Sprint(d.row + 1)
	}
	g.drawLarge(l.numeral.x, l.numeral.y, numeral, max(1, fitScale(numeral, l.numeral.w, l.numeral.h)), bright)
	g.drawLarge(l.typed.x, l.typed.y, d.shownTyped(), fitScale(d.shownTyped(), l.typed.w, l.typed.h), strong)
	for i, line := range d.lines(l.lines.h) {
		g.text(l.lines.row(i), line.text, line.l)
	}
	d.picture(g, l.picture)
}

// unit is what is typed.
func (d readingsModel) unit() string {
	if d.r.Stops {
		return "stops below clear"
	}
	return "density"
}

// shownTyped is what stands large beneath the numeral: what is typed, else what is
// read there.
func (d readingsModel) shownTyped() string {
	if d.typed == "" && *d.cell() != nil {
		return fmt.Sprintf("%.2f", float64(**d.cell()))
	}
	return d.typed
}

// lines are where the reader is, in plain letters, then the steps around.
func (d readingsModel) lines(h int) []prepLine {
	where := d.rowName()
	if d.row != baseRow {
		where = fmt.Sprintf("step %d of %d, tablet %.2f", d.row+1, len(d.r.Tablet), d.r.Tablet[d.row])
	}
	value := d.unit() + " " + d.typed + cursor
	if d.typed == "" && *d.cell() != nil {
		value = fmt.Sprintf("density %.2f", float64(**d.cell()))
	}
	list := []prepLine{{value, bright}, {where, text}, {sheetName(&d.r, d.col) + fmt.Sprintf(" (%d of %d)", d.col+1, len(d.r.Sheets)), text}}
	if h > 5 { // where there is room beside the step itself
		list = append(list, prepLine{d.firstStep(), dim})
	}
	around := h - len(list)
	for i := d.row - around/2; len(list) < h && i < len(d.r.Tablet); i++ {
		if i < baseRow {
			continue
		}
		list = append(list, d.entry(i))
	}
	return list[:min(h, len(list))]
}

// entry is one step as a line.
func (d readingsModel) entry(i int) prepLine {
	name, x := fmt.Sprintf("%4d", i+1), d.r.Sheets[d.col].Base
	if i == baseRow {
		name = "base"
	} else {
		x = d.r.Sheets[d.col].Steps[i]
	}
	line := prepLine{"  " + name + "  -", dim}
	if x != nil {
		line = prepLine{fmt.Sprintf("  %s  %.2f", name, float64(*x)), dim}
	}
	switch {
	case slices.Contains(d.doubtful, i):
		line = prepLine{"! " + line.text[2:] + "  does not fit", bright}
	case i == d.row:
		line = prepLine{"> " + line.text[2:], strong}
	}
	return line
}

// picture is the curves so far: the other sheets faint, this one with its readings.
func (d readingsModel) picture(g grid, r rect) {
	const marks = 5 // columns of the scale
	if r.w < 2*marks || r.h < 4 {
		return
	}
	drawn, at := d.r.Family(d.name)
	var lines []*curve.Interpolant
	for _, c := range drawn.Curves {
		lines = append(lines, c.Interpolant())
	}
	tablet := slices.Clone(d.r.Tablet)
	slices.Sort(tablet)
	span := braille.ExtentOf(lines)
	span.Left, span.Right, span.Top = curve.LogH(-tablet[len(tablet)-1]), curve.LogH(-tablet[0]), max(span.Top, 2)
	p := newPlot(g, r, span)
	for i, c := range lines {
		if at[i] != d.col {
			p.curve(c, i)
		}
	}
	for i, c := range lines {
		if at[i] == d.col {
			p.curve(c, i)
		}
	}
	p.show(func(i int) brightness {
		if i >= 0 && at[i] == d.col {
			return strong
		}
		return dim
	})
	for i, x := range d.r.Sheets[d.col].Steps {
		if x == nil {
			continue
		}
		mark, l := '+', strong
		if slices.Contains(d.doubtful, i) {
			mark, l = '!', bright
		}
		p.mark(curve.Reading{LogH: curve.LogH(-d.r.Tablet[i]), Density: *x}, mark, l)
	}
	if d.row != baseRow {
		p.cursor(curve.LogH(-d.r.Tablet[d.row]))
	}
}
