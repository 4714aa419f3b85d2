package curves

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/widget"
)

// hall is the shipped recipes, one session, and what was written.
type hall struct {
	session notebook.Session
	wrote   *sequence.Recipe
	err     error
	own     *curve.OwnSessions
}

func (h *hall) OwnSessions(...string) *curve.OwnSessions { return h.own }

func (h *hall) Recipes() []recipes.Entry                           { return recipes.ShippedEntries() }
func (h *hall) Recipe(name string) (sequence.Recipe, error)        { return recipes.Find(name, "") }
func (h *hall) Sessions() []notebook.Summary                       { return nil }
func (h *hall) Read(id string) (notebook.Session, error)           { return h.session, nil }
func (h *hall) Densities() []densities.ReadingsFile                { return nil }
func (h *hall) KeepDensities(name string, r *curve.Readings) error { return nil }
func (h *hall) KeepRecipe(r sequence.Recipe) (string, error) {
	h.wrote = &r
	return "plover-refined", h.err
}

var noon = time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC)

func env() screen.Env { return screen.Env{Now: func() time.Time { return noon }} }

// plover is the readings of the invented film Plover 200, made by chem/curve/testdata/plover.py to
// need 5:50 for a gradient of 0.58.
func plover(t testing.TB) curve.Readings {
	t.Helper()
	rows := drive.Table(t, "../../../chem/curve/testdata/plover-200.csv")
	tablet, err := curve.NominalTablet(curve.DefaultSteps, curve.DefaultStep)
	if err != nil {
		t.Fatal(err)
	}
	r := curve.Readings{Film: "Plover 200", Tablet: tablet}
	for k, m := range []float64{5, 7, 9.5, 13} {
		r.Add(time.Duration(m*float64(time.Minute)), k+1)
		for i, row := range rows[1:] {
			a, err := curve.ParseDensity(row[k+1], false)
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				r.Sheets[k].Base = &a.Density
			} else {
				r.Sheets[k].Steps[len(tablet)-i] = &a.Density
			}
		}
	}
	return r
}

func on(t testing.TB, h *hall, r curve.Readings) *drive.Desk {
	t.Helper()
	m, err := New(h, env(), densities.ReadingsFile{Name: "2026-11-30-plover-200", Readings: r})
	if err != nil {
		t.Fatal(err)
	}
	return drive.On(t, m)
}

// The answer first; until it is worked out none is shown.
func TestTheAnswer(t *testing.T) {
	d := on(t, &hall{}, plover(t))
	d.Shows("being worked out").Golden("waiting")
	d.Done().Golden("plot")
	got := d.Screen.(Model).found
	if got.out.Target == nil || !(got.out.Target.Time > 290 && got.out.Target.Time < 420) {
		t.Fatalf("target %+v; the film was made to need 5:50", got.out.Target)
	}
	if first := strings.Split(d.Text(), "\n")[0]; !strings.HasPrefix(first, "Develop 6:15 for N   5:") {
		t.Errorf("first row %q", first)
	}
	for _, end := range []string{"5:00", "7:00", "9:30", "13:00", "density", "relative log exposure   o shadow   x highlight", "paper"} {
		d.Shows(end)
	}
	d.Fits()
	d.Press("down").Golden("figures").Fits("▌", "Develop")
	d.Size(116, 34).Golden("wide").Shows("growth").Press("tab").Hides("growth")
}

// Beside the plot each field's explanation stands whole, and the foot of an 80-column window
// has the way back, also once a recipe is written.
func TestNothingIsCutUnseen(t *testing.T) {
	d := on(t, &hall{}, plover(t)).Done().Size(116, 34)
	for range d.Screen.(Model).form.Fields {
		f := d.Screen.(Model).form.Form
		means := f.Fields[f.At].Means
		d.Shows(means[strings.LastIndex(means, " ")+1:])
		d.Press("down")
	}
	m := d.Screen.(Model)
	for _, written := range []string{"", "plover-refined"} {
		m.written = written
		if foot := ansi.Strip(widget.Keys(76, m.About().Foot...)); !strings.Contains(foot, "esc back") || !strings.Contains(foot, "w write") {
			t.Errorf("%q", foot)
		}
	}
}

