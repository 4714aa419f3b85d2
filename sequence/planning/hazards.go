package planning

// What a bath's parts are by their names, and what any place with chemicals needs.

import (
	"slices"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// WorkplaceCodes are the cautions of any place where baths are mixed and used (common
// practice, no source; local codes come before them).
var WorkplaceCodes = []string{"eye-rinse", "labels", "no-food"}

// workplace adds them where any bath is more than water, and that dry agents want their
// order.
func (w *cautionBuilder) workplace() {
	baths := w.p.Recipe.Baths
	if !slices.ContainsFunc(baths, func(b sequence.Bath) bool { return !OnlyWater(&b) }) {
		return
	}
	for _, code := range WorkplaceCodes {
		w.add(sequence.Note, code, sequence.Values{})
	}
	for _, b := range baths {
		var names []string
		for _, p := range b.Parts {
			names = append(names, p.Name)
		}
		if _, _, _, dry := DryAgents(names); dry {
			w.add(sequence.Note, "mixing-order", sequence.Values{Bath: b.ID})
		}
	}
}

// DryAgents picks metol and a sulphite out of agents that are dissolved; false where they
// are not both there, and the order does not matter.
func DryAgents(names []string) (metol, sulphite string, others []string, ok bool) {
	for _, name := range names {
		switch p := (chem.Part{Name: name}); {
		case metol == "" && PartNamed(p, "metol"):
			metol = name
		case sulphite == "" && PartNamed(p, "sulphite", "sulfite"):
			sulphite = name
		default:
			others = append(others, name)
		}
	}
	return metol, sulphite, others, metol != "" && sulphite != ""
}

// OnlyWater reports whether a bath is water and nothing else.
func OnlyWater(b *sequence.Bath) bool {
	return len(b.Parts) > 0 && !slices.ContainsFunc(b.Parts, func(p chem.Part) bool { return !PartNamed(p, "water") })
}

// PartNamed reports whether a part's name has any of these in it.
func PartNamed(p chem.Part, names ...string) bool {
	lower := strings.ToLower(p.Name)
	return slices.ContainsFunc(names, func(n string) bool { return strings.Contains(lower, n) })
}
