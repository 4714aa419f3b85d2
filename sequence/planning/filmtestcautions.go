package planning

// What to know of a film test before it: whether the test itself is too much for the
// film, and how its sheets are told apart in the dark.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// testTooLong warns where a film test keeps film wet for longer than it stands.
func (w *cautionBuilder) testTooLong() {
	i := slices.IndexFunc(w.p.Steps, func(st sequence.PlanStep) bool { return len(st.Doses) > 0 })
	if i < 0 || *w.p.Wet.Margin >= 0 {
		return
	}
	kinder := "leave out the longest time"
	if w.p.Steps[i].Stack {
		kinder = "hang the sheets in hangers, or leave out the longest time"
	}
	w.add(sequence.Danger, "test-limit", "%s: the film test itself keeps film wet for longer than it stands: %s", w.p.Steps[i].Name, kinder)
}

// leastShare is by how much of its development a sheet may miss its own time
// unremarked (our own rule: less than a thermometer's error).
const leastShare = 0.005

// filmTestShares tells which sheets of a film test that leaves together miss their own times:
// a hand moves one sheet after the other, however near their times are.
func (w *cautionBuilder) filmTestShares(i int) {
	st := &w.p.Steps[i]
	rate, err := st.Rate()
	if !st.StaggeredEntry() || err != nil {
		return
	}
	var list []string
	for k, y := range w.film.Row(w.p, i) {
		dose := y.Out - y.In
		if st.TimeByTemperature != nil {
			if dose, err = chem.Dose(rate, w.p.Course(st), y.In, y.Out); err != nil {
				return
			}
		}
		if share := float64(dose)/float64(st.Doses[k]) - 1; math.Abs(share) > leastShare {
			list = append(list, fmt.Sprintf("%s %+.1f %%", w.p.Recipe.Load.SheetName(k+1), 100*share))
		}
	}
	if len(list) > 0 {
		w.add(sequence.Note, "test-share", "%s: one hand moves one sheet after the other, so not all have just their own time: %s", st.Name, strings.Join(list, ", "))
	}
}

// corners are those of a sheet that lies emulsion up with its notches at the top right;
// that corner stays whole.
var corners = [][]string{nil, {"top left"}, {"bottom left"}, {"bottom right"}, {"top left", "bottom left"},
	{"top left", "bottom right"}, {"bottom left", "bottom right"}, {"top left", "bottom left", "bottom right"}}

// cornerMarks says how the sheets of a film test are told apart by touch.
func (w *cautionBuilder) cornerMarks(st *sequence.PlanStep) {
	if len(st.Doses) < 2 {
		return
	}
	var list []string
	for k := range min(len(st.Doses), len(corners)) {
		which := strings.Join(corners[k], " and ")
		if which == "" {
			which = "none"
		}
		list = append(list, fmt.Sprintf("sheet %d %s", k+1, which))
	}
	text := "%s: so that sheets are told apart by touch, clip corners before loading (emulsion up, notches at the top right): %s"
	if n := len(st.Doses); n > len(corners) {
		text += fmt.Sprintf("; from sheet %d on clip an edge as well", len(corners)+1)
	}
	w.add(sequence.Note, "clip-corners", text, st.Name, strings.Join(list, ", "))
}
