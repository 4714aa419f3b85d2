package main

// What the screens need of the world: recipes, sessions, light and sound.

import (
	"errors"
	"fmt"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/room"
)

// host is the tui.Host of this program.
type host struct {
	p     *program
	by    aloud
	idle  *idleSound
	bulb  thermometer
	pipe  *keeperPipe
	guard *room.Guard
	keys  *keyboard
	glow  *room.Glow // panel and keys

	editing atomic.Bool // the editor has the terminal

	mu    sync.Mutex
	early io.Closer // keeps the laptop awake in the dark before a session; nil while there is no need
	state string    // of the sound, before a session
	now   *carried  // the session on the screen; nil for none
	watch *heardWatch

	gone chan struct{} // closed when another wetside has taken the session up
}

func newHost(p *program, l look, pipe *keeperPipe, guard *room.Guard) *host {
	h := &host{p: p, by: l.aloud, idle: &idleSound{p: p, by: l.aloud}, bulb: l.thermometer, state: "sound: looking for it", pipe: pipe, guard: guard, keys: &keyboard{in: os.Stdin}, gone: make(chan struct{})}
	h.glow = room.NewGlow(sysClass, pipe.lamps, pipe.Lamps)
	h.glow.Dark(guard.Light() == sequence.Dark)
	go h.listen()
	return h
}

// settling is how long a sink is given to tell how it is.
const settling = 250 * time.Millisecond

// listen finds out whether there is sound, before film is opened.
func (h *host) listen() {
	out, err := h.p.openSound(h.by.sound, clock.New(h.p.source, 0, 1))
	state := ""
	if err != nil {
		state = "NO SOUND: " + err.Error()
	} else {
		time.Sleep(settling)
		state = out.sink.State()
		out.close()
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.state = state
}

func (h *host) Recipes() []recipes.Entry { return recipes.List(ownRecipes()) }

func (h *host) Recipe(name string) (sequence.Recipe, error) {
	return recipeOf(name)
}

// How long after its beginning an unfinished session is offered: later the film
// is dry, and a rehearsal forgotten.
const (
	offered          = 24 * time.Hour
	offeredRehearsal = time.Hour

	elsewhere = 27 * time.Hour // between the clocks of two places: names go by the local one
)

func (h *host) Unfinished() []tui.Unfinished {
	var list []tui.Unfinished
	now := h.p.source.Read().Wall
	store := journal.Default()
	for _, e := range store.Since(now.Add(-offered - elsewhere)) {
		if e.Status != journal.Open || e.First.Plan == nil {
			continue
		}
		age := now.Sub(e.First.Clock.Wall)
		if age > offered || e.First.Rehearsal > 0 && age > offeredRehearsal {
			continue
		}
		_, running := store.HeldBy(e.ID)
		list = append(list, tui.Unfinished{ID: e.ID, Recipe: e.First.Plan.Recipe.Title,
			Began: e.First.Clock.Wall.Local(), Rehearsal: e.First.Rehearsal > 0,
			Elsewhere: !store.Ours(e.ID), Running: running})
	}
	return list
}

func (h *host) Newcomer() bool { return len(journal.Default().IDs()) == 0 }

// Light tells the keeper first when it gets darker, the guard first when it gets
// lighter; then the lamps, for which nobody waits. In the dark before a session a
// loudspeaker is kept ready for what is said there.
func (h *host) Light(l sequence.Light) {
	if l == sequence.Dark {
		h.pipe.Light(l)
		h.guard.SetLight(l)
	} else {
		h.guard.SetLight(l)
		h.pipe.Light(l)
	}
	h.glow.Dark(l == sequence.Dark)
	h.mu.Lock()
	defer h.mu.Unlock()
	if l == sequence.Dark && (h.now == nil || h.now.State().Over() != "") {
		h.idle.want()
	}
	if l == sequence.Dark && h.now == nil && h.early == nil {
		h.early = h.p.keepAwake(room.Waking{Dark: true}) // film is being loaded
	}
	if l != sequence.Dark {
		h.rest()
	}
}

// rest lets the laptop sleep again as far as a session does not keep it awake.
func (h *host) rest() {
	if h.early != nil {
		go h.early.Close()
		h.early = nil
	}
}

func (h *host) Sound() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.state
}

