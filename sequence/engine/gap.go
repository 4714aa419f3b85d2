package engine

// Time in which nobody was there: the laptop slept, or the session was cut off and is taken up.
// Nothing moves in it; what should have moved holds until the person says so.

import "example.org/wetside/sequence"

// gap lets nothing move between from and to, and holds where something should have.
func (d *decision) gap(from, to sequence.Elapsed) {
	if !d.s.began || d.s.over != "" {
		return
	}
	missed := d.s.missed(to)
	d.emit(sequence.Event{At: to, Kind: sequence.GapFound, Since: &from})
	d.holdIf(missed, "a move fell inside the gap: say go when it is done")
}

// missed reports whether a change of bath falls due up to t.
func (s State) missed(t sequence.Elapsed) bool {
	return s.forecastNow.change.at <= t && !s.filmState.overdue
}

func (d *decision) holdIf(needed bool, why string) {
	if needed && !d.s.filmState.held {
		d.emit(sequence.Event{At: d.now, Kind: sequence.Held, Text: why})
	}
}

// resume takes up a session that was cut off.
func (d *decision) resume(r sequence.Resume) {
	missed := d.s.missed(d.now)
	d.emit(sequence.Event{At: d.now, Kind: sequence.Resumed, Since: &r.From, Text: r.Text})
	if r.Gap {
		d.emit(sequence.Event{At: d.now, Kind: sequence.GapFound, Since: &r.From})
	}
	d.holdIf(r.Gap && missed, "a move fell inside the gap: say go when it is done")
	d.holdIf(r.Ask, "the time away is not known for certain: say go when it is right")
}
