package sink

import "testing"

// BenchmarkEncodeASecond is a second of sound as bytes: silence, which most of a
// session is, and a tone.
func BenchmarkEncodeASecond(b *testing.B) {
	out := make([]byte, 0, Rate*frameBytes)
	frames := make([][2]float64, Rate)
	b.Run("silence", func(b *testing.B) {
		for b.Loop() {
			encode(out, frames)
		}
	})
	for i := range frames {
		frames[i] = [2]float64{float64(i%100) / 100, -float64(i%100) / 100}
	}
	b.Run("sound", func(b *testing.B) {
		for b.Loop() {
			encode(out, frames)
		}
	})
}
