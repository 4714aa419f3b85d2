package sessiontest

import (
	"testing"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// StarterPlan is the plan of a shipped recipe.
func StarterPlan(t testing.TB, name string, c sequence.Conditions) *sequence.Plan {
	t.Helper()
	r, err := recipes.Find(name, "")
	if err != nil {
		t.Fatal(err)
	}
	p, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatal(name, err)
	}
	return &p
}
