package page

// A chart: lines and marks over two axes, drawn on a canvas of gonum/plot's vg.
// The package plot itself would bring twelve fonts of 0.4 MB each into the program;
// here there is one.

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationserifregular"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	plottext "gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// point is a place on a chart, in the units of its axes.
type point struct{ x, y float64 }

// line joins points.
type line struct {
	points []point
	style  draw.LineStyle
}

// marks are points each by itself.
type marks struct {
	points []point
	style  draw.GlyphStyle
}

// key is a line of the legend.
type key struct {
	text  string
	style draw.LineStyle
}

// chart is what is drawn: lines first, marks over them.
type chart struct {
	title, across, up string
	lines             []line
	marks             []marks
	keys              []key
}

// The measures of a chart.
const (
	largeText = font.Length(12)
	smallText = font.Length(10)
	gap       = vg.Length(4)  // between things that belong together
	keyLength = vg.Length(20) // of the line in the legend
	tickLong  = vg.Length(6)
	tickShort = vg.Length(3)
)

var (
	axisLine = draw.LineStyle{Color: color.Black, Width: vg.Points(0.5)}
	gridLine = draw.LineStyle{Color: color.Gray{0xb8}, Width: vg.Points(0.25)}
)

// write draws the chart in a format that has been registered.
func (c chart) write(out io.Writer, w, h vg.Length, format string) error {
	to, err := draw.NewFormattedCanvas(w, h, format)
	if err != nil {
		return err
	}
	all := draw.New(to)
	all.FillPolygon(color.White, []vg.Point{all.Min, {X: all.Max.X, Y: all.Min.Y}, all.Max, {X: all.Min.X, Y: all.Max.Y}})
	if err := c.draw(draw.Crop(all, gap, -gap, gap, -gap)); err != nil {
		return err
	}
	_, err = to.WriteTo(out)
	return err
}

func (c chart) draw(all draw.Canvas) error {
	large, err := written(largeText)
	if err != nil {
		return err
	}
	small, _ := written(smallText)
	high, low := large.Height(c.title), small.Height("0.0")
	a := axes{in: draw.Crop(all, high+low+small.Width("0.0")+3*gap+tickLong, -3*gap, high+low+4*gap+tickLong, -high-3*gap)}
	a.x, a.y = c.spans()
	a.grid(small)
	title, up := large, large
	title.YAlign, title.XAlign = draw.YTop, draw.XCenter
	all.FillText(title, vg.Point{X: a.in.Center().X, Y: all.Max.Y}, c.title)
	title.YAlign = draw.YBottom
	all.FillText(title, vg.Point{X: a.in.Center().X, Y: all.Min.Y}, c.across)
	up.Rotation, up.XAlign, up.YAlign = math.Pi/2, draw.XCenter, draw.YTop
	all.FillText(up, vg.Point{X: all.Min.X, Y: a.in.Center().Y}, c.up)
	for _, l := range c.lines {
		a.in.StrokeLines(l.style, a.places(l.points))
	}
	for _, m := range c.marks {
		for _, at := range a.places(m.points) {
			a.in.DrawGlyph(m.style, at)
		}
	}
	c.legend(a.in, small)
	return nil
}

// legend stands in the upper left corner.
func (c chart) legend(in draw.Canvas, t plottext.Style) {
	high := t.Height("0") + gap
	t.YAlign = draw.YCenter
	for i, k := range c.keys {
		y := in.Max.Y - gap - high*(vg.Length(i)+0.5)
		in.StrokeLine2(k.style, in.Min.X+gap, y, in.Min.X+gap+keyLength, y)
		in.FillText(t, vg.Point{X: in.Min.X + 2*gap + keyLength, Y: y}, k.text)
	}
}

// spans are what the axes go over: all that is drawn, and nothing below zero upwards.
func (c chart) spans() (x, y span) {
	x, y = span{math.Inf(1), math.Inf(-1)}, span{0, math.Inf(-1)}
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
	return x.usable(), y.usable()
}

// span is what an axis goes over.
type span struct{ least, most float64 }

func (s span) with(v float64) span { return span{min(s.least, v), max(s.most, v)} }

// usable makes an axis of a span of one value, or of none.
func (s span) usable() span {
	if !(s.least <= s.most) {
		return span{0, 1}
	}
	if s.least == s.most {
		return span{s.least - 0.5, s.most + 0.5}
	}
	return s
}

// at is where a value lies between two ends.
func (s span) at(v float64, from, to vg.Length) vg.Length {
	return from + vg.Length((v-s.least)/(s.most-s.least))*(to-from)
}

// axes are two spans laid over a part of the canvas.
type axes struct {
	in   draw.Canvas
	x, y span
}

func (a axes) places(list []point) []vg.Point {
	at := make([]vg.Point, len(list))
	for i, p := range list {
		at[i] = vg.Point{X: a.x.at(p.x, a.in.Min.X, a.in.Max.X), Y: a.y.at(p.y, a.in.Min.Y, a.in.Max.Y)}
	}
	return at
}

// grid draws both axes with their ticks, and a line at each half.
func (a axes) grid(t plottext.Style) {
	in, least := &a.in, a.in.Min
	in.StrokeLine2(axisLine, least.X, least.Y, in.Max.X, least.Y)
	in.StrokeLine2(axisLine, least.X, least.Y, least.X, in.Max.Y)
	below, beside := t, t
	below.XAlign, below.YAlign = draw.XCenter, draw.YTop
	beside.XAlign, beside.YAlign = draw.XRight, draw.YCenter
	for _, k := range ticks(a.x) {
		x, long := a.x.at(k.at, least.X, in.Max.X), tickShort
		if k.label != "" {
			long = tickLong
			in.StrokeLine2(gridLine, x, least.Y, x, in.Max.Y)
			in.FillText(below, vg.Point{X: x, Y: least.Y - tickLong - gap}, k.label)
		}
		in.StrokeLine2(axisLine, x, least.Y, x, least.Y-long)
	}
	for _, k := range ticks(a.y) {
		y, long := a.y.at(k.at, least.Y, in.Max.Y), tickShort
		if k.label != "" {
			long = tickLong
			in.StrokeLine2(gridLine, least.X, y, in.Max.X, y)
			in.FillText(beside, vg.Point{X: least.X - tickLong - gap, Y: y}, k.label)
		}
		in.StrokeLine2(axisLine, least.X, y, least.X-long, y)
	}
}

// tick is a mark on an axis; every half has a label.
type tick struct {
	at    float64
	label string
}

// ticks marks every half, and each tenth between.
func ticks(s span) []tick {
	var list []tick
	for k := math.Ceil(s.least*10 - 1e-9); k <= math.Floor(s.most*10+1e-9); k++ {
		t := tick{at: k / 10}
		if math.Mod(k, 5) == 0 {
			t.label = fmt.Sprintf("%.1f", k/10+0) // + 0: no negative zero
		}
		list = append(list, t)
	}
	return list
}

// serif is the one font of charts.
var serif = sync.OnceValues(func() (*font.Cache, error) {
	face, err := opentype.Parse(liberationserifregular.TTF)
	if err != nil {
		return nil, err
	}
	return font.NewCache(font.Collection{{Font: font.Font{Typeface: "Liberation", Variant: "Serif"}, Face: face}}), nil
})

// written is text of a size, in black.
func written(size font.Length) (plottext.Style, error) {
	fonts, err := serif()
	if err != nil {
		return plottext.Style{}, err
	}
	return plottext.Style{Color: color.Black, Font: font.Font{Typeface: "Liberation", Variant: "Serif", Size: size},
		Handler: plottext.Plain{Fonts: fonts}}, nil
}