// Lessons are the sounds that the screens teach.
func (h *host) Lessons() []tui.Lesson {
	var list []tui.Lesson
	for _, kind := range cue.Kinds() {
		list = append(list, tui.Lesson{Name: string(kind), Says: cue.Describe(kind)})
	}
	return list
}

// Play is heard where there is no session; no name at all lets go of the loudspeaker.
func (h *host) Play(name string) {
	if name == "" {
		go h.idle.close()
		return
	}
	h.idle.sound(func(ear *cue.Ear) { ear.Play(sequence.CueKind(name)) })
}

// Say is heard where there is no session.
func (h *host) Say(what tui.Saying) { h.idle.say(what) }

// Watch makes a stopwatch heard, or no more.
func (h *host) Watch(on bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.watch.end()
	if on {
		h.watch = h.p.beginWatch(h.by)
	}
}

// quiet lets go of every loudspeaker that is not a session's.
func (h *host) quiet() {
	h.idle.close()
	h.mu.Lock()
	over := h.watch.end()
	h.mu.Unlock()
	<-over
}

func (h *host) Begin(s tui.Start) (tui.Session, error) {
	h.quiet()
	c, err := h.p.beginSession(s.Plan, h.by, rehearsal{s.Rehearse, s.Moves, s.Dark}, s.Lead, true, h.carries) // the screens have asked
	if err != nil {
		return nil, err
	}
	h.bulb.watch(c)
	for _, note := range s.Notes {
		c.Do(sequence.Remark{Text: note})
	}
	return h.show(c), nil
}

func (h *host) TakeUp(id string) (tui.Session, error) {
	h.quiet()
	c, err := h.p.takeUpSession(id, h.by, func(*sequence.Plan, bool) error { return nil }, h.carries)
	if held := (*journal.HeldError)(nil); errors.As(err, &held) {
		return nil, fmt.Errorf("%w: %w", tui.ErrElsewhere, err)
	}
	if err != nil {
		return nil, err
	}
	return h.show(c), nil
}

// carries tells the keeper which session is about to be carried out.
func (h *host) carries(id string, practice rehearsal) {
	if practice.factor > 0 {
		h.pipe.Rehearsal(id)
	} else {
		h.pipe.Session(id)
	}
}

// show makes c the session on the screen and ends the one before it.
func (h *host) show(c *carried) tui.Session {
	h.mu.Lock()
	old := h.now
	h.now = c
	h.rest()
	h.mu.Unlock()
	if old != nil {
		old.end()
	}
	c.ringing(h.guard.Bell)
	go h.follow(c)
	return onScreen{c}
}

// follow tells the keeper when the session is over, or has gone to another
// wetside: then there is nothing to take up.
func (h *host) follow(c *carried) {
	<-c.Ended()
	switch {
	case c.State().Over() != "":
		c.Wait()
		c.bookOver() // the bottles may be looked at before the screen is left
		h.pipe.Over(c.id)
	case c.handed.Load():
		h.pipe.Elsewhere(c.id)
		h.pipe.Say("another wetside has taken the session up")
		close(h.gone)
	}
}

// sessionOver is closed when the session on the screen is over, at once where there
// is none.
func (h *host) sessionOver() <-chan struct{} {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.now != nil {
		return h.now.Ended()
	}
	none := make(chan struct{})
	close(none)
	return none
}

// close ends what is still going on.
func (h *host) close() {
	h.mu.Lock()
	now := h.now
	h.rest()
	h.mu.Unlock()
	h.quiet()
	if now != nil {
		now.end()
	}
	h.glow.Close()
}

// onScreen is a session as the screens see it.
type onScreen struct{ *carried }

func (s onScreen) Plan() *sequence.Plan { return s.State().Plan() }

