package app

// Files of the person's own: written under a free name, or in place of what was read.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/places"
)

// WriteUnderFreeName writes a recipe into a folder under a name that is not taken there.
func WriteUnderFreeName(folder, base string, text []byte) (string, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	for n := 1; ; n++ {
		name := base
		if n > 1 {
			name += "-" + strconv.Itoa(n)
		}
		err := WriteNewFile(filepath.Join(folder, name+".toml"), text)
		if !errors.Is(err, fs.ErrExist) {
			return name, err
		}
	}
}

// FileNameOf is a title as a file's name: its ASCII letters and digits, hyphens between.
func FileNameOf(title string) string {
	const longest = 60
	return cmp.Or(places.Slug(title, longest), "tested")
}

// takenError says that a file is there already, and stays as it is.
type takenError struct{ name, instead string }

func (e takenError) Error() string {
	return safetext.Clean(e.name) + ": is there already, and stays as it is" + e.instead
}
func (takenError) Unwrap() error { return fs.ErrExist }

// noFolder is of a file in a folder that is not there.
func noFolder(name string) error {
	return fmt.Errorf("%s: there is no such folder; expected one that is there (mkdir makes it)", safetext.Clean(filepath.Dir(name)))
}

// WriteNewFile writes a file that is not there yet.
func WriteNewFile(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return takenError{name, "; expected a new name"}
	case errors.Is(err, fs.ErrNotExist):
		return noFolder(name)
	case err != nil:
		return err
	}
	return writeClose(f, text)
}

func WriteNewRecipe(path string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	err := WriteNewFile(path, text)
	if errors.Is(err, fs.ErrExist) {
		return takenError{path, " (wetside edit opens it)"}
	}
	return err
}

// ReplaceFile writes a file anew, as long as it still holds what it was read as. At no
// moment is it half written; a link stays one.
func ReplaceFile(path string, was, text []byte) error {
	path, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	switch now, err := os.ReadFile(path); {
	case err != nil:
		return err
	case !bytes.Equal(now, was):
		return fmt.Errorf("%s: was changed by another program meanwhile, and stays as it is", safetext.Clean(path))
	}
	return writeBeside(path, text)
}
