package curve

import "testing"

// A strip whose densities rise with exposure is as it should be; the same values from the
// other end are noticed, and turned round they are as before. Three readings do not tell.
func TestStripFromItsOtherEnd(t *testing.T) {
	r := Readings{Tablet: []float64{0, 0.3, 0.6, 0.9, 1.2}}
	r.Add(0, 0)
	for i, d := range []Density{1.9, 1.3, 0.8, 0.4, 0.2} {
		r.Sheets[0].Steps[i] = &d
	}
	if r.Reversed(0) {
		t.Error("densities that rise with exposure")
	}
	turned := r.TurnRound(0)
	if !turned.Reversed(0) || r.Reversed(0) || *turned.Sheets[0].Steps[0] != 0.2 {
		t.Error("the other way round")
	}
	if back := turned.TurnRound(0); back.Reversed(0) {
		t.Error("turned twice")
	}
	turned.Sheets[0].Steps[0], turned.Sheets[0].Steps[1] = nil, nil
	if turned.Reversed(0) {
		t.Error("three readings tell nothing")
	}
}
