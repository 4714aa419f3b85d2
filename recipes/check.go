package recipes

// What can be judged only by looking at the recipe as a whole: names, baths,
// vessels, the light. Each check takes the steps as read and writes faults at
// the key that is to be changed.

import (
	"fmt"
	"slices"

	"example.org/wetside/sequence"
)

// check runs every check and gives unnamed steps their names.
func check(top table, r *sequence.Recipe, steps []step) {
	nameSteps(steps)
	fixEnds := firstFix(steps)
	vessel := r.Load.Vessel
	drum := vessel == sequence.Drum
	for i, s := range steps {
		if s.Vessel != "" {
			vessel = s.Vessel
		}
		drum = drum || vessel == sequence.Drum
		s.checkBath(r.Baths)
		s.checkTimes()
		s.checkAgitation()
		s.checkKind()
		s.checkTakeOut(vessel, r.Load.Sheets)
		s.checkVessel(vessel, r.Load)
		if i <= fixEnds {
			s.checkLight(vessel, r.Film.Sensitivity)
		}
	}
	checkReuse(top, r.Baths, steps)
	if f := top.lookup("load").asTable().lookup("reverse_every"); f.isSet() && !drum {
		f.addFault("nothing is in a drum", `reverse_every with vessel "drum" only`, "")
	}
}

// nameSteps gives each unnamed step its kind as a name, with a number from the
// second of a kind on, and refuses names that stand twice.
func nameSteps(steps []step) {
	count := map[sequence.Kind]int{}
	seen := map[string]bool{}
	for i := range steps {
		s := &steps[i]
		count[s.Kind]++
		if s.Name == "" {
			s.Name = defaultName(s.Kind, count[s.Kind])
		}
		if f := s.t.lookup("name"); seen[s.Name] && f.isSet() {
			f.addFault("a second step called "+quote(s.Name), "a name of its own", "")
		} else if seen[s.Name] && s.Kind != "" {
			s.t.addFault("a second step called "+quote(s.Name), "a name of its own", "an unnamed step is called after its kind")
		}
		seen[s.Name] = true
	}
}

// firstFix is the index of the first fixing step: up to its end the film must
// not see light. Without one the film is never safe, unless nothing is
// developed either: then it was finished before.
func firstFix(steps []step) int {
	develops := false
	for i, s := range steps {
		if s.Kind == sequence.Fix {
			return i
		}
		develops = develops || s.Kind == sequence.Develop
	}
	if develops {
		return len(steps)
	}
	return -1
}

// checkBath refuses a mistyped name of a bath. A name that is unlike every
// [[bath]] is a bath of which the recipe says nothing more.
func (s step) checkBath(baths []sequence.Bath) {
	if s.Bath == "" {
		return
	}
	var ids []string
	for _, b := range baths {
		if b.ID == s.Bath {
			return
		}
		if !slices.Contains(ids, b.ID) {
			ids = append(ids, b.ID)
		}
	}
	if hint := didYouMean(s.Bath, ids); hint != "" {
		s.t.lookup("bath").addFault("there is no bath "+quote(s.Bath), oneOf(ids), hint)
	}
}

// checkTimes compares what lies inside a step with its length, the shortest
// where there are several.
func (s step) checkTimes() {
	length := s.shortest()
	if length == 0 {
		return
	}
	inside := func(key string, d sequence.Elapsed, fits bool, than string) {
		if d > 0 && !fits {
			s.t.lookup(key).addFault(formatLimit(d)+" in a step of "+formatLimit(length), than, "")
		}
	}
	inside("drain", s.Drain, s.Drain < length, "less than the step's time")
	inside("at_least", s.LeastTime, s.LeastTime <= length, "no more than the step's time")
	inside("lights_on_after", s.LightsOnAfter, s.LightsOnAfter <= length, "no more than the step's time")
}

// checkAgitation refuses an agitation that does not fit into the step.
func (s step) checkAgitation() {
	length := s.shortest()
	a := s.Agitate
	if length == 0 || a.Mode != sequence.Pattern {
		return
	}
	t := s.t.lookup("agitate").asTable()
	within := func(key string, d, length sequence.Elapsed) {
		if d > length {
			t.lookup(key).addFault(formatLimit(d)+" in a step of "+formatLimit(length), "no more than the step's time", "")
		}
	}
	within("initial", a.Initial, length)
	within("for", a.For, length)
	within("every", a.Every, s.longest())
}

// checkKind refuses keys that belong to another kind of step.
func (s step) checkKind() {
	if s.Kind == "" {
		return
	}
	if f := s.t.lookup("lights_on_after"); f.isSet() && s.Kind != sequence.Fix {
		f.addFault("this step is of kind "+quote(string(s.Kind)), `lights_on_after with kind "fix" only`, "")
	}
	if s.Kind == sequence.Develop {
		return
	}
	for _, key := range []string{"growth", "aim"} {
		if f := s.t.lookup(key); f.isSet() {
			f.addFault("this step is of kind "+quote(string(s.Kind)), key+` with kind "develop" only`, "")
		}
	}
	t := s.t.lookup("temperature").asTable()
	for _, key := range []string{"coefficient", "table"} {
		if f := t.lookup(key); f.isSet() {
			f.addFault("this step is of kind "+quote(string(s.Kind)), key+` with kind "develop" only`,
				"other steps keep their time at every temperature")
		}
	}
}

// checkTakeOut checks a film test: a developing step in an open vessel, with
// one time for each sheet.
func (s step) checkTakeOut(vessel sequence.Vessel, sheets int) {
	f := s.t.lookup("take_out")
	if !f.isSet() {
		return
	}
	if s.Kind != sequence.Develop && s.Kind != "" {
		f.addFault("this step is of kind "+quote(string(s.Kind)), `take_out with kind "develop" only`, "")
	}
	if vessel.Closed() {
		f.addFault("sheets cannot be pulled from a closed "+string(vessel), "an open vessel",
			"tray, single, cradle and hangers are open")
	}
	if times, ok := f.value.([]any); ok && sheets > 0 && len(times) > 0 && len(times) != sheets {
		f.addFault(fmt.Sprintf("%d in the list, and the load has %d sheets", len(times), sheets), "one time for each sheet", "")
	}
}

// checkVessel refuses what does not go with the step's vessel.
func (s step) checkVessel(vessel sequence.Vessel, load sequence.Load) {
	if f := s.t.lookup("reverse_every"); f.isSet() && vessel != sequence.Drum {
		f.addFault("the film is in the vessel "+quote(string(vessel)), `reverse_every with vessel "drum" only`, "")
	}
	stack := vessel == sequence.Tray && load.Sheets > 1
	if stack && s.Drain >= load.TransferEvery {
		s.t.lookup("drain").addFault(formatLimit(s.Drain)+" where sheets move on every "+formatLimit(load.TransferEvery),
			"drain shorter than move_every", "")
	}
}

// checkLight refuses light on a panchromatic film in an open vessel before it
// is fixed.
func (s step) checkLight(vessel sequence.Vessel, film sequence.Sensitivity) {
	if s.RoomLight == sequence.Dark || vessel.Closed() || film != sequence.Pan {
		return
	}
	hint := ""
	if s.Kind == sequence.Fix {
		hint = "lights_on_after brings the light during this step"
	}
	s.t.lookup("room_light").addFault(quote(string(s.RoomLight))+" before a pan film is fixed", `"dark"`, hint)
}
