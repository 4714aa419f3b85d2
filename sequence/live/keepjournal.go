package live

// The follower that keeps the journal.

import (
	"context"
	"errors"
	"sync"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// KeepJournal follows the session into its journal: a new one called id, or w, the
// journal of the session that was taken up. Trouble with the disk becomes an
// event; the session goes on. Such an event is a record too, and writing it may
// fail like the rest: that nothing is written any more is told once, and once that
// all is written again.
func (s *Session) KeepJournal(store journal.Store, id string, w *journal.Writer) {
	first := 0
	if w != nil {
		first = w.Next()
	}
	lost := false // nothing takes the records
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
			trouble := (*journal.WriteError)(nil)
			if err != nil && !errors.As(err, &trouble) {
				c.Rewind()
				return err
			}
			if trouble != nil && !lost && r.Event.Kind != sequence.FollowerFailed {
				s.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: trouble.Error()})
			}
			if lost && trouble == nil {
				s.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: "journal: everything is kept again, in " + w.Path()})
			}
			lost = trouble != nil && !trouble.SavedElsewhere()
			if lost {
				s.saved.failed(trouble.Error())
			} else {
				s.saved.savedUpTo(r.Seq+1, w.Path())
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

// WaitUntilSaved waits until the journal has everything that has happened so far, written and
// synced. It returns false where ctx is done first.
func (s *Session) WaitUntilSaved(ctx context.Context) bool {
	for n := s.log.Len(); ; {
		have, more := s.saved.have()
		if have >= n {
			return true
		}
		select {
		case <-more:
		case <-ctx.Done():
			return false
		}
	}
}

// UnsavedBecause is why the session is in memory alone; "" while the disk takes it.
func (s *Session) UnsavedBecause() string {
	s.saved.mu.Lock()
	defer s.saved.mu.Unlock()
	return s.saved.why
}

// JournalPath is the file that has the session; "" before there is one.
func (s *Session) JournalPath() string {
	s.saved.mu.Lock()
	defer s.saved.mu.Unlock()
	return s.saved.in
}

// saved counts the records that are on the disk.
type saved struct {
	mu   sync.Mutex
	n    int
	in   string        // the file that they are in
	why  string        // no more get there; "" while they do
	more chan struct{} // closed and replaced when there are more; nil while nobody waits
}

func (k *saved) have() (n int, more <-chan struct{}) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.more == nil {
		k.more = make(chan struct{})
	}
	return k.n, k.more
}

func (k *saved) savedUpTo(n int, in string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.n, k.in, k.why = n, in, ""
	if k.more != nil {
		close(k.more)
		k.more = nil
	}
}

func (k *saved) failed(why string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.why = why
}
