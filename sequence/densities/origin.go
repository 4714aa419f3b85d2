package densities

// The readings that a recipe's times were found by, and the response that they tell.

import (
	"slices"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
)

// readingsMark stands before the names of readings in what a recipe says of its origin, as Refine has it.
const readingsMark = "readings "

// ReadingsOf are the kept readings that a recipe's growth says it was found by; none where one of them is not there, or cannot
// be read.
func ReadingsOf(r *sequence.Recipe, kept []ReadingsFile) (list []ReadingsFile) {
	_, names, ok := strings.Cut(r.Origin(), readingsMark)
	if !ok {
		return nil
	}
	for name := range strings.SplitSeq(names, ", ") {
		i := slices.IndexFunc(kept, func(k ReadingsFile) bool { return k.Name == strings.TrimSuffix(name, readingsSuffix) && k.Err == nil })
		if i < 0 {
			return nil
		}
		list = append(list, kept[i])
	}
	return list
}

// ResponseOfReadings is the response of readings of one film, by the times that their sessions tell. It errs where they
// tell no growth.
func ResponseOfReadings(list []ReadingsFile, open Opener) (Response, error) {
	var families []curve.Family
	q := curve.Request{}
	for _, k := range list {
		f, _, _, _ := k.FamilyBySession(open)
		families = append(families, f)
		if anchor, err := curve.ParseExposed(k.Readings.Metered); err == nil {
			q.SpeedAnchor = &anchor
		}
	}
	family := curve.Join(families...)
	r, err := curve.Evaluate(family, q)
	if err != nil {
		return Response{}, err
	}
	return ResponseOf(family, r, q)
}
