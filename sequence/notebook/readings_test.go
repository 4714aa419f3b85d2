package notebook

// Readings are replaced whole or not at all; curves know their sheets' times as
// they really were; a recipe is refined and its source left as it was.

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// tripping is a disk whose n-th call fails.
type tripping struct {
	quick
	left *int
}

var errTripped = errors.New("disk full")

func (d tripping) trips() bool {
	*d.left--
	return *d.left == 0
}

func (d tripping) Create(folder, name string) (journal.File, error) {
	if d.trips() {
		return nil, errTripped
	}
	f, err := d.quick.Create(folder, name)
	return trippingFile{f, d}, err
}

func (d tripping) Rename(folder, from, to string) error {
	if d.trips() {
		return errTripped
	}
	return d.quick.Rename(folder, from, to)
}

func (d tripping) SyncFolder(folder string) error {
	if d.trips() {
		return errTripped
	}
	return nil
}

type trippingFile struct {
	journal.File
	d tripping
}

// Write writes half of it when it fails.
func (f trippingFile) Write(p []byte) (int, error) {
	if f.d.trips() {
		n, _ := f.File.Write(p[:len(p)/2])
		return n, errTripped
	}
	return f.File.Write(p)
}

func (f trippingFile) Sync() error {
	if f.d.trips() {
		return errTripped
	}
	return nil
}

func someReadings(t *testing.T, d curve.Density) *curve.Readings {
	t.Helper()
	tablet, err := curve.NominalTablet(21, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	r := &curve.Readings{Film: "Plover 80", Tablet: tablet}
	r.Add(5*time.Minute, 1)
	r.Sheets[0].Steps[3] = &d
	return r
}

// Whichever call fails, the file holds the old readings or the new, and the next
// entry is kept.
func TestKeepIsWholeOrNothing(t *testing.T) {
	old, fresh := someReadings(t, 0.5), someReadings(t, 0.6)
	for n := 1; ; n++ {
		desk := Desk{Folder: filepath.Join(t.TempDir(), "data", "readings"), Disk: quick{}}
		if err := desk.Keep("one", old); err != nil {
			t.Fatal(err)
		}
		left := n
		desk.Disk = tripping{left: &left}
		err := desk.Keep("one", fresh)
		got, readErr := desk.Open("one")
		if readErr != nil || !reflect.DeepEqual(&got, old) && !reflect.DeepEqual(&got, fresh) {
			t.Fatalf("call %d failed: %+v, %v is left", n, got, readErr)
		}
		if err == nil {
			if n < 5 {
				t.Fatalf("%d calls; expected create, write, sync, rename and a sync of the folder to be able to fail", n-1)
			}
			break
		}
		desk.Disk = quick{}
		if err := desk.Keep("one", fresh); err != nil {
			t.Fatalf("after call %d failed: %v", n, err)
		}
	}
}

func TestDesk(t *testing.T) {
	desk := Desk{Folder: filepath.Join(t.TempDir(), "data", "readings")}
	if list := desk.List(); list != nil {
		t.Errorf("%v of no folder", list)
	}
	name := desk.NewName(evening, "Plover 80!")
	if name != "2026-11-25T1912-plover-80" {
		t.Errorf("name %q", name)
	}
	r := someReadings(t, 0.5)
	r.Session = "s1"
	if err := desk.Keep(name, r); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(desk.Path(name)); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v; expected for the owner only", info.Mode(), err)
	}
	if again := desk.NewName(evening, "Plover 80"); again != name+"-2" {
		t.Errorf("second name %q", again)
	}
	os.WriteFile(desk.Path("broken"), []byte("nonsense"), 0o600)
	os.WriteFile(filepath.Join(desk.Folder, "x y.csv"), []byte("tablet,5m"), 0o600)
	if list := desk.List(); len(list) != 2 || list[0].Err == nil == (list[1].Err == nil) {
		t.Errorf("%+v; expected one to be read and one not", list)
	}
	if of := desk.Of("s1"); len(of) != 1 || of[0].Name != name {
		t.Errorf("%+v of session s1", of)
	}
	for _, bad := range []string{"", "../x", "a/b", "x y"} {
		if _, err := desk.Open(bad); err == nil {
			t.Errorf("%q was opened", bad)
		}
		if desk.Keep(bad, r) == nil {
			t.Errorf("%q was kept", bad)
		}
	}
}

