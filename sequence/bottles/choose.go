package bottles

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/sequence"
)

// Choose chooses from the bottles that could serve, of each bath the one mixed last
// first: that one, or the one that the words name by its name or by enough of its
// beginning. It errs, as a FieldError, for a name that is none of theirs or is two.
func Choose(w sequence.RawConditions, could []sequence.OpenBottle) ([]sequence.OpenBottle, error) {
	if w.Bottles == sequence.FreshBathsWord {
		return nil, nil
	}
	var kept []sequence.OpenBottle
	take := func(k sequence.OpenBottle) bool {
		if slices.ContainsFunc(kept, func(o sequence.OpenBottle) bool { return o.Bath == k.Bath }) {
			return false
		}
		kept = append(kept, k)
		return true
	}
	if w.Bottles != "" && w.Bottles != sequence.OpenBottlesWord {
		for name := range strings.SplitSeq(w.Bottles, ",") {
			k, err := bottleNamed(could, strings.TrimSpace(name))
			if err == nil && !take(k) {
				err = fmt.Errorf("%q: another bottle serves as %q already; expected one for each bath", name, k.Bath)
			}
			if err != nil {
				return nil, sequence.FieldError{Field: "bottles", Err: err}
			}
		}
	}
	for _, k := range could {
		take(k)
	}
	return kept, nil
}

// bottleNamed is the bottle called so, or the only one whose name begins so.
func bottleNamed(could []sequence.OpenBottle, name string) (sequence.OpenBottle, error) {
	nameOf := func(k sequence.OpenBottle) string { return k.Bottle }
	if found := ByNameOrPrefix(could, nameOf, name); len(found) == 1 {
		return found[0], nil
	}
	return sequence.OpenBottle{}, fmt.Errorf("%q; expected %s", name, sequence.OneOf(append([]string{sequence.OpenBottlesWord, sequence.FreshBathsWord}, Names(could, nameOf)...)))
}

// ByNameOrPrefix are those of a list that a name may mean: the one of that name, or all whose
// names begin so.
func ByNameOrPrefix[T any](list []T, nameOf func(T) string, name string) []T {
	var found []T
	for _, one := range list {
		if nameOf(one) == name {
			return []T{one}
		}
		if name != "" && strings.HasPrefix(nameOf(one), name) {
			found = append(found, one)
		}
	}
	return found
}

// Names are the names of a list, in its order.
func Names[T any](list []T, nameOf func(T) string) []string {
	var names []string
	for _, one := range list {
		names = append(names, nameOf(one))
	}
	return names
}
