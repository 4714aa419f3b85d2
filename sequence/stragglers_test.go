package sequence

// Whom a person in the dark can name.

import (
	"slices"
	"testing"
)

func TestStragglersAreThoseMovedLast(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	stragglers := func(at Elapsed) []Straggler {
		n.do(Wake{}, at)
		return n.s.Stragglers(at)
	}
	expect := func(at Elapsed, want ...Straggler) {
		t.Helper()
		if got := stragglers(at); !slices.Equal(got, want) {
			t.Errorf("at %v: %v; expected %v", at, got, want)
		}
	}
	expect(16*sec, Straggler{Sheet: 2}, Straggler{Sheet: 1})  // sheets are loaded at 0, 15 and 30
	expect(645*sec, Straggler{Sheet: 2}, Straggler{Sheet: 1}) // they went at 630 and 640; the third is long in the developer
	n.do(Late{Sheet: 2}, 646*sec)
	expect(647*sec, Straggler{Sheet: 1}) // none is thrown back twice
	n.do(Stop{}, 650*sec)
	expect(651 * sec)
	n = begun(t, planOf(t, hung(), Conditions{}), 0)
	expect(125*sec, Straggler{Sheet: 1, All: true}) // all went at 120
	expect(130*sec+lately, []Straggler(nil)...)
}

func TestLosableSheets(t *testing.T) {
	n := begun(t, planOf(t, three(), Conditions{}), 0)
	expect := func(at Elapsed, want ...int) {
		t.Helper()
		n.do(Wake{}, at)
		if got := n.s.Losable(at); !slices.Equal(got, want) {
			t.Errorf("at %v: %v; expected %v", at, got, want)
		}
	}
	expect(16*sec, 1, 2) // the third is dry
	expect(60*sec, 1, 2, 3)
	expect(635*sec, 2, 1, 3) // sheet 1 went at 630, sheet 2 is next
	n.do(Aside{Sheet: 2}, 636*sec)
	expect(637*sec, 3, 1)
	n.do(Aside{Sheet: 3}, 638*sec)
	expect(639 * sec) // the last one is no longer set aside
}
