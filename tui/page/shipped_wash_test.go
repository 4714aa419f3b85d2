package page

import (
	"regexp"
	"strings"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/say"
)

// The plan of every shipped recipe says in each wash how its film is washed, in how much water and how long, and to
// which residual. All wash enough for film use by the upper bound, and keep the film's wet limit with its warning;
// one is there to be shortened, and does neither.
func TestShippedRecipesSayTheirWash(t *testing.T) {
	says := regexp.MustCompile(`^\d+ changes? of [0-9.]+ (L|ml), one every \d+:\d\d, leaves at most [0-9.]+ g/m² of thiosulfate, (not )?enough for `)
	for _, e := range recipes.ShippedEntries() {
		p := sessiontest.StarterPlan(t, e.Name, sequence.Conditions{})
		washes, toShorten := 0, e.Name == "plover-warm-water"
		if in := p.Wet.Margin != nil && *p.Wet.Margin >= p.Recipe.Film.WetWarning; in == toShorten {
			t.Errorf("%s: wet for %v", e.Name, p.Wet.Total)
		}
		for i := range p.Steps {
			text := say.Washing(p, i, sequence.Units{})
			if text == "" {
				continue
			}
			washes++
			if planning.WashOf(p, i).Reached(chem.WashAims[0]) == toShorten {
				t.Errorf("%s: %s", e.Name, text)
			}
			if !says.MatchString(text) {
				t.Errorf("%s: %s", e.Name, text)
			}
			if page := strings.Join(strings.Fields(Plan(p, sequence.Units{}, 100)), " "); !strings.Contains(page, text) {
				t.Errorf("%s: the page does not say %q", e.Name, text)
			}
		}
		if washes == 0 {
			t.Errorf("%s: no wash", e.Name)
		}
	}
}

// The sheet for the wall calls the baths of every shipped recipe by the trade's words.
func TestShippedBathsByTheirNames(t *testing.T) {
	for _, e := range recipes.ShippedEntries() {
		text := WallSheet(sessiontest.StarterPlan(t, e.Name, sequence.Conditions{}), sequence.Units{})
		if regexp.MustCompile(`(?i)wash-aid|! stop:|  STOP  [a-z]`).MatchString(text) {
			t.Errorf("%s:\n%s", e.Name, text)
		}
	}
}
