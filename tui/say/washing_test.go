package say

import (
	"testing"

	"example.org/wetside/chem"
)

// At 70 °F: US Army SS0509 pp. 18, 24 (rinse 0:30, aid 2:00, wash 5:00; 30:00 without) and
// NAVEDTRA 14209 p. 250 (each change three minutes).
func TestWashMethods(t *testing.T) {
	ways, _ := chem.WashMethods(chem.FromFahrenheit(70), 3)
	want := map[string]string{
		"with a washing aid":    "rinse 0:30, washing aid 2:00, wash 5:00",
		"in running water":      "a full change each 3:00; half the fixer goes each minute that fresh water touches the film",
		"without a washing aid": "wash 30:00",
		"fill and dump":         "3 changes, each standing 3:00; a lower bound: gelatin gives up its fixer in minutes",
	}
	for _, w := range ways {
		name, text := WashMethod(w)
		if want[name] != text {
			t.Errorf("%s: %q; want %q", name, text, want[name])
		}
		delete(want, name)
	}
	if len(want) > 0 {
		t.Errorf("missing %v", want)
	}
}
