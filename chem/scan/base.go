package scan

// Base plus fog: from a place that a person gives, or from the margin of the sheet that a strip
// lies within.

import (
	"math"
	"slices"
)

// Place is a place on a picture, in pixels.
type Place struct{ X, Y float64 }

const (
	baseShare    = 0.4  // of a step to each side of the place that is given
	marginAcross = 0.06 // of a strip: how wide the margin is looked at
	marginParts  = 6    // that it is compared in
	marginAlike  = 0.03 // density by which a margin may differ along the strip (our own rule)
	marginOver   = 0.02 // density by which it may lie above the strip's clearest step
	leastMargin  = 0.8  // share of its parts that must have a density
)

// baseAt is the density of a place.
func (r *Result) baseAt(p *Picture, at Place, even evener, stray float64) Patch {
	half := baseShare * r.TabletAt.Pitch()
	s := Strip{X1: at.X - half, Y1: at.Y, X2: at.X + half, Y2: at.Y, Across: 2 * half, Steps: 1}
	base := r.patches(p.measure(s, r.Tone, even), stray)[0]
	base.Step = 0
	return base
}

// margin is the density beside a strip, where that is film of one density and not denser than any
// step: not the bare panel, which the tablet's first step is denser than, nor a mask. Nil where
// there is none.
func (r *Result) margin(p *Picture, s StripReading, even evener, stray float64) (best *Patch) {
	least := math.Inf(1)
	for _, side := range []float64{-1, 1} {
		for off := 0.56; off < 0.72; off += marginAcross {
			beside := s.At.beside(side * off * s.At.Across)
			list := r.patches(p.measure(beside, r.Tone, even), stray)
			d, _, spread, ok := alikeAlong(list, Luminance)
			if !ok || d > s.clearest()+marginOver || spread >= least {
				continue
			}
			least, best = spread, &Patch{X: (beside.X1 + beside.X2) / 2, Y: (beside.Y1 + beside.Y2) / 2}
			for c := range channels {
				if best.Density[c], best.Error[c], _, ok = alikeAlong(list, c); !ok {
					best.Doubt[c] = Spotted
				}
			}
		}
	}
	return best
}

// beside is a thin strip that lies along another, so many pixels off its middle line.
func (s Strip) beside(off float64) Strip {
	length := math.Hypot(s.X2-s.X1, s.Y2-s.Y1)
	dx, dy := -(s.Y2-s.Y1)/length*off, (s.X2-s.X1)/length*off
	s.X1, s.Y1, s.X2, s.Y2 = s.X1+dx, s.Y1+dy, s.X2+dx, s.Y2+dy
	s.Across *= marginAcross / innerShare
	s.Steps = marginParts
	return s
}

// clearest is the least density of a strip's steps.
func (s StripReading) clearest() float64 {
	least := math.Inf(1)
	for _, p := range s.Patches {
		if p.Known(Luminance) {
			least = min(least, p.Density[Luminance])
		}
	}
	return least
}

// alikeAlong is what patches come to that should all be one density, and how far apart they are;
// false where they are none.
func alikeAlong(list []Patch, c Channel) (d, err, spread float64, ok bool) {
	var ds, errs []float64
	for _, p := range list {
		if p.Known(c) {
			ds, errs = append(ds, p.Density[c]), append(errs, p.Error[c])
		}
	}
	if float64(len(ds)) < leastMargin*float64(len(list)) {
		return 0, 0, 0, false
	}
	spread = slices.Max(ds) - slices.Min(ds)
	return median(ds), math.Hypot(median(errs), spread/math.Sqrt(12*float64(len(ds)))), spread, spread <= marginAlike
}
