package curve

import (
	"math"
	"testing"
)

// The aims stand on the base plus fog of the negative that is chosen, the nearest to the
// target's time in log time, and on nobody else's. By hand: 0.24 + 0.10 and 1.05 above it.
func TestAimsOfTheNegativeChosen(t *testing.T) {
	at := func(minutes float64) *float64 { s := 60 * minutes; return &s }
	out := Results{Curves: []Result{{Time: at(5), BaseFog: 0.12}, {Time: at(8), BaseFog: 0.24}, {Time: at(14), BaseFog: 0.4}},
		Target: &Target{Time: 9 * 60}}
	w := PrintConditions{Paper: 1.05, Subject: DefaultSubject, Flare: DefaultFlare}
	sheet, shadows, highlights, ok := out.Aims(w)
	if !ok || *sheet.Time != 480 || math.Abs(float64(shadows)-0.34) > 1e-9 || math.Abs(float64(highlights)-1.39) > 1e-9 {
		t.Errorf("%+v, %.2f, %.2f, %t", sheet, float64(shadows), float64(highlights), ok)
	}
	out.Target = nil
	if _, _, _, ok := out.Aims(w); ok {
		t.Error("aims without a negative chosen")
	}
	out.Curves = out.Curves[:1]
	if _, shadows, _, ok := out.Aims(w); !ok || math.Abs(float64(shadows)-0.22) > 1e-9 {
		t.Errorf("%.2f of the only sheet", float64(shadows))
	}
}
