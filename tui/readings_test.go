package tui

// From a session over its readings to curves, a new recipe and its plan, by keys
// alone; and what may go wrong on the way.

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/journal"
)

func (h *hall) Densities() []densities.ReadingsFile { return h.desk.List() }
func (h *hall) Tablets() []densities.Tablet         { return h.desk.Tablets() }
func (h *hall) NameDensities(film string) string    { return h.desk.NewName(h.now(), film) }

func (h *hall) KeepDensities(name string, r *curve.Readings) error { return h.desk.Save(name, r) }

// KeepRecipe takes what can be read back.
func (h *hall) KeepRecipe(r sequence.Recipe) (string, error) {
	if _, err := recipes.Read("x", recipes.Write(r)); err != nil {
		return "", err
	}
	h.wrote = map[string]sequence.Recipe{"found": r}
	return "found", nil
}

// tested is the folder of a session that was a film test of four sheets, whose bath
// was found half a degree warm at the end. It is made once.
func tested(t testing.TB) string {
	testedOnce.Do(func() {
		dir, err := os.MkdirTemp("", "tested")
		if err != nil {
			t.Fatal(err)
		}
		testedFolder = filepath.Join(dir, "state", "sessions")
		keep(t, &hall{store: keptStore(testedFolder)}, 0, "plover-200", 0, func(k *keeping) {
			k.do(14*time.Minute, sequence.TakeReading{T: 20.5})
			k.finish()
		})
	})
	return testedFolder
}

var (
	testedOnce   sync.Once
	testedFolder string // removed by TestMain; "" while there is none
)

// atDesk is a host with that session, and a desk of its own.
func atDesk(t testing.TB) func(*hall, *Options) {
	return func(h *hall, _ *Options) {
		h.store = keptStore(tested(t))
		h.desk = densities.Store{Folder: filepath.Join(t.TempDir(), "data", "readings"), Disk: quick{}}
	}
}

// withTest is the notebook open on that session.
func withTest(t testing.TB) *desk {
	t.Helper()
	return sit(t, atDesk(t)).press("n").done().done().press("enter")
}

// laid is readings of the session with so many of them typed, in a list of two.
func laid(t testing.TB, n int) *desk {
	t.Helper()
	d := sit(t, atDesk(t))
	tablet, err := curve.NominalTablet(curve.DefaultSteps, curve.DefaultStep)
	if err != nil {
		t.Fatal(err)
	}
	r := curve.Readings{Film: "Plover 200", Session: d.h.Sessions()[0].ID, Tablet: tablet}
	for k, m := range []float64{5, 7, 9.5, 13} {
		r.Add(time.Duration(m*float64(time.Minute)), k+1)
	}
	for i, word := range plover(t)[:n] {
		x, err := curve.ParseDensity(word, false)
		if err != nil {
			t.Fatal(err)
		}
		if s := &r.Sheets[i/22]; i%22 == 0 {
			s.Base = &x.Density
		} else {
			s.Steps[i%22-1] = &x.Density
		}
	}
	for _, name := range []string{"2024-05-03-plover", "2024-05-04-plover"} {
		if err := d.h.desk.Save(name, &r); err != nil {
			t.Fatal(err)
		}
	}
	return d.press("d", "down")
}

// plover is the densities of the invented film Plover 200 as they are typed: for each
// sheet base plus fog, then from the densest step on.
func plover(t testing.TB) (typed []string) {
	t.Helper()
	f, err := os.Open("../chem/curve/testdata/plover-200.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for k := 1; k <= 4; k++ {
		typed = append(typed, rows[1][k])
		for i := len(rows) - 1; i > 1; i-- {
			typed = append(typed, rows[i][k])
		}
	}
	return typed
}

// readSome is the session's readings with so many of them typed.
func readSome(t testing.TB, n int) *desk {
	t.Helper()
	d := withTest(t).press("d", "enter")
	for _, x := range plover(t)[:n] {
		d.types(x).press("enter")
	}
	return d
}

func (d *desk) reading() readingsModel { return d.m.topSubscreen().(readingsModel) }

func (d *desk) found() curvesModel { return d.m.topSubscreen().(curvesModel) }

