package notebook

// From a session and what was read off its negatives to the next recipe: the sheets'
// developing times as they really were, and the recipe that the curve asks for.

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
)

// Developed is how long one sheet was developed, as at the reference temperature.
type Developed struct {
	Sheet         int
	Real, Planned sequence.Elapsed
}

// Developed lists the sheets by number. Where several baths develop, the film test's
// step counts, else the first. A sheet that has not left it is not listed.
func (s *Session) Developed() (list []Developed) {
	if s.Plan == nil {
		return nil
	}
	step := developer(s.Plan)
	for i := range s.Steps {
		for _, y := range s.Steps[i].Sheets {
			if i == step && y.Developed != nil && y.Out != sequence.Never {
				list = append(list, Developed{y.Sheet, y.Developed.Done, y.Developed.Of})
			}
		}
	}
	slices.SortFunc(list, func(a, b Developed) int { return a.Sheet - b.Sheet })
	return list
}

// developer is the step whose times are the film's; -1 for none.
func developer(p *sequence.Plan) int {
	first := -1
	for i := range p.Steps {
		if p.Steps[i].Kind != sequence.Develop {
			continue
		}
		if len(p.Steps[i].Doses) > 0 {
			return i
		}
		if first < 0 {
			first = i
		}
	}
	return first
}

// plannedWithin is how near a column's time must come to a sheet's planned one to be
// taken for it.
const plannedWithin = time.Second

// Match finds each developing time's sheet: by the numbers given, else by the time
// that was planned for it, else, where none was planned and there are as many, in
// the order of the sheets.
func Match(times []time.Duration, sheets []int, list []Developed) ([]Developed, error) {
	if len(list) == 0 {
		return nil, errors.New("the session developed nothing to the end")
	}
	found := make([]Developed, len(times))
	used := map[int]bool{}
	for k, t := range times {
		i := slices.IndexFunc(list, func(d Developed) bool {
			if len(sheets) == len(times) && sheets[k] > 0 {
				return d.Sheet == sheets[k]
			}
			return !used[d.Sheet] && (d.Planned-t).Abs() < plannedWithin
		})
		if i < 0 {
			if k == 0 && len(times) == len(list) && len(sheets) == 0 && !anyPlanned(times, list) {
				return list, nil
			}
			return nil, fmt.Errorf("no sheet of the session was to be developed for %s; expected one of %s", sequence.Clock(t), plannedOf(list))
		}
		found[k], used[list[i].Sheet] = list[i], true
	}
	return found, nil
}

// anyPlanned reports whether one of the times is one that was planned.
func anyPlanned(times []time.Duration, list []Developed) bool {
	return slices.ContainsFunc(times, func(t time.Duration) bool {
		return slices.ContainsFunc(list, func(d Developed) bool { return (d.Planned - t).Abs() < plannedWithin })
	})
}

func plannedOf(list []Developed) string {
	var all []string
	for _, d := range list {
		all = append(all, sequence.Clock(d.Planned))
	}
	return strings.Join(all, ", ")
}

// Relink gives the curves of a family the times that their sheets really had, and
// says where that differs from what was planned.
func Relink(f *curve.Family, link curve.Link, s *Session) error {
	times := make([]time.Duration, len(f.Curves))
	for i, c := range f.Curves {
		times[i] = c.Time
	}
	found, err := Match(times, link.Sheets, s.Developed())
	if err != nil {
		return fmt.Errorf("session %s: %w", s.ID, err)
	}
	for i, d := range found {
		f.Curves[i].Time = d.Real.Round(time.Millisecond)
		text := fmt.Sprintf("sheet %d of session %s developed %s by its temperatures", d.Sheet, s.ID, sequence.Clock(d.Real))
		if (d.Real - d.Planned).Abs() >= plannedWithin {
			text += ", planned " + sequence.Clock(d.Planned)
		}
		f.Notes = append(f.Notes, text)
	}
	return nil
}

// Tested is what a growth curve belongs to.
type Tested struct {
	Film, Developer string
	Vessel          sequence.Vessel
	Agitate         sequence.Agitation
}

// TestedIn is what a session's curves belong to; false where it develops nothing.
func TestedIn(p *sequence.Plan) (Tested, bool) {
	i := developer(p)
	if i < 0 {
		return Tested{}, false
	}
	st := &p.Steps[i]
	agitate := st.Agitate
	if agitate.Mode == sequence.Shuffle && !st.Stack {
		agitate.Mode = sequence.Continuous
	}
	return Tested{p.Recipe.Film.Name, p.Recipe.MixtureOf(&st.Step), st.Vessel, agitate}, true
}

