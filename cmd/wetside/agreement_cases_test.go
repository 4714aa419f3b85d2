package main

// What surfaces did not agree about once, each as small as it was found.

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

func resolved(t *testing.T, r sequence.Recipe) *sequence.Plan {
	t.Helper()
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

// waiting is one sheet of a film test in single trays whose stop bath waits for the person.
func waiting(limit sequence.Elapsed) sequence.Recipe {
	stop := recipetest.Agitated(recipetest.Bath(sequence.StopBath, 10*time.Second), recipetest.Periodic(0, time.Second, 15*time.Second))
	stop.WaitForPerson = true
	develop := recipetest.Drained(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 2*time.Minute), time.Second)
	develop.WaitForPerson = limit > 0
	r := recipetest.Recipe(sequence.SingleTrays, 1, develop, stop)
	r.Film.WetLimit.All, r.Film.WetWarning = limit, 10*time.Second
	return r
}

func TestSurfacesThatDidNotAgree(t *testing.T) {
	homeOfTheirOwn(t)
	two := sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 20 * time.Minute, sequence.Hangers: 60 * time.Minute}}
	elsewhere := sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{sequence.Hangers: 60 * time.Minute}}
	hung := func(limit sequence.WetLimit) sequence.Recipe {
		r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 200*time.Second), recipetest.Into(recipetest.Bath(sequence.Wash, 100*time.Second), sequence.Hangers))
		r.Film.WetLimit = limit
		return r
	}
	quick := recipetest.Recipe(sequence.Hangers, 1, recipetest.Agitated(recipetest.Bath(sequence.Develop, 2*time.Minute), recipetest.Periodic(2*time.Second, 3*time.Second, 15*time.Second)))
	tube := recipetest.Recipe(sequence.Tube, 4, recipetest.Continuous(recipetest.Bath(sequence.Presoak, 21*time.Second)), recipetest.Bath(sequence.Develop, 2*time.Minute), recipetest.Continuous(recipetest.Bath(sequence.StopBath, 13*time.Second)))
	pulled := recipetest.Recipe(sequence.Hangers, 2, recipetest.Drained(recipetest.Agitated(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), time.Minute, 2*time.Minute), recipetest.Periodic(0, 5*time.Second, 29*time.Second)), 8*time.Second), recipetest.Bath(sequence.StopBath, 30*time.Second))
	soon := recipetest.Recipe(sequence.SingleTrays, 3, recipetest.Agitated(recipetest.Bath(sequence.Develop, 2*time.Minute), recipetest.Periodic(5*time.Second, 3*time.Second, 30*time.Second)))
	row := recipetest.Recipe(sequence.Tray, 10, recipetest.Drained(recipetest.Continuous(recipetest.Bath(sequence.Develop, 215*time.Second)), time.Second), recipetest.Shuffled(recipetest.Bath(sequence.StopBath, 20*time.Second)))
	row.Load.LoadEvery, row.Load.TransferEvery = time.Second, 5*time.Second
	ms := func(n int) sequence.Elapsed { return sequence.Elapsed(n) * time.Millisecond }
	undone := []deed{{ms(64), sequence.MoveOn{}}, {ms(1), sequence.MoveOn{}}, {ms(105), sequence.MoveOn{}}, {ms(102), sequence.Undo{}}, {ms(7563), sequence.Wake{}}}
	all := func(after ...deed) []deed { return append([]deed{{lead, sequence.Wake{}}}, after...) }
	for name, c := range map[string]struct {
		recipe sequence.Recipe
		deeds  []deed
	}{
		"a share of 19.4% was 19% on paper and 20% on screens":               {hung(two), all(deed{time.Hour, sequence.Wake{}})},
		"a session that was ended had no limit in its summary":               {hung(two), all(deed{time.Minute, sequence.EndSession{}}, deed{time.Minute, sequence.Wake{}})},
		"the summary had a share of a limit that nobody knows":               {hung(elsewhere), all(deed{time.Hour, sequence.Wake{}})},
		"plain mode left the hands at what they did before":                  {quick, all(deed{15500 * time.Millisecond, sequence.Wake{}}, deed{3 * time.Second, sequence.Wake{}})},
		"a sheet that waits for the hand was said to go into water":          {waiting(0), all(deed{124 * time.Second, sequence.Wake{}}, deed{6*time.Second + time.Millisecond, sequence.Wake{}}, deed{2 * time.Second, sequence.Wake{}})},
		"the screen did not say which sheet is pulled":                       {pulled, all(deed{59 * time.Second, sequence.Wake{}})},
		"half a second before the first sheet's moment was rounded two ways": {soon, []deed{{ms(2500), sequence.MoveOn{}}}},
		"a stack held in the middle of its row was said to drain":            {row, []deed{{ms(1), sequence.MoveOn{}}, {ms(91847), sequence.Wake{}}, {ms(603), sequence.MoveOn{}}, {ms(920), sequence.Hold{}}, {ms(5757), sequence.Wake{}}}},
		"agitation of a bath that was left in a countdown cut short":         {tube, undone},
		"no alarm in a bath that waits, where the countdown was cut short":   {waiting(200 * time.Second), []deed{{0, sequence.MoveOn{}}, {88868 * time.Millisecond, sequence.TakeReading{T: 18, Source: sequence.ByHand}}, {50 * time.Second, sequence.Wake{}}, {78561 * time.Millisecond, sequence.MoveOn{}}}},
	} {
		t.Run(name, func(t *testing.T) {
			p := resolved(t, c.recipe)
			planAgrees(t, p)
			sessionAgrees(t, p, c.deeds)
		})
	}
}
