package sequence

// What the person should know before film is wet. Cautions never stop a run.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
)

// Limits behind the cautions, with their sources.
const (
	shortDevelop      = 5 * time.Minute // shortest even developing time (common advice, from memory)
	warmGelatin       = 24.0            // C; warm gelatin is soft (common practice, no source)
	bathSpread        = 2.8             // K: 5 F between baths (NAVEDTRA 14262 p. 7-11)
	reticulation      = 8.3             // K: 15 F between fixer and wash (T.O. 33B-1-1 6.7.10.1)
	coolDeveloper     = 18.3            // C: 65 F, below it developing may stay incomplete (US Army SS0509 p. 13)
	hydroquinoneStops = 13.0            // C: below it hydroquinone nearly stops (early handbook)
	coldWorthSaying   = 1.15            // times as long: less is not worth a caution (our own rule)
	rounding          = 1e-9            // K: what converting from Fahrenheit may add
	turnChange        = 0.25            // share by which a turn's interval may change unremarked (our own rule)
)

// wary gathers the cautions of one plan.
type wary struct {
	p    *Plan
	film film
	h    Habits
	list []Caution
}

func (w *wary) add(l Level, code, format string, args ...any) {
	w.list = append(w.list, Caution{l, code, fmt.Sprintf(format, args...)})
}

// CautionsFor is Cautions with the temperatures on a person's scale.
func (p *Plan) CautionsFor(h Habits) []Caution {
	if !h.Fahrenheit {
		return p.Cautions
	}
	return cautions(p, p.film(), h)
}

// film is the sheets' stays as planned.
func (p *Plan) film() film {
	f := newFilm(p)
	for _, y := range p.Passages {
		f.row(p, y.Step)[y.Sheet-1] = stay{y.In, y.Out}
	}
	return f
}

// cautions lists them, gravest first.
func cautions(p *Plan, f film, h Habits) []Caution {
	w := wary{p: p, film: f, h: h, list: []Caution{}}
	w.wetTime()
	for i := range p.Steps {
		w.step(i)
	}
	w.darkLoad()
	w.temperatures()
	for i := range p.Recipe.Baths {
		w.bath(&p.Recipe.Baths[i])
	}
	w.inHand()
	w.workplace()
	order := []Level{Danger, Care, Note}
	slices.SortStableFunc(w.list, func(a, b Caution) int {
		return slices.Index(order, a.Level) - slices.Index(order, b.Level)
	})
	return w.list
}

// Dangers are the plan's cautions of that level: film is not wetted before the person
// has said yes to them.
func (p *Plan) Dangers() []Caution {
	var list []Caution
	for _, c := range p.Cautions {
		if c.Level == Danger {
			list = append(list, c)
		}
	}
	return list
}

func (w *wary) wetTime() {
	wet := w.p.Wet
	if wet.Limit == nil {
		w.add(Care, "limit-unknown", "the wet limit of %s %s is not known: note how the emulsion stands it, or give a limit", w.p.Recipe.Film.Name, w.p.Vessel.In())
		return
	}
	if c := w.p.Conditions; w.p.Recipe.Film.WetLimit.none() && c.OwnLimit != nil && c.WetLimit == 0 {
		w.add(Note, "own-limit", "the recipe states no wet limit for %s; your own, %s %s, is used", w.p.Recipe.Film.Name, chem.FormatDuration(*wet.Limit), w.p.Vessel.In())
	}
	w.testTooLong()
	warning := w.p.Recipe.Film.WetWarning
	switch {
	case *wet.Margin < 0:
		w.add(Danger, "wet-limit", "wet for %s: %s more than %s stands %s (limit %s)",
			chem.FormatDuration(wet.Total), chem.FormatDuration(-*wet.Margin), w.p.Recipe.Film.Name, w.p.Vessel.In(), chem.FormatDuration(*wet.Limit))
	case *wet.Margin < warning:
		w.add(Care, "wet-warning", "wet for %s: %s left before the limit of %s", chem.FormatDuration(wet.Total), chem.FormatDuration(*wet.Margin), chem.FormatDuration(*wet.Limit))
	}
}

