package planning

// What the person should know before film is wet. Cautions never stop a run.

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Limits behind the cautions, with their sources.
const (
	shortDevelop      = 5 * time.Minute // shortest even developing time (common advice, from memory)
	warmGelatin       = 24.0            // C; warm gelatin is soft (common practice, no source)
	bathSpread        = 2.8             // K: 5 F between baths (NAVEDTRA 14262 p. 7-11)
	Reticulation      = 8.3             // K: 15 F between fixer and wash (T.O. 33B-1-1 6.7.10.1)
	coolDeveloper     = 18.3            // C: 65 F, below it developing may stay incomplete (US Army SS0509 p. 13)
	hydroquinoneStops = 13.0            // C: 55 F, below it hydroquinone nearly stops (C. B. Neblette, Photography, 1927, from memory)
	leastColdFactor   = 1.15            // times as long: less is not worth a caution (our own rule)
	rounding          = 1e-9            // K: what converting from Fahrenheit may add
	intervalChange    = 0.25            // share by which a turn's interval may change unremarked (our own rule)
)

// cautionBuilder gathers the cautions of one plan.
type cautionBuilder struct {
	p    *sequence.Plan
	film schedule.Stays
	list []sequence.Caution
}

func (w *cautionBuilder) add(l sequence.Level, code string, v sequence.Values) {
	w.list = append(w.list, sequence.Caution{Level: l, Code: code, Values: v})
}

// cautions lists them, gravest first.
func cautions(p *sequence.Plan, f schedule.Stays) []sequence.Caution {
	w := cautionBuilder{p: p, film: f, list: []sequence.Caution{}}
	w.wetTime()
	for i := range p.Steps {
		w.step(i)
	}
	if v := p.Vessel; v.Closed() { // after loading it the room may be light
		w.add(sequence.Note, "load-dark", sequence.Values{Vessel: v})
	}
	w.temperatures()
	for i := range p.Recipe.Baths {
		w.bath(&p.Recipe.Baths[i])
	}
	w.stockShort()
	w.workplace()
	order := []sequence.Level{sequence.Danger, sequence.Care, sequence.Note}
	sort.SliceStable(w.list, func(i, j int) bool {
		return slices.Index(order, w.list[i].Level) < slices.Index(order, w.list[j].Level)
	})
	return w.list
}

// Dangers are the plan's cautions of that level: film is not wetted before the person
// has said yes to them.
func Dangers(p *sequence.Plan) []sequence.Caution {
	return slices.DeleteFunc(slices.Clone(p.Cautions), func(c sequence.Caution) bool { return c.Level != sequence.Danger })
}

func (w *cautionBuilder) wetTime() {
	wet := w.p.Wet
	if wet.Limit == nil {
		w.add(sequence.Care, "limit-unknown", sequence.Values{Vessel: w.p.Vessel})
		return
	}
	if c := w.p.Conditions; w.p.Recipe.Film.WetLimit.Unstated() && c.OwnLimit != nil && c.WetLimit == 0 {
		w.add(sequence.Note, "own-limit", sequence.Values{Of: *wet.Limit, Vessel: w.p.Vessel})
	}
	w.testTooLong()
	v := sequence.Values{Time: wet.Total, Of: *wet.Limit, Margin: *wet.Margin, Share: *wet.Used, Vessel: w.p.Vessel}
	switch {
	case *wet.Margin < 0:
		w.add(sequence.Danger, "wet-limit", v)
	case *wet.Margin < w.p.Recipe.Film.WetWarning:
		w.add(sequence.Care, "wet-warning", v)
	}
}

func (w *cautionBuilder) step(i int) {
	p, st := w.p, &w.p.Steps[i]
	fixed := slices.ContainsFunc(p.Steps[:i], func(s sequence.PlanStep) bool { return s.Kind == sequence.Fix })
	if !fixed && st.RoomLight == sequence.White && !st.Vessel.Closed() {
		w.add(sequence.Danger, "light", sequence.Values{Step: st.Name})
	}
	if st.Kind == sequence.Develop {
		w.develop(i)
	}
	w.turning(i)
}

func (w *cautionBuilder) develop(i int) {
	p, st := w.p, &w.p.Steps[i]
	if st.Stack && st.Agitate.Mode != sequence.Shuffle {
		w.add(sequence.Danger, "stack-at-rest", sequence.Values{Step: st.Name})
	}
	shortest := st.Given
	for _, y := range w.film.Row(p, i) {
		shortest = min(shortest, y.Out-y.In)
	}
	if shortest < shortDevelop {
		w.add(sequence.Care, "short-develop", sequence.Values{Step: st.Name, Time: shortest, Of: shortDevelop})
	}
	switch t := st.Step.Temperature; {
	case t == nil && (p.Conditions.BathTemperature != nil || p.Conditions.SettlesAt != nil):
		w.add(sequence.Note, "uncorrected", sequence.Values{Step: st.Name})
	case t != nil && t.Coefficient == 0 && len(t.Table) == 0:
		w.add(sequence.Note, "coefficient", sequence.Values{Step: st.Name, Factor: DefaultCoefficient})
	}
	if d := growthDiffers(p, st); len(d) > 0 {
		w.add(sequence.Danger, "curve-elsewhere", sequence.Values{Step: st.Name, Differs: d})
	}
	w.vessel(i)
	w.cornerMarks(st)
	w.filmTestShares(i)
	w.waitsInWater(i)
	w.inRange(st)
	w.toRead(st)
	if at, without, with, worth, _ := schedule.PlannedError(w.p, i); worth { // temperature leaves much of development open
		w.add(sequence.Note, "read-by", sequence.Values{Step: w.p.Steps[i].Name, Time: at, Share: without, Factor: with})
	}
	if t, by, ok := startTemperature(p, i); ok && by != 0 {
		w.add(sequence.Note, "start-at", sequence.Values{Step: st.Name, Temperature: t, Change: by})
	}
}

