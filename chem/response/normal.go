package response

// The normal equations of one shape, a sheet at a time.

import "math"

// normal is X'WX, X'Wy and what of the likelihood does not depend on the coefficients; W is the inverse of the
// readings' covariance.
type normal struct {
	square
	right         []float64
	logs, squares float64
}

// start begins with a belief.
func (n *normal) start(b *belief) {
	copy(n.data, b.precision.data)
	copy(n.right, b.right)
	n.logs, n.squares = b.logDet/2, 0
}

// solve leaves the factor in place and the most likely coefficients in mean; the result is the logarithm of the
// marginal likelihood, NaN where there is none.
func (n *normal) solve(mean []float64) float64 {
	if !n.factorize() {
		return math.NaN()
	}
	copy(mean, n.right)
	n.forward(mean)
	explained := 0.0
	for _, v := range mean {
		explained += v * v
	}
	n.back(mean)
	return n.logs - n.logDet()/2 - (n.squares-explained)/2
}

// add adds a sheet's readings, grown so far, with a reading error of e.
func (n *normal) add(g *gram, u, e float64) {
	w, logs := g.share(e)
	n.logs += logs
	n.squares += w * g.yy
	c := u * (1 - u)
	var all, ally float64
	for i := range splines {
		row := 0.0
		for j, v := range g.bb[i] {
			v *= w
			row += v
			if j >= i {
				n.plus(atA+i, atA+j, u*u*v)
				n.plus(atC+i, atC+j, c*c*v)
			}
			n.plus(atA+i, atC+j, u*c*v)
		}
		y := w * g.by[i]
		n.plus(atBase, atA+i, u*row)
		n.plus(atBase, atC+i, c*row)
		n.right[atA+i] += u * y
		n.right[atC+i] += c * y
		all, ally = all+row, ally+y
	}
	n.plus(atBase, atBase, all)
	n.right[atBase] += ally
	if g.base != nil {
		n.addBase(*g.base, u, max(e, leastError))
	}
}

// addBase adds a reading where nothing was exposed.
func (n *normal) addBase(d, u, e float64) {
	w := 1 / (e * e)
	row := [3]float64{1, u, u * (1 - u)} // b, f, g: the first three
	for i, v := range row {
		for j := range i + 1 {
			n.plus(i, j, w*v*row[j])
		}
		n.right[i] += w * v * d
	}
	n.squares += w * d * d
	n.logs -= math.Log(e)
}

// scatter lets a sheet's densities over base plus fog, as they are known, move together: by a coefficient of
// its own.
func (n *normal) scatter(g *gram, known *One, column int) {
	w, _ := g.share(known.error)
	u := known.grown(g.time)
	l := known.line(g.time)
	for i := range l.c {
		l.c[i] = max(0, l.c[i]-l.fog)
	}
	vb := g.times(&l.c)
	for i, v := range vb {
		n.plus(atBase, column, w*v)
		n.plus(atA+i, column, w*u*v)
		n.plus(atC+i, column, w*u*(1-u)*v)
	}
	n.plus(column, column, w*dot(&vb, &l.c))
	n.right[column] += w * dot(&g.by, &l.c)
}
