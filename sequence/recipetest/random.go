package recipetest

// Recipes and conditions drawn at random, for property tests.

import (
	"slices"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// anyAgitation draws every form of agitation.
func anyAgitation(t *rapid.T) sequence.Agitation {
	switch rapid.IntRange(0, 4).Draw(t, "agitation") {
	case 0:
		return sequence.Agitation{Mode: sequence.Still}
	case 1:
		return sequence.Agitation{Mode: sequence.Continuous}
	case 2:
		return Periodic(Seconds(t, 0, 60, "initial"), Seconds(t, 1, 10, "for"), Seconds(t, 15, 90, "every"))
	case 3:
		return sequence.Agitation{Mode: sequence.Pattern, Initial: Seconds(t, 0, 60, "initial"), For: Seconds(t, 1, 10, "for"), At: []float64{1. / 3, 2. / 3}}
	}
	return sequence.Agitation{Mode: sequence.Shuffle}
}

// AnyRecipe draws a recipe of any kind: all vessels, agitations, lights, waits, film tests.
func AnyRecipe(t *rapid.T) sequence.Recipe {
	v := rapid.SampledFrom(append(slices.Clone(sequence.Vessels), sequence.Tray, sequence.Tray)).Draw(t, "vessel")
	n := rapid.IntRange(1, 5).Draw(t, "sheets")
	var steps []sequence.Step
	fixed := false
	add := func(k sequence.Kind, lo, hi int) *sequence.Step {
		st := Agitated(Bath(k, Seconds(t, lo, hi, string(k))), anyAgitation(t))
		st.WaitForPerson = rapid.IntRange(0, 5).Draw(t, "waits") == 0
		if fixed && rapid.Bool().Draw(t, "lit") {
			st.RoomLight = sequence.White
		}
		if rapid.IntRange(0, 2).Draw(t, "drains") == 0 {
			st.Drain = Seconds(t, 1, 8, "drain")
		}
		fixed = fixed || k == sequence.Fix
		steps = append(steps, st)
		return &steps[len(steps)-1]
	}
	if rapid.Bool().Draw(t, "presoak") {
		add(sequence.Presoak, 20, 90)
	}
	dev := add(sequence.Develop, 120, 400)
	if rapid.Bool().Draw(t, "temperature") {
		*dev = At(*dev, 20, 2.2)
	}
	if !v.Closed() && rapid.IntRange(0, 2).Draw(t, "film test") == 0 {
		times := make([]sequence.Elapsed, n)
		for k := range times {
			times[k] = Seconds(t, 120, 400, "pull")
		}
		*dev = Pulled(*dev, times...)
		dev.LeaveTogether = len(steps) > 1 && rapid.IntRange(0, 2).Draw(t, "together") == 0
		dev.StraightOn = !dev.LeaveTogether && rapid.Bool().Draw(t, "straight on")
	}
	straight := dev.StraightOn // dev is of a list that grows
	if stop := add(sequence.StopBath, 10, 60); straight {
		stop.Bath, stop.WaitForPerson = "stop", false
	}
	if straight || rapid.Bool().Draw(t, "goes on") {
		fix := add(sequence.Fix, 60, 200)
		fix.LightsOnAfter = min(fix.Time, Seconds(t, 0, 60, "light after"))
		wash := add(sequence.Wash, 20, 200)
		if rapid.Bool().Draw(t, "hangs") {
			wash.Vessel = sequence.Hangers
		}
	}
	r := Recipe(v, n, steps...)
	if straight {
		r.Baths = []sequence.Bath{AcidStop()}
	}
	r.Load.ReverseEvery = Seconds(t, 0, 60, "reverse")
	r.Load.TransferEvery, r.Load.LoadEvery = Seconds(t, 9, 15, "move every"), Seconds(t, 5, 20, "load every")
	r.Film.WetWarning = Seconds(t, 10, 200, "warning")
	if rapid.Bool().Draw(t, "limited") {
		r.Film.WetLimit.All = Seconds(t, 200, 1500, "limit")
	}
	return r
}

// AcidStop is a stop bath that ends development.
func AcidStop() sequence.Bath {
	return sequence.Bath{ID: "stop", Volume: 1000, Parts: []chem.Part{{Name: "acid", Parts: 1}, {Name: "water", Parts: 20}}}
}

// RandomStack draws a recipe in a tray, or a film test anywhere it is allowed.
func RandomStack(t *rapid.T) (sequence.Recipe, sequence.Conditions) {
	n := rapid.IntRange(2, 12).Draw(t, "sheets")
	v := rapid.SampledFrom([]sequence.Vessel{sequence.Tray, sequence.Tray, sequence.Tray, sequence.Hangers, sequence.SingleTrays, sequence.Cradle, sequence.Drum}).Draw(t, "vessel")
	r := Recipe(v, n)
	r.Load.LoadEvery = Seconds(t, 1, 30, "load every")
	r.Load.ShuffleEvery = Seconds(t, 1, 20, "turn every")
	r.Load.TransferEvery = Seconds(t, 1, 30, "move every")
	var steps []sequence.Step
	add := func(k sequence.Kind, lo, hi int) *sequence.Step {
		st := Bath(k, Seconds(t, lo, hi, string(k)))
		st.Agitate.Mode = rapid.SampledFrom([]sequence.AgitationMode{sequence.Still, sequence.Continuous, sequence.Shuffle, sequence.Shuffle}).Draw(t, "agitation")
		if rapid.Bool().Draw(t, "drains") {
			st.Drain = Seconds(t, 1, 12, "drain")
		}
		st.OutsideWetTime = rapid.IntRange(0, 9).Draw(t, "dry") == 0
		steps = append(steps, st)
		return &steps[len(steps)-1]
	}
	if rapid.Bool().Draw(t, "presoak") {
		add(sequence.Presoak, 30, 300)
	}
	dev := add(sequence.Develop, 200, 900)
	if rapid.Bool().Draw(t, "temperature") {
		*dev = At(*dev, 20, rapid.Float64Range(1.5, 3).Draw(t, "coefficient"))
	}
	if !v.Closed() && rapid.IntRange(0, 3).Draw(t, "film test") == 0 {
		times := make([]sequence.Elapsed, n)
		for k := range times {
			times[k] = Seconds(t, 200, 900, "pull")
		}
		*dev = Pulled(*dev, times...)
		dev.LeaveTogether = len(steps) > 1 && rapid.Bool().Draw(t, "out together")
		dev.StraightOn = !dev.LeaveTogether && rapid.Bool().Draw(t, "straight on")
	}
	straight := dev.StraightOn
	add(sequence.StopBath, 20, 60).Bath = "stop"
	hung := false
	baths := rapid.SliceOfN(rapid.SampledFrom([]sequence.Kind{sequence.Fix, sequence.Rinse, sequence.WashingAid, sequence.Wash}), 0, 3).Draw(t, "baths")
	if straight {
		baths = append([]sequence.Kind{sequence.Fix}, baths...)
	}
	for _, k := range baths {
		st := add(k, 20, 400)
		if !hung && rapid.IntRange(0, 3).Draw(t, "into hangers") == 0 {
			*st, hung = Into(*st, rapid.SampledFrom([]sequence.Vessel{sequence.Hangers, sequence.Cradle}).Draw(t, "into")), true
		}
	}
	load := r.Load
	r = Recipe(v, n, steps...)
	r.Load = load
	if straight {
		r.Baths = []sequence.Bath{AcidStop()}
	}
	r.Film.WetWarning = Seconds(t, 1, 400, "warning")
	switch rapid.IntRange(0, 3).Draw(t, "limits") {
	case 0:
		r.Film.WetLimit.All = Seconds(t, 450, 3000, "limit")
	case 1:
		r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{v: Seconds(t, 450, 3000, "limit"), sequence.Hangers: Seconds(t, 600, 6000, "limit hung")}
	case 2:
		r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Cradle: Seconds(t, 450, 3000, "limit elsewhere")}
	}
	return r, RandomConditions(t)
}

func RandomConditions(t *rapid.T) sequence.Conditions {
	var c sequence.Conditions
	if rapid.Bool().Draw(t, "warm") {
		c.BathTemperature = Degrees(rapid.Float64Range(17, 26).Draw(t, "temp"))
		c.ReadBefore = Seconds(t, 0, 600, "read before")
	}
	if rapid.IntRange(0, 3).Draw(t, "drifts") == 0 {
		c.SettlesAt, c.TimeConstant = Degrees(rapid.Float64Range(15, 25).Draw(t, "towards")), Seconds(t, 600, 7200, "drift")
	}
	if rapid.IntRange(0, 3).Draw(t, "factored") == 0 {
		c.Factor = rapid.Float64Range(0.7, 1.4).Draw(t, "factor")
	}
	return c
}

// Seconds draws a whole number of seconds.
func Seconds(t *rapid.T, lo, hi int, label string) sequence.Elapsed {
	return sequence.Elapsed(rapid.IntRange(lo, hi).Draw(t, label)) * Second
}
