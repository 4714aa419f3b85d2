package running

// A session that was cut off: found, read, and how exactly its time is known.

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
)

// resumedTimeText says how far the resumed time is to be believed; "" where it is exact.
func resumedTimeText(r clock.Resumption) string {
	switch r.Certainty {
	case clock.Exact:
		return ""
	case clock.Estimated:
		return fmt.Sprintf("%s: about %s by the wall clock, at least %s", why(r),
			chem.FormatDuration(r.Now.Elapsed), chem.FormatDuration(r.Earliest))
	}
	return fmt.Sprintf("%s, and its wall clock is wrong: at least %s", why(r), chem.FormatDuration(r.Earliest))
}

// why the time is in doubt: where a computer does not tell its boots apart, nobody knows
// whether this is another.
func why(r clock.Resumption) string {
	if !r.Now.CountsSleep() {
		return "whether the computer was started anew is not known"
	}
	return "the computer was started anew"
}

// resumedText says what is not certain of the time, and of a transfer that fell due while nobody
// kept the record; "" where all is.
func resumedText(r clock.Resumption, kept journal.Recording) string {
	text := resumedTimeText(r)
	due, ok := kept.CutOff()
	if !ok || due.At > r.Now.Elapsed {
		return text
	}
	if text != "" {
		text += "; "
	}
	return text + fmt.Sprintf("the transfer out of %s, due at %s, is not on record: it may have been heard",
		cmp.Or(due.Step, "the load"), chem.FormatDuration(due.At))
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

// FindSession is the id of the session that was named, or of the one that resume takes up.
// One that is damaged is a *DamagedSessionError.
func FindSession(store journal.Store, args []string) (string, error) {
	var kept journal.Recording
	if len(args) == 1 {
		var err error
		if kept, err = store.Read(args[0]); errors.Is(err, fs.ErrNotExist) {
			return "", fmt.Errorf("session %q: not found; wetside notebook lists them", args[0])
		}
		kept.ID = args[0]
	} else {
		var ok bool
		if kept, ok = app.LatestUnfinished(store); !ok {
			return "", errors.New("no session is open: nothing to take up")
		}
	}
	_, err := store.Read(kept.ID)
	if damaged := (*journal.DamagedError)(nil); errors.As(err, &damaged) && len(kept.Records) > 0 {
		return kept.ID, &DamagedSessionError{kept, damaged}
	}
	return kept.ID, nil
}

// DamagedSessionError offers a damaged session by its last good line.
type DamagedSessionError struct {
	kept    journal.Recording
	damaged *journal.DamagedError
}

func (e *DamagedSessionError) Error() string {
	text := e.damaged.Error()
	if good, ok := e.LastGood(); ok {
		text += "; the last good line before it: " + say.LastKnown(good.Plan, good.State, good.At) +
			"; nothing was changed: wetside resume " + e.kept.ID + " --from-last-good-line goes on from there"
	}
	return text
}

// LastGood is where film was before the damage; false where nothing can be taken up from there.
func (e *DamagedSessionError) LastGood() (screen.LastGood, bool) {
	last := e.kept.Anchor()
	state, err := replayed(e.kept)
	if err != nil || e.kept.LastStatus() != journal.Open {
		return screen.LastGood{}, false
	}
	return screen.LastGood{Line: e.damaged.Line, Plan: state.Plan(), State: state.Snapshot(last.Elapsed), At: last.Wall.Local()}, true
}

// Unwrap is what is wrong with the file.
func (e *DamagedSessionError) Unwrap() error { return e.damaged }

// replayed is the state in which a record ends.
func replayed(kept journal.Recording) (engine.State, error) {
	events := make([]sequence.Event, len(kept.Records))
	for i, r := range kept.Records {
		events[i] = r.Event
	}
	return engine.Replay(kept.First().Plan, events)
}
