package recipes

import "testing"

// TestDistance counts by hand, and against the worked examples that stand in
// most textbooks of the Levenshtein distance (memory).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"saturday", "sunday", 3},
		{"", "", 0}, {"", "fix", 3}, {"fix", "fix", 0}, {"fxi", "fix", 1}, {"wash", "wahs", 1},
		{"ca", "abc", 3}, // optimal string alignment; 2 where swapped letters may be changed again
		{"été", "ete", 2},
	} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
		if got := distance(c.b, c.a); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.b, c.a, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	for text, want := range map[string]string{
		"agitat": "agitate", "NAME": "name", "lights_on_afer": "lights_on_after", "tme": "time", "tiems": "times",
		"colour": "", "x": "", "": "", "roomlight": "room_light",
	} {
		if got := NearestWord(text, stepKeys); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestNearestOfTwo(t *testing.T) {
	for _, words := range [][]string{{"wetting bath", "wetting"}, {"wetting", "wetting bath"}} {
		if got := NearestWord("wetting bat", words); got != "wetting bath" {
			t.Errorf("%q of %q", got, words)
		}
	}
	if got := NearestWord("abcdefghi", []string{"abcdefghij", "abcdefg"}); got != "abcdefghij" {
		t.Errorf("%q, want the nearer", got)
	}
}