func (s onScreen) Advise() (sequence.Advice, bool) {
	return s.State().Advise(s.Session.Look().Now)
}

func (s onScreen) Answer() { s.out.ear.Answer() }

// Say is heard in words, or where there is no voice by a signal.
func (s onScreen) Say(what tui.Saying) {
	switch {
	case !s.out.speaks():
		s.out.ear.Signal(signalled[what])
	case what == tui.SaysAdvice:
		s.out.ear.Advise()
	default:
		s.out.ear.Say(sayings[what])
	}
}

// Names is heard in words, or where there is no voice by notes to be counted.
func (s onScreen) Names(what tui.Saying, sheet int) {
	if !s.out.speaks() {
		s.out.ear.Signal(cue.SignalSheet(sheet))
		return
	}
	s.out.ear.Say(ofSheets[what].Sheet(sheet))
}

func (s onScreen) Stragglers() []sequence.Straggler {
	return s.State().Stragglers(s.Session.Look().Now)
}

func (s onScreen) Losable() []int { return s.State().Losable(s.Session.Look().Now) }

func (s onScreen) Speaks() bool      { return s.out.speaks() }
func (s onScreen) ID() string        { return s.id }
func (s onScreen) Sound() string     { return s.out.sink.State() }
func (s onScreen) Sleep() string     { return s.sleep.Load().(string) }
func (s onScreen) Record() string    { return s.KeptIn() }
func (s onScreen) Rehearse() float64 { return s.factor }
func (s onScreen) Moves() bool       { return s.moves }
func (s onScreen) Lit() bool         { return s.lit() }

func (s onScreen) Refuse(c sequence.Command) string {
	return s.State().Refuse(c, s.Session.Look().Now)
}

func (s onScreen) Events() []sequence.Event {
	var list []sequence.Event
	for _, r := range s.Log().Records() {
		list = append(list, r.Event)
	}
	return list
}

// The notebook of this computer.

func (h *host) Sessions() []notebook.Summary { return notebook.List(journal.Default()) }

func (h *host) Read(id string) (notebook.Session, error) { return notebook.Open(journal.Default(), id) }

func (h *host) Note(id string, n notebook.Note) error { return notebook.Add(journal.Default(), id, n) }

func (h *host) PutAway(id string) error { return notebook.PutAway(journal.Default(), id) }

// The bottles of this person.

func (h *host) Stands(film string, v sequence.Vessel) string {
	return notebook.WhatItStands(journal.Default(), film, v).Say(h.p.settings.Habits)
}

func (h *host) Kept(r sequence.Recipe) []sequence.Kept { return h.p.keptFor(r) }

func (h *host) InHand() []sequence.InHand { return h.p.inHand() }

func (h *host) Bottles() ([]notebook.Bottle, error) {
	b, err := h.p.readBaths()
	return b.Open(), err
}

func (h *host) OpenBottles(r sequence.Recipe) error {
	at := h.p.source.Read().Wall
	for _, b := range r.Baths {
		if !onlyWater(b) {
			if _, err := ledger().Open(b, "", at); err != nil {
				return err
			}
		}
	}
	return nil
}

func (h *host) ThrowAway(bottle string) error {
	return ledger().Write(notebook.Entry{At: h.p.source.Read().Wall, Did: notebook.ThrownAway, Bottle: bottle})
}

func (h *host) Rotate(first, second notebook.Bottle) error { return h.p.exchange(first, second) }

func (h *host) Cleared(bottle string, took time.Duration) error {
	return ledger().Write(notebook.Entry{At: h.p.source.Read().Wall, Did: notebook.Cleared, Bottle: bottle, Clearing: took})
}

// The sheets that wait.

func (h *host) Sheets() ([]notebook.Exposed, []notebook.Fate, error) { return h.p.accounted() }

func (h *host) AddSheet(e notebook.Exposed) error { return box().Add(e) }

func (h *host) ReplaceSheet(from notebook.Exposed, to *notebook.Exposed) error {
	return box().Replace(from, to)
}
