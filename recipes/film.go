package recipes

// [film]: what the film is and what it can stand.

import (
	"time"

	"example.org/wetside/sequence"
)

const usualWarning = 3 * time.Minute // wet_warning where the recipe is silent

func (f field) film() sequence.Film {
	film := sequence.Film{Sensitivity: sequence.Pan, WetWarning: usualWarning}
	f.need(`[film] with a name`)
	t, ok := f.table(filmKeys...)
	if !ok {
		return film
	}
	t.at("name").need("the film's name")
	film.Name, _ = t.at("name").text(80, false)
	film.Sensitivity, _ = word(t.at("sensitivity"), sensitivities, sequence.Pan)
	film.BoxSpeed, _ = t.at("box_speed").number(0.1, 100_000)
	film.ExposureIndex, _ = t.at("exposure_index").number(0.1, 100_000)
	film.WetLimit = t.at("wet_limit").wetLimit()
	t.at("wet_warning").replace(&film.WetWarning, anyTime)
	film.Reciprocity = t.at("reciprocity").reciprocity()
	return film
}

var sensitivities = []sequence.Sensitivity{sequence.Pan, sequence.Ortho, sequence.Blue}

// wetLimit reads one value for all vessels, or a table of values by vessel.
func (f field) wetLimit() sequence.WetLimit {
	var limit sequence.WetLimit
	if _, ok := f.val.(map[string]any); !ok {
		limit.All, _ = f.duration(anyTime)
		return limit
	}
	vessels := plain(sequence.Vessels)
	t, _ := f.table(vessels...)
	limit.ByVessel = map[sequence.Vessel]sequence.Elapsed{}
	for _, v := range vessels {
		if d, ok := t.at(v).duration(anyTime); ok {
			limit.ByVessel[sequence.Vessel(v)] = d
		}
	}
	if len(t.vals) == 0 {
		f.fault("an empty table", `a time for each vessel, such as { tray = "18m" }`, "")
	}
	return limit
}

// reciprocity reads pairs of metered and corrected times, both rising, none
// corrected to less than was metered.
func (f field) reciprocity() *sequence.Reciprocity {
	t, ok := f.table(reciprocityKeys...)
	if !ok {
		return nil
	}
	const expected = `pairs of metered and corrected time, such as [["1s", "1.4s"], ["8s", "40s"]]`
	out := &sequence.Reciprocity{}
	out.Longest, _ = t.at("longest").duration(exposure)
	t.at("table").need(expected)
	rows := t.at("table").list(expected)
	for _, row := range rows {
		a, b, ok := row.pair(expected)
		if !ok {
			continue
		}
		metered, ok1 := a.duration(exposure)
		corrected, ok2 := b.duration(exposure)
		if !ok1 || !ok2 {
			continue
		}
		if corrected < metered {
			b.fault("corrected to less than was metered", "at least "+shown(metered), "")
		}
		if n := len(out.Table); n > 0 && (metered <= out.Table[n-1][0] || corrected <= out.Table[n-1][1]) {
			row.fault("the times do not rise", "each pair longer than the one before", "")
		}
		out.Table = append(out.Table, [2]sequence.Elapsed{metered, corrected})
	}
	if len(rows) == 1 {
		t.at("table").fault("a single pair", "at least two pairs", "")
	}
	return out
}
