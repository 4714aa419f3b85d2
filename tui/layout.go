package tui

// All cell arithmetic: from a window's size and a screen to rectangles. What has
// height 0 is left out.

// The least window that is drawn in.
const (
	leastWidth  = 40
	leastHeight = 12
)

func tooSmall(w, h int) bool { return w < leastWidth || h < leastHeight }

// The widths and heights from which there is room to spare.
const (
	wide      = 110 // two columns beside each other
	veryWide  = 150 // three
	tall      = 30
	roomy     = 18 // rows of a body: a blank row beneath the head
	textWidth = 76 // no line of running text is longer
)

// frame is what every screen has: a head, a body, lines for a message and the
// line of keys.
type frame struct {
	head, body, message, keys rect
}

// frameOf divides a window, with rows for the message; there is always one.
func frameOf(w, h, rows int) frame {
	margin, top, gap := 1, 1, 0
	switch {
	case w >= veryWide:
		margin = 5
	case w >= 100:
		margin = 3
	}
	if h >= tall {
		top, gap = 2, 1
	}
	rows = min(max(1, rows), mostMessage(h))
	in := rect{margin, 0, w - 2*margin, h}
	f := frame{head: in.row(0), keys: in.row(h - 1)}
	f.message = rect{in.x, h - 1 - rows, in.w, rows}
	f.body = rect{in.x, top, in.w, f.message.y - gap - top}
	return f
}

// frameFor divides a window with as many rows for a message as it needs.
func frameFor(w, h int, message string) frame {
	f := frameOf(w, h, 1)
	return frameOf(w, h, len(wrapText(message, f.message.w)))
}

// mostMessage is how many rows a message may take.
func mostMessage(h int) int {
	if h < 20 {
		return 2
	}
	return 4
}

// below is a body with a blank row beneath the head, where there is room.
func below(body rect) rect {
	if body.h >= roomy {
		return body.from(1)
	}
	return body
}

// narrowed is a rectangle no wider than n.
func (r rect) narrowed(n int) rect { return rect{r.x, r.y, min(r.w, n), r.h} }

// beside is what is left of a rectangle to the right of its first n columns.
func (r rect) beside(n int) rect { return rect{r.x + n, r.y, max(0, r.w-n), r.h} }

// listLayout is a list with what is known of the line chosen beneath it, or beside
// it in a wide window, and its strip beneath both.
type listLayout struct{ list, about, strip rect }

// lessonsOf is the list of the sounds above what the chosen one asks for, or beside it
// in a wide window.
func lessonsOf(body rect) listLayout {
	const least, column, between = 4, 24, 4
	body = below(body)
	if body.w >= wide-2*3 {
		return listLayout{list: body.narrowed(column), about: body.beside(column + between).narrowed(textWidth)}
	}
	about := min(max(least, body.h/3), 2*least)
	return listLayout{list: rect{body.x, body.y, body.w, body.h - about - 1}, about: body.from(body.h - about)}
}

// listOf gives a list of so many lines the rows that it needs, if there are as many.
func listOf(body rect, lines int) listLayout {
	body = below(body)
	foot, about, beside := 0, 0, body.w >= wide-2*3
	if body.h >= 14 {
		foot = timelineRows
	}
	if !beside && body.h >= 10 {
		about = min(5, (body.h-foot)/3)
	}
	list := rect{body.x, body.y, body.w, min(lines, body.h-foot-about)}
	l := listLayout{list: list, about: rect{body.x, body.y + list.h, min(body.w, textWidth), about}}
	if beside {
		const between, least, widest = 4, 12, 80
		column := min(widest, body.w*54/100)
		l.list = list.narrowed(column)
		list.h = max(list.h, min(least, body.h-foot))
		l.about = list.beside(column + between).narrowed(textWidth)
	} else if about > 1 {
		l.about = l.about.from(1)
	}
	l.strip = rect{body.x, max(list.y+list.h, l.about.y+l.about.h), body.w, foot}
	return l
}

// stripless gives what is told the rows of the strip too, down to the foot of the body.
func (l listLayout) stripless(body rect) listLayout {
	if l.about.h > 0 {
		l.about.h = body.y + body.h - l.about.y
	}
	l.strip = rect{body.x, body.y + body.h, body.w, 0}
	return l
}

// notedOf is a list above what was written down of the line chosen, which a low window
// leaves out.
func notedOf(body rect, lines int) (list, about rect) {
	const notes, least = 3, 9
	list = body
	if body.h >= least {
		list.h = min(lines, body.h-notes-1)
		about = rect{body.x, body.y + list.h + 1, min(body.w, textWidth), notes}
	}
	return list, about
}

// planLayout is the strip above, the conditions on the left, what they come to
// beside them and, in a very wide window, what to know on the right. In a narrow
// one they are stacked, and what they come to is never left out.
type planLayout struct{ strip, sums, fields, side, know rect }

