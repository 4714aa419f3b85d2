package engine

// Thermometers that are off: the course is estimated from what they read, and how well development is known is told.

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/schedule"
)

// developing is 10 min at 20 °C in hangers, the rate 2.2 times for 10 °C.
func developing(t testing.TB, thermometers *sequence.Thermometers) *sequence.Plan {
	r := recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, 2.2), recipetest.Bath(sequence.Fix, recipetest.Minute))
	return planOf(t, r, sequence.Conditions{Thermometers: thermometers, BathTemperature: recipetest.Degrees(20)})
}

func readings(r *rapid.T) (list []sequence.Event) {
	for range rapid.IntRange(0, 30).Draw(r, "readings") {
		e := sequence.Event{At: recipetest.Seconds(r, 0, 900, "at"), Kind: sequence.ReadingTaken, Source: sequence.ByHand,
			Temperature: recipetest.Degrees(rapid.Float64Range(15, 25).Draw(r, "t"))}
		if rapid.Bool().Draw(r, "sensor") {
			e.Source = sequence.BySensor
		}
		list = append(list, e)
	}
	return list
}

// Where no thermometer is said to be off the course is what was read, to the bit, whatever else is set; a shift alone
// is added to each reading.
func TestExactThermometersChangeNothing(t *testing.T) {
	bareOf, exactOf := developing(t, nil), developing(t, &sequence.Thermometers{})
	rapid.Check(t, func(r *rapid.T) {
		list, shift := readings(r), chem.Celsius(rapid.Float64Range(-2, 2).Draw(r, "shift"))
		shiftedOf := *exactOf
		shiftedOf.Conditions.Thermometers = &sequence.Thermometers{Sensor: sequence.Thermometer{Shift: shift}}
		var bare, exact, shifted *bathReadings
		last := map[sequence.Elapsed]sequence.Event{} // of several at one instant the one told last counts
		for _, e := range list {
			bare, exact, shifted = bare.with(bareOf, e), exact.with(exactOf, e), shifted.with(&shiftedOf, e)
			last[e.At] = e
		}
		if bare == nil {
			return
		}
		if !slices.Equal(bare.rows[0], exact.rows[0]) || exact.raw != nil {
			r.Fatalf("%v\nexpected %v", exact.rows[0], bare.rows[0])
		}
		for i, p := range shifted.rows[0] {
			want := bare.rows[0][i].T
			if last[p.At].Source == sequence.BySensor {
				want += shift
			}
			if p.T != want {
				r.Fatalf("%v at %v; expected %v", p.T, p.At, want)
			}
		}
	})
}

// In whatever order readings are told, and from whatever state, the course is that of all of them estimated anew.
func TestEstimatesAreSharedAndNeverChanged(t *testing.T) {
	p := developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5}, Sensor: sequence.Thermometer{Within: 0.2, Shift: 0.3}})
	rapid.Check(t, func(r *rapid.T) {
		states := []*bathReadings{nil}
		for _, e := range readings(r) {
			if rapid.IntRange(0, 3).Draw(r, "later") > 0 {
				e.At = sequence.Elapsed(len(states)) * 10 * recipetest.Second
			}
			from := states[rapid.IntRange(max(0, len(states)-3), len(states)-1).Draw(r, "from")]
			states = append(states, from.with(p, e), from.with(p, e)) // decided, then applied
		}
		for _, s := range states[1:] {
			want, known := estimated(p, 0, schedule.EstimatedBath(p, 0), s.raw)
			if !slices.Equal(s.rows[0], want) || s.states[0] != known {
				r.Fatalf("%v\nexpected %v", s.rows[0], want)
			}
		}
	})
}

