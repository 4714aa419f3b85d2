package response

// Which shapes are tried: first which noise the readings have, by a few growths; then all growths with
// what noise remains.

import (
	"math"
	"slices"
)

// far is how much less likely, in logarithms, than the best a noise may be that is kept. Growths that fit
// badly look like noise, so the next smaller one is kept as well.
const far = 7

// try fits all shapes that the readings do not rule out.
func (s *Surface) try(sheets []Sheet) {
	noises := s.noises(sheets)
	beliefs := map[float64]*belief{}
	for _, n := range noises {
		if beliefs[n.bend] == nil {
			beliefs[n.bend] = s.believe(n.bend)
		}
	}
	best := math.Inf(-1)
	scores := make([]float64, len(noises))
	for i, n := range noises {
		scores[i] = math.Inf(-1)
		for _, g := range s.growths(2.2, []float64{0}) {
			if f, ok := s.fit(shape{g, n}, beliefs[n.bend], best); ok {
				scores[i] = max(scores[i], f.score)
				best = max(best, f.score)
			}
		}
	}
	least := math.Inf(1) // error that is kept
	for i, n := range noises {
		if scores[i] > best-far {
			least = min(least, n.error)
		}
	}
	growths := s.growths(1.22, s.inductions())
	for i, n := range noises {
		if scores[i] <= best-far && n.error != below(noises, least) {
			continue
		}
		for _, g := range growths {
			if f, ok := s.fit(shape{g, n}, beliefs[n.bend], best); ok {
				best = max(best, f.score)
				s.fits = append(s.fits, f)
			}
		}
	}
}

// below is the greatest error under one, 0 for none.
func below(noises []noise, e float64) (b float64) {
	for _, n := range noises {
		if n.error < e {
			b = max(b, n.error)
		}
	}
	return b
}

func (s *Surface) noises(sheets []Sheet) (list []noise) {
	readingErrors := []float64{0.002, 0.004, 0.008, 0.014, 0.02, 0.03, 0.045}
	stated := !slices.ContainsFunc(sheets, func(sh Sheet) bool { return sh.Error == nil })
	if s.options.ReadingError > 0 || stated {
		readingErrors = []float64{max(s.options.ReadingError, leastError)}
	}
	for _, e := range readingErrors {
		for _, bend := range []float64{0.02, 0.04, 0.08, 0.16} {
			list = append(list, noise{bend, e})
		}
	}
	return list
}

// growths are rates by the longest time of the test, from nearly a straight rise to one that ends before half of it,
// step by step; orders from the law of the time-contrast curve to growth by the logarithm of time.
func (s *Surface) growths(step float64, inductions []float64) (list []growth) {
	for _, order := range []float64{1, 2, 3.5} {
		for kt := 0.3; kt < 5; kt *= step {
			for i, t0 := range inductions {
				prior := -float64(i)
				if s.options.Induction {
					prior = 0
				}
				// in a higher order half is reached sooner by the same rate
				g := growth{rate: kt * order / s.Longest.Minutes(), induction: t0, order: order, prior: prior}
				g.longest = g.law(s.Longest)
				list = append(list, g)
			}
		}
	}
	return list
}

// inductions are the times before anything shows, in minutes. They are weighed whether or not they
// are asked for: a test that does not rule one out says less of times outside it.
func (s *Surface) inductions() []float64 {
	shortest := s.Shortest.Minutes()
	steps, most := 4, min(0.6*shortest, 3)
	if s.options.Induction {
		steps, most = 7, 0.72*shortest
	}
	list := make([]float64, steps)
	for i := range list {
		list[i] = most * float64(i) / float64(steps-1)
	}
	return list
}
