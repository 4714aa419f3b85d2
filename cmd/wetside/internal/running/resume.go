package running

// A session that was cut off: found, read, and how exactly its time is known.

import (
	"errors"
	"fmt"
	"io/fs"

	"example.org/wetside/chem"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

// resumedTimeText says how far the resumed time is to be believed; "" where it is exact.
func resumedTimeText(r clock.Resumption) string {
	switch r.Certainty {
	case clock.Exact:
		return ""
	case clock.Estimated:
		return fmt.Sprintf("the computer was started anew: about %s by the wall clock, at least %s",
			chem.FormatDuration(r.Now.Elapsed), chem.FormatDuration(r.Earliest))
	}
	return fmt.Sprintf("the computer was started anew and its wall clock is wrong: at least %s", chem.FormatDuration(r.Earliest))
}

// ReadResumable is a session that can be taken up, or why it cannot.
func ReadResumable(store journal.Store, id string) (journal.Recording, error) {
	kept, err := store.Read(id)
	switch {
	case err != nil:
		return kept, err
	case kept.Newer:
		return kept, journal.ErrNewer
	case kept.Status != journal.Open:
		return kept, journal.ErrFinished
	}
	return kept, nil
}

func FindSession(store journal.Store, args []string) (string, error) {
	if len(args) == 1 {
		if _, err := store.Read(args[0]); errors.Is(err, fs.ErrNotExist) {
			return "", fmt.Errorf("session %q: not found", args[0])
		}
		return args[0], nil
	}
	e, ok := store.NewestOpen()
	if !ok {
		return "", errors.New("no session is open: nothing to take up")
	}
	return e.ID, nil
}
