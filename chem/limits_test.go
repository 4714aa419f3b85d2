package chem

// Every stated limit from both of its sides: what lies on it or just within is taken, what lies just beyond is not.

import (
	"math"
	"strings"
	"testing"
	"time"
)

func TestLimitsFromBothSides(t *testing.T) {

	coefficient := func(k float64) error { return second(Coefficient{20, k}.At(20)) }
	fitted := func(apart Celsius, k float64) error {
		warm := seconds(600 / math.Pow(k, float64(apart)/10))
		return second(FitCoefficient([]Point{{600 * time.Second, 20}, {warm, 20 + apart}}))
	}
	table := func(apart Celsius, ratio float64) error {
		return second(NewPairs(20, []Pair{{20, 720}, {20 + apart, 720 / ratio}}))
	}
	pairs, err := NewPairs(20, []Pair{{18, 720}, {24, 450}})
	if err != nil {
		t.Fatal(err)
	}
	doubled, still := Coefficient{20, 2}, func(at Celsius) Course { return Course{Readings: []Point{{T: at}}} }
	parts := func(n int, of float64) (list []Part) {
		for i := range n {
			list = append(list, Part{strings.Repeat("a", i+1), of})
		}
		return list
	}
	mixed := func(n int, of float64) error { return second(Mix(parts(n, of), 100)) }
	exponent := []ReciprocityTest{{100 * time.Second, 130 * time.Second}, {10 * time.Second, 0}}
	needed := func(over float64) error {
		tests := append([]ReciprocityTest{}, exponent...)
		tests[1].Needed = seconds(10 * math.Pow(10, over))
		return second(FitReciprocity(tests))
	}
	kron := func(a float64, t0 time.Duration) error { return third(KronLaw{a, t0}.Correct(time.Minute)) }
	left := func(n float64) error { return second(Changes(98, 100, math.Pow(0.98, n))) }
	start := func(d Drift, to Celsius) error { return second(d.StartFor(to, d.Tau)) }
	typed := func(read func(string) error, text string) error { return read(text) }
	volume := func(s string) error { return second(ParseMillilitres(s)) }
	length := func(s string) error { return second(ParseLength(s)) }
	heat := func(s string) error { return second(ParseVesselHeat(s)) }
	ice := func(s string) error { return second(ParseIceTemperature(s, ScaleC)) }
	mix := func(s string) error { return second(ParseMix(s)) }
	total := func(v Millilitres) error { return Mixture{Total: 500}.CheckTotal(v) }
	tooLong := MaxDuration + 1
	for name, c := range map[string]struct{ within, beyond error }{
		"temperature":              {Celsius(700).check(), Celsius(700.1).check()},
		"temperature below zero":   {Celsius(-700).check(), Celsius(-700.1).check()},
		"coefficient":              {coefficient(100), coefficient(100.1)},
		"least coefficient":        {coefficient(0.01), coefficient(0.0099)},
		"fitted apart":             {fitted(1, 2), fitted(0.99, 2)},
		"fitted coefficient":       {fitted(10, 99.9), fitted(10, 100.1)},
		"fitted least":             {fitted(10, 1), fitted(10, 0.999)},
		"steep over 10 C":          {table(10, 99.9), table(10, 100.1)},
		"steep over 5 C":           {table(5, 9.99), table(5, 10.01)},
		"table's end":              {second(pairs.At(25 + 9e-10)), second(pairs.At(25 + 1.1e-9))},
		"table's beginning":        {second(pairs.At(17 - 9e-10)), second(pairs.At(17 - 1.1e-9))},
		"continued":                {second(pairs.Continued().At(699)), second(pairs.Continued().At(701))},
		"dose":                     {second(Dose(doubled, still(20), 0, MaxDuration)), second(Dose(doubled, still(20), 0, tooLong))},
		"dose at the reference":    {second(Dose(doubled, still(30), 0, MaxDuration/2)), second(Dose(doubled, still(30), 0, MaxDuration/2+1))},
		"developing time":          {second(Until(doubled, still(20), 0, MaxDuration)), second(Until(doubled, still(20), 0, tooLong))},
		"developing time, cold":    {second(Until(doubled, still(10), 0, MaxDuration/2)), second(Until(doubled, still(10), 0, MaxDuration/2+1))},
		"no developing":            {second(Until(doubled, still(20), 0, 0)), second(Until(doubled, still(20), 0, -1))},
		"developing ends":          {second(Until(ConstantRate{}, Course{}, math.MaxInt64-MaxDuration, 1)), second(Until(ConstantRate{}, Course{}, math.MaxInt64-MaxDuration+1, 1))},
		"parts":                    {mixed(20, 1), mixed(21, 1)},
		"part":                     {mixed(2, 1e6), mixed(2, 1.001e6)},
		"stock":                    {third(Dilute(100, 28, 500)), third(Dilute(100.1, 28, 500))},
		"dilution":                 {third(Dilute(28, 28, 500)), third(Dilute(28, 28.1, 500))},
		"strength":                 {second(Grams(10000, 1)), second(Grams(10001, 1))},
		"percentages":              {typed(mix, "A 40% + B 60%"), typed(mix, "A 40% + B 59.9999999%")},
		"total":                    {total(500.00049), total(500.00051)},
		"needed less than metered": {needed(-0.0999), needed(-0.1001)},
		"Kron's a":                 {kron(2, time.Second), kron(2.01, time.Second)},
		"no a":                     {kron(0, time.Second), kron(-0.01, time.Second)},
		"t0":                       {kron(0.2, 1), kron(0.2, 0)},
		"metered":                  {checkMeteredTime(MaxDuration), checkMeteredTime(tooLong)},
		"metered at all":           {checkMeteredTime(1), checkMeteredTime(0)},
		"exponent":                 {third(Exponent(1).Correct(time.Minute)), third(Exponent(1.001).Correct(time.Minute))},
		"filter":                   {second(Expose(time.Second, 1e6, 1, nil)), second(Expose(time.Second, 1.01e6, 1, nil))},
		"bellows":                  {second(Expose(time.Second, 1, 1, nil)), second(Expose(time.Second, 1, 0.99, nil))},
		"magnification":            {second(MagnificationFactor(100)), second(MagnificationFactor(101))},
		"no magnification":         {second(MagnificationFactor(0)), second(MagnificationFactor(-0.01))},
		"range of light":           {second(ContrastGain(Exponent(1), time.Second, 10)), second(ContrastGain(Exponent(1), time.Second, 10.1))},
		"clearing time":            {third(FixTime(MaxDuration, 1, false)), third(FixTime(tooLong, 1, false))},
		"changes":                  {second(Residue(10, 500, 1000)), second(Residue(10, 500, 1001))},
		"no changes":               {second(Residue(10, 500, 0)), second(Residue(10, 500, -1))},
		"changes for a residue":    {left(999.9), left(1000.5)},
		"residue":                  {second(ResidualThiosulfate(160, 10, 1, 80)), second(ResidualThiosulfate(160, 10, 1.01, 80))},
		"no residue":               {second(ResidualThiosulfate(160, 10, 0, 80)), second(ResidualThiosulfate(160, 10, -0.01, 80))},
		"washed area":              {second(NewWashBath(10, 500, 0, time.Minute)), second(NewWashBath(10, 500, -1, time.Minute))},
		"half time":                {second(NewWashBath(10, 500, 0, 1)), second(NewWashBath(10, 500, 0, 0))},
		// of a time constant's drifting, e times as far from where it settles
		"start":              {start(Drift{Tau: time.Minute}, 100/math.E-0.01), start(Drift{Tau: time.Minute}, 100/math.E+0.01)},
		"start at zero":      {start(Drift{Settle: 20, Tau: time.Minute}, 20-20/math.E+0.01), start(Drift{Settle: 20, Tau: time.Minute}, 20-20/math.E-0.01)},
		"ice":                {typed(ice, "-60"), typed(ice, "-61")},
		"ice melts":          {typed(ice, "0"), typed(ice, "1")},
		"depth of a drum":    {second(LyingCylinderVolume(20, 30, 20)), second(LyingCylinderVolume(20, 30, 20.01))},
		"length":             {typed(length, "500cm"), typed(length, "500.1cm")},
		"mass":               {typed(heat, "100kg glass"), typed(heat, "100001g glass")},
		"specific heat":      {typed(heat, "1g 4.186"), typed(heat, "1g 4.19")},
		"digits":             {typed(volume, "1."+strings.Repeat("0", 28)+"ml"), typed(volume, "1."+strings.Repeat("0", 29)+"ml")},
		"time typed":         {second(ParseDuration("1000h")), second(ParseDuration("1000h1s"))},
		"exposure typed":     {second(ParseExposure("3600000/1")), second(ParseExposure("3600001/1"))},
		"graduate's error":   {second(Graduate(1).MinVolume(0.99)), second(Graduate(1).MinVolume(1))},
		"readings of a bath": {Course{Readings: []Point{{0, 20}, {1, 20}}}.check(0), Course{Readings: []Point{{1, 20}, {1, 20}}}.check(0)},
		// what is small is taken, what is nothing is not
		"area of a sheet":       {second(Sheets(1, 0.5)), second(Sheets(1, 0))},
		"sheets a litre":        {second(Capacity(1000, 0.5, 20)), second(Capacity(1000, 0, 20))},
		"grams a litre":         {second(Grams(0.5, 100)), second(Grams(0, 100))},
		"volume":                {checkVolume(0.5), checkVolume(0)},
		"extension":             {second(BellowsFactor(0.9, 0.5)), second(BellowsFactor(0.9, 0))},
		"sides":                 {second(RectangularVolume(0.5, 0.5, 0.5)), second(RectangularVolume(0.5, 0.5, 0))},
		"a side":                {second(RectangularVolume(0.5, 0.5, 0.5)), second(RectangularVolume(0.5, 0, 0.5))},
		"drum":                  {second(LyingCylinderVolume(0.5, 0.5, 0.25)), second(LyingCylinderVolume(0.5, 0, 0.25))},
		"short length":          {typed(length, "0.5cm"), typed(length, "0cm")},
		"length in millimetres": {typed(length, "5000mm"), typed(length, "5001mm")},
		"film's area":           {second(ResidualThiosulfate(160, 10, 1, 0.5)), second(ResidualThiosulfate(160, 10, 1, 0))},
		"time in a table":       {second(NewPairs(20, []Pair{{18, 0.9}, {24, 0.5}})), second(NewPairs(20, []Pair{{18, 0.9}, {24, 0}}))},
		"short clearing":        {third(FixTime(1, 1, false)), third(FixTime(0, 1, false))},
		"a time to fit":         {second(FitCoefficient([]Point{{2, 20}, {1, 30}})), second(FitCoefficient([]Point{{2, 20}, {0, 30}}))},
		"ready now":             {second(Drift{Settle: 18, Tau: 1}.StartFor(20, 0)), second(Drift{Settle: 18, Tau: 0}.StartFor(20, 0))},
		"small total":           {Mixture{Total: 0.5}.CheckTotal(0.5), Mixture{Total: 0.5}.CheckTotal(10)},
		"exposure, half":        {second(ParseExposure("3600000/2")), second(ParseExposure("7200001/2"))},
		"days in a time":        {second(ParseDuration("1:02:03")), second(ParseDuration("01:02:03:04"))},
		"dose late on":          {second(Dose(doubled, still(20), 999*time.Hour, 1000*time.Hour)), second(Dose(doubled, still(20), math.MinInt64, math.MaxInt64))},
		"dose from before":      {second(Dose(doubled, still(20), -2*time.Hour, time.Hour)), second(Dose(doubled, still(20), -1001*time.Hour, 0))},
		"a reading used":        {Course{Readings: []Point{{0, 20}}}.check(0), Course{Readings: []Point{{0, Celsius(math.NaN())}}}.check(0)},
		"readings of a trial":   {second(FitDrift(trialOf(5, 0))), second(FitDrift(trialOf(4, 0)))},
		"order of a trial":      {second(FitDrift(trialOf(9, 0))), second(FitDrift(append([]Point{{0, 26}}, trialOf(9, 0)...)))},
	} {
		if c.within != nil {
			t.Errorf("%s: within the limit: %v", name, c.within)
		}
		if c.beyond == nil {
			t.Errorf("%s: beyond the limit: taken", name)
		}
	}
}
