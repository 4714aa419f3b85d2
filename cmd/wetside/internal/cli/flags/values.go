package flags

// Values of flags: days, volumes, temperatures and times as they are typed.

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// LongTime reads a length of time that may be days: "60d"; 0 for none.
func LongTime(flag, text string) (time.Duration, error) {
	if text == "" {
		return 0, nil
	}
	const mostDays = 3650
	if days, found := strings.CutSuffix(strings.ReplaceAll(strings.TrimSuffix(text, "ays"), " ", ""), "d"); found {
		n, err := strconv.Atoi(days)
		if err != nil || n < 1 || n > mostDays {
			return 0, app.Usagef("--%s: %q; expected 1d to %dd, or a time such as 2h", flag, text, mostDays)
		}
		return time.Duration(n) * 24 * time.Hour, nil
	}
	d, err := chem.ParseDuration(text)
	if err != nil {
		return 0, app.Usagef("--%s: %q; expected days such as 30d, or a time such as 2h", flag, text)
	}
	return d, nil
}

func Day(flag, text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return t, app.Usagef("--%s: %q; expected a day such as 2026-11-25", flag, text)
	}
	return t, nil
}

// VolumeArg is a volume above zero.
func VolumeArg(text string) (chem.Millilitres, error) {
	v, err := chem.ParseMillilitres(text)
	if err == nil && v <= 0 {
		err = fmt.Errorf("%q; expected above zero", text)
	}
	if err != nil {
		return 0, app.Usagef("VOLUME: %v", err)
	}
	return v, nil
}

// WaterTemperature reads a flag that must be there.
func WaterTemperature(flag, text string, h sequence.Units) (chem.Celsius, error) {
	if text == "" {
		return 0, app.Usagef("--%s TEMPERATURE is missing", flag)
	}
	t, err := h.ParseTemperature(text)
	if err == nil && !(t >= 0 && t <= 100) {
		err = fmt.Errorf("%s is no water; expected %s to %s", t.InBoth(), chem.Celsius(0).InBoth(), chem.Celsius(100).InBoth())
	}
	if err != nil {
		return 0, app.Usagef("--%s: %v", flag, err)
	}
	return t, nil
}

// Volume reads a flag that must be there.
func Volume(flag, text string) (chem.Millilitres, error) {
	if text == "" {
		return 0, app.Usagef("--%s VOLUME is missing", flag)
	}
	v, err := chem.ParseMillilitres(text)
	if err != nil {
		return 0, app.Usagef("--%s: %v", flag, err)
	}
	return v, nil
}

// TimeOrSeconds is a time, or a plain number of seconds; 0 is allowed.
func TimeOrSeconds(text string) (time.Duration, error) {
	if s, err := strconv.ParseFloat(text, 64); err == nil && s >= 0 && s < 1e6 {
		return time.Duration(s * float64(time.Second)), nil
	}
	return chem.ParseDuration(text)
}

// FilmArea is the area of one side of so many sheets, in square inches.
func FilmArea(sheets int, size string) (float64, error) {
	of, ok := recipes.ParseSize(size)
	if !ok {
		return 0, app.Usagef("--size: %q; expected a sheet size such as 4x5in or 9x12cm", size)
	}
	n, err := chem.Sheets(sheets, of.SquareInches())
	return n * chem.SheetArea, err
}

// BathOf is the bath named, or that of the first developing step.
func BathOf(r sequence.Recipe, id string) (sequence.Bath, error) {
	if id == "" {
		for _, st := range r.Steps {
			if st.Kind == sequence.Develop && st.Bath != "" {
				id = st.Bath
				break
			}
		}
	}
	var known []string
	for _, b := range r.Baths {
		if b.ID == id && len(b.Parts) > 0 {
			return b, nil
		}
		if len(b.Parts) > 0 {
			known = append(known, b.ID)
		}
	}
	return sequence.Bath{}, fmt.Errorf("bath %q: the recipe says no parts for it; expected %s", id, sequence.OneOf(known))
}
