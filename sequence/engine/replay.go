package engine

// From a session's events to its state.

import "example.org/wetside/sequence"

// Replay is the state of a session whose events these are: what applying them one
// by one comes to, at less cost. What lies ahead is worked out where a later event
// depends on it, and at the end.
func Replay(p *sequence.Plan, events []sequence.Event) (State, error) {
	s, err := NewState(p)
	if err != nil {
		return s, err
	}
	s.muted = true
	for _, e := range events {
		s = Apply(s, e)
	}
	s.muted = false
	return s.forecastOnce(), nil
}

// forecastOnce works out what lies ahead as of when that was last called for.
func (s State) forecastOnce() State {
	at := s.at
	s.at, s.stale = s.laidAt, false
	s = s.withForecast()
	s.at = at
	return s
}
