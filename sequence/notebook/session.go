package notebook

// One session in full: replayed from its journal by sequence's own rules, so
// that what is told here is what was lived.

import (
	"fmt"
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
)

// Session is one session in full.
type Session struct {
	Summary
	NotesAfter Notes
	Alike      []Look // of sessions like it, where they were gathered
	Path       string // of the journal that was believed
	Newer      bool   // written by a newer wetside; told as far as known

	// What follows is known where there is a plan that can be replayed.
	Plan       *sequence.Plan // nil where there is none
	At         sequence.Elapsed
	Passages   []sequence.Passage // what has happened; Out is Never while a sheet is in
	Steps      []StepDone         // one a step of the plan
	Wet        WetTime
	Readings   []sequence.Event // that were not taken back
	Notes      []sequence.Event // written while it ran
	Exceptions []sequence.Event // warnings, holds, gaps, late sheets, troubles: all that did not go by itself
	Holds      []Span
	Gaps       []Span
	Missed     []sequence.Cue // would have been given in a gap, and were not
	Findings   []Finding      // what the numbers show for next time
}

// Span is a stretch of a session.
type Span struct {
	From sequence.Elapsed `json:"from_s"`
	To   sequence.Elapsed `json:"to_s"`
}

// StepDone is one step as it went. Start and those after it are Never where it has
// not come to that.
type StepDone struct {
	Plan                     *sequence.PlanStep
	Start, FirstOut, LastOut sequence.Elapsed
	Sheets                   []SheetInStep // those that came into it
	Shuffles                 int           // turns of the stack that were called for
}

// SheetInStep is one sheet in one step.
type SheetInStep struct {
	Sheet int              `json:"sheet"`
	In    sequence.Elapsed `json:"in_s"`
	Out   sequence.Elapsed `json:"out_s"`  // Never while it is in
	Given sequence.Elapsed `json:"time_s"` // as far as it went
	// Developed is set in a developer.
	Developed *engine.Development `json:"development_percent"`
	Uncertain bool                `json:"uncertain"` // counted past the end of the recipe's table
	Aside     bool                `json:"-"`         // of a sheet that was set aside then or later: it is told of apart
}

// Open reads one session. One that is not there is fs.ErrNotExist. A damaged
// one is returned as far as it can be read beside a *journal.DamagedError.
func Open(store journal.Store, id string) (Session, error) {
	kept, err := store.Read(id)
	if kept.Path == "" && err != nil {
		return Session{Summary: Summary{Head: Head{ID: id}}}, err
	}
	later := readNotes(kept, notesFiles(store, id))
	s := Session{Summary: summarise(id, kept, later, err), NotesAfter: later, Path: kept.Path, Newer: kept.Newer}
	if broken := s.replay(kept.Records); err == nil && broken != nil && !s.Newer {
		err = fmt.Errorf("session %q: %w", id, broken)
	}
	return s, err
}

// replay tells what the records come to. A plan that this program's rules
// cannot carry out, as a newer one's may be, is told and left alone.
func (s *Session) replay(records []journal.Record) (err error) {
	if len(records) == 0 {
		return nil
	}
	plan := records[0].Plan
	if plan == nil || !replayable(plan) {
		return fmt.Errorf("the plan cannot be read; expected one with sheets and steps")
	}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the session cannot be replayed: %v", r)
		}
	}()
	state, err := engine.NewState(plan)
	if err != nil {
		return err
	}
	a := replay{state: state, shuffles: map[string]int{}}
	for _, r := range records {
		a.add(r.Event)
	}
	if a.isHeld && a.state.At() > a.held { // the session left it open
		a.holds = append(a.holds, Span{a.held, a.state.At()})
	}
	told := *s
	told.Plan = plan
	told.fill(&a)
	*s = told
	return nil
}

// replayable reports whether a plan has what replaying relies on.
func replayable(p *sequence.Plan) bool {
	if p.Sheets < 1 || len(p.Steps) == 0 {
		return false
	}
	return !slices.ContainsFunc(p.Steps, func(st sequence.PlanStep) bool {
		return len(st.Doses) > 0 && len(st.Doses) != p.Sheets
	})
}

// fill takes over what the account gathered.
func (s *Session) fill(a *replay) {
	s.At, s.Passages = a.state.At(), a.state.Passages()
	s.Readings, s.Notes, s.Exceptions = a.readings, a.notes, a.exceptions
	s.Holds, s.Gaps, s.Missed = a.holds, a.gaps, a.missed
	s.Steps = s.steps(a.state.Developments(), a.state.StaysSetAside())
	for i := range s.Steps {
		s.Steps[i].Shuffles = a.shuffles[s.Steps[i].Plan.Name]
	}
	s.Wet = addUpWetTime(s.Plan, s.Passages, a.state.StaysSetAside(), s.At)
	s.Wet.LimitAt = a.state.LimitAt()
	s.Findings = findings(s)
}

// steps lays the stays out by step.
func (s *Session) steps(developed []engine.Development, aside []sequence.Passage) []StepDone {
	steps := make([]StepDone, len(s.Plan.Steps))
	for i := range steps {
		steps[i] = StepDone{Plan: &s.Plan.Steps[i], Start: sequence.Never, FirstOut: sequence.Never, LastOut: sequence.Never}
	}
	for _, y := range s.Passages {
		st := &steps[y.Step]
		stay := SheetInStep{Sheet: y.Sheet, In: y.In, Out: y.Out, Given: min(y.Out, max(s.At, y.In)) - y.In}
		stay.Aside = slices.ContainsFunc(aside, func(a sequence.Passage) bool { return a.Sheet == y.Sheet })
		for i := range developed {
			if d := &developed[i]; d.Step == y.Step && d.Sheet == y.Sheet {
				stay.Developed, stay.Uncertain = d, d.Uncertain
			}
		}
		st.Start, st.FirstOut = min(st.Start, y.In), min(st.FirstOut, y.Out)
		st.Sheets = append(st.Sheets, stay)
	}
	for i := range steps {
		steps[i].LastOut = lastOut(steps[i].Sheets, s.Plan.Sheets)
	}
	return steps
}

// lastOut is when the last of n sheets left; Never while one has not.
func lastOut(stays []SheetInStep, n int) sequence.Elapsed {
	if len(stays) < n {
		return sequence.Never
	}
	last := stays[0].Out
	for _, y := range stays {
		last = max(last, y.Out)
	}
	return last
}