// The plot takes six tenths of the height at least.
func TestThePlotIsHigh(t *testing.T) {
	d := on(t, &hall{}, plover(t)).Done()
	for _, w := range []int{60, 76, 116, 196} {
		for h := 10; h <= 56; h += 2 {
			high := 0
			for row := range strings.SplitSeq(d.Screen.View(w, h), "\n") {
				if strings.ContainsAny(row, "│┤└") || strings.Contains(row, "log exposure") {
					high++
				}
			}
			if float64(high) < 0.6*float64(h) {
				t.Errorf("%dx%d: the plot has %d rows", w, h, high)
			}
		}
	}
}

// Another gradient blanks what was worked out, until its own is there; what comes late of the
// one before is nothing.
func TestAnotherTarget(t *testing.T) {
	d := on(t, &hall{}, plover(t))
	late := d.Pending()
	d.Press("down", "enter", "ctrl+u").Type("0.70").Press("enter")
	d.Shows("being worked out")
	d.Send(late[0]())
	d.Shows("being worked out")
	d.Done().Shows("0.70")
	if g := d.Screen.(Model).found.gradient; g != 0.70 {
		t.Errorf("gradient %v", g)
	}
	d.Press("enter", "ctrl+u").Type("soon").Press("enter").Shows(`"soon" is no number`).Hides("6:15")
	d.Press("enter", "ctrl+u").Type("1.05 2.2 0.4").Press("enter").Done().Size(76, 40).Shows("Develop 6:1")
}

// A published time is answered in a sentence.
func TestPublishedTime(t *testing.T) {
	d := on(t, &hall{}, plover(t)).Done().Size(76, 40)
	d.Press("down", "down", "enter").Type("9m").Press("enter").Done()
	d.Shows("9:00 would give a gradient of").Shows("too much: right for a subject")
	d.Press("enter", "ctrl+u").Type("x").Press("enter").Done().Hides("9:00 would")
	m := d.Screen.(Model)
	if m.form.field(fieldPublished).Fault == "" {
		t.Error("x is no time")
	}
}

// Where no session says how the sheets were developed, the person is asked; nothing is
// taken silently.
func TestTheRecipeToStartFromIsAsked(t *testing.T) {
	h := &hall{}
	d := on(t, h, plover(t)).Done()
	d.Press("p").Says("w writes the recipe first")
	d.Press("w").Done().Says("Which recipe were the sheets developed by?")
	if h.wrote != nil {
		t.Fatal("a recipe was written from one that nobody chose")
	}
	d.Shows("←→ chooses it")
	d.Press("right", "w").Done().Says("Written: ")
	if h.wrote == nil || h.wrote.Film.Name != "Plover 200" && !strings.Contains(h.wrote.About, "readings") {
		t.Fatalf("%+v", h.wrote)
	}
	d.Press("p")
	if a := drive.Asked[screen.OpenPlan](d); a.Name != "plover-refined" {
		t.Errorf("%+v", a)
	}
	h.err = errors.New("the disk is full")
	d.Press("w").Done().Says("the disk is full")
}

// With a session its own recipe is the one, by the times that the sheets really had.
func TestTheSessionsRecipe(t *testing.T) {
	p := sessiontest.StarterPlan(t, "plover-film-test", sequence.Conditions{})
	h := &hall{session: notebook.Session{Summary: notebook.Summary{Head: notebook.Head{ID: "2026-11-29T2000-plover"}}, Plan: p, Steps: make([]notebook.StepDone, len(p.Steps))}}
	readings := plover(t)
	readings.Session, readings.Film = h.session.ID, p.Recipe.Film.Name
	d := on(t, h, readings).Done()
	d.Press("w").Done().Says("Written: ")
	if h.wrote == nil || !strings.Contains(fmt.Sprintf("%+v", *h.wrote), h.session.ID) {
		t.Errorf("no word of the session: %+v", h.wrote)
	}
}

// The times are those that the session's sheets really had, as the command has them, not those that were planned.
func TestTheTimesThatSheetsReallyHad(t *testing.T) {
	p := sessiontest.StarterPlan(t, "plover-film-test", sequence.Conditions{})
	s := notebook.Session{Summary: notebook.Summary{Head: notebook.Head{ID: "2026-11-29T2000-plover"}}, Plan: p}
	s.Steps = make([]notebook.StepDone, len(p.Steps))
	for k, m := range []float64{5, 7, 9.5, 13} {
		of := time.Duration(m * float64(time.Minute))
		s.Steps[notebook.FilmDeveloper(p)].Sheets = append(s.Steps[notebook.FilmDeveloper(p)].Sheets,
			notebook.SheetInStep{Sheet: k + 1, Out: of, Developed: &engine.Development{Sheet: k + 1, Done: of + of/20, Of: of}})
	}
	readings := plover(t)
	readings.Session = s.ID
	d := on(t, &hall{session: s}, readings).Done().Size(76, 60)
	d.Shows("7:21").Hides(" 7:00 ")
	d.Press("tab").Shows("7:21").Shows("sheet 2: planned 7:00, actual 7:21")
}

