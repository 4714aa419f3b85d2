package planning

import (
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
