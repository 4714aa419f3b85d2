package planning

// The plan as scripts read it: the contract's `plan --json`.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Summary is what a plan says to a script.
type Summary struct {
	Recipe   string                `json:"recipe"`
	Film     string                `json:"film"`
	Vessel   sequence.Vessel       `json:"vessel"`
	Sheets   int                   `json:"sheets"`
	Steps    []StepSummary         `json:"steps"`
	Cues     []CueSummary          `json:"cues"`
	Hands    []sequence.Hand       `json:"hands"`
	Wet      sequence.Wet          `json:"wet"`
	Shorten  []sequence.Shortening `json:"shorten"`
	Cautions []sequence.Caution    `json:"cautions"`
	Gentler  []sequence.Shortening `json:"kinder"` // to the film, though no shorter
	Budgets  []ErrorBudget         `json:"error_budget"`
}

// StepSummary is one step of a Summary.
type StepSummary struct {
	Name        string               `json:"name"`
	Kind        sequence.Kind        `json:"kind"`
	Bath        *string              `json:"bath"`
	Vessel      sequence.Vessel      `json:"vessel"`
	RoomLight   sequence.Light       `json:"room_light"`
	Start       sequence.Elapsed     `json:"start_s"`
	Moves       sequence.Elapsed     `json:"moves_s"`
	End         sequence.Elapsed     `json:"end_s"`
	Time        sequence.Elapsed     `json:"time_s"`
	Base        sequence.Elapsed     `json:"base_s"`
	Temperature *chem.Celsius        `json:"temperature_c"`
	Factor      float64              `json:"time_factor"`
	Assumed     bool                 `json:"coefficient_assumed"` // the time rests on a coefficient that the recipe does not state
	Pull        *[]sequence.Elapsed  `json:"pull_s"`              // of a film test: each sheet's own time today
	Washing     *Washing             `json:"washing"`
	Reused      *sequence.ReusedBath `json:"reused"` // a developer that was used before; null for a fresh one
}

// CueSummary is one cue of a Summary; ForS is null where it does not last.
type CueSummary struct {
	At    sequence.Elapsed  `json:"at_s"`
	Kind  sequence.CueKind  `json:"cue"`
	For   *sequence.Elapsed `json:"for_s"`
	Step  string            `json:"step"`
	Sheet int               `json:"sheet"`
}

// Summarise gives the plan in the contract's form.
func Summarise(p *sequence.Plan) Summary {
	s := Summary{Recipe: p.Recipe.Title, Film: p.Recipe.Film.Name, Vessel: p.Vessel, Sheets: p.Sheets,
		Hands: schedule.PlannedHands(p), Wet: p.Wet, Shorten: p.Shorten, Cautions: p.Cautions, Gentler: Gentler(p), Budgets: ErrorBudgets(p)}
	for i := range p.Steps {
		st := &p.Steps[i]
		sum := StepSummary{Name: st.Name, Kind: st.Kind, Vessel: st.Vessel, RoomLight: st.RoomLight,
			Start: st.Start, Moves: st.FirstOut, End: st.End, Time: st.Given, Base: st.Base,
			Temperature: TemperatureOf(p, i), Factor: float64(st.Given) / float64(st.Base), Washing: WashOf(p, i), Assumed: st.AssumesCoefficient(), Reused: st.Reused}
		if pulls := p.Pulls(i); pulls != nil {
			sum.Pull = &pulls
		}
		if st.Bath != "" {
			sum.Bath = &st.Bath
		}
		s.Steps = append(s.Steps, sum)
	}
	for _, c := range p.Cues {
		sum := CueSummary{At: c.At, Kind: c.Kind, Step: c.Step, Sheet: c.Sheet}
		if c.For > 0 {
			sum.For = &c.For
		}
		s.Cues = append(s.Cues, sum)
	}
	return s
}
