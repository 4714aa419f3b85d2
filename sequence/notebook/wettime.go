package notebook

// Wet time as it really was: of each sheet, in each vessel, as a share of what
// the film stands there. Shares add up (our own rule).

import (
	"math"
	"slices"

	"example.org/wetside/sequence"
)

// WetTime is the wet time of a session. The first six fields are those of a plan, for
// the sheet that was wettest by its limit, of those that were not set aside.
type WetTime struct {
	Total   sequence.Elapsed  `json:"total_s"`
	Limit   *sequence.Elapsed `json:"limit_s"` // of the load's vessel; nil where none is known
	Used    *float64          `json:"used"`
	Margin  *sequence.Elapsed `json:"margin_s"`
	LimitAt *sequence.Elapsed `json:"limit_at_s"` // when its limit was used up, or would have been
	Session sequence.Elapsed  `json:"session_s"`  // first sheet in to last sheet out of all sheets
	Sheets  []SheetWetTime    `json:"sheets"`
}

// SheetWetTime is the wet time of one sheet. Used is nil where the load's vessel has no limit.
type SheetWetTime struct {
	Sheet   int              `json:"sheet"`
	Total   sequence.Elapsed `json:"total_s"`
	Used    *float64         `json:"used"`
	Aside   bool             `json:"set_aside"` // set aside in plain water: it counts no more
	Vessels []VesselWetTime  `json:"vessels"`   // in the order in which they came
}

// VesselWetTime is the wet time of one sheet in one vessel.
type VesselWetTime struct {
	Vessel sequence.Vessel   `json:"vessel"`
	Time   sequence.Elapsed  `json:"time_s"`
	Limit  *sequence.Elapsed `json:"limit_s"` // nil where none is known: counts nothing
}

// addUpWetTime adds up stays, and those of the sheets that were set aside; one that lasts goes
// up to at.
func addUpWetTime(p *sequence.Plan, film, aside []sequence.Passage, at sequence.Elapsed) WetTime {
	var w WetTime
	first, last := sequence.Never, sequence.Elapsed(0)
	sheets := make([]SheetWetTime, p.Sheets)
	for _, y := range slices.Concat(film, aside) {
		st := &p.Steps[y.Step]
		if st.OutsideWetTime {
			continue
		}
		out := min(y.Out, max(at, y.In))
		first, last = min(first, y.In), max(last, out)
		sheets[y.Sheet-1].add(p, st.Vessel, out-y.In)
	}
	for _, y := range aside {
		sheets[y.Sheet-1].Aside = true
	}
	for k := range sheets {
		sheets[k].Sheet = k + 1
		if sheets[k].Total > 0 {
			w.Sheets = append(w.Sheets, sheets[k])
		}
	}
	if first != sequence.Never {
		w.Session = last - first
	}
	w.sum(p)
	return w
}

func (s *SheetWetTime) add(p *sequence.Plan, v sequence.Vessel, d sequence.Elapsed) {
	s.Total += d
	if n := len(s.Vessels); n > 0 && s.Vessels[n-1].Vessel == v {
		s.Vessels[n-1].Time += d
		return
	}
	in := VesselWetTime{Vessel: v, Time: d}
	if limit, ok := p.Limits.For(v); ok {
		in.Limit = &limit
	}
	s.Vessels = append(s.Vessels, in)
}

// share is what a sheet used of the limits.
func (s *SheetWetTime) share() float64 {
	used := 0.0
	for _, v := range s.Vessels {
		if v.Limit != nil && *v.Limit > 0 {
			used += float64(v.Time) / float64(*v.Limit)
		}
	}
	return used
}

// sum is the worst of the sheets.
func (w *WetTime) sum(p *sequence.Plan) {
	limit, known := p.Limits.For(p.Vessel)
	worst := 0.0
	for k := range w.Sheets {
		s := &w.Sheets[k]
		used := s.share()
		if known {
			s.Used = &used
		}
		if !s.Aside {
			w.Total, worst = max(w.Total, s.Total), max(worst, used)
		}
	}
	if known && len(w.Sheets) > 0 {
		margin := sequence.Elapsed(math.Round((1 - worst) * float64(limit)))
		w.Limit, w.Used, w.Margin = &limit, &worst, &margin
	}
}
