package page

// A chart: lines and marks over two axes, with a title, a legend and a name at the
// end of each line, laid out on a canvas.

import (
	"fmt"
	"image/color"
	"io"
	"slices"
	"sort"
	"strings"
)

// point is a place on a chart, in the units of its axes.
type point struct{ x, y float64 }

// line joins points.
type line struct {
	points []point
	ink    color.RGBA
	width  float64
	dashed bool
}

// marks are points each by itself: dots, or rings.
type marks struct {
	points []point
	ink    color.RGBA
	rings  bool
}

// key names a line: in the legend, and shorter where the line ends; "" where it has no place there. In the legend a mark
// may stand in place of the line.
type key struct {
	text, name string
	ink        color.RGBA
	end        point
	sign       sign
}

// sign is what stands before a text of the legend.
type sign int

const (
	stroke sign = iota
	dashes
	dot
	ring
)

// chart is what is drawn: lines first, marks over them.
type chart struct {
	title, across, up string
	untitled          bool // what is around it says its title
	lines             []line
	marks             []marks
	keys              []key
	triangle          string // name of the curve that has it; "" for none
}

// The measures of a chart, in the units of a canvas.
const (
	chartWidth  = 16 * perCentimetre
	chartHeight = 12 * perCentimetre
	leftEdge    = 64.0 // of the axes
	rightEdge   = chartWidth - 66.0
	upperEdge   = 42.0
	lowerEdge   = chartHeight - 62.0

	titleSize  = 16.0
	axisSize   = 14.0
	smallSize  = 12.0
	capitals   = 0.72 // how high a letter is, of its size
	longTick   = 8.0
	shortTick  = 4.0
	dotRadius  = 2.2
	ringRadius = 5.5
	ringWidth  = 1.4
	lineStep   = 18.0 // from one line of the legend to the next
	nameStep   = 13.0 // at least, from one line's name to the next
	nameGap    = 6.0
	nameRoom   = 50.0 // for a name
	maxKeys    = 12   // of the legend; beyond, how many more there are
	maxTitle   = 64   // characters
)

var (
	inkBlack = color.RGBA{0x11, 0x11, 0x11, 0xff}
	paleGrey = color.RGBA{0xd8, 0xd8, 0xd8, 0xff} // the grid
)

// write draws the chart as SVG.
func (c chart) write(out io.Writer) error {
	on := &svgCanvas{w: chartWidth, h: chartHeight, title: c.title}
	c.draw(on)
	return on.writeTo(out)
}

// inline is the chart within a page: without the line that only a file begins with.
func (c chart) inline() string {
	b := &strings.Builder{}
	_ = c.write(b) // a Builder never errs
	return b.String()[strings.Index(b.String(), "<svg"):]
}

func (c chart) draw(on *svgCanvas) {
	a := c.axes()
	a.draw(on)
	centre, half := (leftEdge+rightEdge)/2, (upperEdge+lowerEdge)/2
	if !c.untitled {
		on.text(xy{centre, 26}, shortened(c.title, maxTitle), lettering{size: titleSize, side: anchorMiddle, ink: inkBlack})
	}
	on.text(xy{centre, chartHeight - 14}, c.across, lettering{size: axisSize, side: anchorMiddle, ink: inkBlack})
	on.text(xy{20, half}, c.up, lettering{size: axisSize, side: anchorMiddle, upright: true, ink: inkBlack})
	for _, l := range c.lines {
		paths := [][]xy{a.places(l.points)}
		if l.dashed {
			paths = dashed(paths[0], 5, 3)
		}
		on.lines(paths, l.ink, l.width)
	}
	for _, m := range c.marks {
		if m.rings {
			on.rings(a.places(m.points), ringRadius, ringWidth, m.ink)
		} else {
			on.dots(a.places(m.points), dotRadius, m.ink)
		}
	}
	c.legend(on)
	c.names(on, a)
}

// legend stands in the upper left corner, where a curve that rises is not.
func (c chart) legend(on *svgCanvas) {
	keys := slices.DeleteFunc(slices.Clone(c.keys), func(k key) bool { return k.text == "" })
	for i, k := range keys {
		y := upperEdge + lineStep*(float64(i)+0.8)
		if i == maxKeys {
			on.text(xy{leftEdge + 46, y}, fmt.Sprintf("and %d more", len(keys)-maxKeys), lettering{size: smallSize, ink: inkBlack})
			return
		}
		k.draw(on, y-smallSize*capitals/2)
		on.text(xy{leftEdge + 46, y}, k.text, lettering{size: smallSize, ink: inkBlack})
	}
}

// draw draws the line or the mark before a text of the legend.
func (k key) draw(on *svgCanvas, y float64) {
	from, to := xy{leftEdge + 12, y}, xy{leftEdge + 40, y}
	switch middle := []xy{{leftEdge + 26, y}}; k.sign {
	case dot:
		on.dots(middle, dotRadius, k.ink)
	case ring:
		on.rings(middle, ringRadius, ringWidth, k.ink)
	case dashes:
		on.lines(dashed([]xy{from, to}, 5, 3), k.ink, triangleWidth)
	default:
		on.lines([][]xy{{from, to}}, k.ink, curveWidth)
	}
}

// names stand right of where each line ends, the highest first; what would stand on
// another moves down.
func (c chart) names(on *svgCanvas, a axes) {
	keys := slices.DeleteFunc(slices.Clone(c.keys), func(k key) bool { return k.name == "" })
	sort.SliceStable(keys, func(i, j int) bool { return keys[i].end.y > keys[j].end.y })
	free := upperEdge - nameStep
	for _, k := range keys {
		at := a.place(k.end)
		y := max(at.y+smallSize*capitals/2, free)
		if y > lowerEdge+smallSize {
			return
		}
		x := at.x + nameGap
		if x > rightEdge-nameRoom {
			x = rightEdge + nameGap // clear of the grid
		}
		on.text(xy{x, y}, k.name, lettering{size: smallSize, ink: k.ink})
		free = y + nameStep
	}
}

// shortened is a text of at most so many characters.
func shortened(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
