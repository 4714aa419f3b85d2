package sequence

// What a film test found, kept in the recipe that it led to: how the average
// gradient grows in the developer. It belongs to one film, developer, vessel and
// agitation; a plan that uses it with another of these says so.
//
// Source: C. E. K. Mees, "Zeitentwicklung", Jahrbuch fuer Photographie 25 (1911).

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
)

// Growth is the average gradient as a function of developing time at the step's
// reference temperature: Limit (1 - exp(-K (t - Induction))), times in minutes.
type Growth struct {
	Limit     float64 `json:"gamma_infinity"`
	K         float64 `json:"k_per_min"`
	Induction float64 `json:"induction_min,omitzero"`

	Film      string    `json:"film"`               // name of the film tested
	Developer string    `json:"developer,omitzero"` // as MixtureOf tells it, or a bath's id; "" where not known
	Vessel    Vessel    `json:"vessel"`
	Agitate   Agitation `json:"agitate"`
	From      string    `json:"from,omitzero"` // where it was read: session, readings, day

	Tested []TestedTime `json:"tested,omitzero"` // the times it was fitted to, not falling; it says nothing beyond them
}

// TestedTime is a developing time of a film test and the average gradient that it gave.
type TestedTime struct {
	Time     Elapsed `json:"time_s"`
	Gradient float64 `json:"average_gradient"`
}

// ErrUntested: a gradient or a time that no film test has reached.
var ErrUntested = errors.New("outside tested times")

// asPrinted is half of the last digit of a gradient as it is shown and typed.
const asPrinted = 0.005

// Origin is where the developing times of a recipe were found, the session and the
// readings of a film test; "" where they were not.
func (r *Recipe) Origin() string {
	for i := range r.Steps {
		if g := r.Steps[i].Growth; g != nil && g.From != "" {
			return g.From
		}
	}
	return ""
}

// At is the average gradient after a developing time at the reference temperature;
// 0 up to the induction.
func (g *Growth) At(t Elapsed) float64 {
	return max(0, g.Limit*-math.Expm1(-g.K*(t.Minutes()-g.Induction)))
}

// Time is the developing time at the reference temperature that gives an average
// gradient. It errs at and beyond the limit, below zero, and with ErrUntested outside
// the tested times. A gradient that a tested time gave lies inside, wherever the fitted
// curve passes it: the nearest tested time is its time.
func (g *Growth) Time(gradient float64) (Elapsed, error) {
	if !(gradient > 0) {
		return 0, fmt.Errorf("gradient %.3g; expected above zero", gradient)
	}
	if len(g.Tested) == 0 {
		return 0, fmt.Errorf("gradient %.2f: %w: the recipe's growth does not say which they were; expected tested = [[\"5m\", 0.44], [\"12m\", 0.66]] in it", gradient, ErrUntested)
	}
	first, last := g.Tested[0].Time, g.Tested[len(g.Tested)-1].Time
	t := Never
	if gradient < g.Limit {
		minutes := g.Induction - math.Log1p(-gradient/g.Limit)/g.K
		t = Elapsed(math.Round(minutes * float64(time.Minute)))
	}
	switch {
	case t >= first && t <= last:
		return t, nil
	case g.gave(gradient):
		return min(max(t, first), last), nil
	case t == Never:
		return 0, fmt.Errorf("gradient %.2f cannot be had: in this developer the film ends at %.2f", gradient, g.Limit)
	}
	return 0, fmt.Errorf("gradient %.2f: %w (%s to %s), at about %s", gradient, ErrUntested, Clock(first), Clock(last), Clock(t.Round(5*time.Second)))
}

// gave reports whether tested times gave a gradient, or some less and some more.
func (g *Growth) gave(gradient float64) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, t := range g.Tested {
		least, most = min(least, t.Gradient), max(most, t.Gradient)
	}
	return gradient >= least-asPrinted && gradient <= most+asPrinted
}

// asHanded is by how much a tested time may move when it is rounded to what a hand keeps.
const asHanded = 5 * time.Second

// Covers reports whether a developing time lies inside those that were tested, as a hand
// keeps time.
func (g *Growth) Covers(t Elapsed) bool {
	n := len(g.Tested)
	return n > 0 && t > g.Tested[0].Time-asHanded && t < g.Tested[n-1].Time+asHanded
}

// Slope is by how much the average gradient rises for each whole share of development
// more, at a developing time: t dG/dt.
func (g *Growth) Slope(t Elapsed) float64 {
	if t.Minutes() <= g.Induction {
		return 0
	}
	return t.Minutes() * g.Limit * g.K * math.Exp(-g.K*(t.Minutes()-g.Induction))
}

// MixtureOf is what a step's bath is made of, "A 1 + B 3 + water 80"; the bath's id
// where the recipe does not say.
func (r *Recipe) MixtureOf(st *Step) string {
	i := slices.IndexFunc(r.Baths, func(b Bath) bool { return b.ID == st.Bath })
	if i < 0 || len(r.Baths[i].Parts) == 0 {
		return st.Bath
	}
	var parts []string
	for _, p := range r.Baths[i].Parts {
		parts = append(parts, p.Name+" "+strconv.FormatFloat(p.Parts, 'f', -1, 64))
	}
	return strings.Join(parts, " + ")
}

// elsewhere is in what the step differs from the test that its growth is from; nil
// where it has none, and where it is the same.
func (p *Plan) elsewhere(st *PlanStep) (differs []string) {
	g := st.Growth
	if g == nil {
		return nil
	}
	add := func(what, here, there string) {
		differs = append(differs, fmt.Sprintf("%s %s instead of %s", what, here, there))
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
	here, there := asDone(st.Agitate, st.Stack), asDone(g.Agitate, g.Vessel == Tray)
	if !here.equal(there) {
		add("agitation", here.words(), there.words())
	}
	return differs
}

// asDone is an agitation as it is carried out: nothing can be shuffled where there
// is no stack.
func asDone(a Agitation, stack bool) Agitation {
	if a.Mode == Shuffle && !stack {
		a.Mode = Continuous
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

func (a Agitation) equal(b Agitation) bool {
	return a.Mode == b.Mode && a.Initial == b.Initial && a.For == b.For && a.Every == b.Every && slices.Equal(a.At, b.At)
}

// words says an agitation: "continuous", "60 s, then 10 s every 60 s".
// Said says an agitation, for those who tell of it.
func (a Agitation) Said() string { return a.words() }

func (a Agitation) words() string {
	if a.Mode != Pattern {
		return string(a.Mode)
	}
	text := ""
	if a.Initial > 0 {
		text = short(a.Initial) + ", then "
	}
	text += short(a.For)
	if a.Every > 0 {
		return text + " every " + short(a.Every)
	}
	return text + fmt.Sprintf(" %d times", len(a.At))
}