func (w *wary) step(i int) {
	p, st := w.p, &w.p.Steps[i]
	fixed := slices.ContainsFunc(p.Steps[:i], func(s PlanStep) bool { return s.Kind == Fix })
	if !fixed && st.RoomLight == White && !st.Vessel.Closed() {
		w.add(Danger, "light", "%s: white light before the film is fixed fogs it", st.Name)
	}
	if st.Kind == Develop {
		w.develop(i)
	}
	w.turning(i)
}

func short(d Elapsed) string { return fmt.Sprintf("%.3g s", Seconds(d)) }

func (w *wary) develop(i int) {
	p, st := w.p, &w.p.Steps[i]
	if st.Stack && st.Agitate.Mode != Shuffle {
		w.add(Danger, "stack-at-rest", "%s: sheets lying on each other without turning stick together and develop in patches; shuffle them", st.Name)
	}
	shortest := st.Given
	for _, y := range w.film.row(p, i) {
		shortest = min(shortest, y.out-y.in)
	}
	if shortest < shortDevelop {
		w.add(Care, "short-develop", "%s: %s is short; under 5:00 uneven development is likely (common advice)", st.Name, chem.FormatDuration(shortest))
	}
	switch t := st.Step.Temperature; {
	case t == nil && (p.Conditions.Temp != nil || p.Conditions.Towards != nil):
		w.add(Note, "uncorrected", "%s: the recipe says no temperature, so its time is not corrected", st.Name)
	case t != nil && t.Coefficient == 0 && len(t.Table) == 0:
		w.add(Note, "coefficient", "%s: the recipe gives no coefficient; %.1f is assumed (common practice: 1.9 to 2.6)", st.Name, DefaultCoefficient)
	}
	if d := p.elsewhere(st); len(d) > 0 {
		w.add(Danger, "curve-elsewhere", "%s: its growth curve was measured elsewhere (%s), so its gradient is not known; test again", st.Name, strings.Join(d, ", "))
	}
	w.vessel(i)
	w.marks(st)
	w.unlike(i)
	w.waitsInWater(i)
	w.inRange(st)
	w.toRead(st)
	if t, by, ok := p.warmer(i); ok && by != 0 {
		warmer := "warmer"
		if by < 0 {
			warmer, by = "cooler", -by
		}
		w.add(Note, "start-at", "%s: the bath drifts; for the recipe's time let it read %s then, %s %s", st.Name, w.h.Tenths(t), w.h.Difference(float64(by)), warmer)
	}
}

// vessel says where a developing time was found in another vessel than it is used in.
func (w *wary) vessel(i int) {
	st := &w.p.Steps[i]
	if found := w.p.foundIn(i); found != st.Vessel {
		w.add(Care, "other-vessel", "%s: the time was found %s, not %s, where agitation is another; develop a test sheet first", st.Name, found.In(), st.Vessel.In())
	}
}

// foundIn is the vessel for which the time of step i was found: the film test's, or else
// the one that the recipe has there.
func (p *Plan) foundIn(i int) Vessel {
	if g := p.Steps[i].Growth; g != nil && g.Vessel != "" {
		return g.Vessel
	}
	v := p.Recipe.Load.Vessel
	for _, st := range p.Recipe.Steps[:i+1] {
		v = cmp.Or(st.Vessel, v)
	}
	return v
}

// darkLoad says where a closed vessel is loaded: after that the room may be light.
func (w *wary) darkLoad() {
	if v := w.p.Vessel; v.Closed() {
		w.add(Note, "load-dark", "load the film %s in darkness: a changing bag or a dark room, light only once it is closed", v.In())
	}
}

// toRead says what a temperature that was proposed asks for: the developer is to be made
// so warm that it reads that, at that moment.
func (w *wary) toRead(st *PlanStep) {
	c := w.p.Conditions
	if !c.ToRead || c.Temp == nil || st.Works == nil {
		return
	}
	when := "when the first sheet goes in"
	if c.ReadBefore > 0 {
		when = chem.FormatDuration(c.ReadBefore) + " before the first sheet goes in"
	}
	w.add(Note, "to-read", "%s: make the developer so that it reads %s %s", st.Name, w.h.Tenths(*c.Temp), when)
}

