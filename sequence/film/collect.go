package film

// Sessions, readings and borrowed times brought together by film and handling.

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// Sources is where what is known lies.
type Sources struct {
	Sessions  journal.Store
	Densities densities.Store
	Borrowed  BorrowedStore
}

// Collect reads all that is known of a film, or of all for "": what is known best comes first.
func (s Sources) Collect(name string) []Known {
	c := collection{name: name, known: map[string]*Known{}, opened: map[string]*notebook.Session{}, store: s.Sessions}
	for _, one := range notebook.List(s.Sessions) {
		if !one.Rehearsal && one.Status == journal.Done && c.asked(one.Film) {
			c.session(one.ID)
		}
	}
	for _, r := range s.Densities.List() {
		if r.Err == nil {
			c.test(r)
		}
	}
	for _, b := range s.Borrowed.List() {
		if c.asked(b.Film) {
			c.borrowed(b)
		}
	}
	list := make([]Known, 0, len(c.known))
	for _, k := range c.known {
		list = append(list, *k)
	}
	slices.SortFunc(list, func(a, b Known) int {
		return cmp.Or(strings.Compare(a.Film, b.Film), len(b.Tests)-len(a.Tests), len(b.Sessions)-len(a.Sessions),
			strings.Compare(a.Key(), b.Key()))
	})
	return list
}

// collection is what is found while it is brought together.
type collection struct {
	name   string
	known  map[string]*Known
	opened map[string]*notebook.Session
	store  journal.Store
}

func (c *collection) asked(film string) bool {
	return film != "" && (c.name == "" || strings.EqualFold(film, c.name))
}

func (c *collection) of(h Handling) *Known {
	k := c.known[h.Key()]
	if k == nil {
		k = &Known{Handling: h}
		c.known[h.Key()] = k
	}
	return k
}

// open reads a session once; nil where it cannot be replayed.
func (c *collection) open(id string) *notebook.Session {
	if s, read := c.opened[id]; read {
		return s
	}
	c.opened[id] = nil
	if s, err := notebook.Open(c.store, id); err == nil && s.Plan != nil {
		c.opened[id] = &s
	}
	return c.opened[id]
}

// session takes in one that was not a film test.
func (c *collection) session(id string) {
	s := c.open(id)
	if s == nil {
		return
	}
	h, ok := densities.TestConditionsOf(s.Plan)
	step := notebook.FilmDeveloper(s.Plan)
	if !ok || len(s.Plan.Steps[step].Doses) > 0 {
		return
	}
	minutes, at := 0.0, 0.0
	sheets := slices.DeleteFunc(slices.Clone(s.Steps[step].Sheets), func(y notebook.SheetInStep) bool { return y.Out == sequence.Never || y.Aside })
	for _, y := range sheets {
		minutes += s.Plan.Steps[step].Fresh(y.Given).Minutes() / float64(len(sheets))
		at += float64(temperatureOf(s.Plan.Steps[step].TimeByTemperature, y)) / float64(len(sheets))
	}
	if len(sheets) == 0 {
		return
	}
	one := Session{ID: id, Day: s.Day(), Time: time.Duration(minutes * float64(time.Minute)), Temperature: chem.Celsius(at),
		Development: s.Plan.Conditions.Development, Appearances: s.NotesAfter.Appearances(), Wet: map[sequence.Vessel]notebook.WetTrial{}}
	if s.Emulsion != "" {
		for _, v := range s.Vessels {
			if t, ok := s.WetTrial(v); ok {
				one.Wet[v] = t
			}
		}
	}
	k := c.of(h)
	if k.Recipe == nil { // the newest comes first
		k.Recipe = &s.Plan.Recipe
	}
	k.Sessions = append(k.Sessions, one)
}

// temperatureOf is the steady temperature at which a sheet would have come as far in its time.
func temperatureOf(by *sequence.Temperature, y notebook.SheetInStep) chem.Celsius {
	if y.Developed == nil {
		return growthbelief.Reference
	}
	return steadyTemperature(by, y.Given, y.Developed.Done, y.Developed.Bath)
}

