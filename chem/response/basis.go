package response

// Uniform cubic B-splines over the exposures of a test. Source: C. de Boor, "A Practical Guide to
// Splines" (1978); the difference penalty of P. Eilers and B. Marx, Statistical Science 11 (1996) 89.

// knots is the number of pieces that the exposures are cut into.
const knots = 14

// basis is B-splines over a range; there are knots+3 of them, and at every exposure they sum to 1.
type basis struct{ low, high float64 }

const splines = knots + 3

// coefs is one coefficient for each spline.
type coefs [splines]float64

// at is the four splines that are not zero at h, from the first-th on, and their slopes per log H.
func (b basis) at(h float64) (first int, value, slope [4]float64) {
	step := (b.high - b.low) / knots
	x := (h - b.low) / step
	first = min(max(int(x), 0), knots-1)
	u := x - float64(first)
	v := 1 - u
	value = [4]float64{v * v * v / 6, (3*u*u*u - 6*u*u + 4) / 6, (3*v*v*v - 6*v*v + 4) / 6, u * u * u / 6}
	slope = [4]float64{-v * v / 2 / step, (3*u*u - 4*u) / 2 / step, (4*v - 3*v*v) / 2 / step, u * u / 2 / step}
	return first, value, slope
}

// combine is the spline of the coefficients at h, and its slope.
func (b basis) combine(c *coefs, h float64) (value, slope float64) {
	first, v, s := b.at(h)
	for i := range v {
		value += c[first+i] * v[i]
		slope += c[first+i] * s[i]
	}
	return value, slope
}

// rising makes coefficients that nowhere fall, the nearest to those given (pooling of neighbours:
// R. E. Barlow and others, "Statistical Inference under Order Restrictions", 1972). A B-spline whose
// coefficients do not fall does not fall (de Boor).
func (c *coefs) rising() {
	var mean, count [splines]float64
	n := 0
	for _, v := range c {
		mean[n], count[n] = v, 1
		for n++; n > 1 && mean[n-2] > mean[n-1]; n-- {
			all := count[n-2] + count[n-1]
			mean[n-2] = (mean[n-2]*count[n-2] + mean[n-1]*count[n-1]) / all
			count[n-2] = all
		}
	}
	i := 0
	for k := range n {
		for range int(count[k]) {
			c[i] = mean[k]
			i++
		}
	}
}
