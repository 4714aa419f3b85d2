package bottles

import (
	"reflect"
	"testing"

	"example.org/wetside/sequence"
)

// Whatever stands in a ledger, nothing panics, and a line that a merge doubled counts
// once.
func FuzzLedger(f *testing.F) {
	for _, line := range []string{
		`{"v":1,"at":"2026-11-25T19:12:00Z","did":"mixed","bottle":"fix-1","bath":{"name":"fix","kind":"fix","volume_ml":1000}}`,
		`{"v":1,"at":"2026-11-25T20:00:00Z","did":"used","bottle":"fix-1","session":"a","square_inches":20}`,
		`{"v":1,"at":"2026-11-25T20:00:00Z","did":"used","bottle":"none","square_inches":-1e308}`,
		`{"v":1,"did":"cleared","bottle":"fix-1","clearing_s":1e18}`, `{"v":1,"bottle":"x"}`, `{`,
	} {
		f.Add([]byte(line), []byte(line))
	}
	f.Fuzz(func(t *testing.T, a, b []byte) {
		read := func(lines ...[]byte) []Entry {
			var list []Entry
			for _, line := range lines {
				var e Entry
				if sequence.Unmarshal(line, &e) == nil && e.V > 0 && e.Bottle != "" {
					list = append(list, e)
				}
			}
			return list
		}
		once, twice := inventoryOf(read(a, b)), inventoryOf(read(a, b, b, a))
		if !reflect.DeepEqual(once.Bottles, twice.Bottles) {
			t.Errorf("once %+v, doubled %+v", once.Bottles, twice.Bottles)
		}
	})
}
