package scan

// Placing a band's patches: the profile along its middle, and the window of as many pitches
// as there are steps that holds its edges best.

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

const (
	endJump   = 0.45 // density between two patches of a strip at most; more is the strip's end
	nearSame  = 0.92 // a second window that scores this share of the best leaves doubt
	pitchTry  = 0.03 // share by which the pitch is tried either way
	pitchSpan = 12   // tries each way
)

// placed is a window of patches upon a band.
type placed struct {
	band   band
	start  float64 // outer edge of the first patch, in the frame
	pitch  float64
	steps  int
	unsure bool
	levels []float64 // density of the middle of each patch
}

// profile is what lies along a band: sums of the middle of it and of what lies just outside on
// both sides, to be read as means.
type profile struct{ inside, outside []float64 }

func profileOf(f field, b band) profile {
	reach := int(0.35 * float64(b.end-b.top))
	middle := (b.top + b.end) / 2
	above, below := b.along(f, b.top-8, b.top-5), b.along(f, b.end+5, b.end+8)
	p := profile{inside: summed(b.along(f, middle-reach, middle+reach))}
	for i := range above {
		above[i] = (above[i] + below[i]) / 2
	}
	p.outside = summed(above)
	return p
}

func summed(values []float32) []float64 {
	sums := make([]float64, len(values)+1)
	for i, v := range values {
		sums[i+1] = sums[i] + float64(v)
	}
	return sums
}

// along is the median of the band's rows from one to another, leaning rows put upright.
func (b band) along(f field, from, to int) []float32 {
	fr := b.frame
	middle := (b.top + b.end) / 2
	var rows []float64
	profile := make([]float32, fr.w)
	for x := range fr.w {
		rows = rows[:0]
		for y := from; y <= to; y++ {
			sx, sy := fr.out(float64(x)+0.5+b.lean*float64(y-middle), float64(y)+0.5)
			rows = append(rows, float64(f.between(sx-0.5, sy-0.5)))
		}
		profile[x] = float32(median(rows))
	}
	return profile
}

// place finds the window of steps patches on a band whose pitch is about the given one.
func place(f field, b band, steps int, pitch float64) (placed, bool) {
	profile := profileOf(f, b)
	sums := profile.inside
	sign := 1.0
	if !b.chain.rising {
		sign = -1
	}
	best := placed{band: b, steps: steps}
	most, second := math.Inf(-1), math.Inf(-1)
	for i := -pitchSpan; i <= pitchSpan; i++ {
		p := pitch * (1 + pitchTry*float64(i)/pitchSpan)
		phase := math.Mod(b.chain.first, p)
		for o := -0.15 * p; o <= 0.15*p; o += 0.25 {
			for s := phase + o - p; s+float64(steps)*p <= float64(len(sums))+0.5*p; s += p {
				if s < -0.5*p {
					continue
				}
				score := profile.score(s, p, steps, sign)
				if math.Abs(s-best.start) > 0.5*p {
					second = max(second, min(score, most))
				}
				if score > most {
					if math.Abs(s-best.start) > 0.5*p {
						second = most
					}
					most, best.start, best.pitch = score, s, p
				}
			}
		}
	}
	if !(most > 0) {
		return placed{}, false
	}
	best.unsure = second > nearSame*most
	best.refine(b.along(f, (b.top+b.end)/2-2, (b.top+b.end)/2+2), sign)
	best.levels = make([]float64, steps)
	for k := range steps {
		best.levels[k] = mean(sums, best.start+(float64(k)+0.25)*best.pitch, best.start+(float64(k)+0.75)*best.pitch)
	}
	best.unsure = best.unsure || best.slips(profile)
	return best, true
}

// slips reports whether the window might as well lie a step further along: no edge tells the last step at
// one end from the step before it, and beyond the other end the film goes on.
func (p placed) slips(pr profile) bool {
	n := p.steps
	if n < 2 {
		return false
	}
	last := p.start + float64(n)*p.pitch
	flat := func(a, b int) bool { return math.Abs(p.levels[a]-p.levels[b]) < leastEdge }
	return flat(0, 1) && pr.goesOn(p.levels[n-1], last+0.1*p.pitch, last+0.4*p.pitch) ||
		flat(n-1, n-2) && pr.goesOn(p.levels[0], p.start-0.4*p.pitch, p.start-0.1*p.pitch)
}

// goesOn reports whether what lies behind a step could be another one: neither as what lies beside the
// strip, nor a jump away.
func (pr profile) goesOn(level, from, to float64) bool {
	if from < 0 || to > float64(len(pr.inside)-1) {
		return false
	}
	beyond := mean(pr.inside, from, to)
	return math.Abs(beyond-mean(pr.outside, from, to)) >= leastEdge && math.Abs(beyond-level) < endJump
}

