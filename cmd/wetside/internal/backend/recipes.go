package backend

// Recipes for the screens: listed, read, saved, copied.

import (
	"errors"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// recipeFiles are the recipes, shipped and the person's own.
type recipeFiles struct{ env *app.Env }

// KeepRecipe writes a recipe into the folder of the person's own, under a name that
// is not taken there.
func (r recipeFiles) KeepRecipe(kept sequence.Recipe) (string, error) {
	folder := app.RecipesFolder()
	if folder == "" {
		return "", errors.New("no home folder is known; expected one for recipes")
	}
	text, err := app.CheckedRecipeText(kept)
	if err != nil {
		return "", err
	}
	return app.WriteUnderFreeName(folder, app.FileNameOf(kept.Title), text)
}

// RecipeText is a recipe's file as it is.
func (r recipeFiles) RecipeText(name string) ([]byte, error) {
	return recipes.Source(name, app.RecipesFolder())
}

// SaveRecipe writes a recipe's text among the person's own and tells its name. With was,
// in place of the recipe of that name, as long as its file still reads like that; with none,
// as a new one with every key explained below it, under a name like that one that is not taken.
func (r recipeFiles) SaveRecipe(name string, was, text []byte) (string, error) {
	folder := app.RecipesFolder()
	if folder == "" {
		return "", errors.New("no home folder is known; expected one for recipes")
	}
	if _, err := recipes.Read("the recipe", text); err != nil {
		return "", err
	}
	if was == nil {
		return app.WriteUnderFreeName(folder, app.FileNameOf(name), app.WithKeyReference(text))
	}
	path, err := recipes.OwnPath(name, folder)
	if err != nil {
		return "", err
	}
	return name, app.ReplaceFile(path, was, text)
}

// copyRecipe makes a recipe of the person's own from a shipped one, as wetside new
// does, and tells its name.
func (r recipeFiles) copyRecipe(name string) (string, error) {
	text, err := r.env.NewRecipeText(name)
	if err != nil {
		return "", err
	}
	return app.WriteUnderFreeName(app.RecipesFolder(), name+"-own", text)
}

func (r recipeFiles) Recipes() []recipes.Entry { return recipes.List(app.RecipesFolder()) }

func (r recipeFiles) Recipe(name string) (sequence.Recipe, error) {
	return app.FindPlainRecipe(name)
}
