package app

import (
	"testing"

	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
)

// A new recipe is the shipped one to the byte, its comments with it, and the
// explanation below it, once.
func TestNewIsACopy(t *testing.T) {
	hometest.New(t)
	for _, e := range recipes.ShippedEntries() {
		text, err := (&Env{}).NewRecipeText(e.Name)
		shipped, _ := recipes.ShippedSource(e.Name)
		if err != nil || string(text) != string(shipped)+string(recipes.KeyReference) {
			t.Errorf("%s: not a copy: %v", e.Name, err)
		}
		if _, err := recipes.Read(e.Name, text); err != nil {
			t.Errorf("%s: %v", e.Name, err)
		}
	}
}
