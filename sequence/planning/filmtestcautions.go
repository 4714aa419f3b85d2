package planning

// What to know of a film test before it: whether the test itself is too much for the
// film, and how its sheets are told apart in the dark.

import (
	"math"
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// testTooLong warns where a film test keeps film wet for longer than it stands.
func (w *cautionBuilder) testTooLong() {
	i := slices.IndexFunc(w.p.Steps, func(st sequence.PlanStep) bool { return len(st.Doses) > 0 })
	if i < 0 || *w.p.Wet.Margin >= 0 {
		return
	}
	v := sequence.Values{Step: w.p.Steps[i].Name}
	if w.p.Steps[i].Stack {
		v.Vessel = sequence.Hangers // where it would be wet for less long
	}
	w.add(sequence.Danger, "test-limit", v)
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
	var list []sequence.SheetShare
	for k, y := range w.film.Row(w.p, i) {
		dose := y.Out - y.In
		if st.TimeByTemperature != nil {
			if dose, err = chem.Dose(rate, w.p.Course(st), y.In, y.Out); err != nil {
				return
			}
		}
		if share := float64(dose)/float64(st.Doses[k]) - 1; math.Abs(share) > leastShare {
			list = append(list, sequence.SheetShare{Sheet: k + 1, Share: share})
		}
	}
	if len(list) > 0 {
		w.add(sequence.Note, "test-share", sequence.Values{Step: st.Name, Shares: list})
	}
}

// cornerMarks says how the sheets of a film test are told apart by touch.
func (w *cautionBuilder) cornerMarks(st *sequence.PlanStep) {
	if n := len(st.Doses); n >= 2 {
		w.add(sequence.Note, "clip-corners", sequence.Values{Step: st.Name, Sheets: n})
	}
}

// What goes on in a sheet that was pulled and lies in water: our own rule, as nothing is
// published. The emulsion is taken to go on developing as in the developer for WaterRuns
// seconds in all (it starts at the full rate, and half of what it holds leaves in each 15 s: 15 s
// over ln 2); and the water as a developer diluted by what each sheet carries into it.
const (
	WaterRuns    = 21.6 // s
	CarriedOver  = 10.0 // ml for each 4x5in sheet
	waterAtLeast = 1000 // ml of plain water, where sheets wait
)

// waitsInWater warns of what a film test's sheets gain while they wait in plain water,
// where no acid stop bath has ended their development.
func (w *cautionBuilder) waitsInWater(i int) {
	p := w.p
	st := &p.Steps[i]
	if !st.PullsSheets() || acid(p, p.Steps[i+1].Bath) {
		return
	}
	row := w.film.Row(p, i)
	shortest, last := 0, row[0].Out
	for k, y := range row {
		if y.Out-y.In < row[shortest].Out-row[shortest].In {
			shortest = k
		}
		last = max(last, y.Out)
	}
	own, wait := sequence.Seconds(row[shortest].Out-row[shortest].In), sequence.Seconds(last-row[shortest].Out)
	if wait <= 0 {
		return
	}
	diluted := CarriedOver * float64(len(row)) * p.Recipe.Load.Size.SquareInches() / chem.SheetArea / waterAtLeast
	gain := (min(WaterRuns, wait) + wait*diluted) / own
	w.add(sequence.Care, "water-wait", sequence.Values{Step: st.Name, Sheet: shortest + 1, Time: last - row[shortest].Out, Share: gain})
}

// acid reports whether a bath is more than water: a stop bath or a fixer ends development.
func acid(p *sequence.Plan, bath string) bool {
	b := p.Recipe.BathNamed(bath)
	return b != nil && slices.ContainsFunc(b.Parts, func(c chem.Part) bool { return c.Name != "water" })
}
