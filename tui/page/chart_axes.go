package page

// The axes of a chart: what they span, where a value lies, and their ticks.

import (
	"fmt"
	"math"

	"example.org/wetside/tui/say"
)

// axes are what a chart spans, across and upwards.
type axes struct{ x, y span }

// axes span all that is drawn, out to the next tenth, and upwards from zero at most.
func (c chart) axes() axes {
	x, y := span{math.Inf(1), math.Inf(-1)}, span{0, math.Inf(-1)}
	take := func(list []point) {
		for _, p := range list {
			x, y = x.with(p.x), y.with(p.y)
		}
	}
	for _, l := range c.lines {
		take(l.points)
	}
	for _, m := range c.marks {
		take(m.points)
	}
	return axes{x.usable(), y.usable()}
}

// place is where a point lies on the canvas.
func (a axes) place(p point) xy {
	return xy{a.x.at(p.x, leftEdge, rightEdge), a.y.at(p.y, lowerEdge, upperEdge)}
}

func (a axes) places(list []point) []xy {
	at := make([]xy, len(list))
	for i, p := range list {
		at[i] = a.place(p)
	}
	return at
}

// draw draws the grid, at each labelled value, and over it both axes with their ticks.
func (a axes) draw(on *svgCanvas) {
	corner := xy{leftEdge, lowerEdge}
	frame, grid := [][]xy{{{leftEdge, upperEdge}, corner, {rightEdge, lowerEdge}}}, [][]xy(nil)
	for _, k := range a.x.ticks() {
		x, long := a.x.at(k.at, leftEdge, rightEdge), shortTick
		if k.label != "" {
			long = longTick
			grid = append(grid, []xy{{x, lowerEdge}, {x, upperEdge}})
			on.text(xy{x, lowerEdge + longTick + 14}, k.label, lettering{size: smallSize, side: anchorMiddle, ink: inkBlack})
		}
		frame = append(frame, []xy{{x, lowerEdge}, {x, lowerEdge + long}})
	}
	for _, k := range a.y.ticks() {
		y, long := a.y.at(k.at, lowerEdge, upperEdge), shortTick
		if k.label != "" {
			long = longTick
			grid = append(grid, []xy{{leftEdge, y}, {rightEdge, y}})
			on.text(xy{leftEdge - longTick - 5, y + smallSize*capitals/2}, k.label, lettering{size: smallSize, side: anchorEnd, ink: inkBlack})
		}
		frame = append(frame, []xy{{leftEdge, y}, {leftEdge - long, y}})
	}
	on.lines(grid, paleGrey, 1)
	on.lines(frame, inkBlack, 1)
}

// span is what an axis goes over.
type span struct{ least, most float64 }

func (s span) with(v float64) span { return span{min(s.least, v), max(s.most, v)} }

// tolerance is what a value may lie off a round one by the arithmetic of a computer.
const tolerance = 1e-9

// usable goes out to the next tenths; of one value, or of none, it makes an axis.
func (s span) usable() span {
	if !(s.least <= s.most) {
		return span{0, 1}
	}
	s = span{math.Floor(s.least*10+tolerance) / 10, math.Ceil(s.most*10-tolerance) / 10}
	if s.least == s.most {
		return span{s.least - 0.5, s.most + 0.5}
	}
	return s
}

// at is where a value lies between two ends.
func (s span) at(v, from, to float64) float64 {
	return from + (v-s.least)/(s.most-s.least)*(to-from)
}

// tick is a mark on an axis; some have a label.
type tick struct {
	at    float64
	label string
}

// maxTenths is the longest span whose tenths can be told apart.
const maxTenths = 6.5

// ticks marks every tenth and labels every half; on a longer axis, every half, and
// every whole.
func (s span) ticks() (list []tick) {
	each, labelled, decimals := 10.0, 5.0, 1
	if s.most-s.least > maxTenths {
		each, labelled, decimals = 2, 2, 0
	}
	for k := math.Ceil(s.least*each - tolerance); k <= math.Floor(s.most*each+tolerance); k++ {
		t := tick{at: k / each}
		if math.Mod(k, labelled) == 0 {
			t.label = say.Minus(fmt.Sprintf("%.*f", decimals, k/each+0)) // + 0: no negative zero
		}
		list = append(list, t)
	}
	return list
}
