package light

// The filter: a cell as it was drawn to the cell that the light allows. Pure red at its
// brightest is 5.25:1 on black by WCAG's formula, so there is little room for degrees: what
// is to be read is lifted, and only lines and empty bars stay dark.

import "math"

// Levels of red. Where a terminal makes the nearest of its 256 colours of a level, as tmux
// does, levels below lowest would become greys, which have green and blue in them: the least
// level that is used is nearer to red at 0x5f than to any grey.
const (
	lowest   = 0x37
	readable = 0xeb // 4.5:1 on black: ink, care, danger
	labels   = 0xc3 // 3:1 and above, also where the nearest of 256 is taken: quiet
	dimmest  = 0xaf // nothing is brighter while film is open
)

// bright is the luminance from which a background is no fill behind letters but a sign.
const bright = 0.10

// seen is what the light allows of a cell.
func (l Light) seen(c cell) cell {
	switch l {
	case White:
		return c
	case Red:
		behind := luminance(c.bg)
		if c = filtered(c, redInk, redBack); behind >= bright { // the cursor: dark on a bright cell
			c.fg, c.bg, c.under = 0, red(max(readable, redInk(behind))), false
		}
		return c
	case Safelight:
		c = filtered(c, dimInk, dimBack)
		if c.bg != 0 {
			c.fg = red(dimmest)
		}
		return c
	}
	return blank
}

func filtered(c cell, ink, back func(lum float64) uint8) cell {
	if glows(c.r) {
		c.r, c.marks = mark, ""
	}
	shape := c.fg == c.bg // nothing to read
	b := back(luminance(c.bg))
	f := ink(luminance(c.fg))
	switch {
	case luminance(c.bg) >= bright: // the cursor: what is too dark to fill is underlined
		c.under = true
	case shape:
		f = b
	case b > 0:
		f = max(f, legible(f, b))
	}
	c.fg, c.bg = red(f), red(b)
	return c
}

// redInk lifts what is drawn by its luminance: lines stay dark, labels come to 3:1, what
// is brighter than a label to 4.5:1 and above.
func redInk(lum float64) uint8 {
	switch {
	case lum <= 0:
		return 0
	case lum < 0.10:
		return between(lum, 0, 0.10, lowest, 0x6f)
	case lum < 0.20:
		return between(lum, 0.10, 0.20, 0x6f, labels)
	case lum < 0.29:
		return between(lum, 0.20, 0.29, labels, 0xcf)
	}
	return between(lum, 0.29, 0.87, readable, 0xff)
}

// redBack keeps what lies behind letters so dark that they have 4.5:1 on a row that is filled.
func redBack(lum float64) uint8 {
	if lum < 0.005 {
		return 0
	}
	return lowest
}

// dimInk serves while film lies open: no tested safelight, but as little light as can
// still be read. Its levels are those of the 256 colours, so that every terminal has them.
func dimInk(lum float64) uint8 {
	switch {
	case lum <= 0:
		return 0
	case lum < 0.29:
		return 0x5f
	case lum < 0.80:
		return 0x87
	}
	return dimmest
}

// dimBack fills nothing but the cursor.
func dimBack(lum float64) uint8 {
	if lum < bright {
		return 0
	}
	return 0x5f
}

// between is where a luminance lies between two levels.
func between(lum, from, to float64, least, most uint8) uint8 {
	share := min(1, max(0, (lum-from)/(to-from)))
	return least + uint8(math.Round(share*float64(most-least)))
}

// legible is the level that has on this background the contrast that the ink has on
// black, as far as there is one.
func legible(ink, back uint8) uint8 {
	want := contrast(red(ink), 0)
	for l := int(ink); l < 0xff; l++ {
		if contrast(red(uint8(l)), red(back)) >= want {
			return uint8(l)
		}
	}
	return 0xff
}

// linear holds what the steps of a colour channel give in light (WCAG 2.1, "relative
// luminance"; IEC 61966-2-1 with the standard's rounded threshold).
var linear = func() (t [256]float64) {
	for i := range t {
		v := float64(i) / 255
		if v <= 0.03928 {
			t[i] = v / 12.92
			continue
		}
		t[i] = math.Pow((v+0.055)/1.055, 2.4)
	}
	return t
}()

func luminance(c rgb) float64 {
	r, g, b := c.parts()
	return 0.2126*linear[r] + 0.7152*linear[g] + 0.0722*linear[b]
}

// contrast is WCAG's ratio of two colours, 1 to 21.
func contrast(a, b rgb) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}
