package sequence

import "slices"

// SeparateVessel is where the sheets of a stack are taken apart to: hangers, or single trays
// where the film's limit is known for these alone.
func (p *Plan) SeparateVessel() Vessel {
	_, hung := p.Limits.For(Hangers)
	if _, single := p.Limits.For(SingleTrays); single && !hung {
		return SingleTrays
	}
	return Hangers
}

// MovesTogether reports whether all sheets leave step from at once (-1: are loaded).
func (p *Plan) MovesTogether(from int) bool {
	if from < 0 {
		return !p.Steps[0].Stack
	}
	return p.LeavesTogether(from)
}

// DrainsAfterPress reports whether some step waits for the person, and drains when they have
// pressed.
func (p *Plan) DrainsAfterPress() bool {
	return slices.ContainsFunc(p.Steps, func(st PlanStep) bool { return st.WaitForPerson && st.Drain > 0 })
}

// HasDark reports whether some step allows no light.
func (p *Plan) HasDark() bool {
	return slices.ContainsFunc(p.Steps, func(st PlanStep) bool { return st.RoomLight == Dark })
}

// HasFilmTest reports whether some step is a film test's.
func (p *Plan) HasFilmTest() bool {
	return slices.ContainsFunc(p.Steps, func(st PlanStep) bool { return st.IsFilmTest() })
}

// IsFilmTest reports whether the step is a film test's: each sheet has a time of its own.
func (st *PlanStep) IsFilmTest() bool { return len(st.Doses) > 0 }

// PullsSheets reports whether sheets of a film test are pulled one after the other.
func (st *PlanStep) PullsSheets() bool { return st.IsFilmTest() && !st.LeaveTogether }

// StaggeredEntry reports whether sheets of a film test come in one after the other and leave at
// one moment.
func (st *PlanStep) StaggeredEntry() bool { return st.IsFilmTest() && st.LeaveTogether }

// LeavesStaggered reports whether the sheets of step s leave it each at its own time, for a
// film test in the next.
func (p *Plan) LeavesStaggered(s int) bool {
	return s >= 0 && s+1 < len(p.Steps) && p.Steps[s+1].StaggeredEntry()
}

// TakesPulled reports whether sheets pulled out of step s-1, a film test's, come into step s
// one after the other, each for a time of its own.
func (p *Plan) TakesPulled(s int) bool { return s > 0 && p.Steps[s-1].PullsSheets() }

// GathersPulled reports whether sheets pulled out of step s-1 gather in step s: each has
// its time and then waits in plain water for the last.
func (p *Plan) GathersPulled(s int) bool { return p.TakesPulled(s) && !p.Steps[s-1].StraightOn }

// PassesPulled reports whether sheets pulled out of step s-1 go on out of step s each as soon as
// it has had its time.
func (p *Plan) PassesPulled(s int) bool { return p.TakesPulled(s) && p.Steps[s-1].StraightOn }

// JoinsPulled reports whether sheets of a film test that went straight on come together in
// step s.
func (p *Plan) JoinsPulled(s int) bool { return s > 0 && p.PassesPulled(s-1) }

// LeavesSingly reports whether each sheet leaves step s at a time of its own that belongs to a
// film test in the step before or after.
func (p *Plan) LeavesSingly(s int) bool { return p.LeavesStaggered(s) || p.PassesPulled(s) }

// OwnTimes reports whether each sheet of step s has a time of its own, from its entry:
// in a stack's developer, in a film test's, and where its sheets go straight on.
func (p *Plan) OwnTimes(s int) bool {
	st := &p.Steps[s]
	return st.PullsSheets() || p.PassesPulled(s) || st.Stack && st.Kind == Develop && !p.GathersPulled(s) && !st.StaggeredEntry()
}

// LeavesTogether reports whether all sheets leave step s at one moment.
func (p *Plan) LeavesTogether(s int) bool {
	st := &p.Steps[s]
	if st.StaggeredEntry() || p.LeavesStaggered(s) {
		return st.StaggeredEntry() || p.Sheets == 1
	}
	if p.PassesPulled(s) && p.Sheets > 1 {
		return false
	}
	if p.Sheets == 1 || p.GathersPulled(s) {
		return !st.PullsSheets()
	}
	intoStack := s+1 < len(p.Steps) && p.Steps[s+1].Stack
	return !st.Stack && !st.PullsSheets() && !intoStack
}

// StepIndex returns the index of the step called name, or len(p.Steps) for "",
// which is out of the last bath.
func (p *Plan) StepIndex(name string) int {
	for i := range p.Steps {
		if p.Steps[i].Name == name {
			return i
		}
	}
	return len(p.Steps)
}

// StepName is the inverse of step; -1 is dry film before the first bath.
func (p *Plan) StepName(s int) string {
	if s < 0 || s >= len(p.Steps) {
		return ""
	}
	return p.Steps[s].Name
}

// WaitsInWater reports whether sheets of a film test wait in plain water after step i
// until the last has had that bath too: a tray of water stands beside it.
func WaitsInWater(p *Plan, i int) bool { return p.GathersPulled(i) }
