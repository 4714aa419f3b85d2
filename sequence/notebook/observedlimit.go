package notebook

// What a film stands, by what was noted of its emulsion: the wet limit that the
// sessions so far speak for, on the careful side, and how few they are.

import (
	"fmt"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// ObservedLimit is what the sessions of one film in one vessel came to.
type ObservedLimit struct {
	Film     string
	Vessel   sequence.Vessel
	Sound    int               // sessions after which the emulsion was sound
	Damaged  int               // and after which it was not
	Longest  sequence.Elapsed  // wet time that it came through sound; 0 for none
	Shortest sequence.Elapsed  // wet time after which it was damaged; 0 for none
	Warmest  *sequence.Celsius // bath among those it came through sound; nil where not known
}

// carefulShare is the part of the shortest wet time that did damage which is still
// suggested (our own rule).
const carefulShare = 0.9

// fewSessions is how many sessions are few (our own rule).
const fewSessions = 5

// ObserveLimit gathers every session of a film in which a vessel was used and the state
// of the emulsion was noted; rehearsals are none. Of a session in several vessels the
// time in this one counts: less than the film stood, or less than what harmed it.
func ObserveLimit(store journal.Store, film string, v sequence.Vessel) ObservedLimit {
	s := ObservedLimit{Film: film, Vessel: v}
	for _, one := range List(store) {
		if one.Rehearsal || !strings.EqualFold(one.Film, film) || one.Emulsion == "" {
			continue
		}
		full, err := Open(store, one.ID)
		if err != nil || full.Plan == nil {
			continue
		}
		s.add(&full)
	}
	return s
}

// add takes in one session.
func (s *ObservedLimit) add(one *Session) {
	wet := sequence.Elapsed(0)
	for _, sheet := range one.Wet.Sheets {
		if sheet.Aside {
			continue // it lay in water, and nobody looked at it
		}
		in := sequence.Elapsed(0)
		for _, v := range sheet.Vessels {
			if v.Vessel == s.Vessel {
				in += v.Time
			}
		}
		wet = max(wet, in)
	}
	switch {
	case wet == 0:
	case one.Emulsion == EmulsionSound:
		s.Sound++
		s.Longest = max(s.Longest, wet)
		if t := warmest(one); t != nil && (s.Warmest == nil || *t > *s.Warmest) {
			s.Warmest = t
		}
	default:
		s.Damaged++
		if s.Shortest == 0 || wet < s.Shortest {
			s.Shortest = wet
		}
	}
}

// warmest is the warmest bath of a session, as read or as planned.
func warmest(one *Session) *sequence.Celsius {
	var most *sequence.Celsius
	take := func(t *sequence.Celsius) {
		if t != nil && (most == nil || *t > *most) {
			most = t
		}
	}
	for i := range one.Steps {
		take(one.Steps[i].Plan.Temperature)
		for _, y := range one.Steps[i].Sheets {
			if y.Developed != nil {
				take(y.Developed.Bath)
			}
		}
	}
	return most
}

// Limit is the wet limit that the notes speak for, in whole seconds: no longer than
// the film has come through sound, and less than what did damage; 0 without notes.
func (s ObservedLimit) Limit() sequence.Elapsed {
	limit := s.Longest
	if s.Damaged > 0 {
		below := sequence.Elapsed(carefulShare * float64(s.Shortest))
		if limit == 0 || limit > below {
			limit = below
		}
	}
	return limit.Truncate(time.Second)
}

// Sentence is the suggestion in a sentence; "" without notes.
func (s ObservedLimit) Sentence(h sequence.Units) string {
	n := s.Sound + s.Damaged
	if n == 0 {
		return ""
	}
	text := fmt.Sprintf("Your notes: a wet limit of %s for %s %s", sequence.FormatElapsed(s.Limit()), s.Film, s.Vessel.In())
	text += fmt.Sprintf(", from %d noted (%d sound, %d damaged)", n, s.Sound, s.Damaged)
	if n < fewSessions {
		text += ", which are few"
	}
	if s.Warmest != nil {
		text += fmt.Sprintf("; sound in baths of up to %s", h.ToTenth(*s.Warmest))
	}
	return text + "."
}
