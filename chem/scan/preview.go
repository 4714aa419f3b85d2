package scan

// What a person is shown of a picture: a small copy of it, and the light along a strip.

import "math"

// Small is a copy for the eye, row by row, 8 bits a channel.
type Small struct {
	W, H int
	Pix  [][3]uint8
}

// Small is the picture with at most so many pixels on a side, each the mean of what it stands for; a
// linear one is brightened as sRGB wants it.
func (p *Picture) Small(most int, tone Tone) Small {
	k := max(1, (max(p.Width, p.Height)+most-1)/most)
	s := Small{W: p.Width / k, H: p.Height / k}
	for y := range s.H {
		for x := range s.W {
			light := cellMean(p, x*k, y*k, k, Linear)
			var c [3]uint8
			for i, ch := range []Channel{Red, Green, Blue} {
				v := float64(light[ch])
				if tone == Linear {
					v = max(0, min(1, 1.055*math.Pow(v, 1/2.4)-0.055)) // IEC 61966-2-1
				}
				c[i] = uint8(255*v + 0.5)
			}
			s.Pix = append(s.Pix, c)
		}
	}
	return s
}

// Along is the light along a strip's middle line as density under full white, in so many places a step,
// from a step before its first to one behind its last; NaN outside the picture.
func (p *Picture) Along(s Strip, tone Tone, places int) []float64 {
	list := make([]float64, (s.Steps+2)*places)
	dx, dy := (s.X2-s.X1)/float64(s.Steps), (s.Y2-s.Y1)/float64(s.Steps)
	length := math.Hypot(dx, dy)
	side := max(1, int(min(length/float64(places), innerShare*s.Across)))
	for i := range list {
		u := (float64(i)+0.5)/float64(places) - 1
		x, y := int(s.X1+u*dx)-side/2, int(s.Y1+u*dy)-side/2
		if x < 0 || y < 0 || x >= p.Width || y >= p.Height {
			list[i] = math.NaN()
			continue
		}
		list[i] = float64(asDensity(cellMean(p, x, y, side, tone)[Luminance]))
	}
	return list
}
