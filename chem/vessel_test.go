package chem

import (
	"math"
	"os/exec"
	"strings"
	"testing"
)

// A worked problem of calorimetry, seen in print in a book whose title is not known, the other way round: 0.153 kg of
// aluminium at 85.1 C come to 29.64 C with 0.297 kg of water at 23.5 C; 100 ml of bath in it need
// (85.1 - 29.64)/(29.64 - 23.5) times 100 ml besides. The printed 29.64 is good to 0.3 ml
// of the first and 0.8 ml of the second.
func TestVesselTakesItsHeat(t *testing.T) {
	heat, err := ParseVesselHeat("0.153kg aluminium")
	if err != nil {
		t.Fatal(err)
	}
	got, err := StandingBath{Volume: 100, T: 85.1, Vessel: heat}.WaterToReach(29.64, 23.5)
	want := 297 + 100*(85.1-29.64)/(29.64-23.5)
	if err != nil || !(math.Abs(float64(got)-want) <= 1.1) {
		t.Errorf("%.2f ml, %v; expected %.2f", got, err, want)
	}
}

// GNU units has 0.91 J/(g K) for aluminium, 0.84 for glass and 0.45 for iron, which steel mostly is, and 4.1858 J for the
// calorie at 15 C, water's.
func TestSpecificHeatsAgainstGNUUnits(t *testing.T) {
	units, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not installed")
	}
	for ours, theirs := range map[string]string{"aluminium": "specificheat_aluminum", "steel": "specificheat_iron", "glass": "specificheat_glass_silica"} {
		out, err := exec.Command(units, "-t", theirs, "J/g K").Output()
		if err != nil {
			t.Fatal(err)
		}
		want, _ := parseDecimal(strings.TrimSpace(string(out)))
		got, err := ParseVesselHeat("1g " + ours)
		if err != nil || !(math.Abs(got-want) <= 0.03*want) {
			t.Errorf("%s: %g J/(g K), %v; GNU units has %g", ours, got, err, want)
		}
	}
	out, err := exec.Command(units, "-t", "calorie_15/(g K)", "J/(g K)").Output()
	if err != nil {
		t.Fatal(err)
	}
	if want, _ := parseDecimal(strings.TrimSpace(string(out))); !(math.Abs(want-WaterHeat) <= 0.001) {
		t.Errorf("water: %g J/(g K); GNU units has %g", float64(WaterHeat), want)
	}
}

// Ice takes 6.01 kJ/mol to melt by GNU units: 333.6 J/g. From a freezer at -18 C it takes 2.11 x 18 = 38 J/g more,
// a tenth of what melting and warming to 20 C take: so much less of it is needed.
func TestIceAgainstGNUUnits(t *testing.T) {
	units, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not installed")
	}
	out, err := exec.Command(units, "-t", "water_fusion_heat", "J/g").Output()
	if err != nil {
		t.Fatal(err)
	}
	if want, _ := parseDecimal(strings.TrimSpace(string(out))); !(math.Abs(want-IceHeat) <= 0.002*want) {
		t.Errorf("%g J/g; GNU units has %g", float64(IceHeat), want)
	}
}

// A vessel measured as its comment says: 500 g of water at 40 C in 300 g of it at 18 C settle at 38.5 C, by
// hand 4.186 x 500 x 1.5/20.5/300 = 0.5105 J/(g K); with that heat they settle there.
func TestAMeasuredVessel(t *testing.T) {
	heat, err := ParseVesselHeat("300g 0.5105")
	if err != nil {
		t.Fatal(err)
	}
	water := WaterHeat * 500 // J/K
	if got := (water*40 + heat*18) / (water + heat); !(math.Abs(got-38.5) <= 0.001) {
		t.Errorf("%.3f; expected 38.5", got)
	}
}

func TestVesselHeatRefused(t *testing.T) {
	for text, want := range map[string]float64{"500g 0.84": 420, "0.5kg glass": 420, "2000g plastic": 3800} {
		if got, err := ParseVesselHeat(text); err != nil || !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("%q: %g, %v; expected %g J/K", text, got, err, want)
		}
	}
	for _, text := range []string{"", "400g", "steel", "400 steel", "-4g steel", "400g wood", "400g 5", "400g NaN", "400g -1", "999kg steel", "0g steel"} {
		if got, err := ParseVesselHeat(text); err == nil || !strings.Contains(err.Error(), "expected a mass") {
			t.Errorf("%q: %g, %v; expected a refusal", text, got, err)
		}
	}
}

// A drum of 20 cm, 10 cm long, filled to 5 cm: 100 acos(1/2) - 5 sqrt(75) = 61.4185 square centimetres of segment (arithmetic).
func TestALyingDrumByHand(t *testing.T) {
	for depth, want := range map[Centimetres]float64{5: 614.185, 10: 1570.796, 15: 2527.408, 20: 3141.593} {
		if got, err := LyingCylinderVolume(20, 10, depth); err != nil || !(math.Abs(float64(got)-want) <= 1e-3) {
			t.Errorf("%v cm: %v, %v; expected %g", depth, got, err, want)
		}
	}
	if _, err := ParseLength("501cm"); err == nil || !strings.HasSuffix(err.Error(), "at most 500 cm") {
		t.Errorf("%v", err)
	}
}
