package sequence

// The plan: a recipe under today's conditions, with fixed times and cues. It is
// frozen into the first record of a session, so everything that running needs
// is in it; nothing is looked up in the recipe's file again.

import (
	"strings"

	"example.org/wetside/chem"
)

// Plan is a recipe resolved under conditions.
type Plan struct {
	Recipe     Recipe       `json:"recipe"`
	Conditions Conditions   `json:"conditions"`
	Vessel     Vessel       `json:"vessel"` // of the load
	Sheets     int          `json:"sheets"`
	Limits     WetLimit     `json:"limits,omitzero"` // the film's, as the conditions change them
	Steps      []PlanStep   `json:"steps"`
	Passages   []Passage    `json:"passages"` // by step, then sheet
	Cues       []Cue        `json:"cues"`
	Wet        Wet          `json:"wet"`
	Cautions   []Caution    `json:"cautions"`
	Shorten    []Shortening `json:"shorten"`
}

// PlanStep is one step with its times fixed.
type PlanStep struct {
	Step                      // as the recipe has it
	Vessel      Vessel        `json:"in_vessel"` // that it is carried out in
	Stack       bool          `json:"stack,omitzero"`
	Start       Elapsed       `json:"start_s"`                // first sheet in
	Moves       Elapsed       `json:"moves_s"`                // first sheet out
	End         Elapsed       `json:"end_s"`                  // last sheet out
	Given       Elapsed       `json:"given_s"`                // what each sheet is given at least; developing: exactly
	Base        Elapsed       `json:"base_s"`                 // the recipe's time, before temperature and factor
	Dose        Elapsed       `json:"dose_s"`                 // to be reached, as time at the reference temperature
	Doses       []Elapsed     `json:"doses_s,omitzero"`       // take-out: one a sheet
	Temperature *chem.Celsius `json:"temperature_c,omitzero"` // at its start; nil where unknown
	Works       *Temperature  `json:"works,omitzero"`         // how temperature changes the time; nil for not at all
}

// Passage is one sheet's stay in one step. Out is Never while it lasts.
type Passage struct {
	Step  int     `json:"step"`  // index into the plan's steps
	Sheet int     `json:"sheet"` // 1..n
	In    Elapsed `json:"in_s"`
	Out   Elapsed `json:"out_s"`
}

// Wet is the wet time of the worst sheet that is not set aside, forecast.
type Wet struct {
	Total     Elapsed  `json:"total_s"`      // the longest among the sheets
	Limit     *Elapsed `json:"limit_s"`      // of the load's vessel; nil where none is known
	Used      *float64 `json:"used"`         // shares of the vessels' limits, added
	Margin    *Elapsed `json:"margin_s"`     // (1 - used) x limit
	WarningAt *Elapsed `json:"warning_at_s"` // nil where never reached within the plan
	LimitAt   *Elapsed `json:"limit_at_s"`   // when its limit is used up, also beyond the plan's end; nil where none is known
	Session   Elapsed  `json:"session_s"`    // first dip to last lift of all sheets
}

// Level is how serious a caution is.
type Level string

// The levels of a caution, gravest first.
const (
	Danger Level = "danger"
	Care   Level = "care"
	Note   Level = "note"
)

// Caution is something to know before film is wet. It never stops a run.
type Caution struct {
	Level Level  `json:"level"`
	Code  string `json:"code"`
	Text  string `json:"text"`
}

// Shortening is a change that would shorten the wet time, or a combination of them.
type Shortening struct {
	Saves   Elapsed          `json:"saves_s"`  // of the longest wet time
	Margin  *Elapsed         `json:"margin_s"` // that it leaves; nil where no limit is known
	Code    string           `json:"code"`
	Step    string           `json:"step"`                   // the step changed; "" for the whole load
	Text    string           `json:"text"`                   // temperatures in Celsius
	To      *chem.Celsius    `json:"temperature_c,omitzero"` // that the developer is warmed to; nil where it is not
	Price   string           `json:"price"`                  // what it costs
	Caution string           `json:"caution,omitzero"`       // what to watch for
	Parts   []ShorteningPart `json:"parts,omitzero"`         // of a combination: its single changes, in order
}

// TextFor is the text with its temperature on a person's scale.
func (s Shortening) TextFor(h Habits) string {
	if s.To == nil {
		return s.Text
	}
	return strings.Replace(s.Text, Habits{}.Temperature(*s.To), h.Temperature(*s.To), 1)
}

// ShorteningPart names one change of a combination.
type ShorteningPart struct {
	Code string `json:"code"`
	Step string `json:"step"`
}

// course is the developer's temperature through the session as planned.
// Readings taken while running are added to it.
func (p *Plan) course(st *PlanStep) chem.Course {
	c := p.Conditions
	t, before := chem.Celsius(0), Elapsed(0)
	if st.Works != nil {
		t = st.Works.At
	}
	if c.Temp != nil {
		t, before = *c.Temp, c.ReadBefore
	}
	course := chem.Course{Readings: []chem.Point{{At: -before, T: t}}}
	if c.Towards != nil {
		course.Drift = &chem.Drift{Settle: *c.Towards, Tau: c.Drift}
	}
	return course
}

