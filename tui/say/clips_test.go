package say

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Sheets are told apart by clips that leave the notch and the masked corner whole; no two
// alike, each short enough to be a sheet's name in a recipe.
func TestClips(t *testing.T) {
	seen := map[string]bool{}
	for n := 1; n <= MostClips; n++ {
		clip := ClipOf(n)
		if clip == "" || seen[clip] || len(clip) > 20 || strings.Contains(clip, "top right") || strings.Contains(clip, "bottom left") {
			t.Errorf("sheet %d: %q", n, clip)
		}
		seen[clip] = true
	}
	if ClipOf(0) != "" || ClipOf(17) != "" || Clips(17) != nil {
		t.Error("a clip for a sheet that cannot be told apart")
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, MostClips).Draw(t, "n")
		text := HowToClip(n)
		for k, name := range Clips(n) {
			if !strings.Contains(text, fmt.Sprintf("sheet %d %s", k+1, name)) {
				t.Fatalf("%s: sheet %d is %s", text, k+1, name)
			}
		}
	})
}
