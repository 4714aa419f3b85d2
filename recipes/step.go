package recipes

// [[step]]: one bath of the recipe, and all about it that can be checked
// without looking at other steps.

import (
	"fmt"

	"example.org/wetside/sequence"
)

// mostSteps is the number of steps that a recipe may have.
const mostSteps = 200

// step is a step as read, with its table for the checks that follow.
type step struct {
	sequence.Step
	t table
}

// steps reads every [[step]].
func (f field) steps() []step {
	const expected = "at least one [[step]]"
	f.need(expected)
	rows := f.list(expected)
	if len(rows) > mostSteps {
		rows[mostSteps].fault(fmt.Sprintf("%d steps", len(rows)), fmt.Sprintf("at most %d", mostSteps), "")
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
	t.at("kind").need(listed(sequence.Kinds))
	s.Kind, _ = word(t.at("kind"), sequence.Kinds, "")
	s.Name, _ = t.at("name").text(40, false)
	s.Bath, _ = t.at("bath").text(40, false)
	s.Vessel, _ = word(t.at("vessel"), sequence.Vessels, "")
	t.length(&s)
	s.RoomLight, _ = word(t.at("room_light"), lights, sequence.Dark)
	s.Agitate = t.at("agitate").agitation()
	s.Drain, _ = t.at("drain").duration(orNone)
	advance, _ := word(t.at("advance"), []string{"auto", "wait"}, "auto")
	s.Wait = advance == "wait"
	s.Temperature = t.at("temperature").reference()
	s.Growth = t.at("growth").growth()
	s.LightsOnAfter, _ = t.at("lights_on_after").duration(anyTime)
	s.AtLeast, _ = t.at("at_least").duration(anyTime)
	s.ReverseEvery, _ = t.at("reverse_every").duration(anyTime)
	s.Optional = t.at("optional").flag(false)
	s.Dry = !t.at("wet").flag(true)
	s.Note, _ = t.at("note").text(500, true)
	return s
}

// length reads how long the step lasts: exactly one of time, times, take_out.
func (t table) length(s *sequence.Step) {
	const expected = "one of time, times, take_out"
	s.Time, _ = t.at("time").duration(anyTime)
	s.Times = t.at("times").namedTimes()
	for _, f := range t.at("take_out").list(`a list of times, such as ["5m", "7m"]`) {
		if d, ok := f.duration(anyTime); ok {
			s.TakeOut = append(s.TakeOut, d)
		}
	}
	if s.Together = t.at("leave_together").flag(false); s.Together && len(s.TakeOut) == 0 {
		t.at("leave_together").fault("no times of a film test", "leave_together with take_out only", "")
	}
	var given []field
	for _, key := range t.inOrder() {
		if key == "time" || key == "times" || key == "take_out" {
			given = append(given, t.at(key))
		}
	}
	if len(given) == 0 {
		t.fault("no time", expected, "")
	}
	for i := 1; i < len(given); i++ {
		given[i].fault("a second way to give the time", expected, "")
	}
}

// namedTimes reads the developments, in the order of the file.
func (f field) namedTimes() []sequence.NamedTime {
	const expected = `times by name, such as { N = "8m30s", "N+1" = "11m" }`
	if f.present() {
		if _, ok := f.val.(map[string]any); !ok {
			f.wrongType(expected, "")
			return nil
		}
	}
	t, ok := f.table()
	if !ok {
		return nil
	}
	if len(t.vals) == 0 {
		f.fault("an empty table", expected, "")
	}
	var times []sequence.NamedTime
	for _, key := range t.inOrder() {
		entry := t.at(key)
		name, ok := field{f.r, entry.name, key, entry.node, entry.up}.text(20, false)
		if d, ok2 := entry.duration(anyTime); ok && ok2 {
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
	for _, d := range s.TakeOut {
		take(d)
	}
	return best
}
