package scan

// A small copy of the picture in which strips are looked for: one number a cell, the
// density that the file's number would be, turned so that strips lie along the rows.

import "math"

const (
	fieldSide = 1000 // cells of the longer side, at most
	darkest   = 3.5  // the density that black counts as
)

type field struct {
	w, h  int
	v     []float32
	scale float64 // pixels of the picture a cell
}

// reduced is the picture in cells, each the mean of its pixels.
func reduced(p *Picture) field {
	k := max(1, (max(p.Width, p.Height)+fieldSide-1)/fieldSide)
	f := field{w: p.Width / k, h: p.Height / k, scale: float64(k)}
	f.v = make([]float32, f.w*f.h)
	full := float32(p.numbers()*k*k) * float32(int(1)<<p.Bits-1)
	sums := make([]uint32, f.w)
	for y := range f.h {
		clear(sums)
		for j := range k {
			p.addRow(y*k+j, k, sums)
		}
		for x, sum := range sums {
			f.v[y*f.w+x] = asDensity(float32(sum) / full)
		}
	}
	return f
}

func asDensity(v float32) float32 {
	return float32(min(-math.Log10(max(float64(v), 1e-9)), darkest))
}

// frame is a way of laying rows over a field: turned by an angle about its middle, a
// quarter more where strips run down the picture.
type frame struct {
	w, h     int
	fw, fh   float64 // the field's
	cos, sin float64
}

func frameOf(f field, angle float64, down bool) frame {
	fr := frame{w: f.w, h: f.h, fw: float64(f.w), fh: float64(f.h)}
	if down {
		fr.w, fr.h, angle = f.h, f.w, angle+math.Pi/2
	}
	fr.sin, fr.cos = math.Sincos(angle)
	return fr
}

// out is where a place of the frame lies in the field.
func (fr frame) out(x, y float64) (float64, float64) {
	x, y = x-float64(fr.w)/2, y-float64(fr.h)/2
	return fr.fw/2 + x*fr.cos - y*fr.sin, fr.fh/2 + x*fr.sin + y*fr.cos
}

// row is a row of the frame, laid over the field.
func (fr frame) row(f field, y int, into []float32) []float32 {
	into = into[:0]
	sx, sy := fr.out(0.5, float64(y)+0.5)
	for x := range fr.w {
		into = append(into, f.between(sx-0.5+float64(x)*fr.cos, sy-0.5+float64(x)*fr.sin))
	}
	return into
}

// between is the field between four cells; its border goes on outside.
func (f field) between(x, y float64) float32 {
	x, y = min(max(x, 0), float64(f.w-1)), min(max(y, 0), float64(f.h-1))
	i, j := int(x), int(y)
	right, below := min(i+1, f.w-1), min(j+1, f.h-1)
	u, v := float32(x-float64(i)), float32(y-float64(j))
	top, bottom := f.v[j*f.w:], f.v[below*f.w:]
	return (top[i]*(1-u)+top[right]*u)*(1-v) + (bottom[i]*(1-u)+bottom[right]*u)*v
}

// smoothed is the field, each cell the mean of some above and below it, or to its left and right where
// strips run down: across the strips, whose noise it takes away.
func (f field) smoothed(reach int, down bool) field {
	to := f
	to.v = make([]float32, len(f.v))
	n, next := f.h, f.w
	if down {
		n, next = f.w, 1
	}
	for y := range f.h {
		for x := range f.w {
			i := y
			if down {
				i = x
			}
			var sum float32
			from, end := max(-reach, -i), min(reach, n-1-i)
			for j := from; j <= end; j++ {
				sum += f.v[y*f.w+x+j*next]
			}
			to.v[y*f.w+x] = sum / float32(end-from+1)
		}
	}
	return to
}
