package sequence

// Wet time: from a sheet's first dip to its last lift, whatever happens in
// between, as shares of what the film stands in each vessel. That shares of
// several limits add up is our own rule.

import "math"

// soak is one sheet's wet time.
type soak struct {
	wet  Elapsed
	used float64 // shares of the limits, added
}

// soaked is sheet k's wet time up to t (Never: to its last lift).
func soaked(p *Plan, f film, k int, t Elapsed) soak {
	var s soak
	for i := range p.Steps {
		y := f.row(p, i)[k]
		if p.Steps[i].Dry || y.in == Never || y.in >= t {
			continue
		}
		s.add(p, p.Steps[i].Vessel, min(y.out, t)-y.in)
	}
	if y := f.row(p, len(p.Steps))[k]; y.in < t {
		s.add(p, p.Vessel, min(y.out, t)-y.in)
	}
	return s
}

// add adds a stay in a vessel. What is set aside in water counts as in the load's.
func (s *soak) add(p *Plan, v Vessel, d Elapsed) {
	s.wet += d
	if limit, ok := p.Limits.For(v); ok {
		s.used += float64(d) / float64(limit)
	}
}

// reaches is when sheet k has used the share, Never where it does not. A stay
// that has not ended lasts for as long as it takes.
func reaches(p *Plan, f film, k int, share float64) Elapsed {
	used := 0.0
	for i := 0; i <= len(p.Steps); i++ {
		y, v, dry := f.row(p, i)[k], p.Vessel, false
		if i < len(p.Steps) {
			v, dry = p.Steps[i].Vessel, p.Steps[i].Dry
		}
		if y.in == Never {
			continue
		}
		limit, ok := p.Limits.For(v)
		if ok && !dry {
			left := (share - used) * float64(limit)
			if left-0.5 < float64(y.out-y.in) { // to the nanosecond
				return y.in + max(0, Elapsed(math.Round(left)))
			}
			used += float64(y.out-y.in) / float64(limit)
		}
		if y.out == Never {
			break
		}
	}
	return Never
}

// alarms is when the worst sheet has wet_warning left, and when nothing is left,
// by the limit of the load's vessel. Never where that is not reached, or no
// limit is known. What was set aside is lost and raises no alarm.
func alarms(p *Plan, f film) (warning, passed Elapsed) {
	warning, passed = Never, Never
	limit, ok := p.Limits.For(p.Vessel)
	if !ok {
		return
	}
	warn := 1 - float64(p.Recipe.Film.WetWarning)/float64(limit)
	for k := range p.Sheets {
		if f.aside(p, k) {
			continue
		}
		warning = min(warning, reaches(p, f, k, max(0, warn)))
		passed = min(passed, reaches(p, f, k, 1))
	}
	return
}

// limitAt is when the worst sheet that is not set aside has used its limit: when the
// alarm comes, or would come if its last bath went on. Never where no limit is known.
func limitAt(p *Plan, f film) Elapsed {
	if _, ok := p.Limits.For(p.Vessel); !ok {
		return Never
	}
	at, beyond := Never, Never
	for k := range p.Sheets {
		if f.aside(p, k) {
			continue
		}
		at = min(at, reaches(p, f, k, 1))
		beyond = min(beyond, prolonged(p, f, k))
	}
	if at != Never {
		return at
	}
	return beyond
}

// prolonged is when sheet k has used its limit if it stays in its last wet bath.
func prolonged(p *Plan, f film, k int) Elapsed {
	for i := len(p.Steps) - 1; i >= 0; i-- {
		y := f.row(p, i)[k]
		if p.Steps[i].Dry || y.in == Never {
			continue
		}
		limit, ok := p.Limits.For(p.Steps[i].Vessel)
		if !ok || y.out == Never {
			return Never // a stay that lasts is for reaches to say
		}
		left := (1 - soaked(p, f, k, Never).used) * float64(limit)
		return y.out + Elapsed(math.Round(left))
	}
	return Never
}

// tally is the wet time of the worst sheets when all is laid out; those set aside are
// lost and count no more.
func tally(p *Plan, f film) Wet {
	var w Wet
	used := 0.0
	first, end := Never, Elapsed(0)
	for k := range p.Sheets {
		if s := soaked(p, f, k, Never); !f.aside(p, k) {
			w.Total, used = max(w.Total, s.wet), max(used, s.used)
		}
		for i := range p.Steps {
			if y := f.row(p, i)[k]; !p.Steps[i].Dry && y.in != Never {
				first, end = min(first, y.in), max(end, y.out)
			}
		}
	}
	if first != Never {
		w.Session = end - first
	}
	if limit, ok := p.Limits.For(p.Vessel); ok {
		margin := Elapsed(math.Round((1 - used) * float64(limit)))
		w.Limit, w.Used, w.Margin = &limit, &used, &margin
	}
	if warning, _ := alarms(p, f); warning != Never {
		w.WarningAt = &warning
	}
	if at := limitAt(p, f); at != Never {
		w.LimitAt = &at
	}
	return w
}
