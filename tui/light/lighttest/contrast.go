package lighttest

// Contrast of what is read, measured on the cells of a terminal by WCAG 2.1 ("contrast ratio",
// "relative luminance").

import (
	"fmt"
	"math"
	"unicode"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/light/vtest"
)

// The least contrast (WCAG 2.1, success criterion 1.4.3). In red, whose brightest is 5.3:1 on
// black, labels may have less, which are drawn no brighter than labelled; by safelight, while film is
// open, nothing is asked.
const (
	least     = 4.5
	leastRed  = 3.0
	labelled  = 0.28 // luminance
	safelight = 0.0
)

// wanted is the contrast that a text must have in a light, which was drawn in an ink.
func wanted(l light.Light, ink vtest.RGB) float64 {
	switch {
	case l == light.White, l == light.Red && luminance(ink) > labelled:
		return least
	case l == light.Red:
		return leastRed
	}
	return safelight
}

// unreadable is a text with too little contrast, and which; "" where all can be read. drawn is the
// view in its own colours.
func unreadable(front *vtest.Terminal, drawn []vtest.Seen, l light.Light) string {
	for i, c := range front.Cells() {
		if want := wanted(l, drawn[i].Fg); text(c.Rune) && contrast(c.Fg, c.Bg) < want {
			return fmt.Sprintf("%q at %d,%d has %.2f:1, %v on %v, of %.1f:1", c.Rune, c.X, c.Y, contrast(c.Fg, c.Bg), c.Fg, c.Bg, want)
		}
	}
	return ""
}

// text reports whether a character is read: lines, blocks and the dots of a plot are seen.
func text(r rune) bool {
	drawn := r >= 0x2500 && r < 0x25a0 || r >= 0x2800 && r < 0x2900
	return unicode.IsGraphic(r) && !unicode.IsSpace(r) && !drawn
}

func contrast(a, b vtest.RGB) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c vtest.RGB) float64 { return Luminance(c.R, c.G, c.B) }

// Luminance is that of IEC 61966-2-1 (sRGB), white being 1.
func Luminance(r, g, b uint8) float64 {
	linear := func(v uint8) float64 {
		f := float64(v) / 255
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}
