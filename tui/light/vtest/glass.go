package vtest

// The cells, and what is done to them: written, moved over, scrolled, erased.

// pen is how the next character is written.
type pen struct {
	fg, bg                   colour
	bold, reverse, underline bool
	conceal                  bool
}

type cell struct {
	r   rune
	pen pen
}

// glass is the cells that are seen, and the screen behind it.
type glass struct {
	w, h          int
	cells, hidden []cell
	alternate     bool
	x, y          int
	saved         struct {
		x, y int
		pen  pen
	}
	pen           pen
	top, bottom   int // scrolling region, rows
	wrapNext      bool
	wraps, shown  bool
	inserts       bool
	erasesWithPen bool
	last          rune
}

func newGlass(w, h int, erasesWithPen bool) glass {
	g := glass{w: w, h: h, bottom: h - 1, wraps: true, shown: true, erasesWithPen: erasesWithPen, pen: pen{fg: defaultFG, bg: defaultBG}}
	g.cells, g.hidden = blankCells(w*h), blankCells(w*h)
	g.saved.pen = g.pen
	return g
}

// blankCells is n cells that nobody has written.
func blankCells(n int) []cell {
	list := make([]cell, n)
	for i := range list {
		list[i] = cell{' ', pen{fg: defaultFG, bg: defaultBG}}
	}
	return list
}

// resized is the glass in another size.
func (g glass) resized(w, h int) glass {
	fit := func(old []cell) []cell {
		cells := blankCells(w * h)
		for y := range min(h, g.h) {
			copy(cells[y*w:y*w+min(w, g.w)], old[y*g.w:])
		}
		return cells
	}
	g.cells, g.hidden = fit(g.cells), fit(g.hidden)
	g.w, g.h, g.top, g.bottom = w, h, 0, h-1
	g.x, g.y, g.wrapNext = min(g.x, w-1), min(g.y, h-1), false
	return g
}

// putRune writes a character and moves on.
func (g *glass) putRune(r rune) {
	if g.wrapNext {
		g.x, g.wrapNext = 0, false
		g.lineFeed()
	}
	row := g.cells[g.y*g.w : (g.y+1)*g.w]
	if g.inserts {
		copy(row[g.x+1:], row[g.x:])
	}
	row[g.x] = cell{r, g.pen}
	g.last = r
	if g.x == g.w-1 {
		g.wrapNext = g.wraps
		return
	}
	g.x++
}

// lineFeed moves down a row; at the bottom the screen scrolls.
func (g *glass) lineFeed() {
	g.wrapNext = false
	switch {
	case g.y == g.bottom:
		g.scroll(g.top, 1)
	case g.y < g.h-1:
		g.y++
	}
}

// scroll moves the rows from one on up by n, down where n is negative.
func (g *glass) scroll(from, n int) {
	rows := g.bottom + 1 - from
	if rows <= 0 {
		return
	}
	n = max(-rows, min(rows, n))
	part := g.cells[from*g.w : (g.bottom+1)*g.w]
	if n > 0 {
		copy(part, part[n*g.w:])
		g.fill(part[len(part)-n*g.w:])
		return
	}
	copy(part[-n*g.w:], part)
	g.fill(part[:-n*g.w])
}

// fill erases cells.
func (g *glass) fill(cells []cell) {
	p := pen{fg: defaultFG, bg: defaultBG}
	if g.erasesWithPen {
		p.bg = g.pen.bg
	}
	for i := range cells {
		cells[i] = cell{' ', p}
	}
}

func (g *glass) margins(n []int) {
	top, bottom := max(1, n[0])-1, g.h-1
	if len(n) > 1 && n[1] > 0 {
		bottom = min(bottom, n[1]-1)
	}
	if top < bottom {
		g.top, g.bottom, g.x, g.y = top, bottom, 0, 0
	}
}

func (g *glass) move(final byte, n []int, one int) {
	second := 1
	if len(n) > 1 {
		second = max(1, n[1])
	}
	switch final {
	case 'A':
		g.y -= one
	case 'B', 'e':
		g.y += one
	case 'C', 'a':
		g.x += one
	case 'D':
		g.x -= one
	case 'E':
		g.x, g.y = 0, g.y+one
	case 'F':
		g.x, g.y = 0, g.y-one
	case 'G', '`':
		g.x = one - 1
	case 'H', 'f':
		g.x, g.y = second-1, one-1
	case 'd':
		g.y = one - 1
	default:
		return
	}
	g.x, g.y, g.wrapNext = min(max(0, g.x), g.w-1), min(max(0, g.y), g.h-1), false
}

// edit erases, inserts and scrolls.
func (g *glass) edit(final byte, n, one int) {
	at, start := g.y*g.w+g.x, g.y*g.w
	row := g.cells[start : start+g.w]
	some := min(one, g.w-g.x)
	switch final {
	case 'J':
		eraseRange(g.cells, at, n, g.fill)
	case 'K':
		eraseRange(row, g.x, n, g.fill)
	case 'X':
		g.fill(row[g.x : g.x+some])
	case 'P':
		copy(row[g.x:], row[g.x+some:])
		g.fill(row[g.w-some:])
	case '@':
		copy(row[g.x+some:], row[g.x:])
		g.fill(row[g.x : g.x+some])
	case 'L':
		g.scroll(g.y, -one)
	case 'M':
		g.scroll(g.y, one)
	case 'S':
		g.scroll(g.top, one)
	case 'T':
		g.scroll(g.top, -one)
	}
}

// eraseRange erases to the end, from the start, or all.
func eraseRange(cells []cell, at, n int, fill func([]cell)) {
	switch n {
	case 0:
		fill(cells[at:])
	case 1:
		fill(cells[:at+1])
	case 2:
		fill(cells)
	}
}
