package densities

// From a session and what was read off its negatives to the next recipe: the sheets'
// developing times as they really were, and the recipe that the curve asks for.

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
)

// TestConditions is what a growth curve belongs to.
type TestConditions struct {
	Film      string             `json:"film"`
	Developer string             `json:"developer"` // as the recipe mixes it; "" where not known
	Vessel    sequence.Vessel    `json:"vessel"`    // "" where not known
	Agitate   sequence.Agitation `json:"agitation"`
}

// Key tells them apart, whatever the case of the film's name.
func (t TestConditions) Key() string {
	t.Film = strings.ToLower(t.Film)
	text, _ := sequence.Marshal(t)
	return string(text)
}

// TestConditionsOf is what a session's curves belong to; false where it develops nothing.
func TestConditionsOf(p *sequence.Plan) (TestConditions, bool) {
	i := notebook.FilmDeveloper(p)
	if i < 0 {
		return TestConditions{}, false
	}
	st := &p.Steps[i]
	return TestConditions{p.Recipe.Film.Name, p.Recipe.MixtureOf(&st.Step), st.Vessel,
		planning.AgitationAsDone(st.Agitate, st.Stack)}, true
}

// FilmTestResult is what a film test found.
type FilmTestResult struct {
	Results    curve.Results
	Wanted     curve.PrintConditions
	Aimed      *Aimed          // what was aimed at instead of Wanted's average gradient; nil: that
	Source     string          // the session, the readings
	Day        time.Time       // on which it was evaluated
	Conditions *TestConditions // nil: as the recipe has it
	Film       string          // that was tested, where Tested does not say; "": the recipe's
}

// Aimed is an aim that an average gradient does not tell, met.
type Aimed struct {
	Aim   sequence.Aim
	Times []curve.Development // N-2 to N+2, as far as they can be had
	Index *float64            // exposure index of N; nil where exposures are relative
}

// aimed is what was aimed at, met, and the time of N.
func (f FilmTestResult) aimed() (n curve.Target, a Aimed, err error) {
	if f.Aimed != nil {
		i := slices.IndexFunc(f.Aimed.Times, func(d curve.Development) bool { return d.Name == "N" && d.Target != nil })
		if i < 0 || f.Results.Growth == nil {
			return n, a, errors.New("the test has no time for N, or no growth curve")
		}
		return *f.Aimed.Times[i].Target, *f.Aimed, nil
	}
	wanted, err := f.Wanted.Gradient()
	if err != nil {
		return n, a, err
	}
	if n, err = f.Results.TimeFor(wanted); err != nil {
		return n, a, err
	}
	a = Aimed{Aim: sequence.Aim{Average: wanted}, Index: f.Results.IndexAt(roundedTime(n))}
	a.Times, err = f.Results.Developments(f.Wanted)
	return n, a, err
}

// aimText is an aim in words.
func aimText(a sequence.Aim) string {
	switch p := a.Print; {
	case p != nil:
		return fmt.Sprintf("a print of a subject of %.1f stops on a paper of range %.2f, grade %.1f, %s enlarger", p.Subject/math.Log10(2), p.Paper, response.GradeOf(p.Paper), p.Enlarger)
	case a.Contrast > 0:
		return fmt.Sprintf("a contrast index of %.2f", a.Contrast)
	}
	return fmt.Sprintf("an average gradient of %.2f", a.Average)
}

// asWritten is an aim with the digits that a recipe has.
func asWritten(a sequence.Aim) *sequence.Aim {
	a.Average, a.Contrast = fourDigits(a.Average), fourDigits(a.Contrast)
	if a.Print != nil {
		p := *a.Print
		p.Paper, p.Subject, p.Flare, p.Shadow, p.Placed = fourDigits(p.Paper), fourDigits(p.Subject), fourDigits(p.Flare), fourDigits(p.Shadow), fourDigits(p.Placed)
		a.Print = &p
	}
	return &a
}

// recipeRounding is what developing times are rounded to in a recipe.
const recipeRounding = 5 * time.Second

