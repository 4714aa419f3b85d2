package planning

// Whether a time-contrast test was made as this step develops, and in what they differ.

import (
	"math"
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// growthDiffers is in what the step differs from the test that its growth is from; nil
// where it has none, and where it is the same.
func growthDiffers(p *sequence.Plan, st *sequence.PlanStep) (differs []sequence.Differing) {
	g := st.Growth
	if g == nil {
		return nil
	}
	add := func(what, here, there string) {
		differs = append(differs, sequence.Differing{What: what, Here: here, There: there})
	}
	if film := p.Recipe.Film.Name; film != g.Film {
		add("film", film, g.Film)
	}
	if here := p.Recipe.MixtureOf(&st.Step); g.Developer != "" && st.Bath != g.Developer && !sameMixture(here, g.Developer) {
		add("developer", here, g.Developer)
	}
	if st.Vessel != g.Vessel {
		add("vessel", string(st.Vessel), string(g.Vessel))
	}
	here, there := AgitationAsDone(st.Agitate, st.Stack), AgitationAsDone(g.Agitate, g.Vessel == sequence.Tray)
	if !sameAgitation(here, there) {
		differs = append(differs, sequence.Differing{What: "agitation", Moved: &here, Then: &there})
	}
	return differs
}

// AgitationAsDone is an agitation as it is carried out: nothing can be shuffled where there
// is no stack.
func AgitationAsDone(a sequence.Agitation, stack bool) sequence.Agitation {
	if a.Mode == sequence.Shuffle && !stack {
		a.Mode = sequence.Continuous
	}
	return a
}

// sameMixture compares two mixtures by their ratios, in whichever order.
func sameMixture(a, b string) bool {
	x, err1 := chem.ParseParts(a)
	y, err2 := chem.ParseParts(b)
	if err1 != nil || err2 != nil || len(x) != len(y) {
		return a == b
	}
	for _, p := range x {
		i := slices.IndexFunc(y, func(q chem.Part) bool { return q.Name == p.Name })
		if i < 0 || math.Abs(p.Parts/x[0].Parts*partOf(y, x[0].Name)/y[i].Parts-1) > rounding {
			return false
		}
	}
	return true
}

// partOf is how many parts of a name there are; NaN for none.
func partOf(list []chem.Part, name string) float64 {
	for _, p := range list {
		if p.Name == name {
			return p.Parts
		}
	}
	return math.NaN()
}

func sameAgitation(a sequence.Agitation, b sequence.Agitation) bool {
	return a.Mode == b.Mode && a.Initial == b.Initial && a.For == b.For && a.Every == b.Every && slices.Equal(a.At, b.At)
}
