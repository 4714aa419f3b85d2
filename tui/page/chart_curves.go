package page

// A family of characteristic curves as a picture, for a notebook or a lesson:
// the curves with their readings, the speed points, and the triangle of ISO 6,
// 1.30 wide from a curve's speed point and 0.80 high.

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"path/filepath"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
)

// curveColours tell the curves of a family apart, in grey too: no two are equally light (CIE
// L* 5 to 59), neighbours least of all, and each stands out from white paper.
var curveColours = []color.RGBA{
	{0x11, 0x11, 0x11, 0xff}, {0x1f, 0x63, 0x91, 0xff}, {0x41, 0x19, 0x7c, 0xff},
	{0x3f, 0x86, 0x2a, 0xff}, {0x8f, 0x1d, 0x2d, 0xff}, {0xbb, 0x82, 0x1f, 0xff},
}

var grey = color.RGBA{0x78, 0x78, 0x78, 0xff}

const (
	curveWidth    = 1.8
	triangleWidth = 1.3
)

// Curves writes the picture of a family as SVG, 16 by 12 cm.
func Curves(out io.Writer, f curve.Family, r curve.Results) error { return curveChart(f, r).write(out) }

func curveChart(f curve.Family, r curve.Results) chart {
	c := chart{title: title(f.Name), across: "relative log exposure", up: "density"}
	switch f.Scale {
	case curve.LuxSeconds:
		c.across = "log exposure (lux seconds)"
	case curve.Unstated:
		c.across = "log exposure"
	}
	c.isoTriangle(f, r)
	for i := range r.Curves {
		c.add(f, r, i)
	}
	if c.triangle != "" {
		c.keys = append(c.keys, key{text: "speed point, 0.10 over base plus fog", ink: inkBlack, sign: ring},
			key{text: "triangle of ISO 6:1993, at " + c.triangle, ink: grey, sign: dashes})
	}
	return c
}

// title is the names of the files that a family was read from, without their folders.
func title(name string) string {
	names := strings.Split(name, ", ")
	for i, n := range names {
		names[i] = filepath.Base(n)
	}
	return strings.Join(names, ", ")
}

// samples is how many parts a drawn curve has.
const samples = 400

// add draws a curve, its readings and its speed point.
func (c *chart) add(f curve.Family, r curve.Results, i int) {
	in, ink := r.Curves[i].Curve, curveColours[i%len(curveColours)]
	drawn := line{ink: ink, width: curveWidth}
	for _, x := range in.Drawn(samples) {
		drawn.points = append(drawn.points, point{float64(x.LogH), float64(x.Density)})
	}
	read := marks{ink: ink}
	for _, x := range f.Curves[i].Readings {
		read.points = append(read.points, point{float64(x.LogH), float64(x.Density)})
	}
	c.lines, c.marks = append(c.lines, drawn), append(c.marks, read)
	c.keys = append(c.keys, keyOf(f, r, i, drawn))
	if s := r.Curves[i].SpeedPoint; s != nil {
		if d, ok := in.At(*s); ok {
			c.marks = append(c.marks, marks{points: []point{{float64(*s), float64(d)}}, ink: ink, rings: true})
		}
	}
}

func keyOf(f curve.Family, r curve.Results, i int, drawn line) key {
	k := key{name: f.Label(i), ink: drawn.ink}
	if n := len(drawn.points); n > 0 {
		k.end = drawn.points[n-1]
	}
	if t := f.Curves[i].Time; t > 0 {
		k.name = sequence.FormatElapsed(t)
	}
	k.text = k.name
	if g := r.Curves[i].AverageGradient; g != nil {
		k.text = fmt.Sprintf("%s, average gradient %.2f", k.name, *g)
	}
	return k
}

// isoTriangle draws the triangle of ISO 6:1993 at the speed point of the curve that is nearest to the time found, or of
// the first.
func (c *chart) isoTriangle(f curve.Family, r curve.Results) {
	at, least := -1, math.Inf(1)
	for i := range r.Curves {
		_, ok := r.Curves[i].SpeedReading()
		off := 0.0
		if t := f.Curves[i].Time.Seconds(); r.Target != nil && r.Target.Time > 0 && t > 0 {
			off = math.Abs(math.Log(t / r.Target.Time))
		}
		if ok && off < least {
			at, least = i, off
		}
	}
	if at < 0 {
		return
	}
	m, _ := r.Curves[at].SpeedReading()
	l := line{ink: grey, width: triangleWidth, dashed: true}
	corners := curve.ISOTriangle(m)
	for _, p := range append(corners[:], m) {
		l.points = append(l.points, point{float64(p.LogH), float64(p.Density)})
	}
	c.lines, c.triangle = append(c.lines, l), keyOf(f, r, at, line{}).name
}
