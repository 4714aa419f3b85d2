package tui

// All cell arithmetic: from a window's size and a screen to rectangles. What has
// height 0 is left out.

// The least window that is drawn in.
const (
	leastWidth  = 40
	leastHeight = 12
)

func tooSmall(w, h int) bool { return w < leastWidth || h < leastHeight }

// frame is what every screen has: a head, a body, a line for a message and the
// line of keys.
type frame struct {
	head, body, message, keys rect
}

func frameOf(w, h int) frame {
	margin := 1
	if w >= 100 {
		margin = 3
	}
	in := rect{margin, 0, w - 2*margin, h}
	f := frame{head: in.row(0), keys: in.row(h - 1), message: in.row(h - 2)}
	top := 1
	if h >= 30 {
		top = 2
	}
	f.body = rect{in.x, top, in.w, h - 2 - top}
	return f
}

// listLayout is a list with the strip of what is chosen beneath it.
type listLayout struct{ list, about, strip rect }

func listOf(body rect) listLayout {
	foot := 0
	if body.h >= 12 {
		foot = stripRows
	}
	about := min(4, max(0, (body.h-foot)/4))
	if body.h < 10 {
		about = 0
	}
	l := listLayout{list: rect{body.x, body.y, body.w, body.h - foot - about}}
	l.about = rect{body.x, body.y + l.list.h, body.w, about}
	l.strip = rect{body.x, l.about.y + about, body.w, foot}
	return l
}

// planLayout is the strip above, the conditions on the left and what to know on
// the right; on a narrow window only what the cursor needs.
type planLayout struct{ strip, fields, side rect }

func planOf(body rect) planLayout {
	top := stripRows
	if body.h < 14 {
		top = 1
	}
	gap := 1
	rest := body.from(top + gap)
	l := planLayout{strip: rect{body.x, body.y, body.w, top}}
	if body.w < 64 {
		l.fields = rect{rest.x, rest.y, rest.w, rest.h}
		return l
	}
	const fields = 32
	l.fields = rect{rest.x, rest.y, fields, rest.h}
	l.side = rect{rest.x + fields + 3, rest.y, rest.w - fields - 3, rest.h}
	return l
}

// runLayout is the strip, the numeral, the word, and lines in plain letters.
type runLayout struct{ strip, numeral, word, lines rect }

const (
	runLines = 4 // in plain letters
	faceRow  = (faceHeight + 1) / 2
)

// runOf gives the numeral what is left; the word comes in where the numeral still
// has room for twice the least scale.
func runOf(body rect) runLayout {
	top, lines, gap := stripRows, runLines, 0
	switch {
	case body.h >= 30:
		gap = 1
	case body.h < 18:
		top, lines = 2, min(runLines, max(3, body.h-2-faceRow))
	}
	l := runLayout{strip: rect{body.x, body.y, body.w, top}}
	l.lines = rect{body.x, body.y + body.h - lines, body.w, lines}
	mid := rect{body.x, body.y + top + gap, body.w, body.h - top - 2*gap - lines}
	word := max(faceRow, mid.h/3)
	if mid.h < word+1+faceHeight {
		l.numeral = mid
		return l
	}
	l.numeral = rect{mid.x, mid.y, mid.w, mid.h - word - 1}
	l.word = rect{mid.x, mid.y + mid.h - word, mid.w, word}
	return l
}
