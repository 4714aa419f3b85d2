package notebook

// How a film was wet and handled, counted by hand from the recipe of the session.

import (
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

const filmOfTrials = "Plover 80"

func TestWetTrials(t *testing.T) {
	store := sessiontest.NewStore(t)
	after := time.Duration(0)
	noted := func(wet sequence.Elapsed, temp sequence.Celsius, e Emulsion, factor float64, hung sequence.Elapsed) {
		steps := []sequence.Step{sessiontest.Warmed(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, wet-5*recipetest.Minute)}
		if hung > 0 {
			steps = append(steps, recipetest.Into(recipetest.Bath(sequence.Wash, hung), sequence.Hangers))
		}
		r := sessiontest.Recipe(sequence.Tray, 1, steps...)
		r.Steps[0].Temperature.At = temp // its time holds at that temperature
		after += 24 * time.Hour
		id := sessiontest.BeginAs(t, store, after, r, sequence.Conditions{}, factor).Finish()
		if e != "" {
			if err := AddNote(store, id, Note{Written: sessiontest.Evening.Add(after), Emulsion: e}); err != nil {
				t.Fatal(err)
			}
		}
	}
	noted(30*recipetest.Minute, 20, "", 0, 0)             // nobody looked
	noted(40*recipetest.Minute, 20, EmulsionSound, 60, 0) // a rehearsal
	if list := WetTrials(store, filmOfTrials, sequence.Tray); len(list) != 0 {
		t.Errorf("without notes: %+v", list)
	}
	noted(18*recipetest.Minute, 23, EmulsionSound, 0, 20*recipetest.Minute) // 18 minutes in the tray, the rest in hangers
	noted(25*recipetest.Minute, 20, EmulsionTorn, 0, 0)
	want := []chem.WetTrial{{Wet: 25 * time.Minute, Temperature: 20, Handlings: 2, Damaged: true}, {Wet: 18 * time.Minute, Temperature: 23, Handlings: 2}}
	list := WetTrials(store, filmOfTrials, sequence.Tray)
	if len(list) != 2 || list[0].WetTrial != want[0] || list[1].WetTrial != want[1] || list[0].Limit != 20*time.Minute {
		t.Errorf("%+v; expected %+v", list, want)
	}
	// No bath in hangers has a temperature, and one lift ends the session.
	if list := WetTrials(store, filmOfTrials, sequence.Hangers); len(list) != 1 || list[0].WetTrial != (chem.WetTrial{Wet: 20 * time.Minute, Temperature: 20, Handlings: 1}) {
		t.Errorf("in hangers: %+v", list)
	}
	if list := WetTrials(store, "Tern 125", sequence.Tray); len(list) != 0 {
		t.Errorf("another film: %+v", list)
	}
}

// A stack of six: loading is 15 s a sheet and moving 10 s, a turn comes every 10 s. Counted by hand:
// the presoak's window is 2:00 of whole rounds of six, 12 turns; the developer's 8:00 less 75 s of loading,
// 42 turns (405 s / 60 s = 6.75, so 7 rounds); four baths with six lifts each.
func TestHandlingsOfAStack(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := sessiontest.SixInTray()
	id := sessiontest.Begin(t, store, 0, r, sequence.Conditions{}).Finish()
	if err := AddNote(store, id, Note{Written: sessiontest.Evening.Add(time.Hour), Emulsion: EmulsionSound}); err != nil {
		t.Fatal(err)
	}
	plan, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	trials := WetTrials(store, filmOfTrials, sequence.Tray)
	if len(trials) != 1 || trials[0].Handlings != 12+42+4*6 {
		t.Fatalf("%+v; expected 78 handlings", trials)
	}
	risk := WetRiskOf(&plan, trials)
	if risk.Plan.Handlings != 78 || risk.Plan.Wet != trials[0].Wet || risk.Plan.Wet != plan.Wet.Total || !risk.Seen || risk.Sound != 1 {
		t.Errorf("the plan that was carried out: %+v; expected what the session was, and seen", risk)
	}
	plan.Passages[len(plan.Passages)-1].Out += time.Minute
	if risk := WetRiskOf(&plan, trials); risk.Seen {
		t.Errorf("a minute longer is called seen: %+v", risk)
	}
}
