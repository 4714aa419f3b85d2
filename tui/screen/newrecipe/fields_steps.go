package newrecipe

// The fields of the other baths: one for each step, and for those that may be put in.

import (
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// about is what each kind of bath is for, and its usual time.
var about = map[sequence.Kind]struct{ meaning, usual string }{
	sequence.Develop:      {"A second developing bath.", "as your own test found it"},
	sequence.Presoak:      {"Plain water before the developer, so that wet sheets do not stick together. Never leave it out with a stack. Empty for none.", "1:00"},
	sequence.StopBath:     {"Ends development: plain water after a staining developer, else an acid bath. Empty for none.", "0:30 to 1:00"},
	sequence.Fix:          {"Takes out what was not exposed. Twice as long as a scrap of film takes to clear in it, three times for tabular grain.", "3:00 to 5:00"},
	sequence.Rinse:        {"Plain water between two baths. Empty for none.", "0:30"},
	sequence.WashingAid:   {"Shortens the wash. Empty for none.", "2:00"},
	sequence.Wash:         {"Running water, or changes of it.", "10:00 after a washing aid, 20:00 to 30:00 without"},
	sequence.WettingAgent: {"Lets water run off without drops. Empty for none.", "1:00"},
	sequence.Other:        {"A bath of the recipe's own. Empty for none.", ""},
}

// order is that of the baths in a session.
var order = []sequence.Kind{sequence.Presoak, sequence.Develop, sequence.StopBath, sequence.Fix, sequence.Rinse,
	sequence.WashingAid, sequence.Wash, sequence.WettingAgent}

// neededKinds are those that are not left out.
var neededKinds = []sequence.Kind{sequence.Develop, sequence.Fix, sequence.Wash}

const otherBaths = "Other baths"

func (f *form) otherBaths() {
	mixed := map[string]bool{}
	if st := develop(f.base); st != nil {
		mixed[st.Bath] = true
	}
	for _, k := range order {
		if k != sequence.Develop && stepOf(f.base, k) == nil {
			f.add(otherBaths, f.bathTime(string(k), k))
		}
		for i, st := range f.base.Steps {
			if st.Kind == k && &f.base.Steps[i] != develop(f.base) {
				f.step(st, mixed)
			}
		}
	}
	for _, st := range f.base.Steps {
		if st.Kind == sequence.Other {
			f.step(st, mixed)
		}
	}
}

// step is a step's time, the light in its course and what its bath is mixed from.
func (f *form) step(st sequence.Step, mixed map[string]bool) {
	if st.Time > 0 {
		f.add(otherBaths, f.bathTime(st.Name, st.Kind))
	}
	if st.Kind == sequence.Fix && st.RoomLight == sequence.Dark {
		f.add(otherBaths, f.lightAfter(st.Name))
	}
	if bath(f.base, st.Bath) != nil && !mixed[st.Bath] {
		mixed[st.Bath] = true
		f.add(otherBaths, f.parts(st.Bath, "  mixed from", "fixer 1 + water 4, or 1+4"), f.volume(st.Bath, "  volume", "as much as of the developer"))
	}
}

// bathTime is how long a bath lasts; with nothing typed it is left out.
func (f *form) bathTime(name string, k sequence.Kind) field {
	a := about[k]
	key := ""
	if i := slices.IndexFunc(f.r.Steps, func(s sequence.Step) bool { return s.Name == name }); i >= 0 {
		key = stepAt(i) + "time"
	}
	return field{id: "step:" + name, label: say.StepName(name), key: key, meaning: a.meaning, usual: a.usual,
		get: func(r *sequence.Recipe) string {
			if st := stepNamed(r, name); st != nil {
				return clock(st.Time)
			}
			return ""
		},
		put: func(r *sequence.Recipe, s string) error {
			var d sequence.Elapsed
			if err := parseTime(s, &d); err != nil {
				return err
			}
			switch st := stepNamed(r, name); {
			case d == 0 && slices.Contains(neededKinds, k):
				return errNeeded
			case d == 0:
				r.Steps = slices.DeleteFunc(r.Steps, func(s sequence.Step) bool { return s.Name == name })
			case st != nil:
				st.Time, st.LeastTime = d, min(st.LeastTime, d)
			default:
				insertStep(r, sequence.Step{Kind: k, Name: name, Time: d})
			}
			return nil
		}}
}

// insertStep puts a bath where its kind belongs. It is agitated as is usual for it, and lit
// as the bath after it; before the film is fixed that is dark.
func insertStep(r *sequence.Recipe, st sequence.Step) {
	rank := slices.Index(order, st.Kind)
	at := slices.IndexFunc(r.Steps, func(s sequence.Step) bool { return slices.Index(order, s.Kind) > rank })
	if at < 0 {
		at = len(r.Steps)
	}
	st.RoomLight, st.Agitate = sequence.Dark, sequence.Agitation{Mode: sequence.Continuous}
	if st.Kind == sequence.WettingAgent {
		st.Agitate.Mode = sequence.Still
	}
	switch fixed := slices.Index(order, sequence.Fix) < rank; {
	case fixed && at < len(r.Steps):
		st.RoomLight = r.Steps[at].RoomLight
	case fixed && at > 0:
		st.RoomLight = r.Steps[at-1].RoomLight
	case stepOf(r, sequence.Develop) != nil && develop(r).Agitate.Mode == sequence.Shuffle:
		st.Agitate.Mode = sequence.Shuffle
	}
	r.Steps = slices.Insert(r.Steps, at, st)
}

// lightAfter is when the room light may come on in the fixer.
func (f *form) lightAfter(name string) field {
	key := ""
	if i := slices.IndexFunc(f.r.Steps, func(s sequence.Step) bool { return s.Name == name }); i >= 0 {
		key = stepAt(i) + "lights_on_after"
	}
	return field{id: "light:" + name, label: "  light after", key: key, usual: "2:00; empty to stay dark until the fixer's end",
		meaning: "When the last sheet has been in the fixer so long, the room light is offered. Fix a scrap of the film in the light first: it must be clear by then.",
		get:     func(r *sequence.Recipe) string { return clock(stepNamed(r, name).LightsOnAfter) },
		put:     func(r *sequence.Recipe, s string) error { return parseTime(s, &stepNamed(r, name).LightsOnAfter) }}
}
