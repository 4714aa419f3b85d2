package scan

// Uneven light: a picture of the panel alone divides it out; without one, the bare panel about
// the strips tells how uneven it is.

import (
	"errors"
	"math"
	"slices"
)

// flatCells is how finely a picture of the panel is kept: dust on it averages out.
const flatCells = 60

// ErrFlatSize says that the panel's picture is not of the same size.
var ErrFlatSize = errors.New("the picture of the panel alone has another size; expected one taken just the same, without film")

// flat is an evener from a picture of the panel alone, and its standard error in density.
func flat(p, panel *Picture, tone Tone) (even evener, err float64, fault error) {
	if p.Width != panel.Width || p.Height != panel.Height {
		return nil, 0, ErrFlatSize
	}
	k := max(1, max(p.Width, p.Height)/flatCells)
	w, h := (p.Width+k-1)/k, (p.Height+k-1)/k
	var cells [channels]field
	var all [channels]float64
	for j := range h {
		for i := range w {
			for c, light := range cellMean(panel, i*k, j*k, k, tone) {
				cells[c].v = append(cells[c].v, light)
				all[c] += float64(light) / float64(w*h)
			}
		}
	}
	for c := range cells {
		cells[c].w, cells[c].h = w, h
		for i, light := range cells[c].v {
			cells[c].v[i] = max(light/float32(all[c]), 0.01)
		}
	}
	even = func(x, y float64) (out [channels]float32) {
		for c := range cells {
			out[c] = cells[c].between(x/float64(k)-0.5, y/float64(k)-0.5)
		}
		return out
	}
	return even, cellNoise(cells[Green]), nil
}

// cellNoise is the standard deviation of a cell in density, from how cells differ from the middle of
// their neighbours: slow changes leave no mark on that.
func cellNoise(cells field) float64 {
	var squares, n float64
	log := func(i int) float64 { return math.Log10(float64(cells.v[i])) }
	for i := 1; i+1 < len(cells.v); i++ {
		if i%cells.w == 0 || i%cells.w == cells.w-1 {
			continue
		}
		d := log(i) - (log(i-1)+log(i+1))/2
		squares, n = squares+d*d/1.5, n+1
	}
	return math.Sqrt(squares / max(n, 1))
}

// cellMean is the mean light of a square of pixels, every third of them.
func cellMean(p *Picture, x, y, k int, tone Tone) (mean [channels]float32) {
	n := float32(0)
	for j := y; j < min(y+k, p.Height); j += 3 {
		for i := x; i < min(x+k, p.Width); i += 3 {
			for c, v := range tone.split(p.at(i, j)) {
				mean[c] += v
			}
			n++
		}
	}
	for c := range mean {
		mean[c] /= n
	}
	return mean
}

// panelLight is the light of the bare panel all over the picture: log10 of it, a surface of the second
// order fitted to what shows of the panel. A lens falls off so, and so does a lamp at one side.
type panelLight struct {
	b      []float64
	w, h   float64
	whole  float64 // density from its brightest to its dimmest
	spread float64 // standard deviation of the panel about the surface
	err    float64 // standard error of the surface
}

const (
	panelOrder = 6  // terms
	leastPanel = 36 // cells
)

// bare fits the panel; ok is false where too little of it is bare.
func bare(p *Picture, tone Tone) (l *panelLight, ok bool) {
	l = &panelLight{w: float64(p.Width), h: float64(p.Height)}
	k := max(1, max(p.Width, p.Height)/flatCells)
	var terms [][]float64
	var ds []float64
	for y := 0; y+k <= p.Height; y += k {
		for x := 0; x+k <= p.Width; x += k {
			ds = append(ds, float64(asDensity(cellMean(p, x, y, k, tone)[Luminance])))
			terms = append(terms, l.terms(float64(x+k/2), float64(y+k/2)))
		}
	}
	// The brightest cells are the panel; then whatever lies on one surface with them.
	bright := slices.Sorted(slices.Values(ds))[len(ds)/50]
	for try, reach := range []float64{0.12, 0.06, 0.03, 0.015, 0.01, 0.008, 0, 0} {
		var rows, right []float64
		if reach == 0 {
			reach = max(3*l.spread, 0.002)
		}
		for i, d := range ds {
			want := bright
			if try > 0 {
				want = l.of(terms[i])
			}
			if math.Abs(d-want) <= reach {
				rows, right = append(rows, terms[i]...), append(right, d)
			}
		}
		if len(right) < max(leastPanel, len(ds)/30) {
			return nil, false
		}
		if l.b, ok = leastSquares(rows, right); !ok {
			return nil, false
		}
		l.measureSpread(rows, right)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, place := range terms {
		low, high = min(low, l.of(place)), max(high, l.of(place))
	}
	l.whole = high - low
	return l, true
}

// leastSquares is the surface through rows of terms; false where they determine none. The terms are of one size and far
// from alike, so the normal equations by Cholesky's factor lose no digit that a density has; a library's decomposition
// would cost the program 300 kB.
func leastSquares(rows, right []float64) (b []float64, ok bool) {
	var a [panelOrder][panelOrder]float64
	b = make([]float64, panelOrder)
	for k, d := range right {
		row := rows[k*panelOrder : (k+1)*panelOrder]
		for i, u := range row {
			b[i] += u * d
			for j, v := range row[:i+1] {
				a[i][j] += u * v
			}
		}
	}
	const singular = 1e-12 // of what a term has by itself
	for i := range a {
		whole := a[i][i]
		for j := range i + 1 {
			for k := range j {
				a[i][j] -= a[i][k] * a[j][k]
			}
			if j < i {
				a[i][j] /= a[j][j]
			}
		}
		if !(a[i][i] > singular*whole) {
			return nil, false
		}
		a[i][i] = math.Sqrt(a[i][i])
	}
	for i := range b {
		for k := range i {
			b[i] -= a[i][k] * b[k]
		}
		b[i] /= a[i][i]
	}
	for i := panelOrder - 1; i >= 0; i-- {
		for k := i + 1; k < panelOrder; k++ {
			b[i] -= a[k][i] * b[k]
		}
		b[i] /= a[i][i]
	}
	return b, true
}

// terms are the surface's at a place.
func (l *panelLight) terms(x, y float64) []float64 {
	x, y = x/l.w-0.5, y/l.h-0.5
	return []float64{1, x, y, x * x, x * y, y * y}
}

func (l *panelLight) of(terms []float64) (d float64) {
	for i, t := range terms {
		d += l.b[i] * t
	}
	return d
}

func (l *panelLight) measureSpread(rows, right []float64) {
	var squares float64
	for i, d := range right {
		squares += math.Pow(d-l.of(rows[i*panelOrder:(i+1)*panelOrder]), 2)
	}
	n := float64(len(right))
	l.spread = math.Sqrt(squares / (n - panelOrder))
	l.err = l.spread * math.Sqrt(panelOrder/n)
}

// even divides the panel's light out.
func (l *panelLight) even(x, y float64) (out [channels]float32) {
	v := float32(math.Exp(math.Ln10 * (l.b[0] - l.of(l.terms(x, y)))))
	for c := range out {
		out[c] = v
	}
	return out
}
