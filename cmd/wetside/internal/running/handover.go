package running

// A session changes hands: a second wetside asks the one that runs it, by a file
// beside its journal, and takes the session up when the first has let go of it. The
// first may have lost its terminal, or run in another room.

import (
	"errors"
	"fmt"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
)

// The paces of a hand-over, in real time.
const (
	HandoverWait      = 8 * time.Second        // how long the first is waited for
	handoverPollEvery = 100 * time.Millisecond // how often the second tries
)

// takeWithHandover takes a session up, and, where a person asked for it, asks whoever holds it
// to hand it over first. It gives up with the holder's *journal.HeldError after HandoverWait.
func takeWithHandover(store journal.Store, id string, asks bool) (*journal.Writer, journal.Recording, error) {
	w, kept, err := store.TakeUp(id)
	held := (*journal.HeldError)(nil)
	if !errors.As(err, &held) || !asks {
		return w, kept, err
	}
	withdraw, asked := requestSession(store, id)
	if asked != nil {
		return nil, journal.Recording{}, fmt.Errorf("%w; asking for it: %w", err, asked)
	}
	defer withdraw()
	for until := time.Now().Add(HandoverWait); time.Now().Before(until); {
		time.Sleep(handoverPollEvery)
		if w, kept, err = store.TakeUp(id); !errors.As(err, &held) {
			return w, kept, err
		}
	}
	return nil, journal.Recording{}, fmt.Errorf("%w; it was asked to hand the session over and did not", held)
}

// handOver records that the session goes to another wetside and lets go of it: when
// it returns all is on the disk and the lock is free.
func handOver(s *live.Session) {
	s.Ask(sequence.Report{Kind: sequence.HandedOver})
	s.Close()
}

// handoverCheckEvery is how often it is looked whether another wetside asks for the session.
const handoverCheckEvery = time.Second

// watchHandover hands the session over when another wetside asks for it.
func (c *RunningSession) watchHandover() *RunningSession {
	go func() {
		for {
			select {
			case <-time.After(handoverCheckEvery):
				if takeRequest(c.store, c.SessionID) {
					c.HandedOver.Store(true)
					handOver(c.Session)
					return
				}
			case <-c.Ended():
				return
			}
		}
	}()
	return c
}
