package backend

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
)

// A new recipe is written as wetside new writes it, and never over another.
func TestSaveRecipeAnew(t *testing.T) {
	hometest.New(t)
	h := recipeFiles{&app.Env{}}
	text, _ := recipes.ShippedSource("tern-hangers")
	want, err := h.env.NewRecipeText("tern-hangers")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"tern-125-at-home", "tern-125-at-home-2"} {
		got, err := h.SaveRecipe("Tern 125, at home", nil, text)
		kept, _ := os.ReadFile(filepath.Join(app.RecipesFolder(), name+".toml"))
		if err != nil || got != name || !bytes.Equal(kept, want) {
			t.Errorf("%q, %v, %d bytes of %d", got, err, len(kept), len(want))
		}
	}
	if _, err := h.SaveRecipe("broken", nil, []byte("title = 1")); err == nil {
		t.Error("a broken one was written")
	}
}

// One that is changed is written in its place, a link stays a link, and what another
// program wrote meanwhile is never lost.
func TestSaveRecipeInPlace(t *testing.T) {
	hometest.New(t)
	h := recipeFiles{&app.Env{}}
	was, _ := recipes.ShippedSource("tern-hangers")
	elsewhere := filepath.Join(t.TempDir(), "tern.toml")
	path := filepath.Join(app.RecipesFolder(), "mine.toml")
	if err := os.MkdirAll(app.RecipesFolder(), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(elsewhere, was, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, path); err != nil {
		t.Skip(err)
	}
	if _, err := os.ReadFile(path); err != nil {
		t.Skip("links cannot be read here: ", err) // under wine
	}
	text := []byte(strings.Replace(string(was), "box_speed      = 125", "box_speed      = 100", 1))
	if name, err := h.SaveRecipe("mine", was, text); err != nil || name != "mine" {
		t.Fatal(name, err)
	}
	got, err := h.RecipeText("mine")
	info, _ := os.Lstat(path)
	if err != nil || !bytes.Equal(got, text) || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("%v, mode %v\n%s", err, info.Mode(), got)
	}
	if _, err := h.SaveRecipe("mine", was, was); err == nil {
		t.Error("written over a file that had changed")
	}
	if list, _ := os.ReadDir(filepath.Dir(elsewhere)); len(list) != 1 {
		t.Errorf("%d files were left", len(list))
	}
}
