package scan

// Where the strips are: rows of the picture that show the same chain of edges make a band,
// the band with the tablet's steps is the tablet, and the others are placed by its pitch.

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

const (
	widest      = 5 * math.Pi / 180 // a strip is turned by no more than this
	turnStep    = 0.5 * math.Pi / 180
	rowStep     = 3    // rows of the field from one look to the next
	rowReach    = 2    // rows above and below that are looked at together
	leastRows   = 5    // looks that make a band
	pitchAlike  = 0.06 // share by which pitches may differ
	smallestCut = 0.2  // of a frame's width: shorter strips are not looked for
)

// Strip is where a strip lies: its middle line from the outer edge of one end patch to that
// of the other, and how far across, in pixels.
type Strip struct {
	X1, Y1, X2, Y2 float64
	Across         float64
	Steps          int
	Unsure         bool // might be out by one step
}

// Pitch is the length of one patch in pixels.
func (s Strip) Pitch() float64 { return math.Hypot(s.X2-s.X1, s.Y2-s.Y1) / float64(s.Steps) }

// Errors of Find that a caller may want to tell apart.
var (
	ErrNoTablet = errors.New("no step tablet found")
	ErrNoStrips = errors.New("no strip found beside the tablet")
)

// band is rows on which one chain stands.
type band struct {
	frame     frame
	top, end  int // rows
	chain     chain
	strength  float64
	lean      float64 // cells to the right for each row down
	downwards bool
}

// Find looks for the tablet of the given densities and for strips beside it, each turned by
// at most five degrees. Strips come from top to bottom or from left to right.
func Find(p *Picture, tablet []float64) (tabletAt Strip, strips []Strip, err error) {
	f := reduced(p)
	bands := bandsOf(f, len(tablet))
	if len(bands) == 0 {
		return Strip{}, nil, ErrNoTablet
	}
	at, tabletBand := pickTablet(f, bands, tablet)
	if at < 0 {
		return Strip{}, nil, ErrNoTablet
	}
	pitch := tabletBand.pitch
	tabletAt = tabletBand.strip(f.scale)
	for i, b := range bands {
		if i == at || b.downwards != bands[at].downwards || math.Abs(b.chain.pitch/pitch-1) > pitchAlike {
			continue
		}
		if s, ok := place(f, b, len(tablet), pitch); ok {
			strips = append(strips, s.strip(f.scale))
		}
	}
	if len(strips) == 0 {
		return tabletAt, nil, ErrNoStrips
	}
	down := bands[at].downwards
	slices.SortFunc(strips, func(a, b Strip) int {
		if down {
			return cmp.Compare(a.X1+a.X2, b.X1+b.X2)
		}
		return cmp.Compare(a.Y1+a.Y2, b.Y1+b.Y2)
	})
	return tabletAt, strips, nil
}

// bandsOf are the bands of every angle and both directions, the strongest of those that
// overlap.
func bandsOf(f field, steps int) []band {
	var all []band
	for _, down := range []bool{false, true} {
		smooth := f.smoothed(rowReach, down)
		for a := -widest; a <= widest+1e-9; a += turnStep {
			fr := frameOf(f, a, down)
			for _, b := range bandsAt(smooth, fr, steps) {
				b.downwards = down
				all = append(all, b)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b band) int { return cmp.Compare(b.strength, a.strength) })
	var kept []band
	for _, b := range all {
		if !slices.ContainsFunc(kept, b.overlaps) {
			kept = append(kept, b)
		}
	}
	return kept
}

// bandsAt are the bands of one frame, over a smoothed field.
func bandsAt(f field, fr frame, steps int) (list []band) {
	least, most := smallestCut*float64(fr.w)/float64(steps), float64(fr.w)/float64(steps)
	least = max(least, edgeReach+1)
	var row []float32
	var edges []edge
	var open *band
	var chains []chain
	shut := func() {
		if open != nil && len(chains) >= leastRows {
			list = append(list, open.summed(chains))
		}
		open, chains = nil, nil
	}
	for y := rowStep; y < fr.h; y += rowStep {
		row = fr.row(f, y, row)
		edges = edgesOf(row, edges)
		c, ok := longestChain(edges, least, most, steps+1)
		if !ok {
			if open != nil && y-open.end > 2*rowStep {
				shut()
			}
			continue
		}
		if open != nil && !alike(chains[len(chains)-1], c) {
			if y-open.end <= 2*rowStep && len(chains) >= leastRows {
				continue // one row's speck of dust
			}
			shut()
		}
		if open == nil {
			open = &band{frame: fr, top: y}
		}
		open.end, chains = y, append(chains, c)
	}
	shut()
	return list
}

// alike: two rows that show the same edges, whatever of them each has found.
func alike(a, b chain) bool {
	if a.rising != b.rising || math.Abs(a.pitch/b.pitch-1) > pitchAlike {
		return false
	}
	off := math.Remainder(b.first-a.first, a.pitch)
	return math.Abs(off) < 0.2*a.pitch && math.Abs(b.first-a.first) < 6*a.pitch
}

// summed is the band with what its rows say together.
func (b band) summed(chains []chain) band {
	pitches, counts := make([]float64, len(chains)), make([]float64, len(chains))
	for i, c := range chains {
		pitches[i], counts[i] = c.pitch, float64(c.count)
	}
	b.chain = chains[len(chains)/2]
	b.chain.pitch = median(pitches)
	// How far the edges lean: the phase of each row against its place.
	var n, sx, sy, sxx, sxy float64
	for i, c := range chains {
		x, y := float64(i), math.Remainder(c.first-b.chain.first, b.chain.pitch)
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	if d := n*sxx - sx*sx; d > 0 {
		b.lean = (n*sxy - sx*sy) / d / rowStep
	}
	b.strength = median(counts) * float64(len(chains)) / (1 + 20*math.Abs(b.lean))
	return b
}

// overlaps: two bands that claim the same part of the picture.
func (b band) overlaps(o band) bool {
	middle := b.chain.first + float64(b.chain.span)*b.chain.pitch/2
	return slices.ContainsFunc([]int{b.top, (b.top + b.end) / 2, b.end}, func(y int) bool {
		return o.holds(b.frame.out(middle, float64(y)))
	})
}

// holds reports whether a place of the field lies in the band.
func (b band) holds(x, y float64) bool {
	x, y = x-b.frame.fw/2, y-b.frame.fh/2
	u := x*b.frame.cos + y*b.frame.sin + float64(b.frame.w)/2
	v := -x*b.frame.sin + y*b.frame.cos + float64(b.frame.h)/2
	return v >= float64(b.top)-2 && v <= float64(b.end)+2 && u >= b.chain.first-b.chain.pitch && u <= b.chain.last()+b.chain.pitch
}

func median(v []float64) float64 {
	s := slices.Sorted(slices.Values(v))
	if len(s) == 0 {
		return math.NaN()
	}
	if len(s)%2 == 1 {
		return s[len(s)/2]
	}
	return (s[len(s)/2-1] + s[len(s)/2]) / 2
}
