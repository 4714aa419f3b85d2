package app

// What is said of a session that is not there, or that another wetside has.

import (
	"errors"
	"fmt"
	"io/fs"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

func SessionNotFound(id string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("session %q: not found; wetside notebook lists them", safetext.Clean(id))
	}
	return err
}

// SessionRunning reports whether some process carries out the session that resume would take up.
func SessionRunning() bool {
	store := journal.Default()
	kept, open := LatestUnfinished(store)
	if !open {
		return false
	}
	_, held := store.HeldBy(kept.ID)
	return held
}

// LatestUnfinished is the session that resume takes up where none is named: of those with film
// before rehearsals the one whose record goes on latest, by its own clock, whatever it is
// called. It may be damaged: then Records are those up to the damage, and Status says so.
func LatestUnfinished(store journal.Store) (latest journal.Recording, ok bool) {
	for _, s := range notebook.List(store) {
		if s.Status != journal.Open && s.Status != journal.Damaged {
			continue
		}
		kept, err := store.Read(s.ID)
		if len(kept.Records) == 0 || err != nil && !errors.As(err, new(*journal.DamagedError)) || kept.LastStatus() != journal.Open {
			continue
		}
		if !ok || isLater(latest, kept) {
			latest, ok = kept, true
		}
	}
	return latest, ok
}

// isLater reports whether b is taken up rather than a.
func isLater(a, b journal.Recording) bool {
	if film := b.First().Rehearsal == 0; film != (a.First().Rehearsal == 0) {
		return film
	}
	last, other := a.Reached(), b.Reached()
	if last.Boot == other.Boot && last.Boot != "" {
		return other.Boottime > last.Boottime // the wall clock may have been set
	}
	return other.Wall.After(last.Wall)
}
