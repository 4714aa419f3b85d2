package timeline

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// A plan ends on the line with its last bath, the limit as far behind that as there is in hand;
// drying is left out.
func TestPlanOnTheLine(t *testing.T) {
	dry := recipetest.OutsideWetTime(recipetest.Lit(recipetest.Bath(sequence.Other, time.Hour), sequence.White))
	r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 8*time.Minute),
		recipetest.Bath(sequence.Fix, 4*time.Minute), recipetest.Lit(recipetest.Bath(sequence.Wash, 5*time.Minute), sequence.White), dry)
	r.Film.WetLimit = sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * time.Minute}}
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	l := OfPlan(&p)
	if len(l.Segments) != 3 || l.Segments[0].Lit() || !l.Segments[2].Lit() || l.End() < 17*time.Minute || l.End() > 18*time.Minute {
		t.Fatalf("%+v", l.Segments)
	}
	if l.Limit == nil {
		t.Error("no limit")
	}
}

// A session that was cut off goes as far as it is known, and no further.
func TestRecordGoesAsFarAsIsKnown(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 8*time.Minute), recipetest.Bath(sequence.Fix, 4*time.Minute))
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	film := []sequence.Passage{{Step: 0, Sheet: 1, Out: sequence.Never}}
	limit := 6 * time.Minute
	if l := OfRecord(&p, film, 5*time.Minute, &limit); l.Limit == nil || *l.Limit != limit {
		t.Errorf("limit %v", l.Limit)
	}
	if l := OfRecord(&p, nil, 5*time.Minute, &limit); l.Limit != nil {
		t.Error("a limit where nothing was wet")
	}
	if l := OfRecord(&p, film, 5*time.Minute, nil); l.End() != 5*time.Minute || l.Limit != nil || len(l.Segments) != 1 {
		t.Errorf("%+v", l)
	}
	if film[0].Out != sequence.Never {
		t.Error("what was given is changed")
	}
}
