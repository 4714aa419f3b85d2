package backend

// Sessions begun and taken up from the screens.

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
	"example.org/wetside/tui/screen"
)

// How long after its beginning an unfinished session is offered: later the film
// is dry, and a rehearsal forgotten.
const (
	offeredFor          = 24 * time.Hour
	offeredRehearsalFor = time.Hour

	recordLimit = 5 * time.Second // for which the record of a session that is over is waited for

	zoneMargin = 27 * time.Hour // between the clocks of two places: names go by the local one
)

// SessionRunner begins sessions and takes them up, and has at most one carried out. The light
// is its too: the laptop is kept awake and a loudspeaker ready in the dark before a session.
type SessionRunner struct {
	Env         *app.Env
	loudspeaker *Loudspeaker
	thermometer running.Thermometer
	pipe        *supervisor.Pipe
	guard       *light.Guard
	backlight   *room.Backlight // panel and keys
	around      string          // what tmux shows around the screens, as room.ReadTmux told it; "" where it cannot be asked
	hidden      bool            // it shows that no more

	mu         sync.Mutex
	current    *running.RunningSession // the session on the screen; nil for none
	earlyAwake io.Closer               // keeps the laptop awake in the dark before a session; nil while there is no need

	HandedOver chan struct{} // closed when another wetside has taken the session up
}

func (r *SessionRunner) Unfinished() []screen.Unfinished {
	var list []screen.Unfinished
	now := r.Env.Clock.Read().Wall
	store := journal.Default()
	for _, e := range store.Since(now.Add(-offeredFor - zoneMargin)) {
		if e.First.Plan == nil {
			continue
		}
		damaged := lastGood(store, e)
		if e.Status != journal.Open && damaged == nil {
			continue
		}
		age := now.Sub(e.First.Clock.Wall)
		if age > offeredFor || e.First.Rehearsal > 0 && age > offeredRehearsalFor {
			continue
		}
		_, held := store.HeldBy(e.ID)
		list = append(list, screen.Unfinished{ID: e.ID, Recipe: e.First.Plan.Recipe.Title,
			Began: e.First.Clock.Wall.Local(), Rehearsal: e.First.Rehearsal > 0,
			Elsewhere: !store.IsFromHere(e.ID), Running: held, Damaged: damaged})
	}
	return list
}

// lastGood is how far a damaged session can be taken up; nil where it is whole, or over.
func lastGood(store journal.Store, e journal.Listed) *screen.LastGood {
	if e.Status != journal.Damaged {
		return nil
	}
	_, err := running.FindSession(store, []string{e.ID})
	if damaged := (*running.DamagedSessionError)(nil); errors.As(err, &damaged) {
		if good, ok := damaged.LastGood(); ok {
			return &good
		}
	}
	return nil
}

func (r *SessionRunner) Begin(s screen.SessionStart) (screen.Session, error) {
	r.loudspeaker.CloseIdleSound()
	c, err := running.Begin(r.Env, s.Plan, r.loudspeaker.Options, r.thermometer, running.Rehearsal{Factor: s.RehearsalSpeed, MovesOnly: s.SkipQuiet, InDark: s.Dark}, s.Countdown, true, r.onStart) // the screens have asked
	if err != nil {
		return nil, err
	}
	for _, note := range s.Notes {
		c.Do(sequence.AddNote{Text: note})
	}
	return r.setCurrent(c), nil
}

// Resume takes a session up, a damaged one behind its last good line. Screens that the supervisor started for one that was cut off take
// it from nobody; a person who asks once more does.
func (r *SessionRunner) Resume(a screen.Resume) (screen.Session, error) {
	if a.BehindDamage {
		if err := journal.Default().GoBehindDamage(a.ID); err != nil {
			return nil, err
		}
	}
	r.loudspeaker.CloseIdleSound()
	how := running.Taking{Begins: r.onStart, FromNobody: r.pipe.Again.Swap(false)}
	c, err := running.TakeUp(r.Env, a.ID, r.loudspeaker.Options, r.thermometer, how)
	if held := (*journal.HeldError)(nil); errors.As(err, &held) {
		return nil, fmt.Errorf("%w: %w", screen.ErrElsewhere, err)
	}
	if err != nil {
		return nil, err
	}
	return r.setCurrent(c), nil
}

// onStart tells the supervisor which session is about to be carried out.
func (r *SessionRunner) onStart(id string, practice running.Rehearsal) {
	if practice.Factor > 0 {
		r.pipe.Rehearsal(id)
	} else {
		r.pipe.Session(id)
	}
}

// setCurrent makes c the session on the screen and ends the one before it.
func (r *SessionRunner) setCurrent(c *running.RunningSession) screen.Session {
	r.mu.Lock()
	old := r.current
	r.current = c
	r.releaseEarlyAwake()
	r.mu.Unlock()
	if old != nil {
		old.End()
	}
	c.RingBell(r.guard.Bell)
	go r.reportEnd(c)
	return SessionView{c}
}

// reportEnd tells the supervisor when the session is over, or has gone to another
// wetside: then there is nothing to take up.
func (r *SessionRunner) reportEnd(c *running.RunningSession) {
	<-c.Ended()
	switch {
	case c.State().Over() != "":
		c.Wait()
		c.BookBottles() // the bottles may be looked at before the screen is left
		r.pipe.Over(c.SessionID)
	case c.HandedOver.Load():
		r.pipe.Elsewhere(c.SessionID)
		r.pipe.Say("another wetside has taken the session up")
		close(r.HandedOver)
	}
}

// Learnt is what a session taught of its film's time; nil for nothing. The record of the one that has just ended is
// waited for.
func (r *SessionRunner) Learnt(id string) *film.Learnt {
	r.mu.Lock()
	c := r.current
	r.mu.Unlock()
	if c != nil && c.SessionID == id && c.State().Over() != "" {
		ctx, cancel := context.WithTimeout(context.Background(), recordLimit)
		defer cancel()
		c.WaitUntilSaved(ctx)
	}
	return app.Learnt(id)
}

// carriesOut reports whether a session is going on.
func (r *SessionRunner) carriesOut() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.current != nil && r.current.State().Over() == ""
}

// SessionOver is closed when the session on the screen is over, at once where there
// is none.
func (r *SessionRunner) SessionOver() <-chan struct{} {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.current != nil {
		return r.current.Ended()
	}
	none := make(chan struct{})
	close(none)
	return none
}
