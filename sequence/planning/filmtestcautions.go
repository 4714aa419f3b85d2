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

// MostClips is how many sheets can be told apart by clips.
const MostClips = 16

// ClipOf is where the n-th sheet, from 1, is clipped so that fingers know it, as on a
// sheet that lies emulsion up with its notch at the top right. The notch and the corner
// across from it, at the bottom left, where a mask keeps base plus fog, stay whole: what
// is left are two corners and the middles of the two long edges. "" from 17 on.
func ClipOf(n int) string {
	if n < 1 || n > MostClips {
		return ""
	}
	corner := []string{"", "top left", "bottom right", "both corners"}[(n-1)%4]
	edge := []string{"", "left", "right", "edges"}[(n-1)/4]
	switch {
	case corner == "" && edge == "":
		return "no clip"
	case edge == "":
		return corner
	case corner == "" && edge == "edges":
		return "both edges"
	case corner == "":
		return edge + " edge"
	}
	return edge + ", " + corner
}

// Clips are those of the first n sheets; nil where there are more than can be told apart.
func Clips(n int) []string {
	if n > MostClips {
		return nil
	}
	list := make([]string, n)
	for k := range list {
		list[k] = ClipOf(k + 1)
	}
	return list
}

// HowToClip says how sheets are told apart by touch.
func HowToClip(n int) string {
	var list []string
	for k, clip := range Clips(min(n, MostClips)) {
		list = append(list, fmt.Sprintf("sheet %d %s", k+1, clip))
	}
	text := "So that fingers know the sheets, clip a small triangle off them before loading, as they lie emulsion up with the notch at the top right: " +
		strings.Join(list, "; ") + ". The notch and the corner at the bottom left stay whole: there a mask keeps base plus fog."
	if n > 4 {
		text += " Left and right are the middles of those edges."
	}
	if n > MostClips {
		text += fmt.Sprintf(" From sheet %d on they are not told apart by clips.", MostClips+1)
	}
	return text
}

// cornerMarks says how the sheets of a film test are told apart by touch.
func (w *cautionBuilder) cornerMarks(st *sequence.PlanStep) {
	if n := len(st.Doses); n >= 2 {
		w.add(sequence.Note, "clip-corners", "%s: %s", st.Name, HowToClip(n))
	}
}

// What goes on in a sheet that was pulled and lies in water: our own rule, as nothing is
// published. The emulsion is taken to go on developing as in the developer for waterRuns
// seconds in all (it starts at the full rate, and half of what it holds leaves in each 15 s: 15 s
// over ln 2); and the water as a developer diluted by what each sheet carries into it.
const (
	waterRuns    = 21.6 // s
	carriedOver  = 10.0 // ml for each 4x5in sheet
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
	diluted := carriedOver * float64(len(row)) * p.Recipe.Load.Size.SquareInches() / chem.SheetArea / waterAtLeast
	gain := (min(waterRuns, wait) + wait*diluted) / own
	w.add(sequence.Care, "water-wait", "%s: sheets pulled early wait in plain water, where development creeps on: %s waits %s and may gain about %.0f%% (our own rule: it goes on for %.0f s in all, and %.0f mL of developer a sheet is carried into 1 L of water). An acid stop bath ends it; leave_together = true avoids the wait",
		st.Name, p.Recipe.Load.SheetName(shortest+1), sequence.FormatElapsed(last-row[shortest].Out), 100*gain, waterRuns, carriedOver)
}

// acid reports whether a bath is more than water: a stop bath or a fixer ends development.
func acid(p *sequence.Plan, bath string) bool {
	i := slices.IndexFunc(p.Recipe.Baths, func(b sequence.Bath) bool { return b.ID == bath })
	return i >= 0 && slices.ContainsFunc(p.Recipe.Baths[i].Parts, func(c chem.Part) bool { return c.Name != "water" })
}

// WaterTray is the bath that a film test needs besides the recipe's, in words.
const WaterTray = "a tray of plain water beside it: sheets that were pulled early wait here, and are turned over, until the last has been pulled"