// steadyTemperature is that at which a time comes as far as another at the recipe's; by a table it is the bath's own.
func steadyTemperature(by *sequence.Temperature, given, done sequence.Elapsed, bath *chem.Celsius) chem.Celsius {
	switch {
	case by == nil:
		return growthbelief.Reference
	case by.Coefficient > 1 && done > 0 && given > 0:
		return by.At + chem.Celsius(10*math.Log(float64(done)/float64(given))/math.Log(by.Coefficient))
	case bath != nil:
		return *bath
	}
	return by.At
}

// readingError is that of a gradient read by densities good to 0.02, as the usual densitometer at home is: of both
// ends of a rise over 1.30 log H.
const readingError = 0.02 * math.Sqrt2 / 1.30

// test takes in the readings of one session's sheets.
func (c *collection) test(r densities.ReadingsFile) {
	family, columns := r.Readings.Family(r.Name)
	s := c.open(r.Readings.Session)
	h := Handling{Film: r.Readings.Film}
	if s != nil {
		if own, ok := densities.TestConditionsOf(s.Plan); ok {
			h = own
		} else {
			s = nil
		}
	}
	if !c.asked(h.Film) {
		return
	}
	t := Test{Readings: r.Name, Day: r.Day(), Session: r.Readings.Session}
	stays := stays(s, &r.Readings, columns)
	for i, one := range evaluated(family, r.Readings.Metered) {
		stay := stays[i]
		if stay.Time <= 0 {
			continue
		}
		if one.AverageGradient != nil && *one.AverageGradient > 0 {
			stay.Gradient, stay.Error = *one.AverageGradient, readingError
			t.Sheets = append(t.Sheets, stay)
		}
		if one.ExposureIndex != nil {
			t.Indexes = append(t.Indexes, TestedIndex{stay.Time, *one.ExposureIndex})
		}
	}
	if len(t.Sheets)+len(t.Indexes) == 0 {
		return
	}
	k := c.of(h)
	if k.Recipe == nil && s != nil {
		k.Recipe = &s.Plan.Recipe
	}
	k.Tests = append(k.Tests, t)
}

// evaluated is what each curve says by itself.
func evaluated(f curve.Family, metered string) []curve.Result {
	r := curve.Request{Rounds: 1}
	if anchor, err := curve.ParseExposed(metered); err == nil {
		r.SpeedAnchor = &anchor
	}
	out, err := curve.Evaluate(f, r)
	if err != nil {
		return nil
	}
	return out.Curves
}

// stays is how long each column's sheet was developed, and how warm: as the session tells, else as the file has it, at
// the reference.
func stays(s *notebook.Session, r *curve.Readings, columns []int) []growthbelief.Reading {
	list := make([]growthbelief.Reading, len(columns))
	times, sheets := make([]time.Duration, len(columns)), make([]int, 0, len(columns))
	for i, k := range columns {
		times[i] = r.Sheets[k].Time
		list[i] = growthbelief.Reading{Time: times[i], Temperature: growthbelief.Reference}
		if n := r.Sheets[k].Sheet; n > 0 {
			sheets = append(sheets, n)
		}
	}
	if s == nil {
		return list
	}
	found, err := densities.Match(times, sheets, s.Developed())
	if err != nil {
		return list
	}
	step := &s.Steps[notebook.FilmDeveloper(s.Plan)]
	for i, d := range found {
		for _, y := range step.Sheets {
			if y.Sheet == d.Sheet {
				list[i].Time, list[i].Temperature = y.Given, temperatureOf(step.Plan.TimeByTemperature, y)
			}
		}
	}
	return list
}

// borrowed takes in a time from elsewhere: for every handling in its developer, or for one of its own.
func (c *collection) borrowed(b BorrowedTime) {
	found := false
	for _, k := range c.known {
		if b.holdsFor(k.Handling) {
			k.Borrowed, found = append(k.Borrowed, b), true
		}
	}
	if !found {
		k := c.of(Handling{Film: b.Film, Developer: b.Developer})
		k.Borrowed = append(k.Borrowed, b)
	}
}
