package page

// Places and lettering on a picture. Lengths are in units of which perCentimetre go to a
// centimetre; x goes right and y goes down from the upper left corner.

import (
	"image/color"
	"math"
)

// perCentimetre is how many units a centimetre has.
const perCentimetre = 40

// xy is a point on a canvas.
type xy struct{ x, y float64 }

// lettering is how a text stands at its place.
type lettering struct {
	size    float64
	side    textAnchor
	upright bool // read from below to above
	ink     color.RGBA
}

// textAnchor is which part of a text its place names.
type textAnchor int

const (
	anchorStart textAnchor = iota
	anchorMiddle
	anchorEnd
)

// dashed cuts each line of a path into dashes, the first at its beginning.
func dashed(path []xy, dash, space float64) (cut [][]xy) {
	for i := 1; i < len(path); i++ {
		from, to := path[i-1], path[i]
		whole := math.Hypot(to.x-from.x, to.y-from.y)
		for at := 0.0; at < whole; at += dash + space {
			cut = append(cut, []xy{between(from, to, at/whole), between(from, to, min(at+dash, whole)/whole)})
		}
	}
	return cut
}

// between is a place on the way from one to another, of which part has been gone.
func between(from, to xy, part float64) xy {
	return xy{from.x + (to.x-from.x)*part, from.y + (to.y-from.y)*part}
}
