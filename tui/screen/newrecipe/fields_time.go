package newrecipe

// The fields of the developer's time and temperature, and of how long the film stands being wet.

import (
	"errors"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

func (f *form) timeAndTemperature() {
	const group = "Time and temperature"
	st := develop(f.base)
	if st == nil {
		return
	}
	switch {
	case len(st.Times) > 0:
		for i, t := range st.Times {
			f.add(group, field{id: "time:" + t.Name, label: "time for " + say.Minus(t.Name), key: f.stepKey(sequence.Develop, "times"),
				meaning: "How long the film develops at the temperature below, for this contrast.", usual: "as your own test found it",
				get: func(r *sequence.Recipe) string { return clock(develop(r).Times[i].Time) },
				put: func(r *sequence.Recipe, s string) error { return neededTime(s, &develop(r).Times[i].Time) }})
		}
	case len(st.PullTimes) > 0:
		f.add(group, field{id: "pull", label: "times of the test", key: f.stepKey(sequence.Develop, "take_out"), usual: "5:00 7:00 9:30 13:00",
			meaning: "A developing time for each sheet of the film test, spaces between.",
			get: func(r *sequence.Recipe) string {
				var list []string
				for _, d := range develop(r).PullTimes {
					list = append(list, clock(d))
				}
				return strings.Join(list, " ")
			}, put: putPullTimes})
	default:
		f.add(group, field{id: "time", label: "developing time", key: f.stepKey(sequence.Develop, "time"), usual: "as your own test found it, or the film's maker says",
			meaning: "How long the film develops at the temperature below. The plan changes it for the temperature of the day.",
			get:     func(r *sequence.Recipe) string { return clock(develop(r).Time) },
			put:     func(r *sequence.Recipe, s string) error { return neededTime(s, &develop(r).Time) }})
	}
	f.add(group,
		field{id: "temperature", label: "temperature", key: f.stepKey(sequence.Develop, "temperature.at"), usual: say.Temperature(20, f.units),
			meaning: "The developer's temperature for which the time was found.",
			get: func(r *sequence.Recipe) string {
				if t := develop(r).Temperature; t != nil {
					return say.TypedTemperature(t.At, f.units)
				}
				return ""
			}, put: f.putTemperature,
			show: func(r *sequence.Recipe) string {
				if t := develop(r).Temperature; t != nil {
					return say.Temperature(t.At, f.units)
				}
				return ""
			}},
		field{id: "coefficient", label: "coefficient", key: f.stepKey(sequence.Develop, "temperature.coefficient"), usual: "2.2; most developers lie between 1.9 and 2.6",
			meaning: "How many times as fast the developer works when it is 10 °C warmer. A table of times in the recipe's file stands in its place.",
			get: func(r *sequence.Recipe) string {
				if t := develop(r).Temperature; t != nil {
					return number(t.Coefficient)
				}
				return ""
			}, put: putCoefficient})
}

func putPullTimes(r *sequence.Recipe, s string) error {
	var list []sequence.Elapsed
	for _, word := range strings.Fields(s) {
		var d sequence.Elapsed
		if err := neededTime(word, &d); err != nil {
			return err
		}
		list = append(list, d)
	}
	if len(list) == 0 {
		return errNeeded
	}
	develop(r).PullTimes = list
	return nil
}

func (f *form) putTemperature(r *sequence.Recipe, s string) error {
	st := develop(r)
	if s == "" {
		st.Temperature = nil
		return nil
	}
	at, err := f.units.ParseTemperature(s)
	if err != nil {
		return err
	}
	if st.Temperature == nil {
		st.Temperature = &sequence.Temperature{}
	}
	st.Temperature.At = at
	return nil
}

func putCoefficient(r *sequence.Recipe, s string) error {
	t := develop(r).Temperature
	if t == nil {
		return errors.New("the temperature above is missing")
	}
	var k float64
	if err := parseNumber(s, &k); err != nil {
		return err
	}
	if k != 0 && (k < 1 || k > 6) {
		return errors.New("expected a number from 1 to 6")
	}
	if t.Coefficient = k; k != 0 {
		t.Table = nil
	}
	return nil
}

// wetLimit is how long the film stands being wet, in each vessel that it is put into.
func (f *form) wetLimit() {
	vessels := []sequence.Vessel{f.r.Load.Vessel}
	for _, st := range f.r.Steps {
		if st.Vessel != "" && !slices.Contains(vessels, st.Vessel) {
			vessels = append(vessels, st.Vessel)
		}
	}
	for _, v := range vessels {
		f.add("Wet limit", field{id: "wet:" + string(v), label: "in " + say.Vessel(v), key: "film.wet_limit",
			usual: "18:00 to 30:00 in trays for a soft film, over an hour in hangers; empty where it is not known",
			meaning: "How long the film may be wet before its emulsion softens or frills. An alarm sounds when it is reached. " +
				"It is your own experience; no maker states it.",
			get: func(r *sequence.Recipe) string {
				d, _ := r.Film.WetLimit.For(v)
				return clock(d)
			},
			put: func(r *sequence.Recipe, s string) error { return putWetLimit(r, vessels, v, s) }})
	}
	f.add("Wet limit", field{id: "warning", label: "warn before", key: "film.wet_warning", usual: "3:00",
		meaning: "How long before the limit a warning sounds.",
		get:     func(r *sequence.Recipe) string { return clock(r.Film.WetWarning) },
		put:     func(r *sequence.Recipe, s string) error { return neededTime(s, &r.Film.WetWarning) }})
}

// putWetLimit states the limit of one vessel; one that was for all becomes one for each.
func putWetLimit(r *sequence.Recipe, vessels []sequence.Vessel, v sequence.Vessel, s string) error {
	var d sequence.Elapsed
	if err := parseTime(s, &d); err != nil {
		return err
	}
	by := map[sequence.Vessel]sequence.Elapsed{}
	for u, limit := range r.Film.WetLimit.ByVessel {
		by[u] = limit
	}
	if all := r.Film.WetLimit.All; all > 0 {
		if len(vessels) == 1 {
			r.Film.WetLimit.All = d
			return nil
		}
		for _, u := range vessels {
			by[u] = all
		}
	}
	if by[v] = d; d == 0 {
		delete(by, v)
	}
	r.Film.WetLimit = sequence.WetLimit{ByVessel: by}
	if len(by) == 0 {
		r.Film.WetLimit.ByVessel = nil
	}
	return nil
}
