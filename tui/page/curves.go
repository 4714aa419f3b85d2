package page

// A family of characteristic curves as a picture, for a notebook or a lesson:
// the curves with their readings, the speed points, and the triangle of ISO 6,
// 1.30 wide from the first curve's speed point and 0.80 high.

import (
	"fmt"
	"image/color"
	"io"
	"path/filepath"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	_ "gonum.org/v1/plot/vg/vgimg" // png
	_ "gonum.org/v1/plot/vg/vgsvg" // svg

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
)

// The size of a picture.
const (
	pictureWidth  = 16 * vg.Centimeter
	pictureHeight = 12 * vg.Centimeter
)

// inks tell the curves of a family apart, also in grey.
var inks = []color.Color{
	color.RGBA{0x1b, 0x1b, 0x1b, 0xff}, color.RGBA{0xb0, 0x3a, 0x2e, 0xff}, color.RGBA{0x1f, 0x61, 0x8d, 0xff},
	color.RGBA{0x7d, 0x66, 0x08, 0xff}, color.RGBA{0x5b, 0x2c, 0x6f, 0xff}, color.RGBA{0x11, 0x78, 0x64, 0xff},
}

// Curves writes the picture of a family: "svg" or "png".
func Curves(out io.Writer, format string, f curve.Family, r curve.Results) error {
	c := chart{title: filepath.Base(f.Name), across: "relative log exposure", up: "density"}
	if f.Scale == curve.LuxSeconds {
		c.across = "log exposure (lux seconds)"
	}
	for i := range r.Curves {
		c.add(f, r, i)
	}
	c.isoTriangle(r)
	return c.write(out, pictureWidth, pictureHeight, format)
}

// samples is how many points a drawn curve has.
const samples = 200

// add draws a curve, its readings and its speed point.
func (c *chart) add(f curve.Family, r curve.Results, i int) {
	in, ink := r.Curves[i].Curve, inks[i%len(inks)]
	from, to := in.Range()
	drawn := line{style: draw.LineStyle{Color: ink, Width: vg.Points(1.2)}}
	for k := 0; k <= samples; k++ {
		h := from + (to-from)*curve.LogH(k)/samples
		if d, ok := in.At(h); ok {
			drawn.points = append(drawn.points, point{float64(h), float64(d)})
		}
	}
	read := marks{style: draw.GlyphStyle{Color: ink, Radius: vg.Points(1.6), Shape: draw.CircleGlyph{}}}
	for _, x := range f.Curves[i].Readings {
		read.points = append(read.points, point{float64(x.LogH), float64(x.Density)})
	}
	c.lines, c.marks = append(c.lines, drawn), append(c.marks, read)
	c.keys = append(c.keys, key{legend(f, r, i), drawn.style})
	if s := r.Curves[i].SpeedPoint; s != nil {
		d, _ := in.At(*s)
		c.marks = append(c.marks, marks{[]point{{float64(*s), float64(d)}},
			draw.GlyphStyle{Color: ink, Radius: vg.Points(4), Shape: draw.RingGlyph{}}})
	}
}

func legend(f curve.Family, r curve.Results, i int) string {
	name := f.Label(i)
	if t := f.Curves[i].Time; t > 0 {
		name = sequence.Clock(t)
	}
	if g := r.Curves[i].AverageGradient; g != nil {
		return fmt.Sprintf("%s, average gradient %.2f", name, *g)
	}
	return name
}

// isoTriangle draws the triangle of ISO 6:1993 at the first curve's speed point.
func (c *chart) isoTriangle(r curve.Results) {
	for _, k := range r.Curves {
		if k.SpeedPoint == nil {
			continue
		}
		d, ok := k.Curve.At(*k.SpeedPoint)
		if !ok {
			continue
		}
		x, y := float64(*k.SpeedPoint), float64(d)
		c.lines = append(c.lines, line{[]point{{x, y}, {x + 1.30, y}, {x + 1.30, y + 0.80}, {x, y}},
			draw.LineStyle{Color: color.Gray{0x90}, Width: vg.Points(1), Dashes: []vg.Length{vg.Points(3), vg.Points(2)}}})
		return
	}
}