func TestFromSessionToTheNextRecipe(t *testing.T) {
	d := withTest(t).size(120, 60)
	d.press("d")
	d.shows("5:00 7:00 9:30 13:00")
	d.shows("sheet 4: planned 13:00, developed 13:14") // the integral of 2.2^(0.05 t/14) to 13 min: 13.24
	before, _ := d.h.Recipe("plover-200")
	d.press("down", "down", "down", "right", "right", "down", "down", "down", "down", "down").types("EI 200 +3").press("enter")
	if r := d.reading().r; r.Stops || len(r.Sheets) != 4 || r.Sheets[3].Sheet != 4 {
		t.Fatalf("%+v", r)
	}
	for _, x := range plover(t) {
		d.types(x).press("enter")
	}
	d.shows("that was the last step of the last sheet")
	kept, err := d.h.desk.Open(d.reading().name)
	if err != nil || kept.Sheets[2].Count() != 21 || *kept.Sheets[0].Base != 0.17 || *kept.Sheets[0].Steps[0] != 1.22 {
		t.Fatalf("kept %+v, %v", kept, err)
	}
	d.press("c")
	d.shows("growth:")
	d.shows("N   0.58")
	d.shows("a new recipe from: " + before.Title)
	got := d.found().out
	if got.Target == nil || got.Target.Low == nil || !(got.Target.Time > 290 && got.Target.Time < 420) {
		t.Fatalf("target %+v; the film was made to need 5:50", got.Target)
	}
	d.press("w")
	d.shows("written:")
	next, ok := d.h.wrote["found"]
	if !ok {
		t.Fatal("nothing was written")
	}
	st := next.Steps[slices.IndexFunc(next.Steps, func(s sequence.Step) bool { return s.Kind == sequence.Develop })]
	if st.Growth == nil || st.PullTimes != nil || math.Abs(st.Growth.K-float64(got.Growth.K)) > 1e-4 || next.Film.ExposureIndex == before.Film.ExposureIndex {
		t.Errorf("develop %+v, index %g", st, next.Film.ExposureIndex)
	}
	if after, _ := d.h.Recipe("plover-200"); len(after.Steps[0].PullTimes) != 4 {
		t.Error("the recipe that it started from was changed")
	}
	if next.Load.Names != nil || !strings.Contains(next.Title, "Plover 200, tested ") || strings.Contains(next.Title, "test:") {
		t.Errorf("%q, sheets %q; expected nothing left of the film test", next.Title, next.Load.Names)
	}
	d.press("enter")
	d.shows("found by a film test: session 2024-05-01T2000-plover-200")
	if d.m.screen != planScreen || d.m.plan.plan == nil || d.m.plan.recipe.Title != next.Title {
		t.Fatalf("screen %d", d.m.screen)
	}
	for _, c := range d.m.plan.plan.Cautions {
		if c.Code == "curve-elsewhere" {
			t.Error(c.Text)
		}
	}
}

// Readings are gone on with where they were left, with nothing lost.
func TestReadingGoesOn(t *testing.T) {
	d := readSome(t, 30)
	at := d.reading()
	d.press("esc", "d") // back to the session, and to its densities
	now := d.reading()
	if now.name != at.name || now.col != 1 || now.row != at.row || now.r.Sheets[1].Count() != 7 {
		t.Errorf("%q, sheet %d, step %d with %d read; expected %q, 2, %d with 7", now.name, now.col+1, now.row+1, now.r.Sheets[1].Count(), at.name, at.row+1)
	}
}

func TestTypingIsForgiving(t *testing.T) {
	d := readSome(t, 4) // base plus fog, steps 1 to 3: 0.17 1.22 1.14 1.05
	value := func() *curve.Density { return d.reading().r.Sheets[0].Steps[3] }
	d.types("98").press("enter")
	d.shows("0.98? enter again: yes")
	if value() != nil {
		t.Fatal("digits without a mark were taken without a question")
	}
	d.press("backspace").types("7").press("enter") // another number: asked anew
	d.shows("0.97? enter again: yes")
	d.press("enter")
	if v := value(); v == nil || *v != 0.97 {
		t.Fatalf("%v; expected 0.97", v)
	}
	d.press("u")
	if value() != nil || d.reading().row != 3 {
		t.Fatalf("%v at step %d after undo; expected nothing at step 4", value(), d.reading().row+1)
	}
	d.types("0,98").press("enter")
	if v := value(); v == nil || *v != 0.98 {
		t.Fatalf("%v; expected 0.98 of a decimal comma", v)
	}
	d.types("0").press("enter")
	if d.reading().r.Sheets[0].Steps[4] != nil {
		t.Error("a zero was taken without a question")
	}
	d.press("backspace").types("1.9").press("enter")
	d.shows("1.90 is above step 4, 0.98, which had more light")
	d.press("up") // thought better of it
	if d.reading().r.Sheets[0].Steps[4] != nil {
		t.Error("a reversal was taken without a second enter")
	}
	d.press("down", "enter") // nothing typed: the step is left out
	if got := d.reading(); got.row != 5 || got.r.Sheets[0].Steps[4] != nil {
		t.Errorf("step %d, %v", got.row+1, got.r.Sheets[0].Steps[4])
	}
	d.types("x.").press("backspace").types("abw")
	if got := d.reading(); got.typed != "" {
		t.Errorf("letters were typed: %q", got.typed)
	}
}

