package newrecipe

// The fields, in the order in which a box of film is opened: the film, and how it is handled.
// What is usual is common practice, no source, where nothing else is said.

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// field is one of them. A field with choices is changed by ← and →, one that is typed by enter.
type field struct {
	id, group, label string
	meaning          string
	usual            string // a usual value; "" where there is none
	key              string // how a fault of the file names it
	choices          []choice
	get              func(*sequence.Recipe) string
	put              func(*sequence.Recipe, string) error
	words            bool                          // letters are no keys on it: they type it anew
	show             func(*sequence.Recipe) string // as it is read; nil for as it is typed
}

type choice struct{ value, word string }

// errNeeded is of a field that cannot be left empty.
var errNeeded = errors.New("needs a value")

// form makes the fields of a recipe that started as another.
type form struct {
	base, r *sequence.Recipe
	units   sequence.Units
	list    []field
}

func (f *form) add(group string, list ...field) {
	for _, one := range list {
		one.group = group
		f.list = append(f.list, one)
	}
}

// fieldsOf are all fields of a recipe that started as base.
func fieldsOf(base, r *sequence.Recipe, u sequence.Units) []field {
	f := &form{base: base, r: r, units: u}
	f.film()
	f.handling()
	f.developer()
	f.timeAndTemperature()
	f.otherBaths()
	f.wetLimit()
	f.name()
	return f.list
}

func (f *form) film() {
	f.add("Film",
		field{id: "film", words: true, label: "film", key: "film.name", meaning: "The film's name and its speed, as the box says it: Plover 80.",
			get: func(r *sequence.Recipe) string { return r.Film.Name },
			put: func(r *sequence.Recipe, s string) error { r.Film.Name = s; return needed(s) }},
		field{id: "box", label: "box speed", key: "film.box_speed", meaning: "The ISO speed printed on the box, such as 80. Empty where it is not known.",
			get: func(r *sequence.Recipe) string { return number(r.Film.BoxSpeed) },
			put: func(r *sequence.Recipe, s string) error { return parseNumber(s, &r.Film.BoxSpeed) }},
		field{id: "ei", label: "exposed at", key: "film.exposure_index", usual: "the box speed, or half of it in a staining developer",
			meaning: "The exposure index that the light meter was set to, and that these developing times are for.",
			get:     func(r *sequence.Recipe) string { return number(r.Film.ExposureIndex) },
			put:     func(r *sequence.Recipe, s string) error { return parseNumber(s, &r.Film.ExposureIndex) }},
		field{id: "sensitivity", label: "sensitivity", key: "film.sensitivity", usual: "all colours",
			meaning: "Which colours of light the film sees. What sees all colours needs total darkness until it is fixed; only a film that is " +
				"blind to red may be handled under a safelight that was tested.",
			choices: []choice{{"pan", "all colours: total darkness"}, {"ortho", "all but red: deep red safelight"}, {"blue", "blue alone: red or amber safelight"}},
			get:     func(r *sequence.Recipe) string { return string(r.Film.Sensitivity) },
			put:     func(r *sequence.Recipe, s string) error { r.Film.Sensitivity = sequence.Sensitivity(s); return nil }})
}

func (f *form) handling() {
	var vessels []choice
	for _, v := range sequence.Vessels {
		vessels = append(vessels, choice{string(v), say.Vessel(v)})
	}
	f.add("How it is handled",
		field{id: "vessel", label: "developed in", key: "load.vessel", choices: vessels, usual: "trays for a stack that is shuffled, hangers for tanks",
			meaning: "What the film lies or hangs in. Several sheets in trays are a stack: they go in one by one and are shuffled, the bottom sheet " +
				"to the top. In all others the sheets move together.",
			get: func(r *sequence.Recipe) string { return string(r.Load.Vessel) },
			put: func(r *sequence.Recipe, s string) error { r.Load.Vessel = sequence.Vessel(s); return nil }},
		field{id: "sheets", label: "sheets", key: "load.sheets", meaning: "How many sheets are developed at once. The plan can change it for a day.", usual: "4 to 8",
			get: func(r *sequence.Recipe) string { return strconv.Itoa(r.Load.Sheets) }, put: putSheets},
		field{id: "size", label: "size", key: "load.size", meaning: "The sheets' two sides, in inches or centimetres.", usual: "4x5in, 5x7in, 8x10in, 9x12cm, 13x18cm",
			get: func(r *sequence.Recipe) string { return r.Load.Size.Name },
			put: func(r *sequence.Recipe, s string) error {
				size, ok := recipes.ParseSize(s)
				if !ok {
					return errors.New(`expected two sides such as 4x5in or 9x12cm`)
				}
				r.Load.Size = size
				return nil
			}},
		f.agitation())
}

