package backend

import (
	"strings"
	"testing"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen/filmtest"
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
		m, err := h.FilmTest(r, filmtest.Order{Vessel: v, Sheets: 4})
		if err != nil || m.Test.Load.Vessel != want || !strings.Contains(m.Told[0], want.In()) {
			t.Errorf("%q: %+v, %v", v, m, err)
		}
	}
	if m, err := h.FilmTest(r, filmtest.Order{Vessel: sequence.SingleTrays, Sheets: 4}); err != nil || !strings.HasSuffix(m.Told[0], " (the longest first, all out together)") {
		t.Errorf("%q, %v", m.Told, err)
	}
	hung, err := recipes.Find("tern-hangers", "")
	if err != nil {
		t.Fatal(err)
	}
	if m, err := h.FilmTest(hung, filmtest.Order{Sheets: 4, StraightOn: true}); err != nil || !m.Test.Steps[1].StraightOn || m.Test.Steps[1].LeaveTogether || !strings.Contains(m.Told[0], "straight on to the fixer") {
		t.Errorf("straight on: %q, %v", m.Told, err)
	}
	closed, err := recipes.Find("curlew-tank", "")
	if err != nil {
		t.Fatal(err)
	}
	if m, err := h.FilmTest(closed, filmtest.Order{Sheets: 4}); err != nil || !strings.Contains(strings.Join(m.Told, " "), "will not hold for a daylight tank.") {
		t.Errorf("%q, %v", m.Told, err)
	}
	if _, err := h.FilmTest(r, filmtest.Order{Vessel: sequence.Drum, Sheets: 4}); err == nil || !strings.Contains(err.Error(), "sheets can be pulled from") {
		t.Errorf("in a drum: %v", err)
	}
	if _, err := h.FilmTest(r, filmtest.Order{Sheets: 4, Guess: "soon"}); err == nil || !strings.HasPrefix(err.Error(), "guess: ") {
		t.Errorf("soon: %v", err)
	}
}
