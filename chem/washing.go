package chem

// Washing: what fixer is left after changes of water, in running water, and
// how long to wash.
//
// Fill and dump assumes that all fixer in the gelatin comes out into each
// change: the fraction left is a lower bound, and each change must stand for
// some minutes (M. Torzynski, Univ. Louis Pasteur, 2004).

import (
	"fmt"
	"math"
	"sort"
	"time"
)

// maxChanges bounds the number of changes that are computed.
const maxChanges = 1000

// Residue returns the fraction of the fixer left after a number of changes:
// (carryOver/volume)^changes, where the volume of a fill holds the carry-over.
// It errs where the carry-over is not less than the volume.
//
// Source: Torzynski 2004, with 10 ml in 500 ml: 1/50 a change.
func Residue(carryOver, volume Millilitres, changes int) (float64, error) {
	left, err := residuePerChange(carryOver, volume)
	if err != nil {
		return 0, err
	}
	if changes < 0 || changes > maxChanges {
		return 0, fmt.Errorf("washing: %d changes; expected 0 to %d", changes, maxChanges)
	}
	return math.Pow(left, float64(changes)), nil
}

// Changes returns how many changes leave no more than a residue: the inverse
// of Residue, rounded up. It errs as Residue does, for a residue outside (0, 1)
// and where it takes over 1,000 changes.
func Changes(carryOver, volume Millilitres, residue float64) (int, error) {
	left, err := residuePerChange(carryOver, volume)
	if err != nil {
		return 0, err
	}
	if !(residue > 0 && residue < 1) {
		return 0, fmt.Errorf("washing: residue %g; expected a fraction between 0 and 1", residue)
	}
	n := math.Log(residue) / math.Log(left)
	if !(n <= maxChanges) {
		return 0, fmt.Errorf("washing: over %d changes for a residue of %g; expected more water in each change", maxChanges, residue)
	}
	return max(1, int(math.Ceil(n-1e-9))), nil // 1e-9: a residue of exactly n changes takes n
}

func residuePerChange(carryOver, volume Millilitres) (float64, error) {
	if !(carryOver > 0 && carryOver < volume) || math.IsInf(float64(volume), 0) {
		return 0, fmt.Errorf("washing: carry-over %g ml in %g ml; expected above zero and less than the volume, which holds it", float64(carryOver), float64(volume))
	}
	return float64(carryOver / volume), nil
}

// RunningWaterResidue returns the fraction of the fixer left after a time in direct
// contact with running water: half goes each minute.
//
// Source: NAVEDTRA 14209 (1993) p. 250.
func RunningWaterResidue(t time.Duration) float64 { return math.Exp2(-max(0, t.Minutes())) }

// ColdWashFactor is how many times as long a wash takes in cold water: 3 at 50 to
// 60 F, 1 from 70 F up. Between 60 and 70 F its logarithm is taken as linear
// (our own rule); below 50 F nothing is published and known is false.
//
// Source: USAF T.O. 33B-1-1, 6.7.10.1.
func ColdWashFactor(t Celsius) (factor float64, known bool) {
	f := t.Fahrenheit()
	part := min(1, max(0, (70-f)/10))
	return math.Pow(3, part), f >= 50-1e-9
}

// Washing is how long to rinse, to stay in a clearing aid, and to wash.
type Washing struct {
	Rinse, Aid, Wash time.Duration
}

// WashTimes returns the times of washing with or without a clearing aid, the
// last wash lengthened in cold water as ColdWashFactor says.
//
// Source: US Army subcourse SS0509 pp. 18, 24: rinse 30 s, aid 2 min, wash
// 5 min; without the aid 30 min.
func WashTimes(aid bool, t Celsius) (w Washing, known bool) {
	factor, known := ColdWashFactor(t)
	w = Washing{Wash: 30 * time.Minute}
	if aid {
		w = Washing{Rinse: 30 * time.Second, Aid: 2 * time.Minute, Wash: 5 * time.Minute}
	}
	w.Wash = time.Duration(math.Round(float64(w.Wash) * factor))
	return w, known
}

// ResidualLimit is how much thiosulfate may be left in film, in g/m2 of one
// side. It is a rule for microfilm that is to be kept; for camera film it is
// strict. Source: 36 CFR 1238.14(c).
const ResidualLimit = 0.014

