package holders

// A sheet as a form, and back.

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence/holders"
	"example.org/wetside/tui/form"
	"example.org/wetside/tui/say"
)

// The fields.
const (
	sheetHolder = iota
	sheetFilm
	sheetOther
	sheetRange
	sheetWants
	sheetGradient
	sheetExposure
	sheetShadow
	sheetExposed
	sheetNote
	sheetDone
)

const (
	otherFilm  = "another film"
	asRange    = "what the range asks for, else N"
	byGradient = "a gradient"
)

var developments = []string{asRange, "N−2", "N−1", "N", "N+1", "N+2", byGradient}

// sheetForm asks for a sheet; of one that is changed with its values.
func (m Model) sheetForm(e *holders.ExposedSheet) form.Form {
	done := "Change it"
	if e == nil {
		e, done = &holders.ExposedSheet{Exposed: m.env.Now()}, "Put it on the list"
		if m.at < len(m.list) {
			e.Film = m.list[m.at].Film // the next of a set, most of the time
		}
	}
	films := append(slices.Clone(m.films), otherFilm)
	film, other := slices.Index(films, e.Film), ""
	if film < 0 {
		film = 0
		if e.Film != "" || len(m.films) == 0 {
			film, other = len(films)-1, e.Film
		}
	}
	wanted, gradient := slices.Index(developments, say.Minus(e.Development)), ""
	switch {
	case e.Development == "":
		wanted = 0
	case wanted < 0:
		wanted, gradient = len(developments)-1, e.Development
	}
	return form.Form{Live: true, Fields: []form.Field{
		{Label: "holder", Text: e.Name(), Means: "The holder's number and its side, as it is written on it: 3A. In a session the sheet has this name."},
		{Label: "film", Choices: films, Chosen: film, Means: "The film. Where it is not among these, choose another film and type its name beneath."},
		{Label: "other film", Text: other, Usual: "–", Means: "Its name, as in its recipe. It counts where another film is chosen."},
		{Label: "subject", Text: rangeTyped(e.Range), Unit: "stops", Usual: "not metered", Means: "The subject's range from shadow to highlight in stops, such as 7 or 6.5."},
		{Label: "development", Choices: developments, Chosen: wanted, Means: "N, less (N−1) or more (N+1) contrast; what the subject's range asks for; or an average gradient, typed beneath."},
		{Label: "gradient", Text: gradient, Usual: "–", Means: "An average gradient such as 0.62. It counts where a gradient is chosen."},
		{Label: "exposure", Text: e.Exposure, Usual: "–", Means: "As you note it: 1/4 f22."},
		{Label: "shadow", Text: e.Shadow, Usual: "–", Means: "Where the shadow was placed, as you note it: -2, or on III."},
		{Label: "exposed", Text: dayTyped(e.Exposed), Usual: "today", Means: "The day of the exposure, such as 2026-11-30: only a session after it can have developed the sheet."},
		{Label: "note", Text: e.Note, Usual: "–", Means: "What it shows, or anything else."},
		{Label: done, Do: true, Means: "The list lies among your data as a plain file, a line a sheet."},
	}}
}

func rangeTyped(stops float64) string {
	if stops == 0 {
		return ""
	}
	return strconv.FormatFloat(stops, 'f', -1, 64)
}

func dayTyped(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format(time.DateOnly)
}

// typedSheet is the sheet that the form asks for; with an error the field that it is of.
func (m Model) typedSheet() (holders.ExposedSheet, int, error) {
	f := m.sheet.Fields
	e := holders.ExposedSheet{}
	if m.from != nil {
		e = *m.from // it stays the line of its file
	}
	name := f[sheetHolder].Value()
	e.Holder = cmp.Or(strings.TrimRightFunc(name, func(r rune) bool { return r < '0' || r > '9' }), name)
	e.Side = strings.TrimPrefix(name, e.Holder)
	if name == "" {
		return e, sheetHolder, errors.New("no holder; expected its number and side, such as 3A")
	}
	at := sheetFilm
	if e.Film = f[sheetFilm].Value(); e.Film == otherFilm {
		e.Film, at = f[sheetOther].Value(), sheetOther
	}
	if e.Film == "" {
		return e, at, errors.New("no film; expected its name")
	}
	e.Exposure, e.Shadow, e.Note = f[sheetExposure].Value(), f[sheetShadow].Value(), f[sheetNote].Value()
	if at, err := m.numbers(&e); err != nil {
		return e, at, err
	}
	return e, faultyField(&e), e.Check()
}

// numbers reads range, development and day.
func (m Model) numbers(e *holders.ExposedSheet) (at int, err error) {
	f := m.sheet.Fields
	e.Range = 0
	if text := f[sheetRange].Value(); text != "" {
		if e.Range, err = form.Number(text, "stops, such as 7 or 6.5"); err != nil {
			return sheetRange, err
		}
	}
	switch e.Development = strings.ReplaceAll(f[sheetWants].Value(), "−", "-"); e.Development {
	case asRange:
		e.Development = ""
	case byGradient:
		if e.Development = f[sheetGradient].Value(); e.Development == "" {
			return sheetGradient, errors.New("no gradient; expected one such as 0.62")
		}
	}
	text := f[sheetExposed].Value()
	if text == dayTyped(e.Exposed) && m.from != nil {
		return 0, nil
	}
	now := m.env.Now()
	if text == "" || text == dayTyped(now) {
		e.Exposed = now.Truncate(time.Second)
		return 0, nil
	}
	if e.Exposed, err = time.ParseInLocation(time.DateOnly, text, time.Local); err != nil {
		return sheetExposed, fmt.Errorf("%q is no day; expected one such as 2026-11-30", text)
	}
	return 0, nil
}

// faultyField is where Check's fault stands, if there is one: that which spoils a sheet that is
// sound without it.
func faultyField(e *holders.ExposedSheet) int {
	for _, one := range []struct {
		at    int
		sheet holders.ExposedSheet
	}{
		{sheetHolder, holders.ExposedSheet{Holder: e.Holder, Side: e.Side, Film: "x"}},
		{sheetFilm, holders.ExposedSheet{Holder: "1", Film: e.Film}},
		{sheetRange, holders.ExposedSheet{Holder: "1", Film: "x", Range: e.Range}},
		{sheetGradient, holders.ExposedSheet{Holder: "1", Film: "x", Development: e.Development}},
		{sheetExposure, holders.ExposedSheet{Holder: "1", Film: "x", Exposure: e.Exposure}},
		{sheetShadow, holders.ExposedSheet{Holder: "1", Film: "x", Shadow: e.Shadow}},
	} {
		if one.sheet.Check() != nil {
			return one.at
		}
	}
	return sheetNote
}