// inRange looks at the bath's temperature at both ends of its step.
func (w *wary) inRange(st *PlanStep) {
	t := st.Step.Temperature
	if t == nil || len(t.Range) != 2 {
		return
	}
	for _, at := range w.ends(st) {
		if at < t.Range[0]-rounding || at > t.Range[1]+rounding {
			w.add(Care, "temperature-range", "%s: %s is outside the %s to %s that the recipe is meant for",
				st.Name, w.h.Tenths(at), w.h.Degrees(t.Range[0]), w.h.Temperature(t.Range[1]))
			return
		}
	}
}

// ends is the temperature of a step's bath at its beginning and at its end, as
// far as it is known.
func (w *wary) ends(st *PlanStep) []chem.Celsius {
	if st.Works != nil {
		c := w.p.course(st)
		return []chem.Celsius{c.At(st.Start), c.At(st.End)}
	}
	if st.Temperature != nil {
		return []chem.Celsius{*st.Temperature}
	}
	return nil
}

func (w *wary) temperatures() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		warmest := math.Inf(-1)
		for _, c := range w.ends(st) {
			lo, hi, warmest = min(lo, float64(c)), max(hi, float64(c)), max(warmest, float64(c))
		}
		w.cold(st, warmest)
		if warmest > warmGelatin+rounding {
			w.add(Care, "warm-gelatin", "%s: %s softens gelatin; handle the film by its edges", st.Name, w.h.Tenths(chem.Celsius(warmest)))
		}
	}
	if hi-lo > bathSpread+rounding {
		within := w.h.Difference(bathSpread)
		if !w.h.Fahrenheit {
			within += " (5 F)"
		}
		text := "baths are up to %s apart; keep them within %s"
		if hi-lo > reticulation {
			text += ", or the emulsion may reticulate"
		}
		w.add(Care, "bath-spread", text, w.h.Difference(hi-lo), within)
	}
}

// cold looks at what slows down or stops in the cold; nothing is known where the
// temperature is not.
func (w *wary) cold(st *PlanStep, t float64) {
	if math.IsInf(t, -1) {
		return
	}
	slower := "%s: at %s it takes %.1f times as long (%s)"
	switch st.Kind {
	case Develop:
		if t < hydroquinoneStops {
			w.add(Danger, "cold-developer", "%s: warm the developer first: below %s hydroquinone nearly stops (early handbook), and more time does not make up for it", st.Name, w.h.Temperature(hydroquinoneStops))
		} else if t < coolDeveloper {
			w.add(Note, "cool-developer", "%s: below %s developing may stay incomplete, however long (US Army SS0509 p. 13)", st.Name, w.h.Tenths(coolDeveloper))
		}
	case Fix:
		if f := chem.ColdFix(chem.Celsius(t)); f > coldWorthSaying {
			w.add(Care, "cold-fix", slower, st.Name, w.h.Tenths(chem.Celsius(t)), f, "US Army TM 11-2323 para 33c")
		}
	case Wash:
		if f, known := chem.ColdWash(chem.Celsius(t)); known && f > coldWorthSaying {
			w.add(Care, "cold-wash", slower, st.Name, w.h.Tenths(chem.Celsius(t)), f, "T.O. 33B-1-1 6.7.10.1")
		}
	}
}

// bath looks at what a bath is made of and how long it serves. What the recipe does
// not say is not looked at.
func (w *wary) bath(b *Bath) {
	k := w.p.kept(b)
	w.stock(b, k)
	w.room(b, k)
	w.covered(b)
	w.fills(b, k)
	w.clears(b, k)
	w.life(b, k)
	for _, text := range b.Cautions {
		w.add(Note, "chemistry", "%s: %s", b.ID, text)
	}
}

// lastUse is when a bath is used last.
func (p *Plan) lastUse(bath string) Elapsed {
	var last Elapsed
	for i := range p.Steps {
		if p.Steps[i].Bath == bath {
			last = max(last, p.Steps[i].End)
		}
	}
	return last
}