// WashAim is a residual to wash to: thiosulfate ion in g/m2 of one side.
type WashAim struct {
	Code  string  `json:"aim"`
	Limit float64 `json:"limit_g_per_m2"`
}

// WashAims are the aims, the least strict first. The first two are the limits for a life expectancy of
// 10 and of 100 years in ANSI/NAPM IT9.1, from memory; the last is 36 CFR 1238.14(c).
var WashAims = []WashAim{{"film-use", 0.1}, {"archival-use", 0.03}, {"36-cfr-1238.14-c", ResidualLimit}}

// ResidualThiosulfate is the thiosulfate left, in g/m2, where a fraction of what was
// carried over stays: strength in g/l of the fixer that was carried over, the
// area of film in square inches of one side. It errs for what is not above zero.
func ResidualThiosulfate(strength float64, carryOver Millilitres, residue, squareInches float64) (float64, error) {
	carried, err := Grams(strength, carryOver)
	if err != nil {
		return 0, err
	}
	if !(squareInches > 0) || !(residue >= 0 && residue <= 1) {
		return 0, fmt.Errorf("washing: a residue of %g on %g square inches; expected 0 to 1, and an area above zero", residue, squareInches)
	}
	return carried * residue / (squareInches * squareMetresPerSquareInch), nil
}

// squareMetresPerSquareInch is exact by definition.
const squareMetresPerSquareInch = 0.0254 * 0.0254

// SquareMetres converts square inches.
func SquareMetres(squareInches float64) float64 { return squareInches * squareMetresPerSquareInch }

// MinChange is how long film stands in each change of a wash at least.
// Source: NAVEDTRA 14209 p. 250, a full change each three minutes.
const MinChange = 3 * time.Minute

// Ways of washing.
const (
	WashWithAid    = "washing-aid"
	WashRunning    = "running-water"
	WashWithoutAid = "no-aid"
	WashChanges    = "fill-and-dump"
)

// WashMethod is one way of washing and what it costs in wet time.
type WashMethod struct {
	Way     string        `json:"way"`
	WetTime time.Duration `json:"wet_s"`
	Rinse   time.Duration `json:"rinse_s,omitzero"` // with an aid: before it
	Aid     time.Duration `json:"aid_s,omitzero"`
	Wash    time.Duration `json:"wash_s,omitzero"`
	Changes int           `json:"changes,omitzero"` // fill and dump
	Each    time.Duration `json:"each_s,omitzero"`  // that each change stands
	Source  string        `json:"source"`
}

// WashMethods lists the ways of washing at a temperature, the one with the least wet
// time first. Changes is the number of changes of fill and dump; 0 leaves that
// way out. Known is false where nothing is published for the temperature.
//
// Sources: US Army SS0509 pp. 18, 24; NAVEDTRA 14209 p. 250; Torzynski 2004;
// in the cold as ColdWashFactor.
func WashMethods(t Celsius, changes int) (ways []WashMethod, known bool) {
	const army = "US Army SS0509 pp. 18, 24"
	with, known := WashTimes(true, t)
	without, _ := WashTimes(false, t)
	factor, _ := ColdWashFactor(t)
	running := time.Duration(math.Round(20 * factor * float64(time.Minute)))
	ways = []WashMethod{
		{Way: WashWithAid, WetTime: with.Rinse + with.Aid + with.Wash, Rinse: with.Rinse, Aid: with.Aid, Wash: with.Wash, Source: army},
		{Way: WashRunning, WetTime: running, Wash: running, Source: "NAVEDTRA 14209 p. 250"},
		{Way: WashWithoutAid, WetTime: without.Wash, Wash: without.Wash, Source: army},
	}
	if changes > 0 {
		each := time.Duration(math.Round(factor * float64(MinChange)))
		ways = append(ways, WashMethod{Way: WashChanges, WetTime: time.Duration(changes) * each, Changes: changes, Each: each, Source: "Torzynski 2004"})
	}
	sort.SliceStable(ways, func(i, j int) bool { return ways[i].WetTime < ways[j].WetTime })
	return ways, known
}
