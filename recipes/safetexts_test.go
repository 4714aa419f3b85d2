package recipes

import (
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// texts are all the texts of a recipe that somebody may show.
func texts(r sequence.Recipe) []string {
	out := []string{r.Title, r.About, r.Film.Name, r.Load.Size.Name}
	for _, b := range r.Baths {
		out = append(append(out, b.ID), b.Cautions...)
		for _, p := range b.Parts {
			out = append(out, p.Name)
		}
	}
	for _, s := range r.Steps {
		out = append(out, s.Name, s.Bath, s.Note)
		for _, n := range s.Times {
			out = append(out, n.Name)
		}
	}
	return out
}

func TestClean(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"plain", "Plover 80, 4x5in: 20 °C", "Plover 80, 4x5in: 20 °C"},
		{"letters of all kinds", "été 浜辺 ЧАЙКА e\u0301", "été 浜辺 ЧАЙКА e\u0301"},
		{"empty", "", ""},
		{"C0", "a\x00\x07\t\n\r\x1b[2Jb", "a\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD\uFFFD[2Jb"},
		{"DEL", "a\x7fb", "a\uFFFDb"},
		{"C1", "a\u0085\u009b2Jb", "a\uFFFD\uFFFD2Jb"},
		{"bidi", "a\u202eb\u2066c\u200fd", "a\uFFFDb\uFFFDc\uFFFDd"},
		{"format", "a\u200bb\u00adc\ufeffd\U000e0041e", "a\uFFFDb\uFFFDc\uFFFDd\uFFFDe"},
		{"separators", "a\u2028b\u2029c", "a\uFFFDb\uFFFDc"},
		{"private", "a\ue000b\U0010fffdc", "a\uFFFDb\uFFFDc"},
		{"unassigned", "a\U000e0fffb\uffff", "a\uFFFDb\uFFFD"},
		{"bytes that are not UTF-8", "a\xffb\xc3", "a\uFFFDb\uFFFD"},
		{"raw C1 byte", "a\x9bb", "a\uFFFDb"},
		{"U+FFFD itself", "a\uFFFDb", "a\uFFFDb"},
		{"long", strings.Repeat("é", 1001), strings.Repeat("é", 1000) + "…"},
		{"not too long", strings.Repeat("é", 1000), strings.Repeat("é", 1000)},
	} {
		if got := safetext.Clean(c.text); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// FuzzClean checks that nothing unfit comes through and that nothing fit is
// changed: cleaning twice is cleaning once.
func FuzzClean(f *testing.F) {
	f.Add("a\x1b[2J\u202e\xff")
	f.Fuzz(func(t *testing.T, s string) {
		got := safetext.Clean(s)
		if !utf8.ValidString(got) || strings.ContainsAny(got, "\x1b\n\r\t\x00\u202e\u009b") {
			t.Errorf("%q", got)
		}
		if utf8.RuneCountInString(got) <= safetext.MaxText && safetext.Clean(got) != got {
			t.Errorf("%q is cleaned again to %q", got, safetext.Clean(got))
		}
	})
}
