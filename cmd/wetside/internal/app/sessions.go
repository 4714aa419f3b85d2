package app

// What is said of a session that is not there, or that another wetside has.

import (
	"errors"
	"fmt"
	"io/fs"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/journal"
)

func SessionNotFound(id string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("session %q: not found", safetext.Clean(id))
	}
	return err
}

// SessionRunning reports whether some process carries out the newest session that is open.
func SessionRunning() bool {
	store := journal.Default()
	e, open := store.NewestOpen()
	if !open {
		return false
	}
	_, held := store.HeldBy(e.ID)
	return held
}