// A film test whose bath is found warmer than planned: sheet k is taken out when its
// dose is reached as far as was known, and what the reading tells later counts.
func warmTest(t *testing.T) Session {
	store := newStore(t)
	r := recipe(sequence.Hangers, 2, warmed(step(sequence.Develop, 0)), step(sequence.Fix, 4*mins))
	r.Steps[0].Time, r.Steps[0].TakeOut = 0, []sequence.Elapsed{5 * mins, 10 * mins}
	r.Steps[0].Bath = "developer"
	s := sit(t, store, 0, r, sequence.Conditions{})
	for s.state.Look(s.now).Now < 11*mins {
		at, due := s.state.Due()
		if !due || at > 11*mins {
			break
		}
		s.do(sequence.Wake{}, at)
	}
	s.do(sequence.Read{T: 22, Source: "hand"}, 11*mins)
	return testedSession(t, store, s.finish())
}

func TestSheetsHaveTheirRealTimes(t *testing.T) {
	s := warmTest(t)
	list := s.Developed()
	if len(list) != 2 || list[0].Planned != 5*mins || list[1].Planned != 10*mins {
		t.Fatalf("%+v", list)
	}
	// The bath went from 20 C at 0 to 22 C at 11 min in a straight line. With a rate of
	// 2^((T-20)/10) the dose to t is (11 min/(0.2 ln 2)) (2^(0.2 t/11) - 1): the integral.
	for i, real := range []float64{5, 10} {
		want := 11 / (0.2 * math.Ln2) * (math.Pow(2, 0.2*real/11) - 1)
		if got := list[i].Real.Minutes(); math.Abs(got-want) > 0.005 {
			t.Errorf("sheet %d: %.4f min; expected %.4f", i+1, got, want)
		}
	}
	f := curve.Family{Curves: []curve.Curve{{Time: 10 * mins}, {Time: 5 * mins}}}
	if err := Relink(&f, curve.Link{}, &s); err != nil {
		t.Fatal(err)
	}
	if f.Curves[0].Time != list[1].Real.Round(time.Millisecond) || f.Curves[1].Time != list[0].Real.Round(time.Millisecond) {
		t.Errorf("curves at %v and %v; expected each sheet's own time", f.Curves[0].Time, f.Curves[1].Time)
	}
	if len(f.Notes) != 2 || !strings.Contains(f.Notes[0], "sheet 2") || !strings.Contains(f.Notes[0], "planned 10:00") {
		t.Errorf("notes %q", f.Notes)
	}
}

func TestMatch(t *testing.T) {
	list := []Developed{{1, 310 * sec, 300 * sec}, {2, 620 * sec, 600 * sec}}
	for _, tc := range []struct {
		times  []time.Duration
		sheets []int
		want   string // sheets found, or in the error
	}{
		{[]time.Duration{600 * sec}, nil, "2"},
		{[]time.Duration{600 * sec, 300 * sec}, nil, "21"},
		{[]time.Duration{310 * sec, 620 * sec}, nil, "12"},            // as really developed: in order
		{[]time.Duration{310 * sec, 620 * sec}, []int{2, 1}, "21"},    // as numbered
		{[]time.Duration{600 * sec, 600 * sec}, nil, "no sheet"},      // one sheet is not two curves
		{[]time.Duration{310 * sec}, nil, "no sheet"},                 // which?
		{[]time.Duration{300 * sec, 1}, []int{1, 3}, "no sheet"},      // there is no third
		{[]time.Duration{300 * sec, 600 * sec, 1}, nil, "no sheet"},   // more curves than sheets
		{[]time.Duration{300 * sec, 600 * sec}, []int{1, 0}, "12"},    // partly numbered
		{[]time.Duration{300500 * time.Millisecond}, nil, "1"},        // within a second
		{[]time.Duration{302 * sec}, nil, "expected one of 5:00, 10"}, // told what there is
	} {
		found, err := Match(tc.times, tc.sheets, list)
		got := ""
		for _, d := range found {
			got += fmt.Sprint(d.Sheet)
		}
		if err != nil {
			got = err.Error()
		}
		if !strings.Contains(got, tc.want) {
			t.Errorf("%v %v: %q; expected %q", tc.times, tc.sheets, got, tc.want)
		}
	}
	if _, err := Match([]time.Duration{1}, nil, nil); err == nil {
		t.Error("a session without a developer was linked")
	}
}

