package curve

// Readings that look like slips of the hand: far from the curve that all the
// others draw, or well below one at less exposure.

import "math"

const (
	farOff  = 4   // reading errors: between two neighbours one reading in thousands lies so far off
	farFall = 4.5 // at an end, where a slip of the neighbour looks the same
)

// Outliers are the indices of readings that do not fit the rest, the farthest off
// first. Each is measured against the curve smoothed through all the others; the
// farthest is put aside, and the rest looked at anew, so that a slip does not make
// its neighbours look like slips. At the two ends, where no curve can be drawn
// without the reading, only a fall counts. With five readings or fewer nothing is
// judged. The limits, four reading errors and four and a half, are our own
// rule.
func (c Curve) Outliers(e Density) []int {
	kept := make([]int, len(c.Readings))
	for i := range kept {
		kept[i] = i
	}
	var found []int
	for len(kept) > leastSmoothed {
		worst, most := -1, 1.0
		for k := range kept {
			if off := c.off(kept, k, float64(e)); off > most {
				worst, most = k, off
			}
		}
		if worst < 0 {
			break
		}
		found = append(found, kept[worst])
		kept = append(kept[:worst:worst], kept[worst+1:]...)
	}
	return found
}

// off is how far reading kept[k] is from the others, in the limit allowed.
func (c Curve) off(kept []int, k int, e float64) float64 {
	var x, y []float64
	for j, i := range kept {
		if j != k {
			x, y = append(x, float64(c.Readings[i].LogH)), append(y, float64(c.Readings[i].Density))
		}
	}
	r := c.Readings[kept[k]]
	if k == 0 || k == len(kept)-1 {
		return end(y, float64(r.Density), k == 0) / (farFall * e)
	}
	if !smoothable(len(x)) {
		return 0
	}
	s := newSmoother(x)
	s.choose(y, Density(e))
	smooth := make([]float64, len(y))
	s.monotone(y, smooth)
	d, _ := newInterpolant(x, smooth).At(r.LogH)
	return math.Abs(float64(r.Density-d)) / (farOff * e)
}

// end is by how much a reading at the end lies on the wrong side of the one next
// to it.
func end(others []float64, d float64, first bool) float64 {
	if first {
		return d - others[0]
	}
	return others[len(others)-1] - d
}
