package chem

// Tempering, washing, fixing and capacity against balances of heat, published
// points and their own inverses.

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// What is mixed or added settles, by the calorimeter's rule, where it was
// meant to; and the volumes add up.
func TestTemperBalancesHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cold := rapid.Float64Range(1, 30).Draw(t, "cold")
		hot := cold + rapid.Float64Range(1, 60).Draw(t, "span")
		to := Celsius(cold + (hot-cold)*rapid.Float64Range(0, 1).Draw(t, "part"))
		volume := Millilitres(rapid.Float64Range(10, 20000).Draw(t, "volume"))
		h, c, err := Temper(to, volume, Celsius(hot), Celsius(cold))
		if err != nil || h < 0 || c < -1e-9 || math.Abs(float64(h+c-volume)) > 1e-9 {
			t.Fatalf("%v hot and %v cold, %v; expected %v together", h, c, err, volume)
		}
		if got := (float64(h)*hot + float64(c)*cold) / float64(volume); math.Abs(got-float64(to)) > 1e-9 {
			t.Errorf("settles at %v; expected %v", got, to)
		}
	})
}

func TestAddBalancesHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := StandingBath{
			Volume: Millilitres(rapid.Float64Range(10, 20000).Draw(t, "volume")),
			T:      Celsius(rapid.Float64Range(5, 40).Draw(t, "T")),
			Vessel: rapid.Float64Range(0, 5000).Draw(t, "vessel"),
		}
		to := Celsius(rapid.Float64Range(5, 40).Draw(t, "to"))
		beyond := Celsius(rapid.Float64Range(0.5, 5).Draw(t, "beyond"))
		if to < s.T {
			beyond = -beyond
		}
		v, err := s.WaterToReach(to, to+beyond)
		if err != nil || v < 0 {
			t.Fatalf("%+v to %v with %v: %v, %v", s, to, to+beyond, v, err)
		}
		was, came := WaterHeat*float64(s.Volume)+s.Vessel, WaterHeat*float64(v) // J/K
		if got := (was*float64(s.T) + came*float64(to+beyond)) / (was + came); math.Abs(got-float64(to)) > 1e-9 {
			t.Errorf("settles at %v; expected %v", got, to)
		}
		if to != s.T {
			if v, err := s.WaterToReach(to, to-beyond); err == nil {
				t.Errorf("%+v to %v with water on the wrong side: %v", s, to, v)
			}
		}
	})
}

// Ice: what the bath and its vessel give is what melts the ice and warms its
// water. 1 kg of water from 24 to 20 C gives 16,744 J.
func TestIceBalancesHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := StandingBath{
			Volume: Millilitres(rapid.Float64Range(10, 20000).Draw(t, "volume")),
			T:      Celsius(rapid.Float64Range(20, 40).Draw(t, "T")),
			Vessel: rapid.Float64Range(0, 5000).Draw(t, "vessel"),
		}
		to := Celsius(rapid.Float64Range(1, 20).Draw(t, "to"))
		g, err := s.IceToReach(to, 0)
		given := (4.186*float64(s.Volume) + s.Vessel) * float64(s.T-to)
		taken := 334*g + 4.186*g*float64(to)
		if err != nil || math.Abs(given-taken) > 1e-6*(1+given) {
			t.Errorf("%+v to %v: %v g, %v; %v J given, %v J taken", s, to, g, err, given, taken)
		}
	})
	if g, err := (StandingBath{Volume: 1000, T: 24}).IceToReach(20, 0); err != nil || math.Abs(g*(334+83.72)-16744) > 1e-6 {
		t.Errorf("ice for a litre from 24 to 20 C: %v g, %v", g, err)
	}
}

