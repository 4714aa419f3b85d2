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
	s.beliefs = map[float64]*belief{}
	for _, n := range noises {
		if s.beliefs[n.bend] == nil {
			s.beliefs[n.bend] = s.believe(n.bend)
		}
	}
	best := math.Inf(-1)
	scores := make([]float64, len(noises))
	for i, n := range noises {
		scores[i] = math.Inf(-1)
		for _, g := range s.growths(2.2, []induction{{}}) {
			if f, ok := s.fit(shape{g, n}, s.beliefs[n.bend], best); ok {
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
			if f, ok := s.fit(shape{g, n}, s.beliefs[n.bend], best); ok {
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
func (s *Surface) growths(step float64, inductions []induction) (list []growth) {
	for _, order := range []float64{1, 2, 3.5} {
		for kt := 0.3; kt < 5; kt *= step {
			for _, t0 := range inductions {
				// in a higher order half is reached sooner by the same rate
				g := growth{rate: kt * order / s.Longest.Minutes(), induction: t0.minutes, order: order, prior: t0.prior}
				g.longest = g.law(s.Longest)
				list = append(list, g)
			}
		}
	}
	return list
}

// induction is a time before anything shows, and the logarithm of how likely it was before.
type induction struct{ minutes, prior float64 }

// usualInduction is believed of a film of which nothing is known: minutes on average, exponential, as
// chem/growthbelief has it (common practice, no source).
const usualInduction = 0.6

// inductions are those that are weighed, whether or not one is asked for: a test that does not rule one out says less
// of times outside it. Each stands for all that are nearest to it. Where one is asked for, all are alike.
func (s *Surface) inductions() []induction {
	shortest := s.Shortest.Minutes()
	steps, most := 4, min(0.6*shortest, 3)
	if s.options.Induction {
		steps, most = 7, 0.72*shortest
	}
	apart := most / float64(steps-1)
	list := make([]induction, steps)
	for i := range list {
		t0 := apart * float64(i)
		list[i].minutes = t0
		if s.options.Induction {
			continue
		}
		share := math.Exp(-max(0, t0-apart/2) / usualInduction)
		if i < steps-1 {
			share -= math.Exp(-(t0 + apart/2) / usualInduction)
		}
		list[i].prior = math.Log(share)
	}
	return list
}
