package engine

// A bath that leaves the recipe's time-temperature table while film is in it: asked about,
// counted by the table's last slope, and never passed off as certain.

import (
	"math"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// tabled is 10:00 at 20 C, and twice as fast for each 4 C more, up to 24.
func tabled() sequence.Recipe {
	dev := recipetest.Bath(sequence.Develop, 10*recipetest.Minute)
	dev.Temperature = &sequence.Temperature{At: 20, Table: []chem.Pair{{T: 16, Seconds: 1200}, {T: 20, Seconds: 600}, {T: 24, Seconds: 300}}}
	return recipetest.Recipe(sequence.Hangers, 1, dev, recipetest.Bath(sequence.Fix, 2*recipetest.Minute))
}

func TestAReadingOutsideTheTableIsAskedAbout(t *testing.T) {
	n := begun(t, planOf(t, tabled(), sequence.Conditions{BathTemperature: recipetest.Degrees(24)}), 0)
	read := sequence.TakeReading{T: 28, Source: sequence.ByHand}
	if why := n.s.Refuse(read, recipetest.Second); why.Code != "outside-table" || why.Low != 16 || why.High != 24 {
		t.Errorf("28 C outside a table from 16 to 24: %+v", why)
	}
	if got := n.do(read, recipetest.Second); len(recipetest.EventsOf(got, sequence.ReadingTaken)) > 0 {
		t.Error("it was taken without a question")
	}
	for _, within := range []chem.Celsius{24, 25} { // a degree is lent
		if why := n.s.Refuse(sequence.TakeReading{T: within, Source: sequence.ByHand}, recipetest.Second).Code; why != "" {
			t.Errorf("%v: %s", within, why)
		}
	}
}

// The temperature stands at 28 C from 1:15 on; until then a straight line from 24 C. By
// the last slope the rate is 2^((T-20)/4): 2 at 24 C, 4 at 28 C. The line's dose is the
// mean of an exponential, (4-2)/ln 2 x 75 s; what is left of 600 s goes at 4.
func TestOutsideTheTableTheLastSlopeGoesOn(t *testing.T) {
	n := begun(t, planOf(t, tabled(), sequence.Conditions{BathTemperature: recipetest.Degrees(24)}), 0)
	for _, e := range n.do(sequence.TakeReading{T: 28, Source: sequence.ByHand, Confirmed: true}, 75*recipetest.Second) {
		if e.Kind == sequence.ReadingTaken && !e.Uncertain {
			t.Error("the event does not say that it is uncertain")
		}
	}
	had := (4 - 2) / math.Ln2 * 75
	want := 75 + (600-had)/4
	l := n.s.Snapshot(80 * recipetest.Second)
	if got := l.Next.At.Seconds(); math.Abs(got-want) > 1e-6 {
		t.Errorf("out at %.6f; expected %.6f", got, want)
	}
	if !l.Develop.Uncertain || !l.Sheets[0].Uncertain {
		t.Errorf("develop %+v, sheet %+v; expected both uncertain", l.Develop, l.Sheets[0])
	}
	n.do(sequence.Wake{}, 5*recipetest.Minute)
	if d := n.s.Developments(); len(d) != 1 || !d[0].Uncertain {
		t.Errorf("developments %+v; expected uncertain", d)
	}
	// Within the table nothing is uncertain; a sensor is not asked, and marked alike.
	n = begun(t, planOf(t, tabled(), sequence.Conditions{BathTemperature: recipetest.Degrees(24)}), 0)
	n.do(sequence.TakeReading{T: 23, Source: sequence.BySensor}, recipetest.Second)
	if l := n.s.Snapshot(2 * recipetest.Second); l.Develop.Uncertain || l.Sheets[0].Uncertain {
		t.Error("23 C is within the table")
	}
	n.do(sequence.TakeReading{T: 27, Source: sequence.BySensor}, 3*recipetest.Second)
	if l := n.s.Snapshot(4 * recipetest.Second); !l.Develop.Uncertain {
		t.Error("27 C by a sensor is outside the table")
	}
}

// What was read before film came in, or after it had left, makes nothing uncertain.
func TestOutsideTheTableWithoutFilm(t *testing.T) {
	n := begun(t, planOf(t, recipetest.Recipe(sequence.Hangers, 1, append([]sequence.Step{recipetest.Bath(sequence.Presoak, 2*recipetest.Minute)}, tabled().Steps[0], recipetest.Bath(sequence.Fix, 2*recipetest.Minute))...), sequence.Conditions{BathTemperature: recipetest.Degrees(24)}), -10*recipetest.Second)
	read := func(temperature chem.Celsius, at sequence.Elapsed) {
		n.do(sequence.TakeReading{T: temperature, Source: sequence.BySensor}, at)
		if l := n.s.Snapshot(at); l.Sheets[0].Uncertain {
			t.Errorf("uncertain at %v", at)
		}
	}
	read(28, -5*recipetest.Second)
	read(28, 30*recipetest.Second)
	read(22, 90*recipetest.Second)
	for n.s.where(0) < 2 {
		at, _ := n.s.Due()
		n.do(sequence.Wake{}, at)
	}
	read(22, n.s.At())
	read(28, n.s.At()+recipetest.Second)
}

// When the session was stopped nothing changes any more of what its sheets have had, though the bath
// drifts out of its table.
func TestStoppedNothingChanges(t *testing.T) {
	n := begun(t, planOf(t, tabled(), sequence.Conditions{BathTemperature: recipetest.Degrees(24), SettlesAt: recipetest.Degrees(30), TimeConstant: 60 * recipetest.Minute}), 0)
	n.do(sequence.EndSession{}, 10*recipetest.Second)
	if at, later := n.s.Snapshot(10 * recipetest.Second).Sheets[0], n.s.Snapshot(180 * recipetest.Minute).Sheets[0]; later != at || at.Uncertain {
		t.Errorf("%+v; hours later %+v", at, later)
	}
}

// A plan is refused there as ever.
func TestNoPlanOutsideTheTable(t *testing.T) {
	if _, err := planning.Resolve(tabled(), sequence.Conditions{BathTemperature: recipetest.Degrees(28)}); err == nil {
		t.Error("a plan at 28 C")
	}
}