func TestWaterRefuses(t *testing.T) {
	litre := StandingBath{Volume: 1000, T: 20}
	nan := Celsius(math.NaN())
	for name, err := range map[string]error{
		"too hot":         third(Temper(60, 1000, 50, 15)),
		"too cold":        third(Temper(10, 1000, 50, 15)),
		"one water":       third(Temper(20, 1000, 20, 20)),
		"swapped":         third(Temper(20, 1000, 15, 50)),
		"no volume":       third(Temper(20, 0, 50, 15)),
		"not known":       third(Temper(nan, 1000, 50, 15)),
		"not far enough":  second(litre.WaterToReach(24, 24)),
		"wrong side":      second(litre.WaterToReach(24, 15)),
		"empty":           second(StandingBath{T: 20}.WaterToReach(24, 50)),
		"vessel":          second(StandingBath{Volume: 1, T: 20, Vessel: -1}.WaterToReach(24, 50)),
		"ice above zero":  second(litre.IceToReach(10, 1)),
		"ice warms":       second(litre.IceToReach(24, 0)),
		"ice to freezing": second(litre.IceToReach(0, 0)),
		"bath not known":  second(StandingBath{Volume: 1000, T: nan}.IceToReach(10, 0)),
	} {
		if err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	if v, err := litre.WaterToReach(20, 50); v != 0 || err != nil {
		t.Errorf("already there: %v, %v; expected none", v, err)
	}
}

// Changes is the least number whose residue is small enough.
func TestChangesInvertsResidue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := Millilitres(rapid.Float64Range(100, 5000).Draw(t, "volume"))
		carry := volume * Millilitres(rapid.Float64Range(0.001, 0.9).Draw(t, "part"))
		residue := math.Exp(-rapid.Float64Range(0.1, 20).Draw(t, "-ln residue"))
		n, err := Changes(carry, volume, residue)
		if err != nil {
			t.Fatal(err)
		}
		enough, _ := Residue(carry, volume, n)
		before, _ := Residue(carry, volume, n-1)
		if enough > residue*(1+1e-7) || before <= residue {
			t.Errorf("%d changes leave %v, one less %v; expected at most %v", n, enough, before, residue)
		}
		// a fill at a time, as one does it
		left := float64(carry)
		for range n {
			left *= float64(carry / volume)
		}
		if math.Abs(left/float64(carry)/enough-1) > 1e-9 {
			t.Errorf("%d fills one by one leave %v; at once %v", n, left/float64(carry), enough)
		}
		k := rapid.IntRange(1, 30).Draw(t, "k")
		exact, _ := Residue(carry, volume, k)
		if n, err := Changes(carry, volume, exact); n != k || err != nil {
			t.Errorf("residue of exactly %d changes: %d, %v", k, n, err)
		}
	})
}

// NAVEDTRA 14209 p. 250: half in a minute; ten minutes leave 1/1024.
func TestRunningWater(t *testing.T) {
	for at, want := range map[time.Duration]float64{0: 1, time.Minute: 0.5, 10 * time.Minute: 1.0 / 1024, -time.Minute: 1} {
		if got := RunningWaterResidue(at); math.Abs(got-want) > 1e-15 {
			t.Errorf("after %v: %v; expected %v", at, got, want)
		}
	}
}

// USAF T.O. 33B-1-1, 6.7.10.1 at its four temperatures; between them neither
// a jump nor a rise with warmth.
func TestColdWash(t *testing.T) {
	for f, want := range map[float64]float64{50: 3, 55: 3, 60: 3, 70: 1, 75: 1, 90: 1} {
		if got, known := ColdWashFactor(FromFahrenheit(f)); math.Abs(got-want) > 1e-9 || !known {
			t.Errorf("%v F: %v, known %v; expected %v", f, got, known, want)
		}
	}
	if got, known := ColdWashFactor(FromFahrenheit(65)); math.Abs(got-math.Sqrt(3)) > 1e-9 || !known {
		t.Errorf("65 F: %v, %v; expected the geometric mean of 1 and 3", got, known)
	}
	if _, known := ColdWashFactor(FromFahrenheit(49)); known {
		t.Error("49 F is said to be known; nothing is published there")
	}
}