func TestAKeepingThatFailsIsTold(t *testing.T) {
	d := readSome(t, 3)
	d.h.desk.Disk = full{}
	d.types("1.05").press("enter")
	d.shows("not kept: ")
	d.shows("NOT KEPT")
	d.h.desk.Disk = quick{}
	d.types("0.98").press("enter")
	d.hides("NOT KEPT")
	if kept, err := d.h.desk.Open(d.reading().name); err != nil || kept.Sheets[0].Count() != 4 {
		t.Errorf("%d kept, %v; expected all four", kept.Sheets[0].Count(), err)
	}
}

// full is a disk on which nothing can be made.
type full struct{ quick }

func (full) Create(string, string) (journal.File, error) {
	return nil, errors.New("no space left on device")
}

// The sheet's step 10 is 0.50 and step 11 0.44: a slip shows once it has a reading on
// each side.
func TestOutlierIsMarkedAndLeftOut(t *testing.T) {
	d := readSome(t, 10).size(120, 40)
	d.types("0.40").press("enter").types("0.44").press("enter")
	d.shows("step 10, 0.40, does not fit the others")
	d.shows("!   10  0.40  does not fit")
	d.press("up", "up", "x")
	d.shows("step 10 is left out")
	if len(d.reading().doubtful) != 0 || d.reading().r.Sheets[0].Steps[9] != nil {
		t.Errorf("doubtful %v", d.reading().doubtful)
	}
	d.press("u")
	if x := d.reading().r.Sheets[0].Steps[9]; x == nil || *x != 0.40 {
		t.Errorf("%v; expected it back", x)
	}
}

func TestStopsOfASpotMeter(t *testing.T) {
	d := withTest(t).press("d", "down", "down", "down", "right", "enter")
	if !d.reading().r.Stops {
		t.Fatal("read in densities")
	}
	d.types("1/3").press("enter").types("4 1/3").press("enter")
	s := d.reading().r.Sheets[0]
	if s.Base == nil || *s.Base != 0.1 || s.Steps[0] == nil || *s.Steps[0] != 1.304 { // 0.301 for each stop
		t.Errorf("base %v, step 1 %v", s.Base, s.Steps[0])
	}
}

func TestFormSaysWhatIsMissing(t *testing.T) {
	d := sit(t, func(h *hall, _ *Options) {
		h.desk.Folder = t.TempDir()
		h.store = journal.Store{Folders: []string{t.TempDir()}}
		tablet := "tablet\n0.04\n0.21\n0.33\n0.50\n0.66\n0.81\n"
		if err := os.WriteFile(filepath.Join(h.desk.Folder, "number-7.tablet.csv"), []byte(tablet), 0o600); err != nil {
			t.Fatal(err)
		}
	}).press("d", "enter")
	d.press("enter")
	d.shows("no developing time")
	if _, err := d.m.topSubscreen().(readingSetupModel); !err {
		t.Fatal("reading began without a sheet")
	}
	for range 2 {
		d.press("down")
	}
	d.types("5m 7x").press("enter")
	d.shows("7x")
	d.press("backspace").types("m").press("down", "down", "down", "right")
	d.shows("number-7")
	d.press("enter")
	if r := d.reading().r; len(r.Tablet) != 6 || r.Tablet[1] != 0.21 || len(r.Sheets) != 2 {
		t.Errorf("%+v", r)
	}
	d.press("c")
	d.shows("no sheet has two readings yet")
}

// What is wanted, borrowed and smoothed changes what is shown.
func TestFamilyAnswers(t *testing.T) {
	d := readSome(t, 88).press("c").size(120, 60)
	n := d.found().out.Target.Time
	d.press("t").types("1.05 2.2 0.4").press("enter") // 0.583 (Stroebel et al.)
	if g := d.found().out.Target; g == nil || math.Abs(g.AverageGradient-0.5833) > 1e-4 || g.Time <= n {
		t.Errorf("%+v", g)
	}
	d.press("t").types("2").press("enter")
	d.shows("limit of growth")
	d.press("w")
	if d.h.wrote != nil {
		t.Error("a recipe was written without a time")
	}
	d.press("t").types("0.58").press("enter", "b").types("12m").press("enter")
	d.shows("12:00 would give")
	d.press("s")
	d.shows("smoothed")
	d.press("t").types("a b").press("enter")
	d.shows("is no number")
	d.press("right")
	if got := d.found(); got.from != 1 {
		t.Errorf("recipe %d to start from", got.from)
	}
	d.press("enter")
	d.shows("w writes a recipe first")
}