// Whoever reads again for the same moment corrects what was read: the course is as if that were read alone.
func TestEstimateOfWhatWasReadAgain(t *testing.T) {
	p := developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5}})
	at := func(temperature float64) sequence.Event {
		return sequence.Event{At: recipetest.Minute, Kind: sequence.ReadingTaken, Source: sequence.ByHand, Temperature: recipetest.Degrees(temperature)}
	}
	var none *bathReadings
	again, alone := none.with(p, at(23)).with(p, at(20.5)), none.with(p, at(20.5))
	if !slices.Equal(again.rows[0], alone.rows[0]) {
		t.Errorf("%v; expected %v", again.rows[0], alone.rows[0])
	}
}

// A thermometer within 0.5 °C, anywhere alike, read to 0.1: sqrt(0.5^2/3 + 0.1^2) = 0.3055 °C, 1.645 times that in nine
// cases of ten; at 2.2 for 10 °C a degree is ln(2.2)/10 = 7.88%: ±3.96%. After ten minutes the bath's mean has wandered
// by 0.1 sqrt(10/3) = 0.1826 more: ±4.61%.
func TestDevelopmentsError(t *testing.T) {
	s, err := NewState(developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5}}))
	if err != nil {
		t.Fatal(err)
	}
	s = Apply(s, sequence.Event{Kind: sequence.SessionBegan})
	s = Apply(s, sequence.Event{Kind: sequence.Transferred, Step: "develop"})
	d := s.Snapshot(0).Develop
	if d != nil && math.Abs(float64(d.Band)-1.645*0.3055) > 1e-3 {
		t.Errorf("the bath ± %v; expected 0.50", d.Band)
	}
	if d == nil || math.Abs(d.Error-0.0396) > 1e-4 || math.Abs(d.AtEnd-0.0461) > 1e-4 || d.ReadBy != nil {
		t.Fatalf("%+v; expected ±3.96%%, at the end ±4.61%%, and no reading: the thermometer stays as it is", d)
	}
	// read ten minutes before: until film comes in the bath has wandered by 0.1 sqrt(10) = 0.3162 °C: ±5.71%
	early := *developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5}})
	early.Conditions.ReadBefore = 10 * recipetest.Minute
	s, _ = NewState(&early)
	s = Apply(Apply(s, sequence.Event{Kind: sequence.SessionBegan}), sequence.Event{Kind: sequence.Transferred, Step: "develop"})
	if d := s.Snapshot(0).Develop; math.Abs(d.Error-0.0571) > 1e-4 {
		t.Errorf("±%.2f%% where it was read ten minutes before; expected 5.71%%", 100*d.Error)
	}
	exact, _ := NewState(developing(t, nil))
	exact = Apply(Apply(exact, sequence.Event{Kind: sequence.SessionBegan}), sequence.Event{Kind: sequence.Transferred, Step: "develop"})
	if d := exact.Snapshot(0).Develop; d == nil || d.Error != 0 || d.AtEnd != 0 || d.ReadBy != nil {
		t.Errorf("exact: %+v", d)
	}
}

// A good thermometer: what the bath does meanwhile is most of the error, and one more reading is worth it, a little
// before two thirds of the time is up at the earliest; when it is taken no other is asked for.
func TestReadBy(t *testing.T) {
	s, err := NewState(developing(t, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.1}}))
	if err != nil {
		t.Fatal(err)
	}
	s = Apply(Apply(s, sequence.Event{Kind: sequence.SessionBegan}), sequence.Event{Kind: sequence.Transferred, Step: "develop"})
	d := s.Snapshot(recipetest.Minute).Develop
	if d.ReadBy == nil || *d.ReadBy < 6*recipetest.Minute || *d.ReadBy > 8*recipetest.Minute || d.AtEndIf >= 0.75*d.AtEnd {
		t.Fatalf("%+v", d)
	}
	by := *d.ReadBy
	s = Apply(s, sequence.Event{At: by, Kind: sequence.ReadingTaken, Source: sequence.ByHand, Temperature: recipetest.Degrees(20.3)})
	if after := s.Snapshot(by).Develop; after.ReadBy != nil || after.AtEnd >= d.AtEnd {
		t.Errorf("when it was read: %+v; before %+v", after, d)
	}
}
