package backend

// Sessions begun and taken up from the screens.

import (
	"errors"
	"fmt"
	"time"

	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/screen"
)

// How long after its beginning an unfinished session is offered: later the film
// is dry, and a rehearsal forgotten.
const (
	offeredFor          = 24 * time.Hour
	offeredRehearsalFor = time.Hour

	zoneMargin = 27 * time.Hour // between the clocks of two places: names go by the local one
)

func (h *Backend) Unfinished() []screen.Unfinished {
	var list []screen.Unfinished
	now := h.Env.Clock.Read().Wall
	store := journal.Default()
	for _, e := range store.Since(now.Add(-offeredFor - zoneMargin)) {
		if e.Status != journal.Open || e.First.Plan == nil {
			continue
		}
		age := now.Sub(e.First.Clock.Wall)
		if age > offeredFor || e.First.Rehearsal > 0 && age > offeredRehearsalFor {
			continue
		}
		_, running := store.HeldBy(e.ID)
		list = append(list, screen.Unfinished{ID: e.ID, Recipe: e.First.Plan.Recipe.Title,
			Began: e.First.Clock.Wall.Local(), Rehearsal: e.First.Rehearsal > 0,
			Elsewhere: !store.IsFromHere(e.ID), Running: running})
	}
	return list
}

func (h *Backend) Begin(s screen.SessionStart) (screen.Session, error) {
	h.CloseIdleSound()
	c, err := running.Begin(h.Env, s.Plan, h.Options, running.Rehearsal{Factor: s.RehearsalSpeed, MovesOnly: s.SkipQuiet, InDark: s.Dark}, s.Countdown, true, h.onStart) // the screens have asked
	if err != nil {
		return nil, err
	}
	h.thermometer.Follow(c)
	for _, note := range s.Notes {
		c.Do(sequence.AddNote{Text: note})
	}
	return h.setCurrent(c), nil
}

// Resume takes a session up. Screens that the keeper started for one that was cut off take it
// from nobody; a person who asks once more does.
func (h *Backend) Resume(id string) (screen.Session, error) {
	h.CloseIdleSound()
	take := func() (*running.RunningSession, error) {
		return running.TakeUp(h.Env, id, h.Options, func(*sequence.Plan, bool) error { return nil }, h.onStart)
	}
	if h.pipe.Again.Swap(false) {
		take = func() (*running.RunningSession, error) { return running.TakeUpFree(h.Env, id, h.Options, h.onStart) }
	}
	c, err := take()
	if held := (*journal.HeldError)(nil); errors.As(err, &held) {
		return nil, fmt.Errorf("%w: %w", screen.ErrElsewhere, err)
	}
	if err != nil {
		return nil, err
	}
	return h.setCurrent(c), nil
}

// onStart tells the keeper which session is about to be carried out.
func (h *Backend) onStart(id string, practice running.Rehearsal) {
	if practice.Factor > 0 {
		h.pipe.Rehearsal(id)
	} else {
		h.pipe.Session(id)
	}
}

// setCurrent makes c the session on the screen and ends the one before it.
func (h *Backend) setCurrent(c *running.RunningSession) screen.Session {
	h.mu.Lock()
	old := h.current
	h.current = c
	h.releaseEarlyAwake()
	h.mu.Unlock()
	if old != nil {
		old.End()
	}
	c.RingBell(h.Guard.Bell)
	go h.reportEnd(c)
	return SessionView{c}
}

// reportEnd tells the keeper when the session is over, or has gone to another
// wetside: then there is nothing to take up.
func (h *Backend) reportEnd(c *running.RunningSession) {
	<-c.Ended()
	switch {
	case c.State().Over() != "":
		c.Wait()
		c.BookBottles() // the bottles may be looked at before the screen is left
		h.pipe.Over(c.SessionID)
	case c.HandedOver.Load():
		h.pipe.Elsewhere(c.SessionID)
		h.pipe.Say("another wetside has taken the session up")
		close(h.HandedOver)
	}
}

// SessionOver is closed when the session on the screen is over, at once where there
// is none.
func (h *Backend) SessionOver() <-chan struct{} {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.current != nil {
		return h.current.Ended()
	}
	none := make(chan struct{})
	close(none)
	return none
}
