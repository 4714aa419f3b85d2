package main

// Readings of densities, and the recipes that they lead to, for the screens.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

func (h *host) Densities() []notebook.KeptReadings { return desk().List() }

func (h *host) Tablets() []notebook.Tablet { return desk().Tablets() }

func (h *host) NameDensities(film string) string {
	return desk().NewName(h.p.source.Read().Wall, film)
}

func (h *host) KeepDensities(name string, r *curve.Readings) error {
	return desk().Keep(name, r)
}

// KeepRecipe writes a recipe into the folder of the person's own, under a name that
// is not taken there.
func (h *host) KeepRecipe(r sequence.Recipe) (string, error) {
	folder := ownRecipes()
	if folder == "" {
		return "", errors.New("no home folder is known; expected one for recipes")
	}
	text, err := recipeText(r)
	if err != nil {
		return "", err
	}
	return writeFree(folder, slug(r.Title), text)
}

// writeFree writes a recipe into a folder under a name that is not taken there.
func writeFree(folder, base string, text []byte) (string, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	for n := 1; ; n++ {
		name := base
		if n > 1 {
			name += "-" + strconv.Itoa(n)
		}
		err := writeNew(filepath.Join(folder, name+".toml"), text)
		if !errors.Is(err, fs.ErrExist) {
			return name, err
		}
	}
}

// slug is a title as a file's name: its ASCII letters and digits, hyphens between.
func slug(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	const longest = 60
	name := strings.Join(words, "-")
	if len(name) > longest {
		name = strings.Trim(name[:longest], "-")
	}
	if name == "" {
		return "tested"
	}
	return name
}