// Found is what a film test found.
type Found struct {
	Results curve.Results
	Wanted  curve.Wanted
	From    string    // the session, the readings
	Day     time.Time // on which it was evaluated
	Tested  *Tested   // nil: as the recipe has it
	Film    string    // that was tested, where Tested does not say; "": the recipe's
}

// handTime is what developing times are rounded to in a recipe.
const handTime = 5 * time.Second

// Refine is a recipe with what was found: the times of N-2 to N+2 that the test
// reaches, the exposure index, the growth curve, and where all that came from. The
// coefficient, the baths and all other steps stay. It errs where the recipe does not
// develop, and where the test gives no time for N.
func Refine(r sequence.Recipe, f Found) (sequence.Recipe, error) {
	plan, err := sequence.Resolve(r, sequence.Conditions{})
	if err != nil {
		return r, err
	}
	i := developer(&plan)
	if i < 0 {
		return r, errors.New("the recipe does not develop; expected one that does")
	}
	wanted, err := f.Wanted.Gradient()
	if err != nil {
		return r, err
	}
	n, err := f.Results.TimeFor(wanted)
	if err != nil {
		return r, err
	}
	all, err := f.Results.Developments(f.Wanted)
	if err != nil {
		return r, err
	}
	tested := f.Tested
	if tested == nil {
		own, _ := TestedIn(&plan)
		own.Film = cmp.Or(f.Film, own.Film)
		tested = &own
	}
	r.Steps = slices.Clone(r.Steps)
	st := &r.Steps[i]
	if st.TakeOut != nil {
		r.Load.Names = nil // they told the sheets of the test apart
	}
	moved := asTested(&r, i, plan.Steps[i].Vessel, *tested)
	st.Time, st.Times, st.TakeOut, st.Together = 0, namedTimes(all), nil, false
	if len(st.Times) == 1 {
		st.Time, st.Times = st.Times[0].Time, nil
	}
	g := f.Results.Growth
	st.Growth = &sequence.Growth{Limit: shortened(g.Limit), K: shortened(float64(g.K)), Induction: shortened(float64(g.Induction)), From: f.From,
		Film: tested.Film, Developer: tested.Developer, Vessel: tested.Vessel, Agitate: tested.Agitate}
	for _, s := range f.Results.Sheets() {
		st.Growth.Tested = append(st.Growth.Tested, sequence.TestedTime{Time: s.Time.Round(time.Second), Gradient: shortened(s.Gradient)})
	}
	about := fmt.Sprintf("N, %s, is for an average gradient of %.2f%s, found on %s: %s.", sequence.Clock(handed(n)), wanted, within(n), f.Day.Format("2 January 2006"), f.From)
	if index := f.Results.IndexAt(handed(n)); index != nil {
		r.Film.ExposureIndex = *index
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
func asTested(r *sequence.Recipe, develop int, own sequence.Vessel, t Tested) (moved bool) {
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

// shortened is a number with four digits: no test tells more.
func shortened(x float64) float64 {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return x
}

func handed(t curve.Target) sequence.Elapsed {
	return time.Duration(t.Time * float64(time.Second)).Round(handTime)
}

// namedTimes is the times that a test reaches, rising; two that are rounded to the
// same are one, N before others.
func namedTimes(all []curve.Development) (list []sequence.NamedTime) {
	for _, d := range all {
		if d.Target == nil {
			continue
		}
		t := handed(*d.Target)
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

func within(t curve.Target) string {
	if t.Low == nil || t.High == nil {
		return ""
	}
	at := func(s float64) string {
		return sequence.Clock(time.Duration(s * float64(time.Second)).Round(time.Second))
	}
	return fmt.Sprintf(" (%s to %s with %.0f %% confidence)", at(*t.Low), at(*t.High), 100*t.Confidence)
}

// testedOn is what an earlier Refine has put behind a title, or what names a film test
// there.
var testedOn = regexp.MustCompile(`(, film test[^,]*)?(, tested \d{4}-\d{2}-\d{2})?$`)

// FilmTestTitle begins the title of a film test's recipe.
const FilmTestTitle = "Film test: "

// retitled is a title that says that this is the recipe after the test.
func retitled(title string, day time.Time) string {
	tail := ", tested " + day.Format(time.DateOnly)
	stem := []rune(testedOn.ReplaceAllString(strings.TrimPrefix(title, FilmTestTitle), ""))
	const longest = 120
	if most := longest - len(tail); len(stem) > most {
		stem = stem[:most]
	}
	return string(stem) + tail
}
