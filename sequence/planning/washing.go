package planning

// How a wash of a plan is done, what it leaves on the film, and what it would take for less: by both
// bounds, the verdict by the upper one.

import (
	"math"
	"sort"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// assumedWater is the water of a wash where neither it nor the developer has a temperature.
const assumedWater chem.Celsius = 20

// mostChanges is how often somebody changes the water of one wash at most (our own rule).
const mostWashChanges = 12

// assumedFill is what a wash is filled with where the recipe has no volume: 250 ml for a sheet of 4x5 in
// (common practice, no source).
const assumedFill chem.Millilitres = 250

// Washing is a wash of a plan.
type Washing struct {
	Changes   int              `json:"changes"` // in its time, at equal intervals
	Volume    chem.Millilitres `json:"volume_ml"`
	Water     chem.Celsius     `json:"water_c"`
	After     bool             `json:"after_aid"`    // a washing aid comes before it
	AfterFix  bool             `json:"after_fix"`    // else nothing is said of what it leaves
	Low       float64          `json:"low_g_per_m2"` // thiosulfate by dilution alone
	High      float64          `json:"high_g_per_m2"`
	Running   float64          `json:"running_g_per_m2"` // at most, in running water that is wholly changed as often instead
	Schedules []WashTo         `json:"schedules"`        // for each of chem.WashAims
}

// WashTo is what reaching an aim takes: in changes; in water that is wholly renewed each chem.MinChange; in
// changes after a washing aid where none came before. Each is nil where it cannot be reached.
type WashTo struct {
	chem.WashAim
	ByChanges *chem.WashSchedule `json:"by_changes"`
	Running   *time.Duration     `json:"running_s"`
	AfterAid  *chem.WashSchedule `json:"after_aid"`
}

// Reached reports whether the wash as planned reaches an aim.
func (w *Washing) Reached(a chem.WashAim) bool { return w.High <= a.Limit }

// WashOf is the wash of step i; nil for another step.
func WashOf(p *sequence.Plan, i int) *Washing {
	st := &p.Steps[i]
	if st.Kind != sequence.Wash {
		return nil
	}
	w := washOf(p, i, st.Given, false)
	if !w.After && w.AfterFix {
		for k, to := range washOf(p, i, st.Given, true).Schedules {
			w.Schedules[k].AfterAid = to.ByChanges
		}
	}
	return w
}

// washOf is the wash of step i if it took so long, with a washing aid before it or as planned.
func washOf(p *sequence.Plan, i int, given sequence.Elapsed, aid bool) *Washing {
	w := &Washing{Changes: max(1, int(given/chem.MinChange)), Volume: washFill(p, i), Water: waterOf(p, i), After: aid}
	b, from, thinned, ok := w.before(p, i)
	area := filmArea(p)
	unwashed, err := b.Thiosulfate(chem.Unwashed, chem.FixerStrength, area)
	if !ok || err != nil {
		return w
	}
	w.AfterFix = true
	w.Changes, w.High = changesIn(b, from, given, unwashed)
	every := given / time.Duration(w.Changes)
	w.Running = unwashed * b.Total(b.InRunning(from, given, 1/every.Minutes()))
	thinned *= math.Pow(float64(b.CarryOver/b.Volume), float64(w.Changes))
	w.Low = unwashed * float64(b.CarryOver/(b.CarryOver+b.Gelatin)) * thinned
	for _, aim := range chem.WashAims {
		w.Schedules = append(w.Schedules, washTo(b, from, aim, area))
	}
	return w
}

// changesIn is how often to change the water of a wash that takes so long, and what that leaves: the fewest
// that reach the strictest aim of those that the time allows. Where it allows none, the fewest that leave
// hardly more than the most would.
func changesIn(b chem.WashBath, from chem.Left, given sequence.Elapsed, unwashed float64) (n int, leaves float64) {
	leave := func(n int) float64 { return unwashed * b.ScheduleOf(from, n, given).Left }
	least := max(1, int(given/chem.MinChange))
	most := max(least, min(mostWashChanges, int(given/shortestChange)))
	limit := hardlyMore * leave(most)
	for _, aim := range chem.WashAims {
		if leave(most) <= aim.Limit {
			limit = aim.Limit
		}
	}
	n = least + sort.Search(most-least, func(k int) bool { return leave(least+k) <= limit })
	return n, leave(n)
}

// hardlyMore is how much more may be left where that saves changes (our own rule).
const hardlyMore = 1.1

// fewest is the time of the shortest way to the least strict aim; 0 where there is none.
func (w *Washing) fewest() sequence.Elapsed {
	switch {
	case len(w.Schedules) == 0:
		return 0
	case w.Schedules[0].ByChanges != nil:
		return w.Schedules[0].ByChanges.Wet
	case w.Schedules[0].Running != nil:
		return *w.Schedules[0].Running
	}
	return 0
}

// shortestChange is what a change takes at least, with filling and pouring off (our own rule).
const shortestChange = 80 * time.Second

func washTo(b chem.WashBath, from chem.Left, aim chem.WashAim, area float64) WashTo {
	to, most := WashTo{WashAim: aim}, b.FractionFor(aim.Limit, chem.FixerStrength, area)
	if s, ok := b.Shortest(from, mostWashChanges, most); ok {
		to.ByChanges = &s
	}
	if d, ok := b.RunningTime(from, 1/chem.MinChange.Minutes(), most); ok {
		to.Running = &d
	}
	return to
}

// before is the bath of step i, what is left of the fixer when film comes into it, and what dilution alone
// left; false where no fixer came before it. Rinses and washing aids take out some too: it is not counted.
func (w *Washing) before(p *sequence.Plan, i int) (b chem.WashBath, left chem.Left, thinned float64, ok bool) {
	last := i - 1
	for last >= 0 && p.Steps[last].Kind != sequence.Fix {
		last--
	}
	if last < 0 {
		return b, left, 0, false
	}
	left, thinned = chem.Unwashed, 1
	for j := last + 1; j <= i; j++ {
		st := &p.Steps[j]
		w.After = w.After || st.Kind == sequence.WashingAid
		if st.Kind != sequence.Wash {
			continue
		}
		var err error
		if b, err = w.bath(p, j); err != nil {
			return b, left, 0, false
		}
		if j < i {
			n := max(1, int(st.Given/chem.MinChange))
			left = b.Changes(left, n, b.ScheduleOf(left, n, st.Given).Stand)
			thinned *= math.Pow(float64(b.CarryOver/b.Volume), float64(n))
		}
	}
	return b, left, thinned, true
}

// bath is the vessel of wash j, with the slowest gelatin.
func (w *Washing) bath(p *sequence.Plan, j int) (chem.WashBath, error) {
	v, area := washFill(p, j), filmArea(p)
	_, slow, _ := chem.GelatinHalfTime(waterOf(p, j), w.After)
	return chem.NewWashBath(chem.CarryOverOf(v, area), v, area, slow)
}

func filmArea(p *sequence.Plan) float64 {
	return float64(p.Sheets) * p.Recipe.Load.Size.SquareInches()
}

// washFill is what a wash is filled with.
func washFill(p *sequence.Plan, i int) chem.Millilitres {
	if v := Fill(p, i); v > 0 {
		return v
	}
	return assumedFill * chem.Millilitres(filmArea(p)/chem.SheetArea)
}

// waterOf is how warm the water of a step is.
func waterOf(p *sequence.Plan, i int) chem.Celsius {
	if t := p.Steps[i].Temperature; t != nil {
		return *t
	}
	if t, ok := WaterAt(p, i); ok {
		return t
	}
	return assumedWater
}
