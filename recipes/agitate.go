package recipes

// agitate and temperature: the two tables inside a step.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

var agitations = []sequence.AgitationMode{sequence.AtRest, sequence.Continuous, sequence.Shuffle}

// agitation reads a word, or a table that says when to agitate.
func (f field) agitation() sequence.Agitation {
	switch f.val.(type) {
	case nil, string:
		mode, _ := word(f, agitations, sequence.AtRest)
		return sequence.Agitation{Mode: mode}
	}
	if _, ok := f.val.(map[string]any); !ok {
		f.wrongType(listed(agitations)+`; or a table such as { for = "10s", every = "60s" }`, "")
		return sequence.Agitation{}
	}
	t, _ := f.table(agitateKeys...)
	a := sequence.Agitation{Mode: sequence.Pattern}
	a.Initial, _ = t.at("initial").duration(orNone)
	t.at("for").need("how long each agitation lasts")
	a.For, _ = t.at("for").duration(anyTime)
	every, at := t.at("every"), t.at("at")
	a.Every, _ = every.duration(anyTime)
	a.At = at.fractions()
	if every.present() == at.present() {
		f.fault("when to agitate is not clear", "either every or at", "")
	}
	if a.Every > 0 && a.For >= a.Every {
		t.at("for").fault("agitation lasts "+shown(a.For)+" in every "+shown(a.Every), "for shorter than every",
			`agitation without rest is "continuous"`)
	}
	return a
}

// fractions reads rising fractions of the step's length.
func (f field) fractions() []float64 {
	var out []float64
	for _, el := range f.list(`a list of fractions, such as ["1/3", "2/3"]`) {
		x, ok := el.fraction()
		if !ok {
			continue
		}
		if n := len(out); n > 0 && x <= out[n-1] {
			el.fault("the fractions do not rise", "each greater than the one before", "")
		}
		out = append(out, x)
	}
	return out
}

// reference reads for which temperature a step's time is meant.
func (f field) reference() *sequence.Temperature {
	t, ok := f.table(temperatureKeys...)
	if !ok {
		return nil
	}
	out := &sequence.Temperature{}
	t.at("at").need("the temperature for which the time is meant, such as 20")
	at, known := t.at("at").temperature()
	out.At = at
	out.Coefficient, _ = t.at("coefficient").number(1, 6)
	out.Table = t.at("table").timesByTemperature()
	out.Range = t.at("range").temperatureRange()
	if t.at("coefficient").present() && t.at("table").present() {
		t.at("table").fault("a table beside a coefficient", "only one of them", "")
	}
	if n := len(out.Table); known && n > 1 && (at < out.Table[0].T-1 || at > out.Table[n-1].T+1) {
		t.at("at").fault("more than 1 degree outside the table", "a temperature that the table covers", "")
	}
	return out
}

// timesByTemperature reads pairs of temperature and time; warmer comes later and is
// never slower.
func (f field) timesByTemperature() []chem.Pair {
	const expected = `pairs of temperature and time, such as [[18, "10m"], [24, "6m12s"]]`
	var table []chem.Pair
	rows := f.list(expected)
	for _, row := range rows {
		a, b, ok := row.pair(expected)
		if !ok {
			continue
		}
		at, ok1 := a.temperature()
		time, ok2 := b.duration(anyTime)
		if !ok1 || !ok2 {
			continue
		}
		pair := chem.Pair{T: at, Seconds: sequence.Seconds(time)}
		if n := len(table); n > 0 && at <= table[n-1].T {
			a.fault("the temperatures do not rise", "each warmer than the one before", "")
		} else if n > 0 && pair.Seconds > table[n-1].Seconds {
			b.fault("a longer time when warmer", "times that fall as it gets warmer", "")
		}
		table = append(table, pair)
	}
	if len(rows) == 1 {
		f.fault("a single pair", "at least two pairs", "")
	}
	return table
}

// temperatureRange reads the lowest and the highest temperature.
func (f field) temperatureRange() []chem.Celsius {
	const expected = "the lowest and the highest temperature, such as [18, 24]"
	if !f.present() {
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
		f.fault("the range is empty", "the lower temperature first", "")
	}
	return []chem.Celsius{low, high}
}
