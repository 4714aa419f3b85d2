package say

import (
	"slices"
	"strings"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// Each bath says what it does to people, and ends with whose word comes first.
func TestHazards(t *testing.T) {
	r := sequence.Recipe{
		Baths: []sequence.Bath{
			{ID: "developer", Parts: []chem.Part{{Name: "Pyrocatechol A", Parts: 1}, {Name: "water", Parts: 9}}, Cautions: []string{"Own words."}},
			{ID: "stop", Parts: []chem.Part{{Name: "water", Parts: 1}}},
			{ID: "sour", Parts: []chem.Part{{Name: "acid stop", Parts: 1}, {Name: "water", Parts: 19}}},
			{ID: "fixer"},
		},
		Steps: []sequence.Step{{Kind: sequence.Develop, Bath: "developer"}, {Kind: sequence.StopBath, Bath: "stop"}, {Kind: sequence.StopBath, Bath: "sour"}, {Kind: sequence.Fix, Bath: "fixer"}},
	}
	for i, wants := range [][]string{
		{"Own words.", "Nitrile gloves", "pregnant", "Pyrocatechol: absorbed"},
		{},
		{"Pour acid into water", "limit 10 ppm"},
		{"sulfur dioxide", "bleach", "silver"},
	} {
		got := HazardsIn(&r, &r.Baths[i])
		for _, want := range append(wants, SafetyReminder) {
			if !strings.Contains(strings.Join(got, "\n"), want) {
				t.Errorf("%s: %q is not in %q", r.Baths[i].ID, want, got)
			}
		}
		if got[len(got)-1] != SafetyReminder || len(wants) == 0 && len(got) != 1 {
			t.Errorf("%s: %q", r.Baths[i].ID, got)
		}
	}
	if got := HazardsIn(&r, &r.Baths[0]); strings.Contains(strings.Join(got, ""), "Pyrogallol") || got[0] != "Own words." {
		t.Errorf("catechol is taken for pyrogallol, or the recipe's words are not first: %q", got)
	}
	typed := HazardsOfParts([]chem.Part{{Name: "fixer", Parts: 1}, {Name: "metol", Parts: 1}})
	if !slices.ContainsFunc(typed, func(s string) bool { return strings.Contains(s, "bleach") }) || !slices.ContainsFunc(typed, func(s string) bool { return strings.Contains(s, "Metol") }) {
		t.Errorf("typed parts: %q", typed)
	}
}

// What a recipe says in fewer words is said once; what it adds stays.
func TestHazardsAreSaidOnce(t *testing.T) {
	r := sequence.Recipe{Baths: []sequence.Bath{{ID: "fixer", Cautions: []string{"Used fixer holds silver: collect it.", "Used fixer holds silver: hand it in on Fridays.", "Air this room."}}},
		Steps: []sequence.Step{{Kind: sequence.Fix, Bath: "fixer"}}}
	got := HazardsIn(&r, &r.Baths[0])
	if len(got) != 5 || got[0] != "Used fixer holds silver: hand it in on Fridays." || !strings.Contains(got[3], "silver (waste from 5 mg/l") || got[4] != SafetyReminder {
		t.Errorf("%q", got)
	}
}

// Gloves for the same reason are said once, in the recipe's words or in the list's; gloves
// for another reason are said too.
func TestGlovesAreSaidOnce(t *testing.T) {
	r := sequence.Recipe{Baths: []sequence.Bath{{ID: "developer", Cautions: []string{"Wear nitrile gloves: staining developing agents go through the skin.",
		"Wear gloves: frequent contact can make the skin allergic to developing agents.", "Wear gloves: a tank drips."}}},
		Steps: []sequence.Step{{Kind: sequence.Develop, Bath: "developer"}}}
	got := strings.Join(HazardsIn(&r, &r.Baths[0]), "\n")
	if strings.Contains(got, "staining") || strings.Contains(got, "allergic") || !strings.Contains(got, "Nitrile gloves and goggles") || !strings.Contains(got, "a tank drips") {
		t.Error(got)
	}
}

func TestMixingOrder(t *testing.T) {
	for want, names := range map[string][]string{
		"water alone":                 {"water"},
		"A, then B, stirring":         {"A", "B"},
		"three quarters of the water": {"A", "water"},
	} {
		var parts []chem.Part
		for _, n := range names {
			parts = append(parts, chem.Part{Name: n, Parts: 1})
		}
		if got := MixingOrder(parts); !strings.HasPrefix(got, want) {
			t.Errorf("%q: %q; expected %q first", names, got, want)
		}
	}
}

// Metol does not dissolve in much sulphite (common practice, no source).
func TestOrderOfDryAgents(t *testing.T) {
	order := MixingOrder([]chem.Part{{Name: "hydroquinone"}, {Name: "sulphite"}, {Name: "metol"}, {Name: "water"}})
	at := func(s string) int { return strings.Index(order, s) }
	if pinch, metol, rest, other := at("a pinch of the sulphite"), at("the metol"), at("the rest of the sulphite"), at("the hydroquinone"); pinch < 0 || !(pinch < metol && metol < rest && rest < other) {
		t.Errorf("%q; expected a pinch of sulphite, metol, the rest", order)
	}
}