// Refine is a recipe with what was found: the times of N-2 to N+2 that the test
// reaches, the exposure index, the growth curve, and where all that came from. The
// coefficient, the baths and all other steps stay. It errs where the recipe does not
// develop, and where the test gives no time for N.
func Refine(r sequence.Recipe, f FilmTestResult) (sequence.Recipe, error) {
	plan, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		return r, err
	}
	i := notebook.FilmDeveloper(&plan)
	if i < 0 {
		return r, errors.New("the recipe does not develop; expected one that does")
	}
	n, aimed, err := f.aimed()
	if err != nil {
		return r, err
	}
	tested := f.Conditions
	if tested == nil {
		own, _ := TestConditionsOf(&plan)
		own.Film = cmp.Or(f.Film, own.Film)
		tested = &own
	}
	r.Steps = slices.Clone(r.Steps)
	st := &r.Steps[i]
	if st.PullTimes != nil {
		r.Load.Names = nil // they told the sheets of the test apart
	}
	moved := asTested(&r, i, plan.Steps[i].Vessel, *tested)
	st.Time, st.Times, st.PullTimes, st.LeaveTogether, st.StraightOn = 0, namedTimes(aimed.Times), nil, false, false
	if len(st.Times) == 1 {
		st.Time, st.Times = st.Times[0].Time, nil
	}
	st.Aim = asWritten(aimed.Aim)
	g := f.Results.Growth
	st.Growth = &sequence.Growth{Limit: fourDigits(g.Limit), K: fourDigits(float64(g.K)), Induction: fourDigits(float64(g.Induction)), From: f.Source,
		Film: tested.Film, Developer: tested.Developer, Vessel: tested.Vessel, Agitate: tested.Agitate}
	for _, s := range f.Results.Sheets() {
		st.Growth.Tested = append(st.Growth.Tested, sequence.TestedTime{Time: s.Time.Round(time.Second), Gradient: fourDigits(s.Gradient)})
	}
	about := fmt.Sprintf("N, %s, is for %s%s, found on %s: %s.", sequence.FormatElapsed(roundedTime(n)), aimText(aimed.Aim), confidenceText(n), f.Day.Format("2 January 2006"), f.Source)
	if aimed.Index != nil {
		r.Film.ExposureIndex = *aimed.Index
	} else if r.Film.ExposureIndex > 0 {
		about += " The exposure index was not measured; it is the one from before."
	}
	if moved {
		about += " It is for developing " + tested.Vessel.In() + ", as in the test."
		r.Title = r.Film.Name + ", " + tested.Vessel.In()
	}
	r.About = about
	r.Title = retitled(r.Title, f.Day)
	return r, nil
}

// asTested puts a recipe into the vessel that was really used, with its agitation in the
// developer, and reports whether the vessel is another: a time holds for no other handling.
func asTested(r *sequence.Recipe, develop int, own sequence.Vessel, t TestConditions) (moved bool) {
	if t.Agitate.Mode != "" {
		r.Steps[develop].Agitate = t.Agitate
	}
	if t.Vessel == "" || t.Vessel == own {
		return false
	}
	r.Load.Vessel = t.Vessel
	if t.Vessel != sequence.Drum {
		r.Load.ReverseEvery = 0
	}
	for i := range r.Steps {
		st := &r.Steps[i]
		if i <= develop {
			st.Vessel = ""
		}
		if !t.Vessel.Closed() && r.Film.Sensitivity == sequence.Pan && !slices.ContainsFunc(r.Steps[:i], func(s sequence.Step) bool { return s.Kind == sequence.Fix }) {
			st.RoomLight = sequence.Dark
		}
		if t.Vessel != sequence.Drum {
			st.ReverseEvery = 0
		}
	}
	return true
}

// fourDigits is a number with four digits: no test tells more.
func fourDigits(x float64) float64 {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return x
}

func roundedTime(t curve.Target) sequence.Elapsed {
	return time.Duration(t.Time * float64(time.Second)).Round(recipeRounding)
}

// namedTimes is the times that a test reaches, rising; two that are rounded to the
// same are one, N before others.
func namedTimes(all []curve.Development) (list []sequence.NamedTime) {
	for _, d := range all {
		if d.Target == nil {
			continue
		}
		t := roundedTime(*d.Target)
		if n := len(list); n > 0 && list[n-1].Time >= t {
			if d.Name != "N" {
				continue
			}
			list = list[:n-1]
		}
		list = append(list, sequence.NamedTime{Name: d.Name, Time: t})
	}
	return list
}

func confidenceText(t curve.Target) string {
	if t.Low == nil || t.High == nil {
		return ""
	}
	at := func(s float64) string {
		return sequence.FormatElapsed(time.Duration(s * float64(time.Second)).Round(time.Second))
	}
	return fmt.Sprintf(" (%s to %s, %.0f%%)", at(*t.Low), at(*t.High), 100*t.Confidence)
}

// titleTail is what an earlier Refine has put behind a title, or what names a film test
// there.
var titleTail = regexp.MustCompile(`(, film test[^,]*)?(, tested \d{4}-\d{2}-\d{2})?$`)

// FilmTestTitle begins the title of a film test's recipe.
const FilmTestTitle = "Film test: "

// retitled is a title that says that this is the recipe after the test.
func retitled(title string, day time.Time) string {
	tail := ", tested " + day.Format(time.DateOnly)
	stem := []rune(titleTail.ReplaceAllString(strings.TrimPrefix(title, FilmTestTitle), ""))
	const longest = 120
	if most := longest - len(tail); len(stem) > most {
		stem = stem[:most]
	}
	return string(stem) + tail
}
