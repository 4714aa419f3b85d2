package schedule

// Wet time: from when a sheet goes into its first bath until it leaves the last, whatever happens in
// between, as shares of what the film stands in each vessel. That shares of
// several limits add up is our own rule.

import (
	"math"

	"example.org/wetside/sequence"
)

// WetTime is one sheet's wet time.
type WetTime struct {
	Total sequence.Elapsed
	Used  float64 // shares of the limits, added
}

// WetTimeOf is sheet k's wet time up to t (Never: until it is out for good).
func WetTimeOf(p *sequence.Plan, f Stays, k int, t sequence.Elapsed) WetTime {
	var s WetTime
	for i := range p.Steps {
		y := f.Row(p, i)[k]
		if p.Steps[i].OutsideWetTime || y.In == sequence.Never || y.In >= t {
			continue
		}
		s.add(p, p.Steps[i].Vessel, min(y.Out, t)-y.In)
	}
	if y := f.Row(p, len(p.Steps))[k]; y.In < t {
		s.add(p, p.Vessel, min(y.Out, t)-y.In)
	}
	return s
}

// add adds a stay in a vessel. What is set aside in water counts as in the load's.
func (s *WetTime) add(p *sequence.Plan, v sequence.Vessel, d sequence.Elapsed) {
	s.Total += d
	if limit, ok := p.Limits.For(v); ok {
		s.Used += float64(d) / float64(limit)
	}
}

// reaches is when sheet k has used the share, Never where it does not. A stay
// that has not ended lasts for as long as it takes.
func reaches(p *sequence.Plan, f Stays, k int, share float64) sequence.Elapsed {
	used := 0.0
	for i := 0; i <= len(p.Steps); i++ {
		y, v, dry := f.Row(p, i)[k], p.Vessel, false
		if i < len(p.Steps) {
			v, dry = p.Steps[i].Vessel, p.Steps[i].OutsideWetTime
		}
		if y.In == sequence.Never {
			continue
		}
		limit, ok := p.Limits.For(v)
		if ok && !dry {
			left := (share - used) * float64(limit)
			lasts := float64(y.Out) - float64(y.In) // what is in before 0, and lasts, is longer than any time
			if left-0.5 < lasts {                   // to the nanosecond
				return y.In + max(0, sequence.Elapsed(math.Round(left)))
			}
			used += lasts / float64(limit)
		}
		if y.Out == sequence.Never {
			break
		}
	}
	return sequence.Never
}

// WetAlarms is when the worst sheet has wet_warning left, and when nothing is left,
// by the limit of the load's vessel. Never where that is not reached, or no
// limit is known. What was set aside is lost and raises no alarm.
func WetAlarms(p *sequence.Plan, f Stays) (warning, passed sequence.Elapsed) {
	warning, passed = sequence.Never, sequence.Never
	limit, ok := p.Limits.For(p.Vessel)
	if !ok {
		return
	}
	warn := 1 - float64(p.Recipe.Film.WetWarning)/float64(limit)
	for k := range p.Sheets {
		if f.IsSetAside(p, k) {
			continue
		}
		warning = min(warning, reaches(p, f, k, max(0, warn)))
		passed = min(passed, reaches(p, f, k, 1))
	}
	return
}

// LimitAt is when the worst sheet that is not set aside has used its limit: when the
// alarm comes, or would come if its last bath went on. Never where no limit is known.
func LimitAt(p *sequence.Plan, f Stays) sequence.Elapsed {
	if _, ok := p.Limits.For(p.Vessel); !ok {
		return sequence.Never
	}
	at, beyond := sequence.Never, sequence.Never
	for k := range p.Sheets {
		if f.IsSetAside(p, k) {
			continue
		}
		at = min(at, reaches(p, f, k, 1))
		beyond = min(beyond, prolonged(p, f, k))
	}
	if at != sequence.Never {
		return at
	}
	return beyond
}

// prolonged is when sheet k has used its limit if it stays in its last wet bath.
func prolonged(p *sequence.Plan, f Stays, k int) sequence.Elapsed {
	for i := len(p.Steps) - 1; i >= 0; i-- {
		y := f.Row(p, i)[k]
		if p.Steps[i].OutsideWetTime || y.In == sequence.Never {
			continue
		}
		limit, ok := p.Limits.For(p.Steps[i].Vessel)
		if !ok || y.Out == sequence.Never {
			return sequence.Never // a stay that lasts is for reaches to say
		}
		left := (1 - WetTimeOf(p, f, k, sequence.Never).Used) * float64(limit)
		return y.Out + sequence.Elapsed(math.Round(left))
	}
	return sequence.Never
}

// WorstWet is the wet time of the worst sheets when all is laid out; those set aside are
// lost and count no more.
func WorstWet(p *sequence.Plan, f Stays) sequence.Wet {
	var w sequence.Wet
	used := 0.0
	first, end := sequence.Never, sequence.Elapsed(0)
	for k := range p.Sheets {
		if s := WetTimeOf(p, f, k, sequence.Never); !f.IsSetAside(p, k) {
			w.Total, used = max(w.Total, s.Total), max(used, s.Used)
		}
		for i := range p.Steps {
			if y := f.Row(p, i)[k]; !p.Steps[i].OutsideWetTime && y.In != sequence.Never {
				first, end = min(first, y.In), max(end, y.Out)
			}
		}
	}
	if first != sequence.Never {
		w.Session = end - first
	}
	if limit, ok := p.Limits.For(p.Vessel); ok {
		margin := sequence.Elapsed(math.Round((1 - used) * float64(limit)))
		w.Limit, w.Used, w.Margin = &limit, &used, &margin
	}
	if warning, _ := WetAlarms(p, f); warning != sequence.Never {
		w.WarningAt = &warning
	}
	if at := LimitAt(p, f); at != sequence.Never {
		w.LimitAt = &at
	}
	return w
}

func LessWet(a, b sequence.Wet) bool {
	return a.Total < b.Total || a.Used != nil && b.Used != nil && *a.Used < *b.Used-1e-9
}
