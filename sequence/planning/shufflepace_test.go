package planning

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// No turn is planned nearer than 8 s to the next: a bath that need only be long enough is
// lengthened, a developer has fewer rounds. The arithmetic stands beside each; a turn is
// asked for every 10 s, of 6 sheets that come in 15 s apart where a developer is first.
func TestTurnsAreNeverSqueezed(t *testing.T) {
	for _, c := range []struct {
		name        string
		step        sequence.Step
		givenCues   sequence.Elapsed
		WholePasses int
		code        string
	}{
		{"30 s for six turns: 48 s", recipetest.Bath(sequence.StopBath, 30*recipetest.Second), 48 * recipetest.Second, 6, "lengthened"},
		{"48 s suffice", recipetest.Bath(sequence.StopBath, 48*recipetest.Second), 48 * recipetest.Second, 6, ""},
		{"with 4 s of draining: 52 s", recipetest.Drained(recipetest.Bath(sequence.StopBath, 30*recipetest.Second), 4*recipetest.Second), 52 * recipetest.Second, 6, "lengthened"},
		{"90 s, two rounds: 96 s", recipetest.Bath(sequence.Rinse, 90*recipetest.Second), 96 * recipetest.Second, 12, "lengthened"},
		{"developer, 75 s until the last is in, then 90 s: one round", recipetest.Bath(sequence.Develop, 165*recipetest.Second), 165 * recipetest.Second, 6, "rounds"},
		{"developer, then 96 s: two rounds", recipetest.Bath(sequence.Develop, 171*recipetest.Second), 171 * recipetest.Second, 12, ""},
		{"developer, then 30 s: one round all the same", recipetest.Bath(sequence.Develop, 105*recipetest.Second), 105 * recipetest.Second, 6, "rounds"},
	} {
		p := Resolved(t, recipetest.Recipe(sequence.Tray, 6, recipetest.Shuffled(c.step), recipetest.Shuffled(recipetest.Bath(sequence.Wash, 5*recipetest.Minute))), sequence.Conditions{})
		st := &p.Steps[0]
		if n := len(recipetest.CuesOf(p.Cues, sequence.CueShuffle, st.Name)); n != c.WholePasses || st.Given != c.givenCues || st.Base != c.step.Time {
			t.Errorf("%s: %d turns in %v of %v; expected %d in %v of %v", c.name, n, st.Given, st.Base, c.WholePasses, c.givenCues, c.step.Time)
		}
		for _, told := range []string{"lengthened", "rounds"} {
			if got := code(p, told) == sequence.Note; got != (told == c.code) {
				t.Errorf("%s: %s is said: %v", c.name, told, got)
			}
		}
	}
	cleared := Resolved(t, recipetest.Recipe(sequence.Tray, 6, recipetest.Shuffled(recipetest.Bath(sequence.Fix, 5*recipetest.Minute))), sequence.Conditions{Clearing: 20 * recipetest.Second})
	if got := cleared.Steps[0].Given; got != 48*recipetest.Second || code(cleared, "lengthened") != sequence.Note {
		t.Errorf("cleared in 20 s: fixed for %v, not twice that: said %q", got, code(cleared, "lengthened"))
	}
	quick := recipetest.Recipe(sequence.Tray, 6, recipetest.Shuffled(recipetest.Bath(sequence.StopBath, 30*recipetest.Second)))
	quick.Load.ShuffleEvery = 5 * recipetest.Second
	if p := Resolved(t, quick, sequence.Conditions{}); p.Steps[0].Given != 30*recipetest.Second {
		t.Errorf("a turn every 5 s, as the recipe asks: %v; expected its own 30 s", p.Steps[0].Given)
	}
}

// Film is never to be fixed for less than five minutes, in all baths in a row, unless a
// clearing time was measured; then for what that asks for.
func TestFixingIsNotCutShort(t *testing.T) {
	one, two := recipetest.SixInTray(), recipetest.SixInTray()
	two.Steps = append(append([]sequence.Step{}, two.Steps[:4]...), two.Steps[3:]...)
	two.Steps[4].Name = "fix 2"
	bottled := sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "fixer", Bottle: "f", Clearing: 130 * recipetest.Second}}}
	withBath := recipetest.SixInTray()
	withBath.Steps[3].Bath, withBath.Baths = "fixer", []sequence.Bath{{ID: "fixer", Volume: 1000}}
	for _, c := range []struct {
		name string
		r    sequence.Recipe
		c    sequence.Conditions
		want sequence.Elapsed // 0: not proposed
	}{
		{"seven minutes, four at least", one, sequence.Conditions{}, 5 * recipetest.Minute},
		{"two baths of seven: four are enough in each", two, sequence.Conditions{}, 4 * recipetest.Minute},
		{"the bottle clears in 2:10: twice that", withBath, bottled, 260 * recipetest.Second},
		{"cleared in 2:00: four minutes are planned anyway", one, sequence.Conditions{Clearing: 2 * recipetest.Minute}, 0},
	} {
		p := Resolved(t, c.r, c.c)
		got := sequence.Elapsed(0)
		for _, s := range p.Shorten {
			if s.Code == "at-least" && s.Step == "fix" {
				r, _, _ := ApplyShortening(p, s)
				got = r.Steps[3].Time
			}
		}
		if got != c.want {
			t.Errorf("%s: cut to %v; expected %v", c.name, got, c.want)
		}
	}
}

// A developer too cold to work is warmed before anything else; one that is only cool last.
func TestWarmingComesFirstInTheCold(t *testing.T) {
	for temp, first := range map[sequence.Celsius]bool{12: true, 14: false} {
		r := recipetest.SixInTray()
		r.Film.WetLimit = sequence.WetLimit{All: time.Hour}
		p := Resolved(t, r, sequence.Conditions{BathTemperature: &temp})
		if got := p.Shorten[0].Code == "warmer"; got != first {
			t.Errorf("at %v C %s is proposed first", temp, p.Shorten[0].Code)
		}
	}
}
