package sequence

// Conditions and readings as people type them, on the command line, in plain
// mode and on the screens.

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
)

// RawConditions are conditions as typed; an empty one means: as the recipe says.
type RawConditions struct {
	Temp         string // T, or T@D: read D before the first sheet goes in
	SettlesAt    string
	TimeConstant string
	Sheets       string
	Vessel       string
	Development  string
	Factor       string
	WetLimit     string
	Clearing     string // D, or D,tabular for such an emulsion
	Bottles      string // kept; fresh: all mixed anew; or bottles by their names, between commas
	TotalSheets  string // sheets in all, done in rounds; no condition of one session

	Units    Units     // how temperatures are typed
	OwnLimit *WetLimit // from the person's settings; nil for none

	Thermometers *Thermometers   // from the person's settings; nil for exact ones
	OwnSessions  *SessionScatter // from the notebook; nil for none
}

// tabular stands behind a clearing time.
const tabular = ",tabular"

// ProposedWord is the word of Temp for what the plan proposes where the bath drifts.
const ProposedWord = "proposed"

// The words of Baths that are no bottle's name.
const (
	OpenBottlesWord = "kept"  // from bottles that stand open, of each bath the one mixed last
	FreshBathsWord  = "fresh" // from none
)

// FieldError says what is wrong with one of the words.
type FieldError struct {
	Field string // its flag: temp, towards, wet-limit ...
	Err   error
}

// Error names the word as a flag.
func (e FieldError) Error() string { return fmt.Sprintf("--%s: %v", e.Field, e.Err) }

// Unwrap is what is wrong with it.
func (e FieldError) Unwrap() error { return e.Err }

// Retyped is what the person chose in conditions, as typed: all but the temperatures,
// which are another day's.
func (c Conditions) Retyped() RawConditions {
	w := RawConditions{Vessel: string(c.Vessel), Development: c.Development}
	if c.Sheets != 0 {
		w.Sheets = strconv.Itoa(c.Sheets)
	}
	if c.Factor != 0 {
		w.Factor = strconv.FormatFloat(c.Factor, 'g', -1, 64)
	}
	if c.WetLimit != 0 {
		w.WetLimit = c.WetLimit.String()
	}
	if c.Clearing != 0 {
		w.Clearing = c.Clearing.String()
		if c.Tabular {
			w.Clearing += tabular
		}
	}
	return w
}

// Or is the words with those of another where there is none.
func (w RawConditions) Or(o RawConditions) RawConditions {
	for _, pair := range [][2]*string{{&w.Temp, &o.Temp}, {&w.SettlesAt, &o.SettlesAt}, {&w.TimeConstant, &o.TimeConstant},
		{&w.Sheets, &o.Sheets}, {&w.Vessel, &o.Vessel}, {&w.Development, &o.Development}, {&w.Factor, &o.Factor},
		{&w.WetLimit, &o.WetLimit}, {&w.Clearing, &o.Clearing}} {
		*pair[0] = cmp.Or(*pair[0], *pair[1])
	}
	return w
}

// Conditions reads the words. The error joins a FieldError for each that cannot
// be read; whether the conditions can be met is for Resolve to say.
func (w RawConditions) Conditions() (Conditions, error) {
	c := Conditions{Vessel: Vessel(w.Vessel), Development: w.Development, OwnLimit: w.OwnLimit, Thermometers: w.Thermometers, OwnSessions: w.OwnSessions}
	var errs []error
	take := func(word, text string, read func(string) error) {
		if text == "" {
			return
		}
		if err := read(text); err != nil {
			errs = append(errs, FieldError{word, err})
		}
	}
	take("temp", w.Temp, func(s string) (err error) {
		if word, ago, dated := strings.Cut(s, "@"); strings.TrimSpace(word) == ProposedWord {
			if c.ProposeTemperature = true; dated {
				err = parseInto(&c.ReadBefore)(strings.TrimSpace(ago))
			}
			if w.SettlesAt == "" && err == nil {
				err = fmt.Errorf("%q: nothing is proposed where the bath does not drift; expected --settles-at and --time-constant too", s)
			}
			return err
		}
		r, err := w.Units.ParseReading(s)
		c.BathTemperature, c.ReadBefore = &r.T, r.Ago
		return err
	})
	take("settles-at", w.SettlesAt, func(s string) error {
		t, err := w.Units.ParseTemperature(s)
		c.SettlesAt = &t
		return err
	})
	take("time-constant", w.TimeConstant, parseInto(&c.TimeConstant))
	take("wet-limit", w.WetLimit, parseInto(&c.WetLimit))
	take("clearing", w.Clearing, func(s string) error {
		s, c.Tabular = strings.CutSuffix(s, tabular)
		return parseInto(&c.Clearing)(strings.TrimSpace(s))
	})
	take("sheets", w.Sheets, func(s string) (err error) {
		c.Sheets, err = strconv.Atoi(s)
		if err != nil || c.Sheets < 1 {
			return fmt.Errorf("%q; expected 1 to 200", s)
		}
		return nil
	})
	take("factor", w.Factor, func(s string) (err error) {
		c.Factor, err = strconv.ParseFloat(s, 64)
		if err != nil || !(c.Factor > 0) {
			return fmt.Errorf("%q; expected 0.1 to 10", s)
		}
		return nil
	})
	if (w.SettlesAt == "") != (w.TimeConstant == "") {
		errs = append(errs, FieldError{"time-constant", errors.New("--settles-at and --time-constant belong together: where the bath settles, and its time constant")})
	}
	return c, errors.Join(errs...)
}

func parseInto(to *time.Duration) func(string) error {
	return func(s string) (err error) {
		*to, err = chem.ParseDuration(s)
		return err
	}
}

// ParseReading reads the developer's temperature, T, or T@D where it was read D
// ago, and the word sure behind it where it is meant however odd: "22.5", "72F",
// "22.5@3m", "31 sure". A number without a letter is on the person's scale.
func (h Units) ParseReading(text string) (TakeReading, error) {
	text, sure := strings.CutSuffix(strings.TrimSpace(text), " sure")
	t, ago, dated := strings.Cut(text, "@")
	r := TakeReading{Source: ByHand, Confirmed: sure, Units: h}
	var err error
	if r.T, err = h.ParseTemperature(strings.TrimSpace(t)); err != nil {
		return r, err
	}
	if dated {
		r.Ago, err = chem.ParseDuration(strings.TrimSpace(ago))
	}
	return r, err
}

// OneOf is the words to choose from, as a sentence lists them.
func OneOf[T ~string](words []T) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = string(w)
	}
	return "one of " + strings.Join(list, ", ")
}