// Slips are named by sheet and step, a strip from its other end is asked about.
func TestSlipsAreNamed(t *testing.T) {
	r := plover(t)
	off := *r.Sheets[1].Steps[8] + 0.3
	r.Sheets[1].Steps[8] = &off
	r = r.TurnRound(3)
	d := on(t, &hall{}, r).Done().Press("tab").Size(76, 60)
	d.Shows("7:00, step 9 does not fit its neighbours").Shows("13:00 falls with exposure")
}

// One sheet alone gives a time with growth assumed, and says so; none is no screen.
func TestFewSheets(t *testing.T) {
	r := plover(t)
	r.Sheets = r.Sheets[1:2]
	on(t, &hall{}, r).Done().Shows("from one sheet alone").Press("tab").Size(76, 40).Shows("Assumed: the sheet had reached half of its limit")
	same := plover(t)
	same.Sheets = same.Sheets[:2]
	same.Sheets[1].Time = same.Sheets[0].Time
	on(t, &hall{}, same).Done().Shows("it takes sheets of two different developing times")
	r.Sheets = nil
	if _, err := New(&hall{}, env(), densities.ReadingsFile{Readings: r}); err == nil {
		t.Error("curves of nothing")
	}
}

// Recipes for the film are offered first; what gives no time is never written.
func TestNothingWrongIsWritten(t *testing.T) {
	h := &hall{}
	r := plover(t)
	r.Film = "Tern 125"
	d := on(t, h, r).Done()
	if got := d.Screen.(Model).starts[0].title; !strings.Contains(got, "Tern 125") {
		t.Errorf("first of all %q", got)
	}
	d.Press("down", "down", "down", "down", "right").Press("up", "up", "up").Press("enter", "ctrl+u").Type("0.95").Press("enter").Done()
	d.Press("w").Done()
	if m := drive.Asked[screen.Message](d); h.wrote != nil || !m.Fault {
		t.Errorf("%+v, %+v", h.wrote, m)
	}
}

// Smoothing evens the curves out; a metered tablet gives an exposure index.
func TestSmoothedAndMetered(t *testing.T) {
	r := plover(t)
	r.Metered = "EI 200 +3"
	d := on(t, &hall{}, r).Done().Shows("EI 250")
	d.Press("down", "down", "down", "right").Done()
	smooth := d.Screen.(Model).found.out.Curves[1].Curve
	h := r.Tablet[10]
	at, _ := smooth.At(curve.LogH(-h))
	if at == *r.Sheets[1].Steps[10] {
		t.Errorf("the smoothed curve goes through the reading %v", at)
	}
}

// Letters belong to a field while something is typed; esc leaves it, then the screen.
func TestEscape(t *testing.T) {
	d := on(t, &hall{}, plover(t)).Done()
	d.Press("down", "enter").Type("w")
	if !d.Screen.About().Typing || len(d.Actions) != 0 {
		t.Fatalf("%+v", d.Actions)
	}
	d.Press("esc").Shows("Develop 6:15")
	if len(d.Actions) != 0 {
		t.Fatalf("left too soon: %+v", d.Actions)
	}
	d.Press("esc")
	drive.Asked[screen.Back](d)
}

// Where enough sessions were read, the figures say that times go by them.
func TestOwnSessionsAreSaid(t *testing.T) {
	var film []curve.SessionSheet
	for i, g := range []float64{0.5, 0.6, 0.7, 0.55, 0.65} {
		film = append(film, curve.SessionSheet{Sheet: curve.Sheet{Time: 8 * time.Minute, Gradient: g}, Session: fmt.Sprint(i)})
	}
	own := curve.ScatterOfSessions([][]curve.SessionSheet{film})
	on(t, &hall{own: own}, plover(t)).Done().Size(116, 60).Shows("from 5 of your")
	on(t, &hall{}, plover(t)).Done().Size(116, 60).Shows("which is usual")
}