// refine lays the window on the edges that are there, by least squares.
func (p *placed) refine(row []float32, sign float64) {
	var k, at []float64
	for _, e := range edgesOf(row, nil) {
		i := math.Round((e.at - p.start) / p.pitch)
		if i >= 1 && i < float64(p.steps) && e.jump*sign > 0 && math.Abs(e.at-p.start-i*p.pitch) < 0.2*p.pitch {
			k, at = append(k, i), append(at, e.at)
		}
	}
	if len(k) >= 4 && slices.Max(k)-slices.Min(k) >= 3 {
		p.start, p.pitch = stat.LinearRegression(k, at, nil, false)
	}
}

// score is how well a window holds the edges of one sign: what rises from patch to patch,
// less what falls, less what changes within a patch. A jump too high is the strip's end, and
// an end within the window counts against it; an end just outside it counts for it.
func (pr profile) score(start, pitch float64, steps int, sign float64) (score float64) {
	sums := pr.inside
	for k := range steps {
		from := start + float64(k)*pitch
		left, right := mean(sums, from+0.15*pitch, from+0.45*pitch), mean(sums, from+0.55*pitch, from+0.85*pitch)
		score -= math.Abs(right - left)
		if math.Abs(mean(pr.outside, from+0.15*pitch, from+0.85*pitch)-(left+right)/2) < leastEdge {
			score -= 0.1 // as what lies beside the strip: hardly a patch
		}
		if k == 0 {
			continue
		}
		before := mean(sums, from-0.45*pitch, from-0.15*pitch)
		switch jump := sign * (left - before); {
		case jump > endJump || jump < -0.03:
			score -= 0.2
		default:
			score += min(jump, 0.2)
		}
	}
	return score + endsScore(sums, start, pitch, steps, sign)
}

// endsScore is what speaks for a window's two ends: a jump there that no patch would make.
func endsScore(sums []float64, start, pitch float64, steps int, sign float64) (score float64) {
	for _, end := range []float64{start, start + float64(steps)*pitch} {
		jump := sign * (mean(sums, end+0.1*pitch, end+0.4*pitch) - mean(sums, end-0.4*pitch, end-0.1*pitch))
		if jump < -0.03 || jump > endJump {
			score += 0.3
		}
	}
	return score
}

// mean is the profile's mean from one place to another.
func mean(sums []float64, from, to float64) float64 {
	n := float64(len(sums) - 1)
	from, to = min(max(from, 0), n-1), min(max(to, 1), n)
	if to-from < 1 {
		to = min(from+1, n)
	}
	at := func(x float64) float64 {
		i := min(int(x), len(sums)-2)
		return sums[i] + (x-float64(i))*(sums[i+1]-sums[i])
	}
	return (at(to) - at(from)) / (to - from)
}

// strip is the placed window in the picture's pixels.
func (p placed) strip(scale float64) Strip {
	middle := (float64(p.band.top) + float64(p.band.end)) / 2
	across := float64(p.band.end-p.band.top) + rowStep
	// The edges lean where the strip is turned a little against the frame: its line is
	// square to them.
	half := float64(p.steps) * p.pitch / 2
	cx := p.start + half
	x1, y1 := p.band.frame.out(cx-half, middle+half*p.band.lean)
	x2, y2 := p.band.frame.out(cx+half, middle-half*p.band.lean)
	return Strip{X1: x1 * scale, Y1: y1 * scale, X2: x2 * scale, Y2: y2 * scale, Across: across * scale, Steps: p.steps, Unsure: p.unsure}
}

// pickTablet is the band whose levels follow the tablet's densities best: a straight line by
// whatever tone curve, with every step to be seen.
func pickTablet(f field, bands []band, tablet []float64) (at int, best placed) {
	at, most := -1, 0.0
	for i, b := range bands {
		if b.chain.span < len(tablet)/2 {
			continue
		}
		p, ok := place(f, b, len(tablet), b.chain.pitch)
		if !ok {
			continue
		}
		if r := likeTablet(p.levels, tablet); r > most {
			at, best, most = i, p, r
		}
	}
	return at, best
}

// likeTablet is how a strip's levels follow the tablet's densities, 0 to 1: the correlation of the
// lighter half, which neither flare nor black hides, where a negative has its toe; 0 where the
// levels do not rise all the way.
func likeTablet(levels, tablet []float64) float64 {
	x := slices.Clone(levels)
	if x[0] > x[len(x)-1] {
		slices.Reverse(x)
	}
	for i := 1; i < len(x)*2/3; i++ {
		if x[i] <= x[i-1] {
			return 0
		}
	}
	n := max(4, (len(x)+1)/2)
	return stat.Correlation(x[:n], tablet[:n], nil)
}
