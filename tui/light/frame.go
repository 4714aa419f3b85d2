package light

// What is on the terminal, and the bytes that make a new view of it.

import "strconv"

// Frame knows what is on a terminal and comes to the bytes that make a new view of it.
// It belongs to one goroutine, or to the holder of one lock. What it comes to is to be
// written whole, before the next call; where that fails, or somebody else may have written to the
// terminal, call Invalidate.
type Frame struct {
	pen   pen
	known bool // what is shown is on the terminal
	shown picture
	next  picture
	view  string // what shown was read from
	out   []byte
	plain bool // only glyphs that every console has
}

// NewFrame is a frame before a terminal of which nothing is known.
func NewFrame(p Profile) *Frame { return &Frame{pen: pen{profile: p}} }

// Invalidate has the next Draw write every cell.
func (f *Frame) Invalidate() { f.known = false }

// Draw comes to what makes the terminal of w columns and h rows show a view by a light. It
// is valid until the next call; empty where nothing has changed. In the dark it writes black once
// and then nothing, whatever the view. Every line is written from a place that is named, with
// both colours of every cell named; the last pen is black on black, so that what somebody else
// writes afterwards does not shine.
func (f *Frame) Draw(view string, w, h int, l Light) []byte {
	f.out = f.out[:0]
	if l > White {
		l = Dark
	}
	if w <= 0 || h <= 0 {
		f.known = false
		return f.erased(l)
	}
	if l != f.pen.light {
		f.pen.light, f.pen.names, f.known = l, nil, false
	}
	if f.shown.w != w || f.shown.h != h {
		f.known = false
	}
	if l == Dark {
		view = ""
	}
	if f.known && view == f.view {
		return nil
	}
	f.next.read(view, w, h)
	if f.plain {
		f.next.plain()
	}
	f.view = view
	for i, c := range f.next.cells {
		f.next.cells[i] = f.shade(c)
	}
	f.difference()
	f.shown, f.next, f.known = f.next, f.shown, true
	return f.out
}

// erased is all that can be done where the terminal's size is not known: in the dark it is
// erased in black, which most terminals obey.
func (f *Frame) erased(l Light) []byte {
	if l != Dark {
		return nil
	}
	f.pen.light, f.pen.names = l, nil
	f.out = f.pen.set(append(f.out, hidden+start...), blank)
	f.out = append(f.out, "\x1b[H\x1b[2J"...)
	return f.out
}

// shade is the light's filter. Where there are no colours nothing can be made red, and
// black only by being blank.
func (f *Frame) shade(c cell) cell {
	if f.pen.profile == NoColours && f.pen.light != White {
		return blank
	}
	if c == blank {
		return c
	}
	return f.pen.light.seen(c).still()
}

// difference writes the cells of next that are not shown.
func (f *Frame) difference() {
	w := f.next.w
	for y := range f.next.h {
		row := f.next.cells[y*w : (y+1)*w]
		var old []cell
		if f.known {
			old = f.shown.cells[y*w : (y+1)*w]
		}
		f.line(y, row, old)
	}
	if len(f.out) > 0 {
		f.out = f.pen.set(f.out, blank)
	}
}

// bridge is how many unchanged cells are written again rather than passed over: as many
// as it takes to say where to go on.
const bridge = 6

// line writes of a row what differs from the old one; of a nil one all.
func (f *Frame) line(y int, row, old []cell) {
	for x := 0; x < len(row); {
		if old != nil && row[x] == old[x] {
			x++
			continue
		}
		end, last := x+1, x
		for ; end < len(row) && end-last <= bridge; end++ {
			if old == nil || row[end] != old[end] {
				last = end
			}
		}
		for last+1 < len(row) && row[last].unsure() {
			last++ // a terminal may have given it the next column too
		}
		f.run(y, x, row[x:last+1])
		x = last + 1
	}
}

// start undoes what no cell has: what somebody else may have left behind.
const start = "\x1b[23;25;27;28;29m"

// hidden keeps the cursor away; it is said again with every whole view.
const hidden = "\x1b[?25l"

// run writes cells from a place on. The second half of a wide character never begins or
// ends one alone: it changes with its first half.
func (f *Frame) run(y, x int, cells []cell) {
	if len(f.out) == 0 && f.pen.profile != NoColours {
		if !f.known {
			f.out = append(f.out, hidden...)
		}
		f.out = append(f.out, start...)
	}
	f.place(y, x)
	var now cell
	for i, c := range cells {
		if c.width == 0 {
			continue
		}
		if i == 0 || !alike(c, now) && !(c.space() && now.bg == c.bg && !now.under) {
			f.out = f.pen.set(f.out, c)
			now = c
		}
		if !c.unsure() {
			f.out = append(f.out, string(c.r)...)
			continue
		}
		f.uncertain(y, x+i, c)
	}
}

// unsure tells whether a terminal may see a cell's width in another way.
func (c cell) unsure() bool { return c.width != 1 || c.marks != "" }

// uncertain writes a character of unsure width: its place is cleared first, and the next
// one named after it.
func (f *Frame) uncertain(y, x int, c cell) {
	for range c.width {
		f.out = append(f.out, ' ')
	}
	f.place(y, x)
	f.out = append(append(f.out, string(c.r)...), c.marks...)
	f.place(y, x+int(c.width))
}

func (f *Frame) place(y, x int) {
	f.out = append(f.out, "\x1b["...)
	f.out = strconv.AppendInt(f.out, int64(y+1), 10)
	f.out = append(f.out, ';')
	f.out = strconv.AppendInt(f.out, int64(x+1), 10)
	f.out = append(f.out, 'H')
}

// space tells whether a cell shows its background and nothing else.
func (c cell) space() bool { return c.r == ' ' && !c.under }

// alike tells whether two cells take the same pen.
func alike(a, b cell) bool {
	return a.fg == b.fg && a.bg == b.bg && a.bold == b.bold && a.under == b.under
}
