package notebook

// How a film was wet in each session after which somebody noted how its emulsion came through, and what
// that says of a plan: chem/wetlife.go has the arithmetic.

import (
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// WetTrial is one session of a film in one vessel, noted afterwards.
type WetTrial struct {
	chem.WetTrial
	Limit sequence.Elapsed // the recipe's for the vessel; 0 for none
}

// unknownTemperature is what a bath counts as of which no temperature is known: room temperature.
const unknownTemperature sequence.Celsius = 20

// WetTrials gathers the sessions of a film in which a vessel was used and the state of the emulsion was
// noted, newest first; rehearsals are none. Of a session in several vessels the time in this one counts:
// less than the film stood, or less than what harmed it.
func WetTrials(store journal.Store, film string, v sequence.Vessel) (list []WetTrial) {
	for _, one := range List(store) {
		if one.Rehearsal || !strings.EqualFold(one.Film, film) || one.Emulsion == "" {
			continue
		}
		full, err := Open(store, one.ID)
		if err != nil || full.Plan == nil {
			continue
		}
		if t, ok := full.WetTrial(v); ok {
			list = append(list, t)
		}
	}
	return list
}

// WetTrial is how the session's wettest sheet was wet in a vessel; false where no sheet came into it. What
// was set aside lay in water, and nobody looked at it.
func (s *Session) WetTrial(v sequence.Vessel) (WetTrial, bool) {
	if s.Plan == nil {
		return WetTrial{}, false
	}
	t := WetTrial{WetTrial: chem.WetTrial{Damaged: s.Emulsion == EmulsionLifted || s.Emulsion == EmulsionTorn}}
	t.Limit, _ = s.Plan.Recipe.Film.WetLimit.For(v)
	for _, sheet := range s.Wet.Sheets {
		in := sequence.Elapsed(0)
		for _, w := range sheet.Vessels {
			if w.Vessel == v && !sheet.Aside {
				in += w.Time
			}
		}
		t.Wet = max(t.Wet, in)
	}
	warmest := warmth{}
	for i := range s.Steps {
		st := &s.Steps[i]
		if st.Plan.Vessel != v || st.Plan.OutsideWetTime {
			continue
		}
		t.Handlings += st.Shuffles
		warmest.take(st.Plan.Temperature)
		for _, y := range st.Sheets {
			if y.Out != sequence.Never {
				t.Handlings++
			}
			if y.Developed != nil {
				warmest.take(y.Developed.Bath)
			}
		}
	}
	t.Temperature = warmest.orUnknown()
	return t, t.Wet > 0
}

// warmth is the warmest bath seen; nil for none.
type warmth struct{ most *sequence.Celsius }

func (w *warmth) take(t *sequence.Celsius) {
	if t != nil && (w.most == nil || *t > *w.most) {
		w.most = t
	}
}

func (w *warmth) orUnknown() sequence.Celsius {
	if w.most == nil {
		return unknownTemperature
	}
	return *w.most
}

// WetRisk is how likely a plan damages its film in the load's vessel, by what was noted.
type WetRisk struct {
	Plan            chem.WetTrial
	Vessel          sequence.Vessel
	Risk, Low, High float64          // with the interval that holds nine in ten of what the film may be
	Sound, Damaged  int              // sessions that say so
	Limit           sequence.Elapsed // the recipe's, with which the estimate begins; 0 for none
	Seen            bool             // a session came through sound that was as long, as warm and as much handled at once
}

// WetRiskOf weighs a plan by the trials of its film in the vessel of its load.
func WetRiskOf(p *sequence.Plan, trials []WetTrial) WetRisk {
	r := WetRisk{Plan: plannedTrial(p), Vessel: p.Vessel}
	r.Limit, _ = p.Recipe.Film.WetLimit.For(p.Vessel)
	known := make([]chem.WetTrial, len(trials))
	for i, t := range trials {
		if known[i] = t.WetTrial; t.Damaged {
			r.Damaged++
		} else {
			r.Sound++
		}
	}
	life := chem.EstimateWetLife(r.Limit, known)
	r.Risk, r.Low, r.High = life.Risk(r.Plan)
	r.Seen = life.Seen(r.Plan)
	return r
}

// plannedTrial is how the wettest sheet of a plan will be wet in the load's vessel.
func plannedTrial(p *sequence.Plan) (t chem.WetTrial) {
	warmest, wet := warmth{}, make([]sequence.Elapsed, p.Sheets+1)
	in := func(step int) bool { return p.Steps[step].Vessel == p.Vessel && !p.Steps[step].OutsideWetTime }
	for i := range p.Steps {
		if in(i) {
			warmest.take(p.Steps[i].Temperature)
		}
	}
	for _, y := range p.Passages {
		if in(y.Step) {
			wet[y.Sheet] += y.Out - y.In
			t.Wet = max(t.Wet, wet[y.Sheet])
			t.Handlings++
		}
	}
	for _, c := range p.Cues {
		if i := p.StepIndex(c.Step); c.Kind == sequence.CueShuffle && i < len(p.Steps) && in(i) {
			t.Handlings++
		}
	}
	t.Temperature = warmest.orUnknown()
	return t
}
