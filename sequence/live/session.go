// Package live carries a session out: the one loop that decides, applies,
// records and hands cues to the ear.
//
// For cmd, which starts a session, and for whoever watches one. Start begins
// or takes up a session; Do asks something of it and never blocks; Snapshot
// and State tell how it stands; Follow reads its log. Only this package calls
// engine.Decide and engine.Apply on a running session. The loop waits for
// nobody: not for the disk, not for a terminal, not for the sound.
package live

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
)

// Ear is given the cues of the next seconds, each time anew: what it was given
// before and has not begun is replaced. Schedule must not block.
type Ear interface {
	Schedule([]sequence.Cue)
}

// Options is what a session is started with.
type Options struct {
	Plan         *sequence.Plan
	Clock        clock.Clock
	Ear          Ear              // nil for none
	FirstCommand sequence.Command // Begin, or Resume with Records
	At           sequence.Elapsed // the moment of First: minus the lead, or now
	// Records is what the journal of a session to be taken up holds.
	Records []journal.Record
	// FirstRecord completes the first record of a new session: plan, hash, rehearsal.
	FirstRecord journal.Record
}

// Session is a session being carried out.
type Session struct {
	clock       clock.Clock
	ear         Ear
	log         *Log
	firstRecord journal.Record

	mailbox mailbox
	state   atomic.Pointer[engine.State]
	saved   saved
	ended   chan struct{} // the loop is over

	followers sync.WaitGroup
	cancel    context.CancelFunc
	ctx       context.Context
}

// The loop's paces, in real time.
const (
	poll        = 500 * time.Millisecond // how late a gap can be noticed
	heartbeat   = 5 * time.Second        // at most between records: one that only says alive, where there is no other
	gapAfter    = 10 * time.Second       // less is lateness, more is a gap
	intendAhead = 2 * time.Second        // how long before a transfer it is on record as due: longer than a slow disk's fsync
	cueHorizon  = 3 * time.Second        // how far ahead the ear is told
	cuesEvery   = 500 * time.Millisecond // how often it is told anew
)

// Start begins the session, or takes it up, and returns while it runs. The
// caller ends it with Close.
func Start(o Options) (*Session, error) {
	events := make([]sequence.Event, len(o.Records))
	for i, r := range o.Records {
		events[i] = r.Event
	}
	state, err := engine.Replay(o.Plan, events)
	if err != nil {
		return nil, err
	}
	state = engine.Rehearsed(state, o.FirstRecord.Rehearsal)
	if len(o.Records) > 0 {
		state = engine.Rehearsed(state, o.Records[0].Rehearsal)
	}
	ctx, cancel := context.WithCancel(context.Background())
	s := &Session{clock: o.Clock, ear: o.Ear, log: newLog(o.Records), firstRecord: o.FirstRecord,
		mailbox: newMailbox(), ended: make(chan struct{}), ctx: ctx, cancel: cancel}
	s.state.Store(&state)
	l := &loop{Session: s, now: state, last: o.Clock.Mark()}
	l.decideAt(o.FirstCommand, o.At)
	go l.run()
	return s, nil
}

// Do asks something of the session. It never blocks.
func (s *Session) Do(c sequence.Command) { s.mailbox.put(request{command: c}) }

// Ask is Do, and waits for the loop to take it: an error says why the session
// refused. What is asked one after the other is judged in that order.
func (s *Session) Ask(c sequence.Command) error {
	answer := make(chan sequence.Refusal, 1)
	s.mailbox.put(request{c, answer})
	why := sequence.Refusal{Code: "over"}
	select {
	case why = <-answer:
	case <-s.ended: // by what was asked, perhaps
		select {
		case why = <-answer:
		default:
		}
	}
	if why.Refused() {
		return sequence.RefusedError{why}
	}
	return nil
}

// State is the session as of its last event.
func (s *Session) State() engine.State { return *s.state.Load() }

// Snapshot tells all that may be shown of the session now.
func (s *Session) Snapshot() engine.Snapshot { return s.State().Snapshot(s.clock.Mark().Elapsed) }

// Until is how long it is, in real time, until a moment of the session.
func (s *Session) Until(at sequence.Elapsed) time.Duration { return s.clock.Until(at) }

// Log is the session's record.
func (s *Session) Log() *Log { return s.log }

// Ended is closed when the session is over, or was closed.
func (s *Session) Ended() <-chan struct{} { return s.ended }

// Wait returns when the session is over and everyone has followed to its end.
func (s *Session) Wait() {
	<-s.ended
	s.followers.Wait()
}

// Close ends the loop, whether or not the session is over, and waits for the
// followers to read what there is.
func (s *Session) Close() {
	s.cancel()
	s.Wait()
}
