package live

// The follower that keeps the journal.

import (
	"context"
	"errors"
	"sync"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// checkEvery is how often it is looked whether the journal's file is still in its place.
const checkEvery = 500 * time.Millisecond

// KeepJournal follows the session into its journal: w is new, or that of the session that was
// taken up. Trouble with the disk, and a file that somebody moved or changed, becomes an
// event; the session goes on. Such an event is a record too, and writing it may
// fail like the rest: that nothing is written any more is told once, and once that
// all is written again.
func (s *Session) KeepJournal(w *journal.Writer) {
	k := keeper{Session: s, w: w}
	s.Follow("journal", w.Next(), func(ctx context.Context, c *Cursor) error {
		for {
			r, ok, idle := c.nextWithin(ctx, checkEvery)
			switch {
			case idle:
				if err := w.Check(); err != nil {
					k.report(err, false)
				}
			case !ok:
				return w.Close()
			default:
				if err := k.keep(r); err != nil {
					c.Rewind()
					return err
				}
			}
		}
	})
}

// keeper writes one session's records.
type keeper struct {
	*Session
	w    *journal.Writer
	lost bool // nothing takes the records
}

// keep writes a record; an error says that the record itself was refused.
func (k *keeper) keep(r journal.Record) error {
	err := k.w.Append(r)
	if err != nil && !errors.As(err, new(*journal.WriteError)) {
		return err
	}
	k.report(err, r.Event.Kind == sequence.FollowerFailed)
	return nil
}

// report tells of trouble, unless it came with the record that tells of trouble.
func (k *keeper) report(err error, telling bool) {
	trouble, _ := errors.AsType[*journal.WriteError](err)
	if trouble != nil && !k.lost && !telling {
		k.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: trouble.Error()})
	}
	if k.lost && trouble == nil {
		k.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: "journal: everything is kept again, in " + k.w.Path()})
	}
	if k.lost = trouble != nil && !trouble.SavedElsewhere(); k.lost {
		k.saved.failed(trouble.Error())
	} else {
		k.saved.savedUpTo(k.w.Next(), k.w.Path())
	}
}

// WaitUntilSaved waits until the journal has everything that has happened so far, written and
// synced. It returns false where ctx is done first.
func (s *Session) WaitUntilSaved(ctx context.Context) bool {
	return s.WaitUntilRecordSaved(ctx, s.log.Len()-1)
}

// WaitUntilRecordSaved is WaitUntilSaved for the record of that number and all before it.
func (s *Session) WaitUntilRecordSaved(ctx context.Context, seq int) bool {
	for {
		have, more := s.saved.have()
		if have > seq {
			return true
		}
		select {
		case <-more:
		case <-ctx.Done():
			return false
		}
	}
}

// RecordSaved reports whether the journal has the record of that number, written and synced.
func (s *Session) RecordSaved(seq int) bool {
	have, _ := s.saved.have()
	return have > seq
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
