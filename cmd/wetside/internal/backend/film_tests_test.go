package backend

import (
	"strings"
	"testing"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// A film test is made in the vessel that was chosen, and its times say so; without a choice
// in the kindest that keeps the limit. From a closed vessel no sheet can be pulled.
func TestFilmTestInAVessel(t *testing.T) {
	r, err := recipes.Find("plover-tray", "")
	if err != nil {
		t.Fatal(err)
	}
	h := filmTests{}
	for v, want := range map[sequence.Vessel]sequence.Vessel{"": sequence.Hangers, sequence.Cradle: sequence.Cradle} {
		test, told, err := h.FilmTestIn(r, v, 4, "")
		if err != nil || test.Load.Vessel != want || !strings.Contains(told[0], want.In()) {
			t.Errorf("%q: in %q, %q, %v", v, test.Load.Vessel, told, err)
		}
	}
	if _, told, err := h.FilmTestIn(r, sequence.SingleTrays, 4, ""); err != nil || !strings.HasSuffix(told[0], " (the longest first, all out together)") {
		t.Errorf("%q, %v", told, err)
	}
	closed, err := recipes.Find("curlew-tank", "")
	if err != nil {
		t.Fatal(err)
	}
	if _, told, err := h.FilmTestIn(closed, "", 4, ""); err != nil || !strings.Contains(strings.Join(told, " "), "will not hold for a daylight tank.") {
		t.Errorf("%q, %v", told, err)
	}
	if _, _, err := h.FilmTestIn(r, sequence.Drum, 4, ""); err == nil || !strings.Contains(err.Error(), "sheets can be pulled from") {
		t.Errorf("in a drum: %v", err)
	}
	if _, _, err := h.FilmTestIn(r, "", 4, "soon"); err == nil || !strings.HasPrefix(err.Error(), "guess: ") {
		t.Errorf("soon: %v", err)
	}
}