// One sheet alone gives a time with what is assumed beside it.
func TestFamilyOfOne(t *testing.T) {
	d := readSome(t, 22).press("c").size(120, 60)
	d.shows("would have been right")
	d.shows("assumed: growth of")
}

// New readings are in the list that is come back to, under the cursor, and with them on
// the page of their session; the curves name their records.
func TestReadingsAreFoundAgain(t *testing.T) {
	d := sit(t, atDesk(t)).press("d", "enter", "right", "enter").types("0.17").press("enter", "esc")
	list, ok := d.m.topSubscreen().(densitiesModel)
	if !ok || len(list.kept) != 1 || list.at != 1 {
		t.Fatalf("%+v", d.m.topSubscreen())
	}
	name, id := list.kept[0].Name, d.h.Sessions()[0].ID
	d.press("esc", "n").done().press("enter").size(120, 60)
	d.shows("densities: " + name + ".csv, 4 sheets")
	d.press("d").types("1.22").press("enter").types("1.14").press("enter", "c")
	d.shows("readings " + name + ".csv")
	d.shows("session " + id)
	d.shows("sheet 4: planned 13:00, developed 13:14")
}

func TestDeskLists(t *testing.T) {
	d := readSome(t, 30)
	os.WriteFile(filepath.Join(d.h.desk.Folder, "broken.csv"), []byte("x"), 0o600)
	d.press("esc", "esc", "esc", "d").size(80, 30)
	d.shows("new readings")
	d.shows("cannot be read")
	list := d.m.topSubscreen().(densitiesModel)
	at := 1 + slices.IndexFunc(list.kept, func(k densities.ReadingsFile) bool { return k.Err == nil })
	for range at {
		d.press("down")
	}
	d.shows("21 of 21 steps")
	d.press("c")
	if got := d.found(); len(got.f.Curves) != 2 || !strings.Contains(got.name, "plover") {
		t.Errorf("%d curves of %q", len(got.f.Curves), got.name)
	}
}

// Where no session says how the sheets were developed, the person is asked which recipe
// the new one starts from; nothing is taken silently.
func TestTheRecipeToStartFromIsAsked(t *testing.T) {
	d := readSome(t, 88).press("c").size(120, 60)
	f := d.found()
	r := f.r
	r.Session = ""
	f, err := newCurves(d.h, "x", r)
	if err != nil || f.from != notChosen {
		t.Fatalf("from %d, %v; expected none", f.from, err)
	}
	d.m = d.m.changed(f)
	d.press("w")
	d.shows("Which recipe were the sheets developed by?")
	if line := d.found().next()[0].text; !strings.Contains(line, "choose the one that the sheets were developed by") {
		t.Errorf("%q", line)
	}
	if d.h.wrote != nil {
		t.Fatal("a recipe was written from one that nobody chose")
	}
	d.press("left")
	if got := d.found(); got.from != len(got.starts)-1 {
		t.Errorf("recipe %d to start from", got.from)
	}
	d.press("right", "w")
	d.shows("written:")
}

// A strip that is typed from its other end is asked about, and one key turns it round; the
// screen says which step is number 1.
func TestStripFromItsOtherEnd(t *testing.T) {
	d := readSome(t, 0).size(120, 60)
	d.shows("step 1: the film's densest patch")
	typed := plover(t)[:22] // base plus fog, then from the densest step on
	d.types(typed[0]).press("enter")
	asked := false
	for i := len(typed) - 1; i > 0; i-- {
		d.types(typed[i]).press("enter")
		if d.reading().confirmed {
			d.press("enter") // kept as it is
		}
		asked = asked || d.reading().reversed()
	}
	if !asked {
		t.Fatal("not noticed")
	}
	d.press("left").press("r")
	d.shows("turned round")
	if d.reading().reversed() || fmt.Sprintf("%.2f", float64(*d.reading().r.Sheets[0].Steps[0])) != typed[1] {
		t.Errorf("step 1 is %.2f; expected %s", float64(*d.reading().r.Sheets[0].Steps[0]), typed[1])
	}
}
