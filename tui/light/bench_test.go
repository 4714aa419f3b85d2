package light

import (
	"fmt"
	"strings"
	"testing"
)

// busy is a view of words in many colours that fills the window.
func busy(w, h, n int) string {
	inks := []string{"216;212;204", "143;139;132", "242;169;59", "95;168;211", "69;66;62"}
	var b strings.Builder
	for y := range h {
		for x := 0; x < w; x += 20 {
			fmt.Fprintf(&b, "\x1b[38;2;%sm%-20s\x1b[0m", inks[(x/20+y)%len(inks)], fmt.Sprintf("word █▄ %d %d", x*y, n*(y%10/9)))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func benchmark(b *testing.B, l Light, whole bool) {
	f, views := NewFrame(FullColour), []string{busy(200, 60, 1), busy(200, 60, 2)}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if whole {
			f.Invalidate()
		}
		b.SetBytes(int64(len(f.Draw(views[i%2], 200, 60, l))))
	}
}

func BenchmarkWhiteWhole(b *testing.B)   { benchmark(b, White, true) }
func BenchmarkWhiteChanges(b *testing.B) { benchmark(b, White, false) }
func BenchmarkRedWhole(b *testing.B)     { benchmark(b, Red, true) }
func BenchmarkRedChanges(b *testing.B)   { benchmark(b, Red, false) }
func BenchmarkDark(b *testing.B)         { benchmark(b, Dark, false) }
