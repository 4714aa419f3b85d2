package film

// A film of Saltmarsh harbour from a borrowed time through two tests and five sessions. Its sheets are made so that the
// right answers are known by hand: the gradient is 1.2 (1 - exp(-0.1 t)) and negatives are straight lines, whose
// average gradient is their slope. 0.58 comes at -ln(1 - 0.58/1.2)/0.1 = 6.60 min, and 11 min give 0.80.

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

const (
	plover    = "Plover 80"
	developer = "part A 1 + water 60"
	right     = 6.60 * 60
)

func gradientAfter(minutes float64) float64 { return 1.2 * -math.Expm1(-0.1*minutes) }

// harbour is where a film is known from.
type harbour struct {
	t *testing.T
	Sources
	days int
}

func newHarbour(t *testing.T) *harbour {
	return &harbour{t: t, Sources: Sources{Sessions: sessiontest.NewStore(t), Densities: densities.Store{Folder: t.TempDir()}, Borrowed: BorrowedStore{Folder: t.TempDir(), Laptop: "quay"}}}
}

func (h *harbour) recipe(sheets int) sequence.Recipe {
	develop := sessiontest.Warmed(recipetest.Bath(sequence.Develop, 8*recipetest.Minute))
	develop.Bath = "developer"
	return sessiontest.Recipe(sequence.Hangers, sheets, develop, recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
}

func (h *harbour) day() time.Duration {
	h.days++
	return time.Duration(h.days) * 24 * time.Hour
}

// test develops sheets for some minutes and reads them.
func (h *harbour) test(part string, minutes ...float64) {
	r := h.recipe(len(minutes))
	r.Baths[0].Parts[0].Name = part
	r.Steps[0].Time = 0
	tablet, _ := curve.NominalTablet(21, 0.15)
	read := curve.Readings{Film: plover, Metered: "EI 80 +4", Tablet: tablet}
	base := curve.Density(0.1)
	for i, m := range minutes {
		t := time.Duration(m * float64(time.Minute))
		r.Steps[0].PullTimes = append(r.Steps[0].PullTimes, t)
		read.Add(t, i+1)
		s := &read.Sheets[i]
		s.Base = &base
		for k, d := range tablet {
			density := base + curve.Density(gradientAfter(m)*math.Max(0, 2.4-d))
			s.Steps[k] = &density
		}
	}
	read.Session = sessiontest.Begin(h.t, h.Sessions, h.day(), r, sequence.Conditions{}).Finish()
	if err := h.Densities.Save(h.Densities.NewName(sessiontest.Evening.Add(time.Duration(h.days)*24*time.Hour), plover), &read); err != nil {
		h.t.Fatal(err)
	}
}

// session develops two sheets at a temperature and notes how they came out.
func (h *harbour) session(at chem.Celsius, a notebook.Appearance) {
	began := h.day()
	id := sessiontest.Begin(h.t, h.Sessions, began, h.recipe(2), sequence.Conditions{BathTemperature: &at}).Finish()
	n := notebook.Note{Written: sessiontest.Evening.Add(began), Emulsion: notebook.EmulsionSound, Appearances: []notebook.Appearance{a}}
	if err := notebook.AddNote(h.Sessions, id, n); err != nil {
		h.t.Fatal(err)
	}
}

func (h *harbour) page(q Question) Page {
	h.t.Helper()
	all := h.Collect(plover)
	i := slices.IndexFunc(all, func(k Known) bool { return k.Developer == developer })
	if i < 0 {
		i = 0
	}
	p, err := Assess(&all[i], all, q)
	if err != nil {
		h.t.Fatal(err)
	}
	return p
}

func width(p Page) float64 { return math.Log(*p.Target.High / *p.Target.Low) }

func TestAFilmFromABorrowedTimeToAnswers(t *testing.T) {
	h := newHarbour(t)
	err := h.Borrowed.Add(BorrowedTime{Film: plover, Developer: developer, Time: 11 * time.Minute, Temperature: 20, Wanted: 0.58, Within: 0.35, From: "Tern 125", Written: sessiontest.Evening})
	if err != nil {
		t.Fatal(err)
	}
	at := chem.Celsius(20)
	q := Question{Aim: 0.58, At: &at}
	borrowed := h.page(q)
	if borrowed.Tests != 0 || borrowed.Borrowed[0].Verdict != "untested" || borrowed.Borrowed[0].Gradient != nil || !slices.Contains(borrowed.Assumed, AssumedGrowth) || borrowed.Enough {
		t.Errorf("with a borrowed time alone: %+v", borrowed)
	}
	h.test("part A", 5, 7, 10, 14)
	first := h.page(q)
	if b := first.Borrowed[0]; first.Tests != 1 || b.Verdict != "far-long" || math.Abs(b.Gradient.Value-gradientAfter(11)) > 0.02 {
		t.Errorf("the borrowed time after the first test: %+v; expected far too long, 0.80", b)
	}
	if got := *first.Target.Time; math.Abs(got/right-1) > 0.05 || *first.Target.Low > right || *first.Target.High < right || slices.Contains(first.Assumed, AssumedGrowth) {
		t.Errorf("after the first test %.0f s, %.0f to %.0f; expected %.0f", got, *first.Target.Low, *first.Target.High, right)
	}
	h.test("part A", 5, 7, 10, 14)
	second := h.page(q)
	if !(width(second) < width(first) && width(first) < width(borrowed)) || math.Abs(*second.Target.Time/right-1) > 0.04 {
		t.Errorf("widths %.3f, %.3f, %.3f; %.0f s", width(borrowed), width(first), width(second), *second.Target.Time)
	}
	for range 5 {
		h.session(22, notebook.Good)
	}
	last := h.page(q)
	if last.Sessions != 5 || last.Tests != 2 || len(last.Sources) != 8 || len(last.WetLife) != 1 || last.WetLife[0].Sessions != 5 || last.WetLife[0].Temperature != 22 {
		t.Errorf("after five sessions: %d sessions, %d sources, wet life %+v", last.Sessions, len(last.Sources), last.WetLife)
	}
	// 8 min at 20 C with coefficient 2 in the recipe, whatever is believed of the film's own.
	if last.Recipe == nil || math.Abs(last.Recipe.Time-480) > 1e-6 {
		t.Errorf("the recipe's time %+v", last.Recipe)
	}
	// The meter's 80 and four stops more lie at tablet density 1.2; the speed point is at 2.4 - 0.1/0.58 = 2.23, 1.02
	// below, and ISO 6 has it 1.0 below what a meter asks for: 80 x 10^0.03 = 85, 80 by the nominal steps.
	if x := last.ExposureIndex; x == nil || math.Abs(x.Index-80) > 1 || x.Tests != 2 || x.Low > 80 || x.High < 80 {
		t.Errorf("exposure index %+v; expected 80", x)
	}
}

// Two sheets a session of one development, at 20 C, thin every time: the film grows slower than was thought.
func TestLooksAreWeakEvidence(t *testing.T) {
	at := chem.Celsius(20)
	q := Question{Aim: 0.58, At: &at}
	good, thin := newHarbour(t), newHarbour(t)
	for range 3 {
		good.session(20, notebook.Good)
		thin.session(20, notebook.Thin)
	}
	g, th := good.page(q), thin.page(q)
	if !(*th.Target.Time > 1.15**g.Target.Time) || math.Abs(*g.Target.Time/480-1) > 0.15 {
		t.Errorf("good at 8:00: %.0f s; thin at 8:00: %.0f s", *g.Target.Time, *th.Target.Time)
	}
}

// Nothing of another developer counts unless it is asked for; then it counts for little, and is said.
func TestAnotherDeveloperIsNotBorrowed(t *testing.T) {
	at := chem.Celsius(20)
	h := newHarbour(t)
	h.session(20, notebook.Good)
	alone := h.page(Question{Aim: 0.58, At: &at})
	h.test("part B", 5, 7, 10, 14)
	beside := h.page(Question{Aim: 0.58, At: &at})
	if *alone.Target.Time != *beside.Target.Time || beside.Tests != 0 {
		t.Errorf("%v, and %v beside a test in another developer", *alone.Target, *beside.Target)
	}
	also := h.page(Question{Aim: 0.58, At: &at, Also: "PART B 1 + water 60"})
	if !(width(also) < width(beside)) || !slices.Contains(also.Assumed, AssumedAlso) || also.Tests != 0 {
		t.Errorf("asked for: width %.3f, was %.3f; %v", width(also), width(beside), also.Assumed)
	}
	h.test("part A", 5, 7, 10, 14)
	if own := h.page(Question{Aim: 0.58, At: &at}); !(width(own) < width(also)) {
		t.Errorf("a test of its own: width %.3f; another developer's: %.3f", width(own), width(also))
	}
	all := h.Collect(plover)
	if _, err := Assess(&all[0], all, Question{Also: "part C"}); err == nil {
		t.Error("a developer without tests is taken")
	}
}

func TestBorrowedTimesAreKept(t *testing.T) {
	s := BorrowedStore{Folder: t.TempDir() + "/films", Laptop: "quay"}
	b := BorrowedTime{Film: plover, Time: 11 * time.Minute, Temperature: 20, Wanted: 0.58, Within: 0.35, From: "a forum", Written: sessiontest.Evening}
	if err := s.Add(b); err != nil {
		t.Fatal(err)
	}
	b.V = borrowedVersion
	if list := s.List(); len(list) != 1 || !list[0].Written.Equal(b.Written) || list[0].Time != b.Time || list[0].From != b.From {
		t.Errorf("%+v; expected %+v", list, b)
	}
	for _, bad := range []func(*BorrowedTime){func(b *BorrowedTime) { b.Film = "" }, func(b *BorrowedTime) { b.Time = 0 }, func(b *BorrowedTime) { b.Temperature = 60 },
		func(b *BorrowedTime) { b.Wanted = 0 }, func(b *BorrowedTime) { b.Within = 0 }, func(b *BorrowedTime) { b.From = " " }} {
		c := b
		if bad(&c); s.Add(c) == nil {
			t.Errorf("kept: %+v", c)
		}
	}
}
