package page

// A family of characteristic curves as a picture, for a notebook or a lesson:
// the curves with their readings, the speed points, and the triangle of ISO 6,
// 1.30 wide from the first curve's speed point and 0.80 high.

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"path/filepath"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	_ "gonum.org/v1/plot/vg/vgimg" // png; the build tag minimal leaves all formats out
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

// Curves writes the picture of a family in a format that gonum/plot knows: "svg"
// or "png".
func Curves(out io.Writer, format string, f curve.Family, r curve.Results) error {
	p := plot.New()
	p.Title.Text = filepath.Base(f.Name)
	p.X.Label.Text = "relative log exposure"
	if f.Scale == curve.LuxSeconds {
		p.X.Label.Text = "log exposure (lux seconds)"
	}
	p.Y.Label.Text = "density"
	p.X.Tick.Marker, p.Y.Tick.Marker = roundTicks{}, roundTicks{}
	p.Y.Min = 0
	p.Legend.Top, p.Legend.Left = true, true
	p.Add(plotter.NewGrid())
	for i := range r.Curves {
		if err := drawCurve(p, f, r, i); err != nil {
			return err
		}
	}
	if err := isoTriangle(p, r); err != nil {
		return err
	}
	w, err := p.WriterTo(pictureWidth, pictureHeight, format)
	if err != nil {
		return err
	}
	_, err = w.WriteTo(out)
	return err
}

// samples is how many points a drawn curve has.
const samples = 200

func drawCurve(p *plot.Plot, f curve.Family, r curve.Results, i int) error {
	in := r.Curves[i].Curve
	from, to := in.Range()
	var line plotter.XYs
	for k := 0; k <= samples; k++ {
		h := from + (to-from)*curve.LogH(k)/samples
		if d, ok := in.At(h); ok {
			line = append(line, plotter.XY{X: float64(h), Y: float64(d)})
		}
	}
	drawn, err := plotter.NewLine(line)
	if err != nil {
		return err
	}
	drawn.Color, drawn.Width = inks[i%len(inks)], vg.Points(1.2)
	var read plotter.XYs
	for _, x := range f.Curves[i].Readings {
		read = append(read, plotter.XY{X: float64(x.LogH), Y: float64(x.Density)})
	}
	dots, err := plotter.NewScatter(read)
	if err != nil {
		return err
	}
	dots.GlyphStyle = draw.GlyphStyle{Color: inks[i%len(inks)], Radius: vg.Points(1.6), Shape: draw.CircleGlyph{}}
	p.Add(drawn, dots)
	p.Legend.Add(legend(f, r, i), drawn)
	if s := r.Curves[i].SpeedPoint; s != nil {
		d, _ := in.At(*s)
		mark, err := plotter.NewScatter(plotter.XYs{{X: float64(*s), Y: float64(d)}})
		if err != nil {
			return err
		}
		mark.GlyphStyle = draw.GlyphStyle{Color: inks[i%len(inks)], Radius: vg.Points(4), Shape: draw.RingGlyph{}}
		p.Add(mark)
	}
	return nil
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
func isoTriangle(p *plot.Plot, r curve.Results) error {
	for _, c := range r.Curves {
		if c.SpeedPoint == nil {
			continue
		}
		d, ok := c.Curve.At(*c.SpeedPoint)
		if !ok {
			continue
		}
		x, y := float64(*c.SpeedPoint), float64(d)
		line, err := plotter.NewLine(plotter.XYs{{X: x, Y: y}, {X: x + 1.30, Y: y}, {X: x + 1.30, Y: y + 0.80}, {X: x, Y: y}})
		if err != nil {
			return err
		}
		line.Color, line.Dashes = color.Gray{0x90}, []vg.Length{vg.Points(3), vg.Points(2)}
		p.Add(line)
		return nil
	}
	return nil
}

// roundTicks marks every half, and each tenth between.
type roundTicks struct{}

// Ticks implements plot.Ticker.
func (roundTicks) Ticks(least, most float64) []plot.Tick {
	var list []plot.Tick
	for k := math.Ceil(least*10-1e-9) + 0; k <= math.Floor(most*10+1e-9); k++ {
		t := plot.Tick{Value: k / 10}
		if math.Mod(k, 5) == 0 {
			t.Label = fmt.Sprintf("%.1f", k/10+0) // + 0: no negative zero
		}
		list = append(list, t)
	}
	return list
}
