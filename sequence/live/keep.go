package live

// The follower that keeps the journal.

import (
	"context"
	"errors"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Keep follows the session into its journal: a new one called id, or w, the
// journal of the session that was taken up. Trouble with the disk becomes an
// event; the session goes on.
func (s *Session) Keep(store journal.Store, id string, w *journal.Writer) {
	first := 0
	if w != nil {
		first = w.Next()
	}
	s.Follow("journal", first, func(ctx context.Context, c *Cursor) error {
		for {
			r, ok := c.Next(ctx)
			if !ok {
				return closeWriter(w)
			}
			var err error
			if w == nil {
				w, err = store.Create(id, r)
			} else {
				err = w.Append(r)
			}
			if trouble := (*journal.TroubleError)(nil); errors.As(err, &trouble) {
				s.Do(sequence.Tell{Kind: sequence.Trouble, Text: trouble.Error()})
			} else if err != nil {
				c.Back()
				return err
			}
		}
	})
}

func closeWriter(w *journal.Writer) error {
	if w == nil {
		return nil
	}
	return w.Close()
}
