package recipes

// [[step]]: one bath of the recipe, and all about it that can be checked
// without looking at other steps.

import (
	"fmt"

	"example.org/wetside/sequence"
)

// maxSteps is the number of steps that a recipe may have.
const maxSteps = 200

// step is a step as read, with its table for the checks that follow.
type step struct {
	sequence.Step
	t table
}

// readSteps reads every [[step]].
func readSteps(f field) []step {
	const expected = "at least one [[step]]"
	rows := f.require(expected).elements(expected)
	if len(rows) > maxSteps {
		rows[maxSteps].addFault(fmt.Sprintf("%d steps", len(rows)), fmt.Sprintf("at most %d", maxSteps), "")
		return nil
	}
	var steps []step
	for _, row := range rows {
		if t, ok := row.table(stepKeys...); ok {
			steps = append(steps, step{t.step(), t})
		}
	}
	return steps
}

var lights = []sequence.Light{sequence.Dark, sequence.Safelight, sequence.White}

func (t table) step() sequence.Step {
	s := sequence.Step{RoomLight: sequence.Dark}
	s.Kind, _ = enum(t.lookup("kind").require(oneOf(sequence.Kinds)), sequence.Kinds, "")
	s.Name, _ = t.lookup("name").text(40, false)
	s.Bath, _ = t.lookup("bath").text(40, false)
	s.Vessel, _ = enum(t.lookup("vessel"), sequence.Vessels, "")
	t.length(&s)
	s.RoomLight, _ = enum(t.lookup("room_light"), lights, sequence.Dark)
	s.Agitate = readAgitation(t.lookup("agitate"))
	s.Drain, _ = t.lookup("drain").duration(timeOrNone)
	advance, _ := enum(t.lookup("advance"), []string{"auto", "wait"}, "auto")
	s.WaitForPerson = advance == "wait"
	s.Temperature = readReference(t.lookup("temperature"))
	s.Growth = readGrowth(t.lookup("growth"))
	s.Aim = readAim(t.lookup("aim"))
	s.LightsOnAfter, _ = t.lookup("lights_on_after").duration(timeLimits)
	s.LeastTime, _ = t.lookup("at_least").duration(timeLimits)
	s.ReverseEvery, _ = t.lookup("reverse_every").duration(timeLimits)
	s.Optional = t.lookup("optional").boolean(false)
	s.OutsideWetTime = !t.lookup("wet").boolean(true)
	s.Note, _ = t.lookup("note").text(500, true)
	return s
}

// length reads how long the step lasts: exactly one of time, times, take_out.
func (t table) length(s *sequence.Step) {
	const expected = "one of time, times, take_out"
	s.Time, _ = t.lookup("time").duration(timeLimits)
	s.Times = readNamedTimes(t.lookup("times"))
	for _, f := range t.lookup("take_out").elements(`a list of times, such as ["5m", "7m"]`) {
		if d, ok := f.duration(timeLimits); ok {
			s.PullTimes = append(s.PullTimes, d)
		}
	}
	if s.LeaveTogether = t.lookup("leave_together").boolean(false); s.LeaveTogether && len(s.PullTimes) == 0 {
		t.lookup("leave_together").addFault("no times of a film test", "leave_together with take_out only", "")
	}
	if s.StraightOn = t.lookup("straight_on").boolean(false); s.StraightOn && len(s.PullTimes) == 0 {
		t.lookup("straight_on").addFault("no times of a film test", "straight_on with take_out only", "")
	} else if s.StraightOn && s.LeaveTogether {
		t.lookup("straight_on").addFault("sheets that leave together go on together", "leave_together or straight_on, not both", "")
	}
	var given []field
	for _, key := range t.inOrder() {
		if key == "time" || key == "times" || key == "take_out" {
			given = append(given, t.lookup(key))
		}
	}
	if len(given) == 0 {
		t.addFault("no time", expected, "")
	}
	for i := 1; i < len(given); i++ {
		given[i].addFault("a second way to give the time", expected, "")
	}
}

// readNamedTimes reads the developments, in the order of the file.
func readNamedTimes(f field) []sequence.NamedTime {
	const expected = `times by name, such as { N = "8m30s", "N+1" = "11m" }`
	if f.isSet() {
		if _, ok := f.value.(map[string]any); !ok {
			f.wrongType(expected, "")
			return nil
		}
	}
	t, ok := f.table()
	if !ok {
		return nil
	}
	if len(t.values) == 0 {
		f.addFault("an empty table", expected, "")
	}
	var times []sequence.NamedTime
	for _, key := range t.inOrder() {
		entry := t.lookup(key)
		name, ok := field{f.r, entry.name, key, entry.node, entry.parent}.text(20, false)
		if d, ok2 := entry.duration(timeLimits); ok && ok2 {
			times = append(times, sequence.NamedTime{Name: name, Time: d})
		}
	}
	return times
}

// shortest and longest are the least and the greatest length that the step may
// have; zero where it has none.
func (s step) shortest() sequence.Elapsed { return s.extreme(false) }
func (s step) longest() sequence.Elapsed  { return s.extreme(true) }

func (s step) extreme(greatest bool) sequence.Elapsed {
	best := s.Time
	take := func(d sequence.Elapsed) {
		if best == 0 || greatest == (d > best) {
			best = d
		}
	}
	for _, n := range s.Times {
		take(n.Time)
	}
	for _, d := range s.PullTimes {
		take(d)
	}
	return best
}
