package notebook

// What a record shows for next time: findings, each from its numbers and from nothing
// else. The thresholds are our own rules; tui/say makes the sentences.

import (
	"cmp"
	"math"
	"slices"

	"example.org/wetside/sequence"
)

const (
	leastShare      = 0.02 // of development: less is within what hands and thermometers can do
	leastDifference = 0.5
	leastShort      = 2e9 // 2 s: a bath that was this much shorter than planned
)

// FindingCode is what kind of thing was found.
type FindingCode string

// The codes. Those from NoCause on are causes of a look of the negatives.
const (
	OutsideTable     FindingCode = "outside-table"    // the bath was, and how far film was developed is uncertain
	TimeFollowed     FindingCode = "time-followed"    // the bath was not as planned, and the time made up for it
	BathOff          FindingCode = "bath-off"         // it was not as planned, and development was not either
	TimeOff          FindingCode = "time-off"         // a sheet had another time than planned, in a bath as planned
	CutShort         FindingCode = "cut-short"        // a bath had less than the least that works
	WetUnlooked      FindingCode = "wet-unlooked"     // wet beyond the limit, and nobody has said how the emulsion took it
	WetSoundBeyond   FindingCode = "wet-sound-beyond" // wet beyond the limit, and sound
	WetSoundNoLimit  FindingCode = "wet-sound"        // sound, and no limit is known
	WetDamaged       FindingCode = "wet-damaged"      // the emulsion was damaged
	CuesMissed       FindingCode = "cues-missed"      // fell into gaps
	NoCause          FindingCode = "no-cause"         // the record shows none
	DevelopedOff     FindingCode = "developed-off"    // more or less development than planned
	DevelopedFar     FindingCode = "developed-far"    // so much more that fog grows with it
	PlanWarned       FindingCode = "plan-warned"      // by a caution
	AgitationMissed  FindingCode = "agitation-missed" // calls to agitate or shuffle fell into a gap
	DryIntoDeveloper FindingCode = "dry-stack"        // a stack went into the developer dry
	WetBeyond        FindingCode = "wet-beyond"       // wet longer than the film stands
	LargeStack       FindingCode = "large-stack"      // more sheets shuffled than is easy on soft gelatin
)

// Finding is one thing that was found: a code and what it is about. Which of the values
// belong to it follows from the code.
type Finding struct {
	Code           FindingCode
	Look           Appearance // that it is a cause of; "" for none
	Step           string
	Kind           sequence.Kind // of the step
	Sheet          int
	Sheets         []int            // that are meant; nil for all
	Given, Planned sequence.Elapsed // a sheet's time in the bath; Planned is the least that works of a bath cut short
	Low, High      float64          // shares of the planned development that its sheets had
	Bath           *BathOffPlan     // nil where it was as planned, or is not known
	Caution        sequence.Caution // of the plan
	Wet            SheetWetTime     // of the sheet that was wettest by its limit
	Used           float64          // of the wet limit
	Emulsion       Emulsion
	Count          int                      // cues, or sheets
	Missed         map[sequence.CueKind]int // cues by kind
}

// BathOffPlan is a bath that was not as warm as planned.
type BathOffPlan struct{ AtEnd, Planned sequence.Celsius }

// findings are what the session's numbers show. A rehearsal shows nothing: no film was in it.
func findings(s *Session) []Finding {
	if s.Rehearsal {
		return nil
	}
	var list []Finding
	for i := range s.Steps {
		st := &s.Steps[i]
		if st.Plan.Kind == sequence.Develop {
			list = append(list, developing(s.Plan, i, st)...)
		} else {
			list = append(list, shortBath(st)...)
		}
	}
	list = append(list, s.Causes()...)
	list = append(list, wetFinding(s)...)
	if len(s.Missed) > 0 {
		count := map[sequence.CueKind]int{}
		for _, c := range s.Missed {
			count[c.Kind]++
		}
		list = append(list, Finding{Code: CuesMissed, Count: len(s.Missed), Missed: count})
	}
	return list
}

