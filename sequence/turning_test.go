package sequence

import (
	"testing"
	"time"
)

// No turn is planned nearer than 8 s to the next: a bath that need only be long enough is
// lengthened, a developer has fewer rounds. The arithmetic stands beside each; a turn is
// asked for every 10 s, of 6 sheets that come in 15 s apart where a developer is first.
func TestTurnsAreNeverSqueezed(t *testing.T) {
	for _, c := range []struct {
		name  string
		step  Step
		given Elapsed
		turns int
		code  string
	}{
		{"30 s for six turns: 48 s", bathFor(StopBath, 30*sec), 48 * sec, 6, "lengthened"},
		{"48 s suffice", bathFor(StopBath, 48*sec), 48 * sec, 6, ""},
		{"with 4 s of draining: 52 s", bathFor(StopBath, 30*sec).drained(4 * sec), 52 * sec, 6, "lengthened"},
		{"90 s, two rounds: 96 s", bathFor(Rinse, 90*sec), 96 * sec, 12, "lengthened"},
		{"developer, 75 s until the last is in, then 90 s: one round", bathFor(Develop, 165*sec), 165 * sec, 6, "rounds"},
		{"developer, then 96 s: two rounds", bathFor(Develop, 171*sec), 171 * sec, 12, ""},
		{"developer, then 30 s: one round all the same", bathFor(Develop, 105*sec), 105 * sec, 6, "rounds"},
	} {
		p := resolved(t, recipeOf(Tray, 6, c.step.shuffled(), bathFor(Wash, 5*mins).shuffled()), Conditions{})
		st := &p.Steps[0]
		if n := len(of(p.Cues, CueTurn, st.Name)); n != c.turns || st.Given != c.given || st.Base != c.step.Time {
			t.Errorf("%s: %d turns in %v of %v; expected %d in %v of %v", c.name, n, st.Given, st.Base, c.turns, c.given, c.step.Time)
		}
		for _, told := range []string{"lengthened", "rounds"} {
			if got := code(p, told) == Note; got != (told == c.code) {
				t.Errorf("%s: %s is said: %v", c.name, told, got)
			}
		}
	}
	cleared := resolved(t, recipeOf(Tray, 6, bathFor(Fix, 5*mins).shuffled()), Conditions{Clearing: 20 * sec})
	if got := cleared.Steps[0].Given; got != 48*sec || code(cleared, "lengthened") != Note {
		t.Errorf("cleared in 20 s: fixed for %v, not twice that: said %q", got, code(cleared, "lengthened"))
	}
	quick := recipeOf(Tray, 6, bathFor(StopBath, 30*sec).shuffled())
	quick.Load.TurnEvery = 5 * sec
	if p := resolved(t, quick, Conditions{}); p.Steps[0].Given != 30*sec {
		t.Errorf("a turn every 5 s, as the recipe asks: %v; expected its own 30 s", p.Steps[0].Given)
	}
}

// Film is never to be fixed for less than five minutes, in all baths in a row, unless a
// clearing time was measured; then for what that asks for.
func TestFixingIsNotCutShort(t *testing.T) {
	one, two := slow(), slow()
	two.Steps = append(append([]Step{}, two.Steps[:4]...), two.Steps[3:]...)
	two.Steps[4].Name = "fix 2"
	bottled := Conditions{Kept: []Kept{{Bath: "fixer", Bottle: "f", Clearing: 130 * sec}}}
	withBath := slow()
	withBath.Steps[3].Bath, withBath.Baths = "fixer", []Bath{{ID: "fixer", Volume: 1000}}
	for _, c := range []struct {
		name string
		r    Recipe
		c    Conditions
		want Elapsed // 0: not proposed
	}{
		{"seven minutes, four at least", one, Conditions{}, 5 * mins},
		{"two baths of seven: four are enough in each", two, Conditions{}, 4 * mins},
		{"the bottle clears in 2:10: twice that", withBath, bottled, 260 * sec},
		{"cleared in 2:00: four minutes are planned anyway", one, Conditions{Clearing: 2 * mins}, 0},
	} {
		p := resolved(t, c.r, c.c)
		got := Elapsed(0)
		for _, s := range p.Shorten {
			if s.Code == "at-least" && s.Step == "fix" {
				r, _, _ := p.Shortened(s)
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
	for temp, first := range map[Celsius]bool{12: true, 14: false} {
		r := slow()
		r.Film.WetLimit = WetLimit{All: time.Hour}
		p := resolved(t, r, Conditions{Temp: &temp})
		if got := p.Shorten[0].Code == "warmer"; got != first {
			t.Errorf("at %v C %s is proposed first", temp, p.Shorten[0].Code)
		}
	}
}
