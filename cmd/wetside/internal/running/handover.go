package running

// A session changes hands: a second wetside asks the one that runs it, by a file
// beside its journal, and takes the session up when the first has let go of it. The
// first may have lost its terminal, or run in another room.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
)

// The paces of a hand-over, in real time.
const (
	HandoverWait      = 8 * time.Second        // how long the first is waited for
	handoverPollEvery = 100 * time.Millisecond // how often the second tries
	requestMaxAge     = 10 * time.Second       // an older request has nobody behind it
)

// requestFile is the file that asks for a session.
func requestFile(folder, id string) string { return filepath.Join(folder, id+".request") }

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

// requestSession leaves a request in every folder where the session has a file.
// withdraw takes it away again.
func requestSession(store journal.Store, id string) (withdraw func(), err error) {
	var left []string
	withdraw = func() {
		for _, name := range left {
			os.Remove(name)
		}
	}
	err = errors.New("no journal to put a request beside")
	for _, folder := range store.FoldersOf(id) {
		name := requestFile(folder, id)
		if wrote := os.WriteFile(name, []byte(strconv.Itoa(os.Getpid())+"\n"), 0o600); wrote != nil {
			err = wrote
			continue
		}
		left = append(left, name)
	}
	if len(left) > 0 {
		err = nil
	}
	return withdraw, err
}

// takeRequest tells whether another process asks for the session. The request
// is taken away: it is answered once. One left by a process that is no longer there,
// or that has stopped waiting, is not heeded.
func takeRequest(store journal.Store, id string) bool {
	asked := false
	for _, folder := range store.Folders {
		name := requestFile(folder, id)
		info, err := os.Stat(name)
		if err != nil {
			continue
		}
		text, err := os.ReadFile(name)
		os.Remove(name)
		pid, wrong := strconv.Atoi(strings.TrimSpace(string(text)))
		age := time.Since(info.ModTime()).Abs()
		asked = asked || err == nil && wrong == nil && pid != os.Getpid() && age < requestMaxAge && processExists(pid)
	}
	return asked
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