func planOf(body rect, fields int) planLayout {
	top := timelineRows
	if body.h < 14 {
		top = 1
	}
	l := planLayout{strip: rect{body.x, body.y, body.w, top}}
	rest := body.from(top + 1)
	switch {
	case body.w >= veryWide-2*5:
		const column, between = 32, 4
		half := (rest.w - column - 2*between) / 2
		l.fields = rest.narrowed(column)
		l.side = rest.beside(column + between).narrowed(min(half, textWidth))
		l.know = rest.beside(column + 2*between + half).narrowed(min(half, textWidth))
	case body.w >= 64:
		const column, between = 32, 3
		l.fields = rest.narrowed(column)
		l.side = rest.beside(column + between).narrowed(textWidth)
	case rest.h > fields+3:
		l.fields = rect{rest.x, rest.y, rest.w, fields}
		l.side = rest.from(fields + 1)
	default:
		rest = body.from(top)
		const sums = 2
		l.sums = rect{rest.x, rest.y, rest.w, sums}
		l.fields = rest.from(sums)
	}
	return l
}

// prepLayout is what there is to do, and the question at the foot.
type prepLayout struct{ left, right, question rect }

// prepOf gives the question its rows. The right column has no width where the
// window has no room for two.
func prepOf(body rect, question int) prepLayout {
	l := prepLayout{question: rect{body.x, body.y + body.h - question, body.w, question}}
	body = below(body)
	l.left = rect{body.x, body.y, body.w, l.question.y - 1 - body.y}
	if body.w >= wide-2*3 {
		const between = 6
		column := min(textWidth, (body.w-between)/2)
		l.right = l.left.beside(column + between).narrowed(column)
		l.left = l.left.narrowed(column)
	}
	return l
}

// runLayout is the strip, the numeral, the word, and lines in plain letters. Where
// the word has no room of its own it stands beside the numeral.
type runLayout struct{ strip, numeral, word, lines rect }

const (
	runLines = 4 // in plain letters
	faceRow  = (faceHeight + 1) / 2
)

// runOf gives the numeral what is left; the word comes in where the numeral still
// has room for twice the least scale.
func runOf(body rect) runLayout {
	const word = faceRow + 1 + faceHeight // rows of a word and a numeral of twice the least scale
	top, gap := timelineRows, 0
	lines := max(runLines-1, min(runLines, body.h-top-word))
	switch {
	case body.h >= tall-4:
		gap, lines = 1, runLines+2
	case body.h < roomy:
		top = 2
		lines = max(1, min(runLines, body.h-top-faceRow))
	}
	l := runLayout{strip: rect{body.x, body.y, body.w, top}}
	l.lines = rect{body.x, body.y + body.h - lines, body.w, lines}
	mid := rect{body.x, body.y + top + gap, body.w, body.h - top - 2*gap - lines}
	if mid.h < word {
		l.numeral = mid
		return l
	}
	rows := max(faceRow, mid.h/3)
	l.numeral = rect{mid.x, mid.y, mid.w, mid.h - rows - 1}
	l.word = rect{mid.x, mid.y + mid.h - rows, mid.w, rows}
	return l
}

// afterLayout is the strip and the lines beneath it.
type afterLayout struct{ strip, lines rect }

func afterOf(body rect) afterLayout {
	top := timelineRows
	if body.h < 14 {
		top = 1
	}
	return afterLayout{strip: rect{body.x, body.y, body.w, top}, lines: body.from(top + 1).narrowed(textWidth)}
}

// oldLayout is the plan's strip above the session's own, and the lines beneath.
type oldLayout struct{ planned, actual, lines rect }

func oldOf(body rect) oldLayout {
	planned, actual := 4, timelineRows
	if body.h < 18 {
		planned, actual = 2, 2
	}
	body = below(body)
	l := oldLayout{planned: body.narrowed(body.w)}
	l.planned.h = planned
	l.actual = rect{body.x, body.y + planned, body.w, actual}
	l.lines = body.from(planned + actual + 1).narrowed(textWidth)
	return l
}

// readLayout is the step's number, what is typed, lines in plain letters, and the
// picture of the curves; where there is no room for it, none.
type readLayout struct{ numeral, typed, lines, picture rect }

func readOf(body rect) readLayout {
	const column, least = 36, 24 // columns of the lines; of a picture worth having
	body = below(body)
	left := body
	l := readLayout{}
	if body.w >= column+2+least && body.h >= 8 {
		left = body.narrowed(max(column, body.w/4))
		l.picture = body.beside(left.w + 2).flat()
	}
	number, typed := faceRow, 0
	switch {
	case body.h >= tall-4:
		number, typed = faceHeight, faceHeight
	case body.h >= roomy-2:
		number, typed = faceHeight, faceRow
	}
	l.numeral = rect{left.x, left.y, left.w, number}
	at := number + 1
	if typed > 0 {
		l.typed = rect{left.x, left.y + at, left.w, typed}
		at += typed + 1
	}
	l.lines = left.from(at)
	return l
}

// flat is a rectangle no higher than half its columns: about square on a screen.
func (r rect) flat() rect {
	r.h = min(r.h, r.w/2)
	return r
}

// familyLayout is the picture of the curves and what they come to, beneath it or, in a
// wide window, beside it.
type familyLayout struct{ picture, lines rect }

func familyOf(body rect) familyLayout {
	body = below(body)
	if body.w >= wide-2*3 {
		l := familyLayout{picture: body.narrowed(body.w / 2).flat()}
		l.lines = body.beside(l.picture.w + 3).narrowed(textWidth)
		return l
	}
	rows := body.h * 2 / 5
	if rows < 6 {
		return familyLayout{lines: body}
	}
	l := familyLayout{picture: body, lines: body.from(rows + 1)}
	l.picture.h = rows
	return l
}
