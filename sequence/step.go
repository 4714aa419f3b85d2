package sequence

// A step of a recipe: its kind, its light, its agitation, its temperature.

import "example.org/wetside/chem"

// Kind is what a step does to the film.
type Kind string

// The kinds of step.
const (
	Presoak      Kind = "presoak"
	Develop      Kind = "develop"
	StopBath     Kind = "stop"
	Fix          Kind = "fix"
	Rinse        Kind = "rinse"
	WashingAid   Kind = "wash-aid"
	Wash         Kind = "wash"
	WettingAgent Kind = "wetting"
	Other        Kind = "other"
)

// Kinds lists every kind of step.
var Kinds = []Kind{Presoak, Develop, StopBath, Fix, Rinse, WashingAid, Wash, WettingAgent, Other}

// Light is what the room and the screen may do in a step.
type Light string

// The lights, darkest first.
const (
	Dark      Light = "dark"
	Safelight Light = "safelight"
	White     Light = "white"
)

// Step is one bath of the recipe, in order. Exactly one of Time, Times and
// TakeOut is set.
type Step struct {
	Name           string       `json:"name"` // unique; its kind unless given
	Kind           Kind         `json:"kind"`
	Bath           string       `json:"bath,omitzero"`
	Vessel         Vessel       `json:"vessel,omitzero"` // from this step on; empty: as before
	Time           Elapsed      `json:"time_s,omitzero"`
	Times          []NamedTime  `json:"times,omitzero"`          // developments, in the order of the file
	PullTimes      []Elapsed    `json:"take_out_s,omitzero"`     // a film test: one developing time a sheet
	LeaveTogether  bool         `json:"leave_together,omitzero"` // with TakeOut: entered at their own times, the longest first, and out at one moment
	StraightOn     bool         `json:"straight_on,omitzero"`    // with TakeOut: each sheet pulled has the acid stop bath's time and goes on to the fixer at once
	RoomLight      Light        `json:"room_light"`
	Agitate        Agitation    `json:"agitate"`
	Drain          Elapsed      `json:"drain_s,omitzero"`     // inside the time, at its end
	WaitForPerson  bool         `json:"wait,omitzero"`        // advance = "wait": moves on only when told
	Temperature    *Temperature `json:"temperature,omitzero"` // nil where not given
	LightsOnAfter  Elapsed      `json:"lights_on_after_s,omitzero"`
	LeastTime      Elapsed      `json:"at_least_s,omitzero"`      // the least that still does its work
	Growth         *Growth      `json:"growth,omitzero"`          // developing steps only; nil where no test is known
	Aim            *Aim         `json:"aim,omitzero"`             // what Time, or N of Times, was found for; nil where not known
	ReverseEvery   Elapsed      `json:"reverse_every_s,omitzero"` // drum: instead of the load's
	Optional       bool         `json:"optional,omitzero"`
	OutsideWetTime bool         `json:"dry,omitzero"` // wet = false: outside the wet time
	Note           string       `json:"note,omitzero"`
}

// NamedTime is one of several developments of a recipe ("N-1", "N", "N+1").
type NamedTime struct {
	Name string  `json:"name"`
	Time Elapsed `json:"time_s"`
}

// Named is the time of the development of that name; false where the recipe has none.
func (st *Step) Named(development string) (Elapsed, bool) {
	for _, t := range st.Times {
		if t.Name == development {
			return t.Time, true
		}
	}
	return 0, false
}

// TimeOf is the time of a development: of the one named, else of N, else of the first; 0 of a film test.
func (st *Step) TimeOf(development string) Elapsed {
	for _, name := range []string{development, "N"} {
		if t, ok := st.Named(name); ok {
			return t
		}
	}
	if len(st.Times) > 0 {
		return st.Times[0].Time
	}
	return st.Time
}

// AgitationMode says how a step is agitated.
type AgitationMode string

// The modes of agitation. Pattern is the recipe's table form.
const (
	Still      AgitationMode = "none"
	Continuous AgitationMode = "continuous"
	Shuffle    AgitationMode = "shuffle"
	Pattern    AgitationMode = "pattern"
)

// Agitation is how a step is agitated. For a Pattern: Initial from the start,
// then For at every multiple of Every, or For at each of the fractions At of
// the step's length.
type Agitation struct {
	Mode    AgitationMode `json:"mode"`
	Initial Elapsed       `json:"initial_s,omitzero"`
	For     Elapsed       `json:"for_s,omitzero"`
	Every   Elapsed       `json:"every_s,omitzero"`
	At      []float64     `json:"at,omitzero"` // fractions, each in (0, 1)
}

// Temperature says for which temperature a step's time is meant and how it
// changes away from it. Coefficient and Table are of developing steps only; at
// most one is set.
type Temperature struct {
	At          chem.Celsius   `json:"at_c"`
	Coefficient float64        `json:"coefficient,omitzero"` // rate ratio for 10 C; 0 where not given
	Table       []chem.Pair    `json:"table,omitzero"`       // ascending temperatures
	Range       []chem.Celsius `json:"range_c,omitzero"`     // lowest and highest; nil where not given
}
