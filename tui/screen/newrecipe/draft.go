package newrecipe

import (
	"fmt"
	"maps"
	"slices"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/style"
)

// The recipe in the making: what it starts from, what was changed, and what is saved of it.

// draft is that recipe.
type draft struct {
	defaults   sequence.RawConditions // the person's units and own wet limit
	entries    []recipes.Entry        // those that it can start from
	from       recipes.Entry          // the one it starts from
	inPlace    bool                   // which is changed itself
	mayReplace bool                   // it may be: it is the person's own and was asked for by its name
	source     []byte                 // its file
	base       sequence.Recipe

	set    map[string]string // what was changed, by the field's id, as typed
	result result            // what comes of it
}

// usualStart is what a new recipe starts from where nothing is said, as wetside new does.
const usualStart = "tern-hangers"

// begun is a draft of a recipe that is to be changed or started from, or of none.
func begun(b Backend, defaults sequence.RawConditions, from string) (draft, error) {
	d := draft{defaults: defaults, set: map[string]string{}, entries: recipes.Usable(b.Recipes())}
	at := d.index(from)
	if from == "" {
		at = max(0, d.index(usualStart))
	}
	if at < 0 || len(d.entries) == 0 {
		return d, fmt.Errorf("recipe %q cannot be changed here: it is not there or has faults", from)
	}
	d, err := d.startFrom(b, d.entries[at])
	d.mayReplace = d.from.IsOwn && from != ""
	d.inPlace = d.mayReplace
	return d.applied(), err
}

func (d draft) index(name string) int {
	return slices.IndexFunc(d.entries, func(e recipes.Entry) bool { return e.Name == name })
}

// startFrom reads what the draft starts from. What was changed stays changed.
func (d draft) startFrom(b Backend, e recipes.Entry) (draft, error) {
	source, err := b.RecipeText(e.Name)
	if err != nil {
		return d, err
	}
	base, err := recipes.Read(e.Name, source)
	if err != nil {
		return d, err
	}
	d.from, d.source, d.base = e, source, base
	return d.applied(), nil
}

// with is the draft with a field changed.
func (d draft) with(id, value string) draft {
	if d.set = maps.Clone(d.set); d.set == nil {
		d.set = map[string]string{}
	}
	d.set[id] = value
	return d.applied()
}

// without is the draft with a field as it was at first.
func (d draft) without(id string) draft {
	d.set = maps.Clone(d.set)
	delete(d.set, id)
	return d.applied()
}

// turned takes the next choice of a field or the one before.
func (d draft) turned(b Backend, f field, by int) (draft, error) {
	n := len(f.choices)
	now := max(0, slices.IndexFunc(f.choices, func(c choice) bool { return c.value == f.get(&d.result.recipe) }))
	next := f.choices[(now+by+n)%n].value
	switch f.id {
	case asNew:
		d.inPlace = next == ""
		return d.applied(), nil
	case startsFrom:
		return d.startFrom(b, d.entries[d.index(next)])
	}
	return d.with(f.id, next), nil
}

// file is what is saved: the recipe's text, its name, and what its file was where it is changed
// itself; nil where it is a new one.
func (d draft) file() (name string, was, text []byte, err error) {
	text, err = recipes.Rewrite(d.from.Name, d.source, d.result.recipe)
	if d.inPlace {
		return d.from.Name, d.source, text, err
	}
	if err != nil {
		text = recipes.Write(d.result.recipe, d.result.recipe.Title)
	}
	return d.result.recipe.Title, nil, text, nil
}

// applied makes the recipe of what was changed, and plans it.
func (d draft) applied() draft {
	r := cloned(d.base)
	res := result{faults: map[string]string{}}
	for i := 0; ; i++ { // what a field changes may make others appear behind it
		list := fieldsOf(&d.base, &r, d.defaults.Units)
		if i >= len(list) {
			break
		}
		if list[i].id == "title" && !d.inPlace {
			r.Title = usualTitle(&r)
		}
		if v, changed := d.set[list[i].id]; changed {
			if err := list[i].put(&r, v); err != nil {
				res.faults[list[i].id] = plain(err)
			}
		}
	}
	keepDark(&r)
	keepPace(&r)
	res.recipe = r
	if len(res.faults) == 0 {
		res.check(fieldsOf(&d.base, &r, d.defaults.Units), d.defaults.OwnLimit, d.defaults.Units)
	}
	for _, f := range fieldsOf(&d.base, &r, d.defaults.Units) {
		if res.faults[f.id] != "" {
			res.wrong = append(res.wrong, f.label)
		}
	}
	d.result = res
	return d
}

// cloned is a recipe that can be changed without changing the other.
func cloned(r sequence.Recipe) sequence.Recipe {
	r.Baths, r.Steps = slices.Clone(r.Baths), slices.Clone(r.Steps)
	r.Film.WetLimit.ByVessel = maps.Clone(r.Film.WetLimit.ByVessel)
	for i := range r.Steps {
		st := &r.Steps[i]
		st.Times, st.PullTimes = slices.Clone(st.Times), slices.Clone(st.PullTimes)
		if st.Temperature != nil {
			t := *st.Temperature
			st.Temperature = &t
		}
	}
	return r
}

// value is what stands in a field: what was typed, where it is wrong.
func (d draft) value(f field) string {
	if v, changed := d.set[f.id]; changed && d.result.faults[f.id] != "" {
		return v
	}
	return f.get(&d.result.recipe)
}

// shown is a field's value as it is read: a choice by its word, nothing as a dash.
func (d draft) shown(f field) string {
	v := d.value(f)
	if i := slices.IndexFunc(f.choices, func(c choice) bool { return c.value == v }); i >= 0 {
		return style.Value(safetext.Clean(f.choices[i].word))
	}
	if f.show != nil && d.result.faults[f.id] == "" {
		v = f.show(&d.result.recipe)
	}
	if v == "" {
		return style.Label("none")
	}
	return style.Value(safetext.Clean(v))
}

// fields are those of what the recipe is now.
func (d draft) fields() []field {
	list := fieldsOf(&d.base, &d.result.recipe, d.defaults.Units)
	return append(d.startFields(), list...)
}

// startFields are what the form starts from: of the person's own recipe whether it is changed
// itself, of a new one which recipe gives what is not typed.
func (d draft) startFields() []field {
	if d.mayReplace {
		return []field{{id: asNew, group: "Recipe", label: "this is", meaning: "Whether the recipe is changed, or stays as it is and a new one is made from it.",
			choices: []choice{{"", d.from.Name + ", changed"}, {"new", "a new recipe"}},
			get: func(*sequence.Recipe) string {
				if d.inPlace {
					return ""
				}
				return "new"
			}}}
	}
	var list []choice
	for _, e := range d.entries {
		list = append(list, choice{e.Name, e.Title})
	}
	return []field{{id: startsFrom, group: "Recipe", label: "starts from", choices: list, usual: "one that is handled as you handle film",
		meaning: "The recipe that gives everything you do not change: its baths, their cautions, its rhythm. Times of shipped recipes are invented: test your own film.",
		get:     func(*sequence.Recipe) string { return d.from.Name }}}
}

// The ids of those two.
const (
	asNew      = "as new"
	startsFrom = "starts from"
)

// firstFault is the first field with a fault; -1 where none has one.
func (d draft) firstFault() int {
	return slices.IndexFunc(d.fields(), func(f field) bool { return d.result.faults[f.id] != "" })
}
