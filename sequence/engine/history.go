package engine

// What a session came to: where the film has been, and how far it developed by
// the readings as they really were. For the notebook, after a replay.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// Passages lists the stays that have happened, by step, then sheet. Out is Never
// while one lasts.
func (s State) Passages() []sequence.Passage { return s.filmState.film.Passages(s.plan) }

// StaysSetAside lists the stays in plain water of sheets that were set aside; Step is the bath
// that they were taken from. Out is Never while one lasts.
func (s State) StaysSetAside() []sequence.Passage {
	var list []sequence.Passage
	for k, y := range s.filmState.film.Row(s.plan, len(s.plan.Steps)) {
		if y.In == sequence.Never {
			continue
		}
		from := 0
		for i := range s.plan.Steps {
			if s.filmState.film.Row(s.plan, i)[k].In != sequence.Never {
				from = i
			}
		}
		list = append(list, sequence.Passage{Step: from, Sheet: k + 1, In: y.In, Out: y.Out})
	}
	return list
}

// Development is how far one sheet developed in one step, as time at the
// reference temperature.
type Development struct {
	Step, Sheet int
	Done, Of    sequence.Elapsed // Of is what the plan wanted
	Bath        *chem.Celsius    // as read, when the sheet left or, still in, at the last event; nil where temperature counts for nothing
	Uncertain   bool             // the bath was outside the recipe's table: Done is counted by its last slope
	Planned     *chem.Celsius    // what the plan expected then
}

// wanted is what the plan wants of sheet k in a developer.
func wanted(st *sequence.PlanStep, k int) sequence.Elapsed {
	if st.IsFilmTest() {
		return st.Doses[k]
	}
	return st.Dose
}

// Share is Done as a share of Of.
func (d Development) Share() float64 { return float64(d.Done) / float64(d.Of) }

// MarshalJSON writes the share in per cent, as scripts are told of it.
func (d Development) MarshalJSON() ([]byte, error) { return sequence.Marshal(100 * d.Share()) }

// Developments tells of every stay in a developer, by step, then sheet. All
// readings count, also those taken after the film had left: the course between
// two readings is a straight line, so a late one corrects what was believed.
func (s State) Developments() []Development {
	var list []Development
	for _, y := range s.Passages() {
		st := &s.plan.Steps[y.Step]
		if st.Kind != sequence.Develop {
			continue
		}
		d := Development{Step: y.Step, Sheet: y.Sheet, Of: wanted(st, y.Sheet-1)}
		out := max(min(y.Out, s.at), y.In)
		d.Done = s.dose(y.Step, y.In, out)
		if st.TimeByTemperature != nil {
			bath, planned := s.course(y.Step).At(out), s.plan.Course(st).At(out)
			d.Bath, d.Planned = &bath, &planned
			d.Uncertain = s.uncertain(y.Step, y.In, out)
		}
		list = append(list, d)
	}
	return list
}
