package engine

// Whom a person in the dark can name.

import (
	"slices"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

func TestStragglersAreThoseMovedLast(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	stragglers := func(at sequence.Elapsed) []LateSheet {
		n.do(sequence.Wake{}, at)
		return n.s.LateSheets(at)
	}
	expect := func(at sequence.Elapsed, want ...LateSheet) {
		t.Helper()
		if got := stragglers(at); !slices.Equal(got, want) {
			t.Errorf("at %v: %v; expected %v", at, got, want)
		}
	}
	expect(16*recipetest.Second, LateSheet{Sheet: 2}, LateSheet{Sheet: 1})  // sheets are loaded at 0, 15 and 30
	expect(645*recipetest.Second, LateSheet{Sheet: 2}, LateSheet{Sheet: 1}) // they went at 630 and 640; the third is long in the developer
	n.do(sequence.MarkLate{Sheet: 2}, 646*recipetest.Second)
	expect(647*recipetest.Second, LateSheet{Sheet: 1}) // none is thrown back twice
	n.do(sequence.EndSession{}, 650*recipetest.Second)
	expect(651 * recipetest.Second)
	n = begun(t, planOf(t, recipetest.FourInHangers(), sequence.Conditions{}), 0)
	expect(125*recipetest.Second, LateSheet{Sheet: 1, Together: true}) // all went at 120
	expect(130*recipetest.Second+lateFor, []LateSheet(nil)...)
}

// Those that moved together are told once, by the first that is in play; those behind them, and
// behind one that cannot be late, are told too.
func TestStragglersBesideOthers(t *testing.T) {
	two := three()
	two.Load.Sheets = 2
	pulled := func(times ...sequence.Elapsed) sequence.Recipe {
		return recipetest.Recipe(sequence.Hangers, len(times), recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
			recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), times...), recipetest.Bath(sequence.StopBath, 2*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	}
	for _, c := range []struct {
		name   string
		recipe sequence.Recipe
		aside  int // at 60 s
		at     sequence.Elapsed
		want   []LateSheet
	}{
		{"the second is aside", recipetest.FourInHangers(), 2, 125 * recipetest.Second, []LateSheet{{1, true}}},
		{"the third is aside", recipetest.FourInHangers(), 3, 125 * recipetest.Second, []LateSheet{{1, true}}},
		{"the first is aside", three(), 1, 165 * recipetest.Second, []LateSheet{{3, false}, {2, false}}},
		{"two in a tray", two, 0, 146 * recipetest.Second, []LateSheet{{2, false}, {1, false}}},
		{"the last pulled first", pulled(5*recipetest.Minute, 5*recipetest.Minute, 2*recipetest.Minute), 0, 241 * recipetest.Second, []LateSheet{{3, false}, {1, true}}},
		{"pulled alone", pulled(2 * recipetest.Minute), 0, 241 * recipetest.Second, []LateSheet{{1, true}}},
	} {
		n := begun(t, planOf(t, c.recipe, sequence.Conditions{}), 0)
		n.do(sequence.Wake{}, recipetest.Minute)
		if c.aside > 0 {
			n.do(sequence.SetSheetAside{Sheet: c.aside}, recipetest.Minute)
		}
		n.do(sequence.Wake{}, c.at)
		if got := n.s.LateSheets(c.at); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v; expected %v", c.name, got, c.want)
		}
	}
}

func TestLosableSheets(t *testing.T) {
	n := begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	expect := func(at sequence.Elapsed, want ...int) {
		t.Helper()
		n.do(sequence.Wake{}, at)
		if got := n.s.SheetsToSetAside(at); !slices.Equal(got, want) {
			t.Errorf("at %v: %v; expected %v", at, got, want)
		}
	}
	expect(16*recipetest.Second, 1, 2) // the third is dry
	expect(60*recipetest.Second, 1, 2, 3)
	expect(635*recipetest.Second, 2, 1, 3) // sheet 1 went at 630, sheet 2 is next
	n.do(sequence.SetSheetAside{Sheet: 2}, 636*recipetest.Second)
	expect(637*recipetest.Second, 3, 1)
	n.do(sequence.SetSheetAside{Sheet: 3}, 638*recipetest.Second)
	expect(639 * recipetest.Second) // the last one is no longer set aside
	n = begun(t, planOf(t, three(), sequence.Conditions{}), 0)
	for n.s.where(0) < len(n.s.plan.Steps) {
		at, _ := n.s.Due()
		n.do(sequence.Wake{}, at)
	}
	expect(n.s.At(), 2, 3) // the first is out of the last bath
	if why := n.s.Refuse(sequence.SetSheetAside{Sheet: 1}, n.s.At()).Code; why != "not-in-a-bath" {
		t.Errorf("what is out: %q", why)
	}
}
