package notebook

// The wet limit that notes on the emulsion speak for, by hand.

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/sessiontest"
)

func TestWhatAFilmStands(t *testing.T) {
	store := sessiontest.NewStore(t)
	after := time.Duration(0)
	noted := func(wet sequence.Elapsed, temp sequence.Celsius, e Emulsion, factor float64, hung sequence.Elapsed) {
		r := sessiontest.Recipe(sequence.Tray, 1, sessiontest.Warmed(sessiontest.Bath(sequence.Develop, 5*sessiontest.Minute)), sessiontest.Bath(sequence.Fix, wet-5*sessiontest.Minute))
		if hung > 0 {
			wash := sessiontest.Bath(sequence.Wash, hung)
			wash.Vessel = sequence.Hangers
			r.Steps = append(r.Steps, wash)
		}
		r.Steps[0].Temperature.At = temp // its time holds at that temperature
		after += 24 * time.Hour
		id := sessiontest.BeginAs(t, store, after, r, sequence.Conditions{}, factor).Finish()
		if e != "" {
			if err := AddNote(store, id, Note{Written: sessiontest.Evening.Add(after), Emulsion: e}); err != nil {
				t.Fatal(err)
			}
		}
	}
	film := "Plover 80"
	if s := ObserveLimit(store, film, sequence.Tray); s.Limit() != 0 || s.Sentence(sequence.Units{}) != "" {
		t.Errorf("without notes: %+v", s)
	}
	noted(30*sessiontest.Minute, 20, "", 0, 0)             // nobody looked
	noted(40*sessiontest.Minute, 20, EmulsionSound, 60, 0) // a rehearsal
	noted(16*sessiontest.Minute, 20, EmulsionSound, 0, 0)
	noted(18*sessiontest.Minute, 23, EmulsionSound, 0, 20*sessiontest.Minute) // 18 minutes in the tray, the rest in hangers
	s := ObserveLimit(store, film, sequence.Tray)
	if s.Limit() != 18*sessiontest.Minute || s.Sound != 2 || *s.Warmest != 23 {
		t.Errorf("two sound: %+v, limit %v; expected 18 min at up to 23 °C", s, s.Limit())
	}
	if got, want := s.Sentence(sequence.Units{}), "Your notes: a wet limit of 18:00 for Plover 80 in trays, from 2 noted (2 sound, 0 damaged), which are few; sound in baths of up to 23.0 °C."; got != want {
		t.Errorf("%q; want %q", got, want)
	}
	noted(25*sessiontest.Minute, 20, EmulsionLifted, 0, 0) // nine tenths of it are 22:30: what was sound is less
	if s := ObserveLimit(store, film, sequence.Tray); s.Limit() != 18*sessiontest.Minute || s.Damaged != 1 {
		t.Errorf("with damage at 25 min: %v; expected 18 min", s.Limit())
	}
	noted(17*sessiontest.Minute, 20, EmulsionTorn, 0, 0) // below what was sound: 0.9 x 17 min
	if s := ObserveLimit(store, film, sequence.Tray); s.Limit() != 15*sessiontest.Minute+18*sessiontest.Second {
		t.Errorf("with damage at 17 min: %v; expected 15:18", s.Limit())
	}
	if s := ObserveLimit(store, film, sequence.Hangers); s.Limit() != 20*sessiontest.Minute || s.Sound != 1 {
		t.Errorf("in hangers: %+v", s)
	}
	if s := ObserveLimit(store, "Tern 125", sequence.Tray); s.Limit() != 0 {
		t.Errorf("another film: %+v", s)
	}
}