// vessel says where a developing time was found in another vessel than it is used in.
func (w *cautionBuilder) vessel(i int) {
	st := &w.p.Steps[i]
	if found := foundIn(w.p, i); found != st.Vessel {
		w.add(sequence.Care, "other-vessel", sequence.Values{Step: st.Name, FoundIn: found, Vessel: st.Vessel})
	}
}

// foundIn is the vessel for which the time of step i was found: the film test's, or else
// the one that the recipe has there.
func foundIn(p *sequence.Plan, i int) sequence.Vessel {
	if g := p.Steps[i].Growth; g != nil && g.Vessel != "" {
		return g.Vessel
	}
	v := p.Recipe.Load.Vessel
	for _, st := range p.Recipe.Steps[:i+1] {
		v = cmp.Or(st.Vessel, v)
	}
	return v
}

// toRead says what a temperature that was proposed asks for: the developer is to be made
// so warm that it reads that, at that moment.
func (w *cautionBuilder) toRead(st *sequence.PlanStep) {
	c := w.p.Conditions
	if !c.ToRead || c.BathTemperature == nil || st.TimeByTemperature == nil {
		return
	}
	w.add(sequence.Note, "to-read", sequence.Values{Step: st.Name, Temperature: *c.BathTemperature, Ago: c.ReadBefore})
}

// inRange looks at the bath's temperature at both ends of its step.
func (w *cautionBuilder) inRange(st *sequence.PlanStep) {
	t := st.Step.Temperature
	if t == nil || len(t.Range) != 2 {
		return
	}
	for _, at := range temperaturesOf(w.p, st) {
		if at < t.Range[0]-rounding || at > t.Range[1]+rounding {
			w.add(sequence.Care, "temperature-range", sequence.Values{Step: st.Name, Temperature: at, Low: t.Range[0], High: t.Range[1]})
			return
		}
	}
}

// temperaturesOf is the temperature of a step's bath at its beginning and at its end, as
// far as it is known.
func temperaturesOf(p *sequence.Plan, st *sequence.PlanStep) []chem.Celsius {
	if st.TimeByTemperature != nil {
		c := p.Course(st)
		return []chem.Celsius{c.At(st.Start), c.At(st.End)}
	}
	if st.Temperature != nil {
		return []chem.Celsius{*st.Temperature}
	}
	return nil
}

func (w *cautionBuilder) temperatures() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		warmest := math.Inf(-1)
		for _, c := range temperaturesOf(w.p, st) {
			lo, hi, warmest = min(lo, float64(c)), max(hi, float64(c)), max(warmest, float64(c))
		}
		w.cold(st, warmest)
		if warmest > warmGelatin+rounding {
			w.add(sequence.Care, "warm-gelatin", sequence.Values{Step: st.Name, Temperature: chem.Celsius(warmest)})
		}
	}
	if hi-lo > bathSpread+rounding {
		w.add(sequence.Care, "bath-spread", sequence.Values{Change: chem.Celsius(hi - lo), Low: chem.Celsius(lo), High: chem.Celsius(hi)})
	}
}

// cold looks at what slows down or stops in the cold; nothing is known where the
// temperature is not.
func (w *cautionBuilder) cold(st *sequence.PlanStep, t float64) {
	if math.IsInf(t, -1) {
		return
	}
	v := sequence.Values{Step: st.Name, Temperature: chem.Celsius(t)}
	switch st.Kind {
	case sequence.Develop:
		if t < hydroquinoneStops {
			v.Low = hydroquinoneStops
			w.add(sequence.Danger, "cold-developer", v)
		} else if t < coolDeveloper {
			v.Low = coolDeveloper
			w.add(sequence.Note, "cool-developer", v)
		}
	case sequence.Fix:
		if f := chem.ColdFixFactor(chem.Celsius(t)); f > leastColdFactor {
			v.Factor = f
			w.add(sequence.Care, "cold-fix", v)
		}
	case sequence.Wash:
		if f, known := chem.ColdWashFactor(chem.Celsius(t)); known && f > leastColdFactor {
			v.Factor = f
			w.add(sequence.Care, "cold-wash", v)
		}
	}
}

// bath looks at what a bath is made of and how long it serves. What the recipe does
// not say is not looked at.
func (w *cautionBuilder) bath(b *sequence.Bath) {
	k := bottleFor(w.p, b)
	w.stock(b, k)
	w.capacity(b, k)
	w.reuse(b)
	w.covered(b)
	w.bottleVolume(b, k)
	w.fixerClearing(b, k)
	w.workingLife(b, k)
	for _, text := range b.Cautions {
		w.add(sequence.Note, "chemistry", sequence.Values{Bath: b.ID, Words: text})
	}
}

// lastUse is when a bath is used last.
func lastUse(p *sequence.Plan, bath string) sequence.Elapsed {
	var last sequence.Elapsed
	for i := range p.Steps {
		if p.Steps[i].Bath == bath {
			last = max(last, p.Steps[i].End)
		}
	}
	return last
}
