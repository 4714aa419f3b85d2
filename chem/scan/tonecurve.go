package scan

// From the numbers of a file to light: the tone curve, and the four channels.

import (
	"math"
	"sync"
)

// Channel is which light a density is for.
type Channel int

// The channels of a patch. Luminance stands for visual density; blue is what blue-sensitive
// paper sees of a stain.
const (
	Luminance Channel = iota
	Red
	Green
	Blue
	channels
)

var channelNames = [channels]string{"luminance", "red", "green", "blue"}

func (c Channel) String() string { return channelNames[c] }

// Tone is how the numbers of a file follow the light.
type Tone int

// The tone curves. Any other one that rises is taken up by the tablet.
const (
	Linear Tone = iota
	SRGB
)

// MarshalText is the curve's name.
func (t Tone) MarshalText() ([]byte, error) { return []byte([]string{"linear", "srgb"}[t]), nil }

// light is the linear light of a file's number, 0 to 1. SRGB after IEC 61966-2-1.
func (t Tone) light(v float32) float32 {
	switch {
	case t == Linear:
		return v
	case v <= 0.04045:
		return v / 12.92
	}
	return float32(math.Pow((float64(v)+0.055)/1.055, 2.4))
}

// split is the light of each channel. The weights of luminance are those of the sRGB
// primaries (ITU-R BT.709).
func (t Tone) split(rgb [3]float32) [channels]float32 {
	r, g, b := rgb[0], rgb[1], rgb[2]
	if t == SRGB {
		list := srgbLight()
		r, g, b = list[uint16(r*0xffff+0.5)], list[uint16(g*0xffff+0.5)], list[uint16(b*0xffff+0.5)]
	}
	return [channels]float32{0.2126*r + 0.7152*g + 0.0722*b, r, g, b}
}

// toneOf is the tone curve by which the numbers of the tablet's lightest steps, over which flare
// lies least, come closest to a tenth of the light for each density of one.
func toneOf(values []float64, tablet []float64) Tone {
	n := max(4, len(values)/4)
	values, tablet = values[:n], tablet[:n]
	best, least := Linear, math.Inf(1)
	for _, t := range []Tone{Linear, SRGB} {
		var x, d []float64
		for i, v := range values {
			if v < 1 {
				x, d = append(x, -math.Log10(float64(t.light(float32(v))))), append(d, tablet[i])
			}
		}
		if len(x) < 3 {
			continue
		}
		slope := (x[len(x)-1] - x[0]) / (d[len(d)-1] - d[0])
		if off := math.Abs(math.Log(max(slope, 1e-6))); off < least {
			best, least = t, off
		}
	}
	return best
}

// srgbLight is the light of every number of 16 bits, of which those of 8 bits are some.
var srgbLight = sync.OnceValue(func() *[1 << 16]float32 {
	var list [1 << 16]float32
	for i := range list {
		list[i] = SRGB.light(float32(i) / 0xffff)
	}
	return &list
})