// developing finds development that came out otherwise than planned, and a bath that was
// not as warm as planned.
func developing(p *sequence.Plan, i int, st *StepDone) []Finding {
	left := leftOf(st)
	if len(left) == 0 {
		return nil
	}
	bath := bathAtEnd(left)
	if slices.ContainsFunc(left, func(y SheetInStep) bool { return y.Developed.Uncertain }) {
		return []Finding{ofDevelopment(OutsideTable, st, left)}
	}
	off := slices.DeleteFunc(slices.Clone(left), func(y SheetInStep) bool { return math.Abs(y.Developed.Share()-1) < leastShare })
	switch {
	case len(off) == 0 && bath == nil:
		return nil
	case len(off) == 0:
		last := left[len(left)-1]
		return []Finding{{Code: TimeFollowed, Step: st.Plan.Name, Bath: bath, Given: last.Given, Planned: plannedTime(p, i, last.Sheet)}}
	case bath != nil:
		f := ofDevelopment(BathOff, st, off)
		f.Bath = bath
		if len(off) < len(left) {
			for _, y := range off {
				f.Sheets = append(f.Sheets, y.Sheet)
			}
		}
		return []Finding{f}
	}
	var list []Finding
	for _, y := range off {
		f := ofDevelopment(TimeOff, st, []SheetInStep{y})
		f.Sheet, f.Given, f.Planned = y.Sheet, y.Given, plannedTime(p, i, y.Sheet)
		list = append(list, f)
	}
	return list
}

// ofDevelopment is a finding about how far these stays were developed.
func ofDevelopment(code FindingCode, st *StepDone, of []SheetInStep) Finding {
	f := Finding{Code: code, Step: st.Plan.Name, Low: of[0].Developed.Share(), High: of[0].Developed.Share()}
	for _, y := range of {
		f.Low, f.High = min(f.Low, y.Developed.Share()), max(f.High, y.Developed.Share())
	}
	return f
}

// leftOf are the stays of sheets that have left a developer and were not lost.
func leftOf(st *StepDone) []SheetInStep {
	return slices.DeleteFunc(slices.Clone(st.Sheets), func(y SheetInStep) bool {
		return y.Out == sequence.Never || y.Developed == nil || y.Aside
	})
}

// bathAtEnd is how warm the bath was when the last sheet left; nil where that was as
// planned, or is not known.
func bathAtEnd(left []SheetInStep) *BathOffPlan {
	d := slices.MaxFunc(left, func(a, b SheetInStep) int { return cmp.Compare(a.Out, b.Out) }).Developed
	if d.Bath == nil || math.Abs(float64(*d.Bath-*d.Planned)) < leastDifference {
		return nil
	}
	return &BathOffPlan{*d.Bath, *d.Planned}
}

// plannedTime is how long the plan had a sheet in step i.
func plannedTime(p *sequence.Plan, i, sheet int) sequence.Elapsed {
	if y, ok := p.PassageOf(i, sheet); ok {
		return y.Out - y.In
	}
	return p.Steps[i].Given
}

// shortBath finds a bath that somebody cut short below the least that works.
func shortBath(st *StepDone) []Finding {
	least := st.Plan.Given
	if st.Plan.LeastTime > 0 {
		least = min(least, st.Plan.LeastTime)
	}
	worst := SheetInStep{Given: sequence.Never}
	for _, y := range st.Sheets {
		if y.Out != sequence.Never && y.Given < worst.Given && !y.Aside {
			worst = y
		}
	}
	if worst.Given >= least-leastShort {
		return nil
	}
	return []Finding{{Code: CutShort, Step: st.Plan.Name, Kind: st.Plan.Kind, Sheet: worst.Sheet, Given: worst.Given, Planned: least}}
}

// wetFinding is what the wet time says of the film's limit, with how the emulsion came
// through where somebody said so.
func wetFinding(s *Session) []Finding {
	kept := slices.DeleteFunc(slices.Clone(s.Wet.Sheets), func(w SheetWetTime) bool { return w.Aside })
	if len(kept) == 0 {
		return nil
	}
	worst := kept[0]
	for _, w := range kept {
		if w.share() > worst.share() || w.share() == worst.share() && w.Total > worst.Total {
			worst = w
		}
	}
	f := Finding{Wet: worst, Emulsion: s.Emulsion}
	over := worst.Used != nil && *worst.Used > 1
	switch {
	case s.Emulsion == "" && over:
		f.Code = WetUnlooked
	case s.Emulsion == EmulsionSound && over:
		f.Code = WetSoundBeyond
	case s.Emulsion == EmulsionSound && worst.Used == nil:
		f.Code = WetSoundNoLimit
	case s.Emulsion == EmulsionLifted || s.Emulsion == EmulsionTorn:
		f.Code = WetDamaged
	default:
		return nil
	}
	return []Finding{f}
}
