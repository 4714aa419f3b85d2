package main

// Where the user's files are.

import (
	"os"
	"path/filepath"
)

// ownRecipes is the folder of the user's recipes; "" where there is no home.
func ownRecipes() string {
	base := os.Getenv("XDG_CONFIG_HOME")
	if !filepath.IsAbs(base) {
		home, err := os.UserHomeDir()
		if err != nil {
			return ""
		}
		base = filepath.Join(home, ".config")
	}
	return filepath.Join(base, "wetside", "recipes")
}
