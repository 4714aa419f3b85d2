package schedule

// When the light goes out, and when it may come back.

import (
	"slices"

	"example.org/wetside/sequence"
)

// lightCues places lights-out before a dark step that follows a lit one, and the
// offer of light: when the last sheet has had lights_on_after, or when the first
// lighter step has begun with all sheets in it.
func (c *CueBuilder) lightCues() []PlacedCue {
	var list []PlacedCue
	at := func(t sequence.Elapsed, k sequence.CueKind, s int) {
		list = append(list, PlacedCue{sequence.Cue{At: t, Kind: k, Step: c.Plan.Steps[s].Name}, s})
	}
	offered, darkest := false, sequence.White
	for s := range c.Plan.Steps {
		st := &c.Plan.Steps[s]
		_, last, moves, _ := Bounds(c.Film.Row(c.Plan, s))
		if s > 0 && st.RoomLight == sequence.Dark && c.Plan.Steps[s-1].RoomLight != sequence.Dark {
			_, in, before, _ := Bounds(c.Film.Row(c.Plan, s-1))
			at(max(in, before-readyBefore), sequence.CueLightsOut, s-1)
			offered = false
		}
		if lighter(st.RoomLight, darkest) && !offered {
			at(last, sequence.CueLightsOffer, s)
			offered = true
		}
		if lighter(darkest, st.RoomLight) {
			darkest = st.RoomLight
		}
		if had := last + st.LightsOnAfter; st.LightsOnAfter > 0 && had <= moves && darkest != sequence.White && !offered {
			at(had, sequence.CueLightsOffer, s)
			offered = true
		}
	}
	return list
}

func lighter(a, b sequence.Light) bool {
	lit := []sequence.Light{sequence.Safelight, sequence.White}
	return slices.Index(lit, a) > slices.Index(lit, b)
}
