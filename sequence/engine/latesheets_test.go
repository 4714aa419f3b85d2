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
}
