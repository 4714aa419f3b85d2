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
	for y := range f.h {
		for x := range f.w {
			var sum float32
			for j := range k {
				for i := range k {
					c := p.at(x*k+i, y*k+j)
					sum += c[0] + c[1] + c[2]
				}
			}
			f.v[y*f.w+x] = asDensity(sum / float32(3*k*k))
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

// laid is the field as the frame shows it.
func (fr frame) laid(f field) field {
	to := field{w: fr.w, h: fr.h, v: make([]float32, fr.w*fr.h), scale: f.scale}
	for y := range fr.h {
		for x := range fr.w {
			sx, sy := fr.out(float64(x)+0.5, float64(y)+0.5)
			to.v[y*fr.w+x] = f.between(sx-0.5, sy-0.5)
		}
	}
	return to
}

// between is the field between four cells; its border goes on outside.
func (f field) between(x, y float64) float32 {
	x, y = min(max(x, 0), float64(f.w-1)), min(max(y, 0), float64(f.h-1))
	i, j := min(int(x), f.w-2), min(int(y), f.h-2)
	u, v := float32(x-float64(i)), float32(y-float64(j))
	top, below := f.v[j*f.w+i:], f.v[(j+1)*f.w+i:]
	return (top[0]*(1-u)+top[1]*u)*(1-v) + (below[0]*(1-u)+below[1]*u)*v
}

// row is the mean of a few rows about y.
func (f field) row(y, reach int, into []float32) []float32 {
	into = into[:0]
	from, to := max(0, y-reach), min(f.h-1, y+reach)
	for x := range f.w {
		var sum float32
		for j := from; j <= to; j++ {
			sum += f.v[j*f.w+x]
		}
		into = append(into, sum/float32(to-from+1))
	}
	return into
}
