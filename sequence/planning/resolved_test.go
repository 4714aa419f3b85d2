package planning

import (
	"errors"
	"slices"
	"testing"

	"example.org/wetside/sequence"
)

// Resolved is the plan of a recipe that must have one.
func Resolved(t testing.TB, r sequence.Recipe, c sequence.Conditions) *sequence.Plan {
	t.Helper()
	p, err := Resolve(r, c)
	if err != nil {
		t.Fatalf("Resolve: %v", err)
	}
	return &p
}

// refusedAs fails unless a plan was refused for just these reasons; for none where there is none.
func refusedAs(t testing.TB, what string, err error, codes ...string) {
	t.Helper()
	var why sequence.RefusedError
	if errors.As(err, &why); err != nil && len(why) == 0 {
		t.Errorf("%s: %v; expected a refusal", what, err)
	}
	var got []string
	for _, r := range why {
		got = append(got, r.Code)
	}
	if !slices.Equal(got, codes) {
		t.Errorf("%s: refused as %q; expected %q", what, got, codes)
	}
}
