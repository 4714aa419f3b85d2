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

// One letter in three may be wrong, at least one, and no more: by hand, letter by letter.
func TestHowFarASuggestionIs(t *testing.T) {
	for _, c := range []struct{ typed, word, want string }{
		{"xy", "xyz", "xyz"},                    // 1 of 2
		{"xy", "xyzw", ""},                      // 2 of 2
		{"abcde", "abcdx", "abcdx"},             // 1 of 5
		{"abcde", "abcxy", ""},                  // 2 of 5
		{"abcdef", "abcdxy", "abcdxy"},          // 2 of 6
		{"abcdef", "abcxyz", ""},                // 3 of 6
		{"abcdefghi", "abcdefxyz", "abcdefxyz"}, // 3 of 9
		{"abcdefghi", "abcdewxyz", ""},          // 4 of 9
	} {
		if got := NearestWord(c.typed, []string{c.word}); got != c.want {
			t.Errorf("%q beside %q: %q; expected %q", c.typed, c.word, got, c.want)
		}
	}
}
