package page

// The canvas of dots: areas against geometry, letters against the standard drawer of
// golang.org/x/image.

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

var fullBlack = color.RGBA{0, 0, 0, 0xff}

func white(t *testing.T) *pngCanvas {
	t.Helper()
	c, err := newPNG(100, 60)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// covered is how much of a canvas is black, in square units.
func covered(c *pngCanvas) (area float64) {
	for i := 0; i < len(c.picture.Pix); i += 4 {
		area += 1 - float64(c.picture.Pix[i])/255
	}
	return area / dotsPerUnit / dotsPerUnit
}

func TestAreas(t *testing.T) {
	for _, k := range []struct {
		what string
		want float64
		draw func(*pngCanvas)
	}{
		{"dot", math.Pi * 10 * 10, func(c *pngCanvas) { c.dots([]xy{{50, 30}}, 10, fullBlack) }},
		{"ring", math.Pi * (11*11 - 9*9), func(c *pngCanvas) { c.rings([]xy{{50, 30}}, 10, 2, fullBlack) }},
		{"slanting line", 50 * 3, func(c *pngCanvas) { c.lines([][]xy{{{10, 10}, {50, 40}}}, fullBlack, 3) }},
		{"the same back", 50 * 3, func(c *pngCanvas) { c.lines([][]xy{{{50, 40}, {10, 10}}}, fullBlack, 3) }},
		{"mitred corner", 2 * 30 * 4, func(c *pngCanvas) { c.lines([][]xy{{{10, 10}, {40, 10}, {40, 40}}}, fullBlack, 4) }},
		{"a place twice", 20 * 4, func(c *pngCanvas) { c.lines([][]xy{{{10, 10}, {20, 10}, {20, 10}, {30, 10}}}, fullBlack, 4) }},
		{"one place", 0, func(c *pngCanvas) { c.lines([][]xy{{{10, 10}, {10, 10}}}, fullBlack, 4) }},
		{"half outside", math.Pi * 10 * 10 / 2, func(c *pngCanvas) { c.dots([]xy{{100, 30}}, 10, fullBlack) }},
		{"a corner inside", math.Pi * 10 * 10 / 4, func(c *pngCanvas) { c.dots([]xy{{0, 0}}, 10, fullBlack) }},
		{"all outside", 0, func(c *pngCanvas) { c.dots([]xy{{200, 30}, {-50, 30}}, 10, fullBlack) }},
	} {
		c := white(t)
		k.draw(c)
		if got := covered(c); math.Abs(got-k.want) > 0.01*k.want+0.01 {
			t.Errorf("%s covers %.2f; want %.2f", k.what, got, k.want)
		}
	}
}

// Letters lie where the standard drawer puts them, and upright they are the same, turned.
func TestLetters(t *testing.T) {
	const words, size = "density ä 0.8", 12
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size * dotsPerUnit, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		t.Fatal(err)
	}
	want := image.NewRGBA(image.Rect(0, 0, 200, 120))
	draw.Draw(want, want.Bounds(), image.White, image.Point{}, draw.Src)
	(&font.Drawer{Dst: want, Src: image.Black, Face: face, Dot: fixed.P(20, 60)}).DrawString(words)
	c := white(t)
	c.text(xy{10, 30}, words, lettering{size: size, ink: fullBlack})
	if d := apartBy(c.picture, want, func(x, y int) (int, int) { return x, y }); d > 6 { // it has fewer corners to a curve
		t.Errorf("letters differ by %.1f levels of 255", d)
	}
	turned, err := newPNG(60, 100)
	if err != nil {
		t.Fatal(err)
	}
	turned.text(xy{30, 90}, words, lettering{size: size, upright: true, ink: fullBlack})
	if d := apartBy(c.picture, turned.picture, func(x, y int) (int, int) { return y, 199 - x }); d > 0.5 {
		t.Errorf("upright they differ by %.1f levels of 255", d)
	}
	wide := float64(font.MeasureString(face, words)) / 64 / dotsPerUnit
	for side, back := range map[textAnchor]float64{anchorMiddle: wide / 2, anchorEnd: wide} {
		other := white(t)
		other.text(xy{10 + back, 30}, words, lettering{size: size, side: side, ink: fullBlack})
		if d := apartBy(c.picture, other.picture, func(x, y int) (int, int) { return x, y }); d > 0.5 {
			t.Errorf("by %v they differ by %.1f levels of 255", side, d)
		}
	}
}

// apartBy is how far two pictures differ, over the dots that have ink in one or both.
func apartBy(p, q *image.RGBA, to func(x, y int) (int, int)) float64 {
	sum, dots := 0.0, 0
	for y := range p.Bounds().Dy() {
		for x := range p.Bounds().Dx() {
			a, b := p.RGBAAt(x, y).R, q.RGBAAt(to(x, y)).R
			if a < 255 || b < 255 {
				dots++
				sum += math.Abs(float64(a) - float64(b))
			}
		}
	}
	return sum / float64(max(dots, 1))
}
