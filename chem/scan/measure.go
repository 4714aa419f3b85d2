package scan

// The light of each patch: the middle of it, dust and scratches left out, with what it scatters.

import "math"

const (
	innerShare = 0.6  // of a patch, along and across: its edges are blurred
	outlying   = 3.0  // scatters from the median that make a speck of dust
	blocks     = 4    // a patch is compared in so many parts each way
	leastInner = 25   // pixels that a patch needs
	mostInner  = 6000 // about as many are looked at: more tell nothing more, and cost time
	spotShare  = 0.25 // of its pixels left out: the patch is doubtful
	endOfScale = 0.02 // share of pixels at the file's end of scale that makes a patch clipped
)

// sample is the light of one patch in one channel.
type sample struct {
	light, err float64 // the mean and its standard error, 0 to 1
	black      bool    // at the dark end of the file's scale
	white      bool    // at the bright end
}

// patch is what the picture shows of one step.
type patch struct {
	x, y    float64 // its middle
	by      [channels]sample
	left    float64 // share of pixels left out
	pixels  int
	spotted bool
}

// evener divides out what the panel alone shows; nil leaves the light as it is.
type evener func(x, y float64) [channels]float32

// measure takes every patch of a strip, from the end (X1, Y1) on.
func (p *Picture) measure(s Strip, tone Tone, even evener) []patch {
	m := meter{Picture: p, tone: tone, even: even}
	list := make([]patch, s.Steps)
	for k := range list {
		list[k] = m.patch(s, k)
	}
	return list
}

// inner is the pixels of the middle of patch k, each with the part of the patch that it lies in.
func (p *Picture) inner(s Strip, k int, do func(x, y, block int)) (cx, cy float64) {
	dx, dy := s.X2-s.X1, s.Y2-s.Y1
	length := math.Hypot(dx, dy)
	ux, uy := dx/length, dy/length
	pitch := length / float64(s.Steps)
	cx, cy = s.X1+ux*pitch*(float64(k)+0.5), s.Y1+uy*pitch*(float64(k)+0.5)
	along, across := innerShare*pitch/2, innerShare*s.Across/2
	reachX, reachY := math.Abs(ux)*along+math.Abs(uy)*across, math.Abs(uy)*along+math.Abs(ux)*across
	every := max(1, math.Sqrt(4*along*across/mostInner))
	for atY := math.Floor(max(0, cy-reachY)); atY <= min(float64(p.Height-1), cy+reachY); atY += every {
		for atX := math.Floor(max(0, cx-reachX)); atX <= min(float64(p.Width-1), cx+reachX); atX += every {
			x, y := int(atX), int(atY)
			rx, ry := float64(x)+0.5-cx, float64(y)+0.5-cy
			u, v := rx*ux+ry*uy, -rx*uy+ry*ux
			if math.Abs(u) < along && math.Abs(v) < across {
				i, j := int((u/along+1)/2*blocks), int((v/across+1)/2*blocks)
				do(x, y, min(i, blocks-1)*blocks+min(j, blocks-1))
			}
		}
	}
	return cx, cy
}

// meter measures one patch after another, in the same memory.
type meter struct {
	*Picture
	tone   Tone
	even   evener
	values [channels][]float32
	parts  []int8
	sorted []float32
}

func (m *meter) patch(s Strip, k int) (out patch) {
	var white, black [channels]int
	for c := range m.values {
		m.values[c] = m.values[c][:0]
	}
	m.parts = m.parts[:0]
	out.x, out.y = m.inner(s, k, func(x, y, block int) {
		rgb := m.at(x, y)
		light := m.tone.split(rgb)
		if m.even != nil {
			for c, e := range m.even(float64(x)+0.5, float64(y)+0.5) {
				light[c] /= e
			}
		}
		for c := range channels {
			m.values[c] = append(m.values[c], light[c])
			v := channelValue(rgb, c)
			if v >= 1 {
				white[c]++
			} else if v <= 0 {
				black[c]++
			}
		}
		m.parts = append(m.parts, int8(block))
	})
	out.pixels = len(m.parts)
	for c := range channels {
		var left float64
		out.by[c], left = m.robust(m.values[c])
		out.by[c].white = float64(white[c]) > endOfScale*float64(out.pixels)
		out.by[c].black = float64(black[c]) > endOfScale*float64(out.pixels)
		out.left = max(out.left, left)
	}
	out.spotted = out.left > spotShare
	return out
}

// channelValue is the number of the file by which a channel is at an end of its scale.
func channelValue(rgb [3]float32, c Channel) float32 {
	if c == Luminance {
		return rgb[1]
	}
	return rgb[c-1]
}

// robust is the mean of what lies near the median, finer than the steps of 8 bits, and its standard
// error from how the parts of the patch differ: noise that neighbours share counts as it should.
func (m *meter) robust(values []float32) (s sample, left float64) {
	if len(values) == 0 {
		return sample{black: true}, 1
	}
	m.sorted = append(m.sorted[:0], values...)
	middle := middleOf(m.sorted)
	for i, v := range m.sorted {
		m.sorted[i] = max(v-middle, middle-v)
	}
	step := m.quantum(m.tone, middle)
	scatter := max(1.4826*float64(middleOf(m.sorted)), step)
	var sum, n float64
	var sums, counts [blocks * blocks]float64
	for i, v := range values {
		if math.Abs(float64(v-middle)) <= outlying*scatter {
			sum, n = sum+float64(v), n+1
			sums[m.parts[i]], counts[m.parts[i]] = sums[m.parts[i]]+float64(v), counts[m.parts[i]]+1
		}
	}
	mean := sum / n
	var squares, full float64
	for b := range sums {
		if counts[b] > 0 {
			d := sums[b]/counts[b] - mean
			squares, full = squares+d*d, full+1
		}
	}
	s.light = mean
	if full > 1 {
		s.err = math.Sqrt(squares / (full - 1) / full)
	}
	if scatter <= step { // nothing blurs the steps of the file's numbers
		s.err = math.Hypot(s.err, step/math.Sqrt(12))
	}
	return s, 1 - n/float64(len(values))
}

// middleOf is the median, the upper one of two; it puts the values into another order (Hoare's selection:
// a full order would take most of the time that a picture takes).
func middleOf(v []float32) float32 {
	k := len(v) / 2
	for len(v) > 1 {
		pivot := v[len(v)/2]
		i, j := 0, len(v)-1
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			v = v[:j+1]
		case k >= i:
			v, k = v[i:], k-i
		default:
			return pivot
		}
	}
	return v[0]
}

// quantum is the light between two neighbouring numbers of the file, about a given light.
func (p *Picture) quantum(tone Tone, light float32) float64 {
	one := 1 / float64(int(1)<<p.Bits-1)
	if tone == Linear {
		return one
	}
	l := max(float64(light), 1e-6)
	if l <= 0.0031308 {
		return one / 12.92
	}
	return one * 2.4 / 1.055 * math.Pow(l, 1-1/2.4)
}
