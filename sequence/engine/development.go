package engine

// How far film has developed, by the readings as they really were: while a session runs, and
// for the notebook after a replay.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// Development is how far one sheet developed in one step, as time at the
// reference temperature.
type Development struct {
	Step, Sheet int
	Done, Of    sequence.Elapsed // Of is what the plan wanted
	Bath        *chem.Celsius    // as read, when the sheet left or, still in, at the last event; nil where temperature counts for nothing
	Uncertain   bool             // the bath was outside the recipe's table: Done is counted by its last slope
	Planned     *chem.Celsius    // what the plan expected then
}

// wanted is what the plan wants of sheet k in a developer.
func wanted(st *sequence.PlanStep, k int) sequence.Elapsed {
	if st.IsFilmTest() {
		return st.Doses[k]
	}
	return st.Dose
}

// Share is Done as a share of Of.
func (d DevelopmentProgress) Share() float64 { return float64(d.Done) / float64(d.Of) }

// Share is Done as a share of Of.
func (d Development) Share() float64 { return float64(d.Done) / float64(d.Of) }

// MarshalJSON writes the share in per cent, as scripts are told of it.
func (d Development) MarshalJSON() ([]byte, error) { return sequence.Marshal(100 * d.Share()) }

// Developments tells of every stay in a developer, by step, then sheet. All
// readings count, also those taken after the film had left: the course between
// two readings is a straight line, so a late one corrects what was believed.
func (s State) Developments() []Development {
	var list []Development
	for _, y := range s.Passages() {
		st := &s.plan.Steps[y.Step]
		if st.Kind != sequence.Develop {
			continue
		}
		d := Development{Step: y.Step, Sheet: y.Sheet, Of: wanted(st, y.Sheet-1)}
		out := max(min(y.Out, s.at), y.In)
		d.Done = s.dose(y.Step, y.In, out)
		if st.TimeByTemperature != nil {
			bath, planned := s.course(y.Step).At(out), s.plan.Course(st).At(out)
			d.Bath, d.Planned = &bath, &planned
			d.Uncertain = s.uncertain(y.Step, y.In, out)
		}
		list = append(list, d)
	}
	return list
}

// course is the temperature of step i's bath: as planned, and as read.
func (f filmState) course(i int) chem.Course {
	st := &f.plan.Steps[i]
	c := f.plan.Course(st)
	if f.readings != nil {
		c.Readings = f.readings.rows[i]
	}
	return c
}

// dose is the development of film in step i from in to t.
func (f filmState) dose(i int, in, t sequence.Elapsed) sequence.Elapsed {
	if f.plan.Steps[i].TimeByTemperature == nil {
		return t - in
	}
	d, err := chem.Dose(f.rates[i], f.course(i), in, t)
	if err != nil {
		return t - in
	}
	return d
}

// converted is what a temperature may be off by converting it from Fahrenheit, in K.
const converted = 1e-9

// outside reports whether no time is known at a temperature: more than a degree past
// the ends of a table it is counted by the table's last slope, and is uncertain.
func outside(w *sequence.Temperature, t chem.Celsius) bool {
	n := len(w.Table)
	return n > 0 && (t < w.Table[0].T-chem.MaxExtrapolation-converted || t > w.Table[n-1].T+chem.MaxExtrapolation+converted)
}

// uncertain reports whether step i's bath was outside its table at some moment between
// two, as far as it was read.
func (f filmState) uncertain(i int, from, to sequence.Elapsed) bool {
	w := f.plan.Steps[i].TimeByTemperature
	if w == nil {
		return false
	}
	c := f.course(i)
	for _, r := range c.Readings {
		if r.At > from && r.At < to && outside(w, r.T) {
			return true
		}
	}
	return outside(w, c.At(from)) || outside(w, c.At(max(from, to)))
}

// DevelopmentProgress is how far development has come, as time at the reference.
type DevelopmentProgress struct {
	Done, Of    sequence.Elapsed
	At          *chem.Celsius // reference; nil where none
	Temperature *chem.Celsius // of the bath now; nil where unknown
	Uncertain   bool          // the bath was outside the recipe's table: counted by its last slope

	// How well it is known, where thermometers are said to have errors.
	Band    chem.Celsius      // by which Temperature may be off, in nine cases of ten
	Error   float64           // share by which Done may be off, in nine cases of ten
	AtEnd   float64           // and will be when its time is up, if nothing more is read
	ReadBy  *sequence.Elapsed // when another reading helps most; nil where none is worth it
	AtEndIf float64           // what AtEnd is with it
}

// developed is how far the sheet that leads step i has come.
func developedSoFar(f filmState, i, k int, now sequence.Elapsed) *DevelopmentProgress {
	st := &f.plan.Steps[i]
	row := f.film.Row(f.plan, i)
	d := &DevelopmentProgress{Of: wanted(st, k)}
	d.Done = f.dose(i, row[k].In, max(now, row[k].In))
	if st.TimeByTemperature != nil {
		t := f.course(i).At(now)
		d.At, d.Temperature = &st.TimeByTemperature.At, &t
		d.Uncertain = f.uncertain(i, row[k].In, now)
	}
	return d
}

// withErrors adds how well the development of film in step i since in is known, its time being up at end.
func (d *DevelopmentProgress) withErrors(f filmState, i int, in, now, end sequence.Elapsed) {
	b, s, ok := f.knownMean(i, in, max(now, in))
	if !ok {
		return
	}
	rate := f.rates[i]
	_, bathDeviation := s.Bath()
	mean, deviation := s.Mean()
	d.Band = chem.Celsius(schedule.Ninety * bathDeviation)
	d.Error = schedule.DoseError(rate, mean, deviation)
	if end == sequence.Never || end <= s.At() {
		d.AtEnd = d.Error
		return
	}
	at, without, with, worth := schedule.NextReading(b, rate, s, end)
	if d.AtEnd = without; worth {
		d.ReadBy, d.AtEndIf = &at, with
	}
}

// developedBy is how far sheet k, whose time is its own, has developed, where it has left its
// developer or is overdue; of a film test that leaves together how far it will have when all
// leave. All readings count, as in Developments.
func developedBy(s State, laid schedule.Stays, k int, now sequence.Elapsed) float64 {
	e, at := s.forecastNow.change, s.where(k)
	for i := len(s.plan.Steps) - 1; i >= 0; i-- {
		st, y := &s.plan.Steps[i], s.filmState.film.Row(s.plan, i)[k]
		if st.Kind != sequence.Develop || y.In == sequence.Never || !s.plan.OwnTimes(i) && !st.StaggeredEntry() {
			continue
		}
		switch aside := i+1 == len(s.plan.Steps) || s.filmState.film.Row(s.plan, i+1)[k].In == sequence.Never; {
		case at == i && st.StaggeredEntry():
			y.Out = laid.Row(s.plan, i)[k].Out
		case at == i && s.filmState.overdue && e.sheet == k+1 && e.from == i:
			y.Out = max(now, y.In)
		case y.Out == sequence.Never, aside && s.filmState.film.IsSetAside(s.plan, k):
			return 0
		}
		return Development{Done: s.dose(i, y.In, y.Out), Of: wanted(st, k)}.Share()
	}
	return 0
}

// doubtful reports whether sheet k was, up to a moment, in a bath outside its table.
func doubtful(f filmState, k int, now sequence.Elapsed) bool {
	for i := range f.plan.Steps {
		if y := f.film.Row(f.plan, i)[k]; y.In != sequence.Never && f.uncertain(i, y.In, min(y.Out, max(now, y.In))) {
			return true
		}
	}
	return false
}
