package main

// A session changes hands: a second wetside asks the one that runs it, by a file
// beside its lock, and takes the session up when the first has let go of it. The
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
	handoverWait = 8 * time.Second        // how long the first is waited for
	handoverPoll = 100 * time.Millisecond // how often the second tries
	requestFresh = 10 * time.Second       // an older request has nobody behind it
)

// requestName is the file that asks for a session.
func requestName(folder, id string) string { return filepath.Join(folder, id+".request") }

// takeOver takes a session up, and asks whoever holds it to hand it over first.
// It gives up with the holder's *journal.HeldError after handoverWait.
func takeOver(store journal.Store, id string) (*journal.Writer, journal.Session, error) {
	w, kept, err := store.Take(id)
	held := (*journal.HeldError)(nil)
	if !errors.As(err, &held) {
		return w, kept, err
	}
	withdraw, asked := askForSession(store, id)
	if asked != nil {
		return nil, journal.Session{}, fmt.Errorf("%w; asking for it: %w", err, asked)
	}
	defer withdraw()
	for until := time.Now().Add(handoverWait); time.Now().Before(until); {
		time.Sleep(handoverPoll)
		if w, kept, err = store.Take(id); !errors.As(err, &held) {
			return w, kept, err
		}
	}
	return nil, journal.Session{}, fmt.Errorf("%w; it was asked to hand the session over and did not", held)
}

// askForSession leaves a request in every folder where the session is locked.
// withdraw takes it away again.
func askForSession(store journal.Store, id string) (withdraw func(), err error) {
	var left []string
	withdraw = func() {
		for _, name := range left {
			os.Remove(name)
		}
	}
	err = errors.New("no lock file to put a request beside")
	for _, folder := range store.Folders {
		if _, none := os.Stat(filepath.Join(folder, id+".lock")); none != nil {
			continue
		}
		name := requestName(folder, id)
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

// sessionAskedFor tells whether another process asks for the session. The request
// is taken away: it is answered once. One left by a process that is no longer there,
// or that has stopped waiting, is not heeded.
func sessionAskedFor(store journal.Store, id string) bool {
	asked := false
	for _, folder := range store.Folders {
		name := requestName(folder, id)
		info, err := os.Stat(name)
		if err != nil {
			continue
		}
		text, err := os.ReadFile(name)
		os.Remove(name)
		pid, wrong := strconv.Atoi(strings.TrimSpace(string(text)))
		age := time.Since(info.ModTime()).Abs()
		asked = asked || err == nil && wrong == nil && pid != os.Getpid() && age < requestFresh && alive(pid)
	}
	return asked
}

// handOver records that the session goes to another wetside and lets go of it: when
// it returns all is on the disk and the lock is free.
func handOver(s *live.Session) {
	s.Ask(sequence.Tell{Kind: sequence.HandedOver})
	s.Close()
}
