package recipes

// agitate and temperature: the two tables inside a step.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

var agitations = []sequence.AgitationMode{sequence.Still, sequence.Continuous, sequence.Shuffle}

// readAgitation reads a word, or a table that says when to agitate.
func readAgitation(f field) sequence.Agitation {
	switch f.value.(type) {
	case nil, string:
		mode, _ := enum(f, agitations, sequence.Still)
		return sequence.Agitation{Mode: mode}
	}
	if _, ok := f.value.(map[string]any); !ok {
		f.wrongType(oneOf(agitations)+`; or a table such as { for = "10s", every = "60s" }`, "")
		return sequence.Agitation{}
	}
	t, _ := f.table(agitateKeys...)
	a := sequence.Agitation{Mode: sequence.Pattern}
	a.Initial, _ = t.lookup("initial").duration(timeOrNone)
	a.For, _ = t.lookup("for").require("how long each agitation lasts").duration(timeLimits)
	every, at := t.lookup("every"), t.lookup("at")
	a.Every, _ = every.duration(timeLimits)
	a.At = readFractions(at)
	if every.isSet() == at.isSet() {
		f.addFault("when to agitate is not clear", "either every or at", "")
	}
	if a.Every > 0 && a.For >= a.Every {
		t.lookup("for").addFault("agitation lasts "+formatLimit(a.For)+" in every "+formatLimit(a.Every), "for shorter than every",
			`agitation without rest is "continuous"`)
	}
	return a
}

// readFractions reads rising fractions of the step's length.
func readFractions(f field) []float64 {
	var out []float64
	for _, el := range f.elements(`a list of fractions, such as ["1/3", "2/3"]`) {
		x, ok := el.fraction()
		if !ok {
			continue
		}
		if n := len(out); n > 0 && x <= out[n-1] {
			el.addFault("the fractions do not rise", "each greater than the one before", "")
		}
		out = append(out, x)
	}
	return out
}

// readReference reads for which temperature a step's time is meant.
func readReference(f field) *sequence.Temperature {
	t, ok := f.table(temperatureKeys...)
	if !ok {
		return nil
	}
	const expected = "the temperature for which the time is meant, such as 20"
	out := &sequence.Temperature{}
	at, known := t.lookup("at").require(expected).temperature()
	out.At = at
	out.Coefficient, _ = t.lookup("coefficient").number(1, 6)
	out.Table = readTimesByTemperature(t.lookup("table"))
	out.Range = readTemperatureRange(t.lookup("range"))
	if t.lookup("coefficient").isSet() && t.lookup("table").isSet() {
		t.lookup("table").addFault("a table beside a coefficient", "only one of them", "")
	}
	if n := len(out.Table); known && n > 1 && (at < out.Table[0].T-1 || at > out.Table[n-1].T+1) {
		t.lookup("at").addFault("more than 1 degree outside the table", "a temperature that the table covers", "")
	}
	return out
}

// readTimesByTemperature reads pairs of temperature and time; warmer comes later and is
// never slower.
func readTimesByTemperature(f field) []chem.Pair {
	const expected = `pairs of temperature and time, such as [[18, "10m"], [24, "6m12s"]]`
	var table []chem.Pair
	for row := range pairs(f, expected, 2, field.temperature, timeWithin(timeLimits)) {
		pair := chem.Pair{T: row.first, Seconds: sequence.Seconds(row.second)}
		if n := len(table); n > 0 && pair.T <= table[n-1].T {
			row.a.addFault("the temperatures do not rise", "each warmer than the one before", "")
		} else if n > 0 && pair.Seconds > table[n-1].Seconds {
			row.b.addFault("a longer time when warmer", "times that fall as it gets warmer", "")
		}
		table = append(table, pair)
	}
	return table
}

// readTemperatureRange reads the lowest and the highest temperature.
func readTemperatureRange(f field) []chem.Celsius {
	const expected = "the lowest and the highest temperature, such as [18, 24]"
	if !f.isSet() {
		return nil
	}
	a, b, ok := f.pair(expected)
	if !ok {
		return nil
	}
	low, ok1 := a.temperature()
	high, ok2 := b.temperature()
	if !ok1 || !ok2 {
		return nil
	}
	if low >= high {
		f.addFault("the range is empty", "the lower temperature first", "")
	}
	return []chem.Celsius{low, high}
}
