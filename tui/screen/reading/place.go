package reading

import (
	"fmt"
	"math"
	"slices"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// Where in the readings one is, what is doubtful there, and how it looks among its neighbours.

// baseRow is the row of base plus fog.
const baseRow = curve.BaseRow

// readingError is what one reading may be off, for slips.
const readingError curve.Density = 0.02

// place is where in the readings one is: a step of a sheet.
type place struct {
	r        curve.Readings
	col, row int
	doubtful []int // steps of this sheet
	reversed bool  // this sheet runs the other way than the light
}

// unread is the first step that is still to be read.
func unread(r curve.Readings) place {
	p := place{r: r, row: baseRow}
	if len(r.Sheets) == 0 {
		return p
	}
	for p.col < len(r.Sheets)-1 && p.full() {
		p.col++
	}
	for p.row < len(r.Tablet)-1 && *p.cell() != nil {
		p.row++
	}
	return p.looked()
}

// to is another step of a sheet, the nearest that there is.
func (p place) to(col, row int) place {
	p.col = min(max(0, col), len(p.r.Sheets)-1)
	p.row = min(max(baseRow, row), len(p.r.Tablet)-1)
	return p.looked()
}

// cell is the entry under the cursor.
func (p *place) cell() **curve.Density {
	s := &p.r.Sheets[p.col]
	if p.row == baseRow {
		return &s.Base
	}
	return &s.Steps[p.row]
}

// full reports whether the sheet has all its readings.
func (p *place) full() bool {
	s := p.r.Sheets[p.col]
	return s.Base != nil && s.Count() == len(s.Steps)
}

// looked is the screen with the doubtful steps found anew. In a strip that runs the other way
// no step is one.
func (p place) looked() place {
	p.doubtful, p.reversed = nil, p.r.Reversed(p.col)
	if !p.reversed {
		p.doubtful = p.r.Doubtful(p.col, readingError)
	}
	return p
}

// set changes the entry under the cursor in a copy of its sheet: the screen before stays as
// it was.
func (p place) set(x *curve.Density, err curve.Density) place {
	p.r.Sheets = slices.Clone(p.r.Sheets)
	p.r.Sheets[p.col] = p.r.Sheets[p.col].Put(p.row, x, err)
	return p
}

// turnsRound is the question about a density that makes the curve fall; "" where none is
// needed. In a strip that falls throughout each step would be asked about: that is asked once.
func (p place) turnsRound(x curve.Density) string {
	const most = 0.15 // as much may be a meter read to a third of a stop
	if p.row == baseRow || p.reversed {
		return ""
	}
	steps, light := p.r.Sheets[p.col].Steps, p.r.Tablet
	for _, by := range []int{-1, 1} {
		for i := p.row + by; i >= 0 && i < len(steps); i += by {
			s := steps[i]
			if s == nil {
				continue
			}
			switch clearer := light[i] < light[p.row]; { // the tablet's clearer step had more light
			case clearer && x > *s+most:
				return fmt.Sprintf("%.2f is above step %d, %.2f, which had more light: enter again keeps it.", float64(x), i+1, float64(*s))
			case !clearer && x < *s-most:
				return fmt.Sprintf("%.2f is below step %d, %.2f, which had less light: enter again keeps it.", float64(x), i+1, float64(*s))
			}
			break
		}
	}
	return ""
}

// firstStep says which step is number 1.
func (p place) firstStep() string {
	if n := len(p.r.Tablet); n > 1 && p.r.Tablet[0] > p.r.Tablet[n-1] {
		return "step 1: the tablet's densest part, the negative's clearest"
	}
	return "step 1: the tablet's clearest part, the negative's densest"
}

func (p place) rowName() string {
	if p.row == baseRow {
		return "base plus fog"
	}
	return fmt.Sprintf("step %d", p.row+1)
}

// sheetName is a sheet's developing time, and its number in the session.
func sheetName(r *curve.Readings, k int) string {
	s := r.Sheets[k]
	if s.Sheet > 0 {
		return fmt.Sprintf("sheet %d, %s", s.Sheet, sequence.FormatElapsed(s.Time))
	}
	return sequence.FormatElapsed(s.Time)
}

func (p place) numeral() string {
	if p.row == baseRow {
		return "BASE"
	}
	return fmt.Sprint(p.row + 1)
}

func (p place) where() string {
	if p.row == baseRow {
		return "base plus fog"
	}
	return fmt.Sprintf("step %d of %d, tablet %.2f", p.row+1, len(p.r.Tablet), p.r.Tablet[p.row])
}

// unit is what is typed.
func (p place) unit() string {
	if p.r.Stops {
		return "stops below clear"
	}
	return "density"
}

// around is the steps near the cursor, of this sheet.
func (p place) around(w, h int) (rows []string) {
	first := min(max(baseRow, p.row-h/2), max(baseRow, len(p.r.Tablet)-h))
	for i := first; i < len(p.r.Tablet) && len(rows) < h; i++ {
		name, x := fmt.Sprintf("%4d", i+1), p.r.Sheets[p.col].Base
		if i == baseRow {
			name = "base"
		} else {
			x = p.r.Sheets[p.col].Steps[i]
		}
		value := "   –"
		if x != nil {
			value = fmt.Sprintf("%.2f", float64(*x))
		}
		row, doubtful := style.Label(name+"  ")+style.Value(value), slices.Contains(p.doubtful, i)
		switch {
		case i == p.row:
			row = style.Strong.Render(name + "  " + value + " ◂")
		case doubtful:
			row = style.Label(name+"  ") + style.Strong.Render(value)
		}
		if doubtful {
			row += "  " + style.Care.Render("does not fit")
		}
		rows = append(rows, widget.Truncate(row, w))
	}
	return rows
}

// plot is the curves so far: the other sheets quiet, this one with its readings.
func (p place) plot(name string, w, h int) string {
	tablet := slices.Sorted(slices.Values(p.r.Tablet))
	q := widget.Plot{Width: w, Height: h, X: widget.Axis{Name: "relative log exposure", From: -tablet[len(tablet)-1], To: -tablet[0]}, Y: widget.Axis{Name: "density", To: 2}}
	f, at := p.r.Family(name)
	var own []widget.Curve
	for i, c := range f.Curves {
		line := c.Interpolant()
		if line == nil {
			continue
		}
		q.Y.To = max(q.Y.To, math.Ceil(line.MaxDensity()*10)/10)
		drawn := widget.Curve{Label: f.Label(i), Points: points(line)}
		if at[i] == p.col {
			drawn.Ink = &style.Ink
			own = append(own, drawn)
			continue
		}
		q.Curves = append(q.Curves, drawn)
	}
	q.Curves = append(q.Curves, own...)
	for i, x := range p.r.Sheets[p.col].Steps {
		if x == nil {
			continue
		}
		mark, ink := '+', &style.Strong
		if slices.Contains(p.doubtful, i) {
			mark, ink = '!', &style.Care
		}
		q.Signs = append(q.Signs, widget.Sign{At: widget.Point{X: -p.r.Tablet[i], Y: float64(*x)}, Sign: mark, Ink: ink})
	}
	if p.row != baseRow {
		q.Signs = append(q.Signs, widget.Sign{At: widget.Point{X: -p.r.Tablet[p.row]}, Sign: '▲', Ink: &style.Now})
	}
	return q.View()
}

func points(c *curve.Interpolant) (list []widget.Point) {
	for _, x := range c.Drawn(120) {
		list = append(list, widget.Point{X: float64(x.LogH), Y: float64(x.Density)})
	}
	return list
}
