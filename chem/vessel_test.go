package chem

import (
	"math"
	"os/exec"
	"strings"
	"testing"
)

// The worked problem of example_bath_test.go the other way round: 0.153 kg of aluminium
// at 85.1 C come to 29.64 C with 0.297 kg of water at 23.5 C; 100 ml of bath in it need
// (85.1 - 29.64)/(29.64 - 23.5) times 100 ml besides. The printed 29.64 is good to 0.3 ml
// of the first and 0.8 ml of the second.
func TestVesselTakesItsHeat(t *testing.T) {
	heat, err := ParseVesselHeat("0.153kg aluminium")
	if err != nil {
		t.Fatal(err)
	}
	got, err := StandingBath{Volume: 100, T: 85.1, Vessel: heat}.WaterToReach(29.64, 23.5)
	want := 297 + 100*(85.1-29.64)/(29.64-23.5)
	if err != nil || math.Abs(float64(got)-want) > 1.1 {
		t.Errorf("%.2f ml, %v; expected %.2f", got, err, want)
	}
}

// GNU units has 0.91 J/(g K) for aluminium and 0.45 for iron, which steel mostly is.
func TestSpecificHeatsAgainstGNUUnits(t *testing.T) {
	units, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not installed")
	}
	for ours, theirs := range map[string]string{"aluminium": "specificheat_aluminum", "steel": "specificheat_iron"} {
		out, err := exec.Command(units, "-t", theirs, "J/g K").Output()
		if err != nil {
			t.Fatal(err)
		}
		want, _ := parseDecimal(strings.TrimSpace(string(out)))
		got, err := ParseVesselHeat("1g " + ours)
		if err != nil || math.Abs(got-want) > 0.03*want {
			t.Errorf("%s: %g J/(g K), %v; GNU units has %g", ours, got, err, want)
		}
	}
}

func TestVesselHeatRefused(t *testing.T) {
	for text, want := range map[string]float64{"500g 0.84": 420, "0.5kg glass": 420, "2000g plastic": 3800} {
		if got, err := ParseVesselHeat(text); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %g, %v; expected %g J/K", text, got, err, want)
		}
	}
	for _, text := range []string{"", "400g", "steel", "400 steel", "-4g steel", "400g wood", "400g 5", "400g NaN", "400g -1", "999kg steel", "0g steel"} {
		if got, err := ParseVesselHeat(text); err == nil || !strings.Contains(err.Error(), "expected a mass") {
			t.Errorf("%q: %g, %v; expected a refusal", text, got, err)
		}
	}
}