// results is a test of straight curves, whose gradients lie on a growth curve.
func results(t *testing.T, box *curve.Box) curve.Results {
	t.Helper()
	f := curve.Family{Name: "x"}
	for _, m := range []float64{4, 7, 10, 16} {
		g := 1.2 * -math.Expm1(-0.1*m)
		base := curve.Density(0.1)
		c := curve.Curve{Time: time.Duration(m * float64(mins)), Base: &base}
		for i := range 21 {
			h := -3.05 + 0.15*float64(i)
			c.Readings = append(c.Readings, curve.Reading{LogH: curve.LogH(h), Density: curve.Density(0.1 + max(0, g*(h+2.3)))})
		}
		f.Curves = append(f.Curves, c)
	}
	out, err := curve.Evaluate(f, curve.Request{Box: box})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestRefine(t *testing.T) {
	r := recipe(sequence.Hangers, 4, warmed(step(sequence.Develop, 0)), step(sequence.Fix, 4*mins))
	r.Title = FilmTestTitle + "Plover 80"
	r.Film.ExposureIndex = 40
	r.Load.Names = []string{"no corner", "one corner", "two corners", "three corners"}
	r.Steps[0].TakeOut, r.Steps[0].Bath = []sequence.Elapsed{4 * mins, 7 * mins, 10 * mins, 16 * mins}, "developer"
	before := fmt.Sprintf("%+v", r)
	box, _ := curve.ParseMetered("EI 50 +4")
	found := Found{Results: results(t, &box), Wanted: curve.WantedFor(0.6), From: "session s, readings x.csv", Day: evening}
	got, err := Refine(r, found)
	if err != nil {
		t.Fatal(err)
	}
	if after := fmt.Sprintf("%+v", r); after != before {
		t.Errorf("the recipe that it started from was changed: %s", after)
	}
	st := got.Steps[0]
	// N: t = -ln(1 - 0.6/1.2)/0.1 = 6.93 min, to five seconds (straight curves have an
	// average gradient next to their slope)
	if st.Time != 0 || st.TakeOut != nil || len(st.Times) < 3 || st.Temperature.Coefficient != 2 {
		t.Fatalf("develop %+v", st)
	}
	for i, n := range st.Times {
		if n.Name == "N" && (n.Time-416*sec).Abs() > 8*sec || n.Time%(5*sec) != 0 || i > 0 && n.Time <= st.Times[i-1].Time {
			t.Errorf("times %+v", st.Times)
		}
	}
	if g := st.Growth; g == nil || math.Abs(g.Limit-1.2) > 0.03 || math.Abs(g.K-0.1) > 0.005 || g.From != found.From ||
		g.Film != "Plover 80" || g.Developer != "part A 1 + water 60" || g.Vessel != sequence.Hangers {
		t.Errorf("growth %+v", st.Growth)
	}
	// the meter asked for log H -1.204; the speed point is near -2.3 + 0.1/0.6 = -2.13:
	// 0.93 below, so the film is 10^-0.07 slower... 50 x 10^(-2.204 + 2.13) = 42: 40
	if got.Film.ExposureIndex != 40 || strings.Contains(got.About, "not measured") {
		t.Errorf("index %g, %q", got.Film.ExposureIndex, got.About)
	}
	if got.Load.Names != nil {
		t.Errorf("sheets %q: they told those of the test apart", got.Load.Names)
	}
	if got.Title != "Plover 80, tested 2026-11-25" || !strings.Contains(got.About, "session s, readings x.csv") {
		t.Errorf("title %q, about %q", got.Title, got.About)
	}
	if p, err := sequence.Resolve(got, sequence.Conditions{Development: "N"}); err != nil || len(p.Cautions) > 0 && p.Cautions[0].Code == "curve-elsewhere" {
		t.Errorf("%+v, %v; expected a plan without curve-elsewhere", p.Cautions, err)
	}
	kept := got
	kept.Load.Names = []string{"3A", "3B", "4A", "4B"}
	if kept, err = Refine(kept, found); err != nil || len(kept.Load.Names) != 4 {
		t.Errorf("sheets %q, %v; expected those of a recipe that is no film test", kept.Load.Names, err)
	}
	named := r
	named.Title = "Plover 80, film test with four times"
	if named, err = Refine(named, found); err != nil || named.Title != "Plover 80, tested 2026-11-25" {
		t.Errorf("title %q, %v", named.Title, err)
	}
	again, err := Refine(got, found)
	if err != nil || again.Title != got.Title {
		t.Errorf("refined again it is %q, %v", again.Title, err)
	}
}

func TestRefineSaysWhatItDoesNotKnow(t *testing.T) {
	r := recipe(sequence.Hangers, 2, step(sequence.Develop, 8*mins), step(sequence.Fix, 4*mins))
	r.Film.ExposureIndex = 40
	found := Found{Results: results(t, nil), Wanted: curve.WantedFor(0.6), Day: evening,
		Tested: &Tested{Film: "Plover 80", Developer: "stock 1", Vessel: sequence.Drum}}
	got, err := Refine(r, found)
	if err != nil || got.Film.ExposureIndex != 40 || !strings.Contains(got.About, "not measured") {
		t.Errorf("index %g, %q, %v", got.Film.ExposureIndex, got.About, err)
	}
	if g := got.Steps[0].Growth; g.Vessel != sequence.Drum || g.Developer != "stock 1" {
		t.Errorf("growth %+v; expected it to belong to where it was tested", g)
	}
	if got.Load.Vessel != sequence.Drum || !strings.Contains(got.Title, "in a drum") || !strings.Contains(got.About, "in a drum, as in the test") {
		t.Errorf("%s: %s, %s; expected the drum that was used", got.Load.Vessel, got.Title, got.About)
	}
	r.Title, r.Load.Vessel, r.Steps[0].Agitate = "Plover 80, in open trays", sequence.Tray, sequence.Agitation{Mode: sequence.Shuffle}
	pattern := sequence.Agitation{Mode: sequence.Pattern, Initial: mins, For: 10 * sec, Every: mins}
	found.Tested = &Tested{Film: "Plover 80", Vessel: sequence.Hangers, Agitate: pattern}
	got, err = Refine(r, found)
	if err != nil || got.Load.Vessel != sequence.Hangers || !reflect.DeepEqual(got.Steps[0].Agitate, pattern) || got.Title != "Plover 80, in hangers, tested 2026-11-25" {
		t.Errorf("%s %q %+v, %v; expected what was done in the session", got.Load.Vessel, got.Title, got.Steps[0].Agitate, err)
	}
	if p, err := sequence.Resolve(got, sequence.Conditions{}); err != nil || slices.ContainsFunc(p.Cautions, func(c sequence.Caution) bool { return c.Code == "curve-elsewhere" }) {
		t.Errorf("%v, %+v", err, p.Cautions)
	}
	r.Load.Vessel, r.Steps[0].Agitate = sequence.Hangers, sequence.Agitation{}
	found.Tested, found.Film = nil, "Plover 200"
	if got, err = Refine(r, found); err != nil || got.Steps[0].Growth.Film != "Plover 200" {
		t.Errorf("%+v, %v; expected the film that was tested", got.Steps[0].Growth, err)
	}
	for name, bad := range map[string]func(*sequence.Recipe, *Found){
		"beyond the test": func(_ *sequence.Recipe, f *Found) { f.Wanted = curve.WantedFor(1.1) },
		"nothing wanted":  func(_ *sequence.Recipe, f *Found) { f.Wanted = curve.Wanted{} },
		"no growth":       func(_ *sequence.Recipe, f *Found) { f.Results = curve.Results{} },
		"no developer":    func(r *sequence.Recipe, _ *Found) { r.Steps = r.Steps[1:] },
	} {
		r, f := r, found
		bad(&r, &f)
		if _, err := Refine(r, f); err == nil {
			t.Errorf("%s: a recipe was made", name)
		}
	}
}

// testedSession is the session of a film test as the notebook has it.
func testedSession(t testing.TB, store journal.Store, id string) Session {
	t.Helper()
	s, err := Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
