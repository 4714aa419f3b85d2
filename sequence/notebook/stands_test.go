package notebook

// The wet limit that notes on the emulsion speak for, by hand.

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
)

func TestWhatAFilmStands(t *testing.T) {
	store := newStore(t)
	after := time.Duration(0)
	noted := func(wet sequence.Elapsed, temp sequence.Celsius, e Emulsion, factor float64, hung sequence.Elapsed) {
		r := recipe(sequence.Tray, 1, warmed(step(sequence.Develop, 5*mins)), step(sequence.Fix, wet-5*mins))
		if hung > 0 {
			wash := step(sequence.Wash, hung)
			wash.Vessel = sequence.Hangers
			r.Steps = append(r.Steps, wash)
		}
		r.Steps[0].Temperature.At = temp // its time holds at that temperature
		after += 24 * time.Hour
		id := sitAs(t, store, after, r, sequence.Conditions{}, factor).finish()
		if e != "" {
			if err := Add(store, id, Note{Written: evening.Add(after), Emulsion: e}); err != nil {
				t.Fatal(err)
			}
		}
	}
	film := "Plover 80"
	if s := WhatItStands(store, film, sequence.Tray); s.Limit() != 0 || s.Say(sequence.Habits{}) != "" {
		t.Errorf("without notes: %+v", s)
	}
	noted(30*mins, 20, "", 0, 0)     // nobody looked
	noted(40*mins, 20, Sound, 60, 0) // a rehearsal
	noted(16*mins, 20, Sound, 0, 0)
	noted(18*mins, 23, Sound, 0, 20*mins) // 18 minutes in the tray, the rest in hangers
	s := WhatItStands(store, film, sequence.Tray)
	if s.Limit() != 18*mins || s.Sound != 2 || *s.Warmest != 23 {
		t.Errorf("two sound: %+v, limit %v; expected 18 min at up to 23 C", s, s.Limit())
	}
	if got, want := s.Say(sequence.Habits{}), "Your notes: a wet limit of 18:00 for Plover 80 in trays, from 2 noted (2 sound, 0 damaged), which are few; sound in baths of up to 23.0 C."; got != want {
		t.Errorf("%q; want %q", got, want)
	}
	noted(25*mins, 20, Edges, 0, 0) // nine tenths of it are 22:30: what was sound is less
	if s := WhatItStands(store, film, sequence.Tray); s.Limit() != 18*mins || s.Damaged != 1 {
		t.Errorf("with damage at 25 min: %v; expected 18 min", s.Limit())
	}
	noted(17*mins, 20, Frayed, 0, 0) // below what was sound: 0.9 x 17 min
	if s := WhatItStands(store, film, sequence.Tray); s.Limit() != 15*mins+18*sec {
		t.Errorf("with damage at 17 min: %v; expected 15:18", s.Limit())
	}
	if s := WhatItStands(store, film, sequence.Hangers); s.Limit() != 20*mins || s.Sound != 1 {
		t.Errorf("in hangers: %+v", s)
	}
	if s := WhatItStands(store, "Tern 125", sequence.Tray); s.Limit() != 0 {
		t.Errorf("another film: %+v", s)
	}
}
