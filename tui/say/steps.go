package say

// The steps of a plan: which light there may be, and what the hands do.

import (
	"cmp"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// RoomLight is the light that a step allows: dark, safelight or on.
func RoomLight(l sequence.Light) string {
	if l == sequence.White {
		return "on"
	}
	return string(l)
}

// Hands is what the hands do in step i of a plan, the vessel first where it changes.
func Hands(p *sequence.Plan, i int) string {
	st := &p.Steps[i]
	var parts []string
	if i > 0 && p.Steps[i-1].Vessel != st.Vessel {
		parts = append(parts, st.Vessel.In())
	}
	parts = append(parts, StepAgitation(p, st))
	if st.Drain > 0 {
		parts = append(parts, "drain "+Short(st.Drain))
	}
	hands := strings.Join(parts, ", ")
	if st.LightsOnAfter > 0 {
		hands += "; light after " + sequence.FormatElapsed(st.LightsOnAfter)
	}
	if st.WaitForPerson {
		hands += "; on your signal"
	}
	return hands
}

// StepAgitation is how a step is agitated: "shuffle every 10 s", "first 1 min, then 10 s each minute".
func StepAgitation(p *sequence.Plan, st *sequence.PlanStep) string {
	still := st.Agitate.Mode == sequence.Still || st.Agitate.Mode == ""
	switch a := st.Agitate; {
	case still && st.OutsideWetTime:
		return "hang to dry"
	case still && (st.Kind == sequence.Wash || st.Kind == sequence.Rinse):
		return "fresh water"
	case still:
		return "stand"
	case a.Mode == sequence.Shuffle && st.Stack:
		return "shuffle every " + Short(p.Recipe.Load.ShuffleEvery)
	case a.Mode == sequence.Pattern:
		return pattern(a)
	}
	return "agitate continuously"
}

// pattern is the first agitation, then the rhythm.
func pattern(a sequence.Agitation) string {
	rhythm := Short(a.For) + " every " + Short(a.Every)
	switch {
	case len(a.At) == 1:
		rhythm = Short(a.For) + " once"
	case len(a.At) == 2:
		rhythm = Short(a.For) + " twice"
	case len(a.At) > 2:
		rhythm = Short(a.For) + " now and then"
	case a.Every == time.Minute:
		rhythm = Short(a.For) + " each minute"
	}
	if a.Initial > 0 && (a.Initial != a.For || len(a.At) > 0) {
		return "first " + Short(a.Initial) + ", then " + rhythm
	}
	return rhythm
}

// Short is a length in the largest units that it has: "10 s", "1 min", "1 min 30 s", "2 h".
func Short(d sequence.Elapsed) string {
	if d < time.Second {
		return "0 s"
	}
	return inUnits(d)
}

// StepName is a step's name in the trade's words, where it has none of its own.
func StepName(name string) string { return cmp.Or(stepNames[sequence.Kind(name)], name) }

var stepNames = map[sequence.Kind]string{
	sequence.StopBath: "stop bath", sequence.WashingAid: "washing aid", sequence.WettingAgent: "wetting agent",
}

// Aside is a sheet that is set aside, with its wet time that goes on.
func Aside(p *sequence.Plan, l engine.Snapshot, k int) string {
	s := l.Sheets[k]
	line := Capital(p.Recipe.Load.SheetName(k+1)) + " set aside in water, wet " + sequence.FormatElapsed(s.Wet)
	if l.Wet.Limit != nil {
		line += ", " + Share(s.Used) + " of its limit"
	}
	return line
}

// Where is a sheet's bath: dry before the first, out after the last.
func Where(p *sequence.Plan, s engine.SheetSnapshot) string {
	switch {
	case s.Aside:
		return "set aside"
	case s.Step < 0:
		return "dry"
	case s.Step >= len(p.Steps):
		return "out"
	}
	return StepName(p.Steps[s.Step].Name)
}
