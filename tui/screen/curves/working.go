package curves

// What the readings come to, worked out beside the screen: the bootstrap takes a while.

import (
	"errors"
	"fmt"
	"math"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
)

// found is what was worked out; it is the message too.
type found struct {
	turn         int
	out          curve.Results
	aim          sequence.Aim
	met          *densities.Met        // of a contrast index or a print; nil where it cannot be had
	response     *densities.Response   // that it was met on
	wanted       curve.PrintConditions // of an average gradient
	gradient     float64
	developments []curve.Development // nil where there is no growth
	one          *curve.Target       // from one sheet alone; nil where there are more
	rate         curve.PerMinute     // that was assumed for it
	published    string              // what a time from elsewhere would do; "" for none
	fault        string              // why there is no time for what is wanted
}

// evaluate works everything out anew. What gives no time still gives its curves.
func (m Model) evaluate() tea.Cmd {
	f := found{turn: m.turn}
	family, q := m.family, curve.Request{Intervals: true}
	switch m.form.field(fieldSmoothing).Chosen {
	case smoothByStated:
		q.Smooth = readingError
	case smoothNothing:
		q.Exact = true
	}
	if anchor, err := curve.ParseExposed(m.readings.Metered); err == nil {
		q.SpeedAnchor = &anchor
	}
	f.aim, _ = m.form.aim()
	f.wanted, _ = wantedOf(m.form.field(fieldTarget).Value())
	published := m.form.field(fieldPublished).Value()
	return func() tea.Msg {
		q.Errors.Own = m.b.OwnSessions()
		if f.aim.Average == 0 {
			f.meet(family, q)
			return f
		}
		f.gradient, q.Target = f.aim.Average, f.aim.Average
		var err error
		f.out, err = curve.Evaluate(family, q)
		f.fault = unknownTime(err)
		if f.developments, err = f.out.Developments(f.wanted); err != nil {
			f.fromOne(q.Errors.Own)
		}
		f.published = f.atPublished(published)
		return f
	}
}

// unknownTime says why there is no time; "" for no error.
func unknownTime(err error) string {
	switch {
	case err == nil:
		return ""
	case errors.Is(err, curve.ErrTooFewSheets):
		return "No time yet: it takes sheets of two different developing times, read far enough for a gradient."
	}
	return err.Error()
}

// meet meets a contrast index or a print on the film's response.
func (f *found) meet(family curve.Family, q curve.Request) {
	var err error
	if f.out, err = curve.Evaluate(family, q); err != nil {
		f.fault = unknownTime(err)
		return
	}
	s, err := densities.ResponseOf(family, f.out, q)
	if err != nil {
		f.fault = "No time yet: " + err.Error() + "."
		return
	}
	f.response = &s
	met, err := s.Meet(f.aim)
	if err != nil {
		f.fault = "No developing time: " + err.Error() + "."
		return
	}
	f.met = &met
	f.developments = met.Aimed().Times
}

// fromOne is what one sheet alone tells, with growth assumed.
func (f *found) fromOne(own *curve.OwnSessions) {
	sheets := f.out.Sheets()
	if len(sheets) != 1 {
		return
	}
	f.rate = curve.HalfLimitRate(sheets[0].Time)
	if t, _, err := curve.FromOneSheet(sheets[0], curve.Growth{K: f.rate}, false, f.gradient, curve.Errors{Own: own}); err == nil {
		f.one = &t
	}
}

// atPublished says what a time from elsewhere would do to this film.
func (f *found) atPublished(line string) string {
	times, err := curve.ParseTimes(line)
	if err != nil {
		return ""
	}
	b, err := f.out.AtPublishedTime(times[0], f.wanted)
	if err != nil {
		return err.Error()
	}
	s := fmt.Sprintf("%s would give a gradient of %.2f, ", sequence.FormatElapsed(times[0]), b.Gradient)
	switch {
	case math.Abs(b.Stops) < 0.05:
		s += "as wanted"
	case b.Stops > 0:
		s += fmt.Sprintf("%.2f too much: right for a subject %.1f stops shorter", b.Over, b.Stops)
	default:
		s += fmt.Sprintf("%.2f too little: right for a subject %.1f stops longer", -b.Over, -b.Stops)
	}
	if b.Untested {
		s += "; outside tested times"
	}
	return s + "."
}

// normal is the target of N; nil where the test does not reach it.
func (f *found) normal() *curve.Target {
	if f == nil {
		return nil
	}
	for _, d := range f.developments {
		if d.Name == "N" {
			return d.Target
		}
	}
	return f.one
}

// nearest is the curve whose developing time is nearest to the target's, as the steps of a test
// are apart; the only one where there is one; -1 where nothing tells.
func (f *found) nearest(of curve.Family) int {
	if len(of.Curves) == 1 {
		return 0
	}
	at, t := -1, f.normal()
	if t == nil || t.Time <= 0 {
		return at
	}
	apart := func(i int) float64 { return math.Abs(math.Log(of.Curves[i].Time.Seconds() / t.Time)) }
	for i, c := range of.Curves {
		if c.Time > 0 && (at < 0 || apart(i) < apart(at)) {
			at = i
		}
	}
	return at
}

// findSlips names the readings that do not fit their neighbours, each a sentence, and the strips
// that seem to have been read from their other end.
func (m Model) findSlips() (list []string) {
	for i, k := range m.sheets {
		if m.readings.Reversed(k) {
			list = append(list, m.family.Label(i)+" falls with exposure: was the strip read from its other end? Open the readings; r turns the sheet round.")
			continue
		}
		steps := m.readings.Doubtful(k, readingError)
		slices.Sort(steps)
		for _, step := range steps {
			list = append(list, fmt.Sprintf("%s, step %d does not fit its neighbours: read it again, or leave it empty", m.family.Label(i), step+1))
		}
	}
	return list
}
