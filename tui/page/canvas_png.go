package page

// A canvas that writes PNG: whatever is drawn becomes polygons, which the rasteriser
// of golang.org/x/image fills; letters are the outlines of one font, Go Regular.

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// dotsPerUnit makes 203 dots to an inch, enough for paper.
const dotsPerUnit = 2

type pngCanvas struct {
	picture *image.RGBA
	filler  vector.Rasterizer
	letters *sfnt.Font
	buffer  sfnt.Buffer
}

// regular is the one font.
var regular = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(goregular.TTF) })

// newPNG is an empty canvas, all white.
func newPNG(w, h float64) (*pngCanvas, error) {
	letters, err := regular()
	if err != nil {
		return nil, err
	}
	c := &pngCanvas{picture: image.NewRGBA(image.Rect(0, 0, int(w*dotsPerUnit), int(h*dotsPerUnit))), letters: letters}
	draw.Draw(c.picture, c.picture.Bounds(), image.White, image.Point{}, draw.Src)
	return c, nil
}

func (c *pngCanvas) writeTo(out io.Writer) error { return png.Encode(out, c.picture) }

func (c *pngCanvas) lines(paths [][]xy, ink color.RGBA, width float64) {
	for _, path := range paths {
		c.fill([][]xy{outline(path, width)}, ink)
	}
}

func (c *pngCanvas) dots(at []xy, radius float64, ink color.RGBA) {
	for _, p := range at {
		c.fill([][]xy{circle(p, radius)}, ink)
	}
}

// A ring is a circle out of which a smaller one, gone round the other way, is cut.
func (c *pngCanvas) rings(at []xy, radius, width float64, ink color.RGBA) {
	for _, p := range at {
		c.fill([][]xy{circle(p, radius+width/2), circle(p, width/2-radius)}, ink)
	}
}

// circle goes round the other way where the radius is below zero.
func circle(at xy, radius float64) []xy {
	const corners = 48
	round := make([]xy, corners)
	for i := range round {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		round[i] = xy{at.x + math.Abs(radius)*cos, at.y + radius*sin}
	}
	return round
}

// outline is the polygon round a path drawn as wide as that, with mitred corners.
func outline(path []xy, width float64) []xy {
	path = joinSegments(path)
	if len(path) < 2 {
		return nil
	}
	left, right := make([]xy, len(path)), make([]xy, len(path))
	for i, p := range path {
		to, from := max(i, 1), min(i, len(path)-2)
		before, after := normal(path[to-1], path[to]), normal(path[from], path[from+1])
		n := xy{before.x + after.x, before.y + after.y}
		const sharpest = 0.5 // a mitre never grows beyond one and a half times the width
		scale := width / max(n.x*n.x+n.y*n.y, sharpest)
		left[i] = xy{p.x + n.x*scale, p.y + n.y*scale}
		right[len(path)-1-i] = xy{p.x - n.x*scale, p.y - n.y*scale}
	}
	return append(left, right...)
}

// joinSegments leaves out places that are those before them.
func joinSegments(path []xy) (list []xy) {
	for i, p := range path {
		if i == 0 || p != path[i-1] {
			list = append(list, p)
		}
	}
	return list
}

// normal is one unit long and stands on the way from one place to another.
func normal(from, to xy) xy {
	long := math.Hypot(to.x-from.x, to.y-from.y)
	return xy{(from.y - to.y) / long, (to.x - from.x) / long}
}

func (c *pngCanvas) text(at xy, s string, l lettering) {
	size, wide := fixed.Int26_6(l.size*dotsPerUnit*64), 0.0
	var polygons [][]xy
	for _, r := range s {
		index, _ := c.letters.GlyphIndex(&c.buffer, r) // 0, an empty box, for what the font has not
		if shape, err := c.letters.LoadGlyph(&c.buffer, index, size, nil); err == nil {
			polygons = append(polygons, flattened(shape, wide)...)
		}
		if step, err := c.letters.GlyphAdvance(&c.buffer, index, size, font.HintingNone); err == nil {
			wide += inUnits(step)
		}
	}
	back := wide * [...]float64{anchorStart: 0, anchorMiddle: 0.5, anchorEnd: 1}[l.side]
	for _, polygon := range polygons {
		for i, p := range polygon {
			if p.x -= back; l.upright {
				p.x, p.y = p.y, -p.x
			}
			polygon[i] = xy{at.x + p.x, at.y + p.y}
		}
	}
	c.fill(polygons, l.ink)
}

func inUnits(v fixed.Int26_6) float64 { return float64(v) / 64 / dotsPerUnit }

// flattened is a letter's shape as polygons, so far to the right. The font's own curves
// are quadratic.
func flattened(shape sfnt.Segments, right float64) (polygons [][]xy) {
	var last xy
	for _, s := range shape {
		to := func(i int) xy { return xy{right + inUnits(s.Args[i].X), inUnits(s.Args[i].Y)} }
		end := to(0)
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			polygons = append(polygons, nil)
		case sfnt.SegmentOpQuadTo:
			const parts = 5
			end = to(1)
			for k := 1; k < parts; k++ {
				t := float64(k) / parts
				polygons[len(polygons)-1] = append(polygons[len(polygons)-1], between(between(last, to(0), t), between(to(0), end, t), t))
			}
		}
		polygons[len(polygons)-1] = append(polygons[len(polygons)-1], end)
		last = end
	}
	return polygons
}

// fill fills polygons that belong together; where one goes round the other way, it is a hole.
func (c *pngCanvas) fill(polygons [][]xy, ink color.RGBA) {
	low, high := xy{math.Inf(1), math.Inf(1)}, xy{math.Inf(-1), math.Inf(-1)}
	for _, polygon := range polygons {
		for _, p := range polygon {
			low, high = xy{min(low.x, p.x), min(low.y, p.y)}, xy{max(high.x, p.x), max(high.y, p.y)}
		}
	}
	if !(low.x <= high.x) {
		return
	}
	box := c.picture.Bounds().Intersect(image.Rect(int(math.Floor(low.x*dotsPerUnit)), int(math.Floor(low.y*dotsPerUnit)),
		int(math.Ceil(high.x*dotsPerUnit)), int(math.Ceil(high.y*dotsPerUnit))))
	c.filler.Reset(box.Dx(), box.Dy())
	for _, polygon := range polygons {
		for i, p := range polygon {
			x, y := float32(p.x*dotsPerUnit-float64(box.Min.X)), float32(p.y*dotsPerUnit-float64(box.Min.Y))
			if i == 0 {
				c.filler.MoveTo(x, y)
			} else {
				c.filler.LineTo(x, y)
			}
		}
		c.filler.ClosePath()
	}
	c.filler.Draw(c.picture, box, image.NewUniform(ink), image.Point{})
}
