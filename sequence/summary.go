package sequence

// The plan as scripts read it: the contract's `plan --json`.

import "example.org/wetside/chem"

// Summary is what a plan says to a script.
type Summary struct {
	Recipe   string        `json:"recipe"`
	Film     string        `json:"film"`
	Vessel   Vessel        `json:"vessel"`
	Sheets   int           `json:"sheets"`
	Steps    []StepSummary `json:"steps"`
	Cues     []CueSummary  `json:"cues"`
	Hands    []Hand        `json:"hands"`
	Wet      Wet           `json:"wet"`
	Shorten  []Shortening  `json:"shorten"`
	Cautions []Caution     `json:"cautions"`
	Kinder   []Shortening  `json:"kinder"` // to the film, though no shorter
	Budgets  []Budget      `json:"error_budget"`
}

// StepSummary is one step of a Summary.
type StepSummary struct {
	Name        string        `json:"name"`
	Kind        Kind          `json:"kind"`
	Bath        *string       `json:"bath"`
	Vessel      Vessel        `json:"vessel"`
	RoomLight   Light         `json:"room_light"`
	Start       Elapsed       `json:"start_s"`
	Moves       Elapsed       `json:"moves_s"`
	End         Elapsed       `json:"end_s"`
	Time        Elapsed       `json:"time_s"`
	Base        Elapsed       `json:"base_s"`
	Temperature *chem.Celsius `json:"temperature_c"`
	Factor      float64       `json:"time_factor"`
	Pull        *[]Elapsed    `json:"pull_s"` // of a film test: each sheet's own time today
}

// CueSummary is one cue of a Summary; ForS is null where it does not last.
type CueSummary struct {
	At    Elapsed  `json:"at_s"`
	Kind  CueKind  `json:"cue"`
	For   *Elapsed `json:"for_s"`
	Step  string   `json:"step"`
	Sheet int      `json:"sheet"`
}

// Summary gives the plan in the contract's form.
func (p *Plan) Summary() Summary {
	s := Summary{Recipe: p.Recipe.Title, Film: p.Recipe.Film.Name, Vessel: p.Vessel, Sheets: p.Sheets,
		Hands: p.Hands(), Wet: p.Wet, Shorten: p.Shorten, Cautions: p.Cautions, Kinder: p.Kinder(), Budgets: p.Budgets()}
	for i := range p.Steps {
		st := &p.Steps[i]
		sum := StepSummary{Name: st.Name, Kind: st.Kind, Vessel: st.Vessel, RoomLight: st.RoomLight,
			Start: st.Start, Moves: st.Moves, End: st.End, Time: st.Given, Base: st.Base,
			Temperature: st.Temperature, Factor: float64(st.Given) / float64(st.Base)}
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