func putSheets(r *sequence.Recipe, s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 200 {
		return errors.New("expected a whole number, 1 to 200")
	}
	if n != r.Load.Sheets {
		r.Load.Names = nil // they were of as many sheets as there were
	}
	r.Load.Sheets = n
	return nil
}

// rhythms are the usual ways to agitate a developer.
var rhythms = []sequence.Agitation{
	{Mode: sequence.Shuffle}, {Mode: sequence.Continuous},
	{Mode: sequence.Pattern, Initial: time.Minute, For: 10 * time.Second, Every: time.Minute},
	{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 10 * time.Second, Every: time.Minute},
	{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 5 * time.Second, Every: 30 * time.Second},
	{Mode: sequence.Still},
}

// agitation is how the developer is agitated: a usual rhythm or the recipe's own.
func (f *form) agitation() field {
	list := rhythms
	if st := develop(f.base); st != nil && rhythmIn(list, st.Agitate) < 0 {
		list = append([]sequence.Agitation{st.Agitate}, list...)
	}
	var words []choice
	for i, a := range list {
		words = append(words, choice{strconv.Itoa(i), f.agitationWord(a)})
	}
	return field{id: "agitation", label: "agitation", key: f.stepKey(sequence.Develop, "agitate"), choices: words,
		usual:   "shuffle in a stack; 10 s each minute after a longer beginning in hangers",
		meaning: "How the film is agitated in the developer. The test of a time holds for the agitation it was made with.",
		get: func(r *sequence.Recipe) string {
			if st := develop(r); st != nil && rhythmIn(list, st.Agitate) >= 0 {
				return strconv.Itoa(rhythmIn(list, st.Agitate))
			}
			return ""
		},
		put: func(r *sequence.Recipe, s string) error {
			i, err := strconv.Atoi(s)
			if st := develop(r); err == nil && st != nil && i < len(list) {
				st.Agitate = list[i]
			}
			return nil
		}}
}

// agitationWord is a rhythm in words; shuffling is for a stack alone, elsewhere it is continuous.
func (f *form) agitationWord(a sequence.Agitation) string {
	st := &sequence.PlanStep{Step: sequence.Step{Agitate: a}, Stack: true}
	return say.StepAgitation(&sequence.Plan{Recipe: *f.r}, st)
}

// rhythmIn is where a rhythm stands in a list; -1 for nowhere.
func rhythmIn(list []sequence.Agitation, a sequence.Agitation) int {
	return slices.IndexFunc(list, func(b sequence.Agitation) bool {
		return a.Mode == b.Mode && a.Initial == b.Initial && a.For == b.For && a.Every == b.Every && slices.Equal(a.At, b.At)
	})
}

func (f *form) name() {
	f.add("Name",
		field{id: "title", words: true, label: "title", key: "title", meaning: "What the list shows. The file is named after it.", usual: "the film and how it is handled",
			get: func(r *sequence.Recipe) string { return r.Title },
			put: func(r *sequence.Recipe, s string) error { r.Title = s; return needed(s) }},
		field{id: "about", words: true, label: "in a few words", key: "about", meaning: "Whatever is worth knowing before it is chosen. It may stay empty.",
			get: func(r *sequence.Recipe) string { return r.About },
			put: func(r *sequence.Recipe, s string) error { r.About = s; return nil }})
}

func needed(s string) error {
	if s == "" {
		return errNeeded
	}
	return nil
}

// unlessZero is a value as it is written; "" for none.
func unlessZero[T comparable](v T, written func(T) string) string {
	var none T
	if v == none {
		return ""
	}
	return written(v)
}

// parse reads a value, the least or more; nothing typed is zero.
func parse[T ~float64 | ~int64](s string, to *T, read func(string) (T, error), least T, expected string) error {
	var v T
	if s != "" {
		var err error
		if v, err = read(s); err != nil || !(v >= least) {
			return errors.New("expected " + expected)
		}
	}
	*to = v
	return nil
}

func number(v float64) string {
	return unlessZero(v, func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) })
}

func parseNumber(s string, to *float64) error {
	read := func(s string) (float64, error) { return strconv.ParseFloat(s, 64) }
	return parse(s, to, read, math.SmallestNonzeroFloat64, "a number")
}

func clock(d sequence.Elapsed) string { return unlessZero(d, sequence.FormatElapsed) }

func parseTime(s string, to *sequence.Elapsed) error {
	return parse(s, to, chem.ParseDuration, time.Second, "a time such as 7:30, 7m30s or 90s")
}

// neededTime reads a length of time that cannot be left out.
func neededTime(s string, to *sequence.Elapsed) error {
	if s == "" {
		return errNeeded
	}
	return parseTime(s, to)
}

// plain is an error without the noun that some begin with: the label says it.
func plain(err error) string {
	s := err.Error()
	for _, noun := range []string{"mix: ", "temperature: ", "volume: ", "time: "} {
		s = strings.TrimPrefix(s, noun)
	}
	return s
}
