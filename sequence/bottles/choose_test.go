package bottles

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/wetside/sequence"
)

// The bottle mixed last serves unless another is named; each bath has one.
func TestDraw(t *testing.T) {
	could := []sequence.OpenBottle{{Bath: "developer", Bottle: "dev-2"}, {Bath: "developer", Bottle: "dev-1"}, {Bath: "fixer", Bottle: "fix-3"}, {Bath: "fixer", Bottle: "fix-2"}, {Bath: "fixer", Bottle: "old"}}
	for words, want := range map[string][]string{
		"": {"dev-2", "fix-3"}, "kept": {"dev-2", "fix-3"}, "fresh": nil, "old": {"old", "dev-2"}, "ol": {"old", "dev-2"},
		"fix-2, dev-1": {"fix-2", "dev-1"}, "dev-2": {"dev-2", "fix-3"},
	} {
		kept, err := Choose(sequence.RawConditions{Bottles: words}, could)
		var got []string
		for _, k := range kept {
			got = append(got, k.Bottle)
		}
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v; expected %v", words, got, err, want)
		}
	}
	for _, words := range []string{"stale", "fix", "fix-2,old", ",", "old,"} {
		kept, err := Choose(sequence.RawConditions{Bottles: words}, could)
		if e := (sequence.FieldError{}); !errors.As(err, &e) || e.Field != "bottles" || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, %v; expected an error that names --bottles", words, kept, err)
		}
	}
}

// A name means the one that is called so, else all that begin so; none means none.
func TestCalled(t *testing.T) {
	list := []string{"fixer", "fixer-2", "stop"}
	for name, want := range map[string][]string{"fixer": {"fixer"}, "fix": {"fixer", "fixer-2"}, "s": {"stop"}, "x": nil, "": nil} {
		if got := ByNameOrPrefix(list, func(s string) string { return s }, name); !slices.Equal(got, want) {
			t.Errorf("%q means %q, want %q", name, got, want)
		}
	}
}