func TestWashingRefuses(t *testing.T) {
	for name, err := range map[string]error{
		"all carried over": second(Residue(500, 500, 2)),
		"none carried":     second(Residue(0, 500, 2)),
		"less than none":   second(Residue(10, 500, -1)),
		"not a volume":     second(Residue(10, Millilitres(math.NaN()), 2)),
		"no residue":       second(Changes(10, 500, 0)),
		"all left":         second(Changes(10, 500, 1)),
		"endless":          second(Changes(499.99, 500, 1e-9)),
		"no clearing time": third(FixTime(0, 1, false)),
		"no bath":          third(FixTime(time.Minute, 0, false)),
		"no sheets":        second(Sheets(0, 20)),
		"no area":          second(Sheets(1, 0)),
		"no capacity":      second(Capacity(1000, 0, 20)),
		"no bath volume":   second(Capacity(0, 6, 20)),
		"no stock":         second(StockFor(1, 20, 0)),
		"stock of none":    second(StockIn(nil, 100)),
	} {
		if err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestFixTime(t *testing.T) {
	for _, c := range []struct {
		clearing time.Duration
		baths    int
		tabular  bool
		each     time.Duration
		spent    bool
	}{
		{90 * time.Second, 1, false, 3 * time.Minute, false},
		{90 * time.Second, 2, false, 90 * time.Second, false},
		{90 * time.Second, 3, false, 90 * time.Second, false},
		{90 * time.Second, 1, true, 270 * time.Second, false},
		{90 * time.Second, 2, true, 135 * time.Second, false},
		{450 * time.Second, 1, false, 15 * time.Minute, false}, // at most 15 min: T.O. 33B-1-1 p. 6-77
		{451 * time.Second, 1, false, 902 * time.Second, true},
	} {
		if each, spent, err := FixTime(c.clearing, c.baths, c.tabular); each != c.each || spent != c.spent || err != nil {
			t.Errorf("%+v: %v, %v, %v", c, each, spent, err)
		}
	}
	for now, want := range map[time.Duration]bool{59 * time.Second: false, 119 * time.Second: false, 120 * time.Second: true} {
		if FixerExhausted(time.Minute, now) != want {
			t.Errorf("fresh 1 min, now %v: spent %v; expected %v", now, !want, want)
		}
	}
	if FixerExhausted(0, time.Hour) {
		t.Error("spent, though nobody knows how fast it was fresh")
	}
}

func TestCapacity(t *testing.T) {
	for _, c := range []struct {
		ml            Millilitres
		perLitre, sqi float64
		want          int
	}{{1500, 6, 20, 9}, {1500, 6, 80, 2}, {1000, 8, 80, 2}, {999, 6, 20, 5}, {100, 6, 20, 0}, {300, 10, 20, 3}} {
		if n, err := Capacity(c.ml, c.perLitre, c.sqi); n != c.want || err != nil {
			t.Errorf("%+v: %d, %v", c, n, err)
		}
	}
}

// Ice from a freezer at -18 °C, by hand: a kilogram of bath from 24 to 20 °C gives 16,744 J; a gram takes 2.1 x 18 + 334 +
// 4.186 x 20 = 455.52 J: 36.76 g.
func TestIceBelowZero(t *testing.T) {
	if g, err := (StandingBath{Volume: 1000, T: 24}).IceToReach(20, -18); err != nil || math.Abs(g-16744/455.52) > 1e-9 {
		t.Errorf("%g g, %v; expected 36.76", g, err)
	}
	for text, want := range map[string]Celsius{"-18": -18, "-18C": -18, "0F": FromFahrenheit(0), "-4F": FromFahrenheit(-4), "0": 0} {
		if got, err := ParseIceTemperature(text, ScaleC); err != nil || math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	if got, err := ParseIceTemperature("-4", ScaleF); err != nil || math.Abs(float64(got+20)) > 1e-9 {
		t.Errorf("-4 on the person's scale: %v, %v", got, err)
	}
	for _, text := range []string{"", "4", "40F", "-80", "--3", "cold"} {
		if got, err := ParseIceTemperature(text, ScaleC); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// A bath made so warm by StartFor is at its temperature when the time is up, by the course that the dose goes by; water
// poured as PouredFor says comes to its temperature with the vessel.
func TestReadyWhenTheFilmGoesIn(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d := Drift{Settle: Celsius(rapid.Float64Range(15, 28).Draw(r, "settles")), Tau: time.Duration(rapid.IntRange(600, 6000).Draw(r, "tau")) * time.Second}
		to, after := Celsius(rapid.Float64Range(18, 24).Draw(r, "to")), time.Duration(rapid.IntRange(0, 1200).Draw(r, "after"))*time.Second
		start, err := d.StartFor(to, after)
		if err != nil {
			return
		}
		if got := (Course{Readings: []Point{{T: start}}, Drift: &d}).At(after); math.Abs(float64(got-to)) > 1e-9 {
			r.Fatalf("%v after %v; expected %v", got, after, to)
		}
		vessel := StandingBath{Vessel: rapid.Float64Range(0, 2000).Draw(r, "heat"), T: Celsius(rapid.Float64Range(5, 35).Draw(r, "vessel")),
			Volume: Millilitres(rapid.Float64Range(200, 5000).Draw(r, "v"))}
		poured, err := PouredFor(to, vessel)
		if err != nil {
			r.Fatal(err)
		}
		water := WaterHeat * float64(vessel.Volume) // J/K
		if got := (vessel.Vessel*float64(vessel.T) + water*float64(poured)) / (vessel.Vessel + water); math.Abs(got-float64(to)) > 1e-9 {
			r.Fatalf("%v with the vessel; expected %v", got, to)
		}
	})
	// 1.5 L into 400 g of plastic at 16 °C for 20 °C: 760 J/K x 4 K / 6279 J/K = 0.484 °C warmer
	if poured, err := PouredFor(20, StandingBath{Volume: 1500, Vessel: 760, T: 16}); err != nil || math.Abs(float64(poured)-20.484) > 1e-3 {
		t.Errorf("%v, %v; expected 20.484", poured, err)
	}
	if _, err := (Drift{Settle: 18}).StartFor(20, time.Minute); err == nil {
		t.Error("without a time constant")
	}
}

// The cold by hand: fixing takes twice as long for each 18 F below 68 F (TM 11-2323 para 33c). A fixer that cleared in 60 s and
// takes 90 s after ten sheets serves twenty until it takes 120 s. Three sheets fit where rounding says just under three.
func TestClearingByHand(t *testing.T) {
	for _, c := range []struct{ test, at, times float64 }{{68, 50, 2}, {50, 32, 2}, {50, 68, 0.5}, {32, 68, 0.25}, {80, 70, 1}} {
		if got := ClearingAt(time.Minute, FromFahrenheit(c.test), FromFahrenheit(c.at)); math.Abs(got.Minutes()-c.times) > 1e-9 {
			t.Errorf("from %g to %g F: %v; expected %g min", c.test, c.at, got, c.times)
		}
	}
	if area, ok := AreaByClearing(time.Minute, 90*time.Second, 10); !ok || area != 20 {
		t.Errorf("%g, %v; expected 20", area, ok)
	}
	if area, ok := AreaByClearing(1, 2, 0.5); !ok || area != 0.5 {
		t.Errorf("%g, %v; expected 0.5", area, ok)
	}
	if !FixerExhausted(1, 2) {
		t.Error("twice as long, and not spent")
	}
	for perLitre, want := range map[float64]int{3 * (1 - 2e-10): 3, 3 * (1 - 1e-9): 2} {
		if n, err := Capacity(1000, perLitre, SheetArea); err != nil || n != want {
			t.Errorf("%v sheets a litre: %d, %v; expected %d", perLitre, n, err, want)
		}
	}
	if MinDepth != 0.5*2.54 || StackDepth != 2.5 { // SS0509 p. 18, half an inch; a stack an inch, common practice
		t.Errorf("depths of %v and %v", MinDepth, StackDepth)
	}
}
