package recipes

// [film]: what the film is and what it can stand.

import (
	"time"

	"example.org/wetside/sequence"
)

const defaultWetWarning = 3 * time.Minute // wet_warning where the recipe is silent

func readFilm(f field) sequence.Film {
	film := sequence.Film{Sensitivity: sequence.Pan, WetWarning: defaultWetWarning}
	t, ok := f.require(`[film] with a name`).table(filmKeys...)
	if !ok {
		return film
	}
	film.Name, _ = t.lookup("name").require("the film's name").text(80, false)
	film.Sensitivity, _ = enum(t.lookup("sensitivity"), sensitivities, sequence.Pan)
	film.BoxSpeed, _ = t.lookup("box_speed").number(0.1, 100_000)
	film.ExposureIndex, _ = t.lookup("exposure_index").number(0.1, 100_000)
	film.WetLimit = readWetLimit(t.lookup("wet_limit"))
	t.lookup("wet_warning").replace(&film.WetWarning, timeLimits)
	film.Reciprocity = readReciprocity(t.lookup("reciprocity"))
	return film
}

var sensitivities = []sequence.Sensitivity{sequence.Pan, sequence.Ortho, sequence.Blue}

// readWetLimit reads one value for all vessels, or a table of values by vessel.
func readWetLimit(f field) sequence.WetLimit {
	var limit sequence.WetLimit
	if _, ok := f.value.(map[string]any); !ok {
		limit.All, _ = f.duration(timeLimits)
		return limit
	}
	vessels := asStrings(sequence.Vessels)
	t, _ := f.table(vessels...)
	limit.ByVessel = map[sequence.Vessel]sequence.Elapsed{}
	for _, v := range vessels {
		if d, ok := t.lookup(v).duration(timeLimits); ok {
			limit.ByVessel[sequence.Vessel(v)] = d
		}
	}
	if len(t.values) == 0 {
		f.addFault("an empty table", `a time for each vessel, such as { tray = "18m" }`, "")
	}
	return limit
}

// readReciprocity reads pairs of metered and corrected times, both rising, none
// corrected to less than was metered.
func readReciprocity(f field) *sequence.Reciprocity {
	t, ok := f.table(reciprocityKeys...)
	if !ok {
		return nil
	}
	const expected = `pairs of metered and corrected time, such as [["1s", "1.4s"], ["8s", "40s"]]`
	out := &sequence.Reciprocity{}
	out.Longest, _ = t.lookup("longest").duration(exposure)
	list := t.lookup("table").require(expected)
	for row := range pairs(list, expected, 2, timeWithin(exposure), timeWithin(exposure)) {
		metered, corrected := row.first, row.second
		if corrected < metered {
			row.b.addFault("corrected to less than was metered", "at least "+formatLimit(metered), "")
		}
		if n := len(out.Table); n > 0 && (metered <= out.Table[n-1][0] || corrected <= out.Table[n-1][1]) {
			row.pair.addFault("the times do not rise", "each pair longer than the one before", "")
		}
		out.Table = append(out.Table, [2]sequence.Elapsed{metered, corrected})
	}
	return out
}