// rate is how fast the step's bath works.
func (st *PlanStep) rate() (chem.Rate, error) {
	w := st.Works
	switch {
	case w == nil:
		return chem.Even{}, nil
	case len(w.Table) > 0:
		return chem.NewPairs(w.At, Seconds(st.Base), w.Table)
	default:
		return chem.Coefficient{Reference: w.At, K: w.Coefficient}, nil
	}
}

// HasDark reports whether some step allows no light.
func (p *Plan) HasDark() bool {
	for i := range p.Steps {
		if p.Steps[i].RoomLight == Dark {
			return true
		}
	}
	return false
}

// tests reports whether the step is a film test's: each sheet has a time of its own.
func (st *PlanStep) tests() bool { return len(st.Doses) > 0 }

// Pulls is each sheet's own time in step i of a film test today: after temperature,
// drift and factor. nil for other steps.
func (p *Plan) Pulls(i int) []Elapsed {
	if !p.Steps[i].tests() {
		return nil
	}
	times := make([]Elapsed, p.Sheets)
	for _, y := range p.Passages {
		if y.Step == i {
			times[y.Sheet-1] = y.Out - y.In
		}
	}
	return times
}

// TakesOut reports whether sheets of a film test are taken out one after the other.
func (st *PlanStep) TakesOut() bool { return st.tests() && !st.Together }

// joins reports whether sheets of a film test come in one after the other and leave at
// one moment.
func (st *PlanStep) joins() bool { return st.tests() && st.Together }

// parting reports whether the sheets of step s leave it each at its own time, for a
// film test in the next.
func (p *Plan) parting(s int) bool { return s >= 0 && s+1 < len(p.Steps) && p.Steps[s+1].joins() }

// waits reports whether sheets taken out of step s-1 gather in step s: each has
// its time and then waits in plain water for the last.
func (p *Plan) waits(s int) bool { return s > 0 && p.Steps[s-1].TakesOut() }

// own reports whether each sheet of step s has a time of its own, from its entry:
// in a stack's developer, and in a film test's.
func (p *Plan) own(s int) bool {
	st := &p.Steps[s]
	return st.TakesOut() || st.Stack && st.Kind == Develop && !p.waits(s) && !st.joins()
}

// together reports whether all sheets leave step s at one moment.
func (p *Plan) together(s int) bool {
	st := &p.Steps[s]
	if st.joins() || p.parting(s) {
		return st.joins() || p.Sheets == 1
	}
	if p.Sheets == 1 || p.waits(s) {
		return !st.TakesOut()
	}
	intoStack := s+1 < len(p.Steps) && p.Steps[s+1].Stack
	return !st.Stack && !st.TakesOut() && !intoStack
}

// WithMoving is how long a sheet is in step i at most, as planned: what each is given and
// the time in which hands move the others.
func (p *Plan) WithMoving(i int) Elapsed {
	longest := p.Steps[i].Given
	for _, y := range p.Passages {
		if y.Step == i && y.Out != Never {
			longest = max(longest, y.Out-y.In)
		}
	}
	return longest
}

// step returns the index of the step called name, or len(p.Steps) for "",
// which is out of the last bath.
func (p *Plan) step(name string) int {
	for i := range p.Steps {
		if p.Steps[i].Name == name {
			return i
		}
	}
	return len(p.Steps)
}

// name is the inverse of step; -1 is dry film before the first bath.
func (p *Plan) name(s int) string {
	if s < 0 || s >= len(p.Steps) {
		return ""
	}
	return p.Steps[s].Name
}

// Next names the step after the one named; "the dry" after the last.
func (p *Plan) Next(step string) string {
	if name := p.name(p.step(step) + 1); name != "" {
		return name
	}
	return "the dry"
}

// Clock writes a time as people read it: 8:30, 1:02:03, -0:10.
func Clock(d Elapsed) string { return chem.FormatDuration(d) }

// Segment is one step on the time line: from its first sheet in to the first of
// the next step, or the last lift.
type Segment struct {
	Step     int
	From, To Elapsed
}

// Segments puts passages (a plan's, or a session's laid out to the end) on the
// time line. A step that has no passage is left out.
func (p *Plan) Segments(film []Passage) []Segment {
	var list []Segment
	var end Elapsed
	for _, y := range film {
		if n := len(list); n == 0 || list[n-1].Step != y.Step {
			list = append(list, Segment{Step: y.Step, From: y.In})
		}
		s := &list[len(list)-1]
		s.From = min(s.From, y.In)
		if y.Out != Never {
			end = max(end, y.Out)
		}
	}
	for i := range list {
		list[i].To = end
		if i+1 < len(list) {
			list[i].To = list[i+1].From
		}
	}
	return list
}
