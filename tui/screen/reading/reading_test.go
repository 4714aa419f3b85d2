package reading

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/recordtest"
)

// hall is a session of four sheets, and what was kept.
type hall struct {
	session notebook.Session
	kept    []curve.Readings
	files   []densities.ReadingsFile
	tablets []densities.Tablet
	err     error
}

func (h *hall) Sessions() []notebook.Summary          { return []notebook.Summary{h.session.Summary} }
func (h *hall) Read(string) (notebook.Session, error) { return h.session, nil }
func (h *hall) Densities() []densities.ReadingsFile   { return h.files }
func (h *hall) Tablets() []densities.Tablet           { return h.tablets }
func (h *hall) NameDensities(film string) string      { return "2026-11-30-" + film }
func (h *hall) KeepDensities(_ string, r *curve.Readings) error {
	h.kept = append(h.kept, *r)
	return h.err
}

func env() screen.Env {
	return screen.Env{Now: func() time.Time { return time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC) }}
}

// tested is a film test of four sheets whose bath was found a little warm: the last one had 13:14
// instead of 13:00.
func tested(t testing.TB) notebook.Session {
	t.Helper()
	return recordtest.FilmTest(t, []time.Duration{5 * time.Minute, 7 * time.Minute, 9*time.Minute + 30*time.Second, 13 * time.Minute}, 14*time.Second)
}

// typed is the densities of the invented film Plover 200 as they are typed: for each sheet base
// plus fog, then from the densest step on.
func typed(t testing.TB) (list []string) {
	t.Helper()
	rows := drive.Table(t, "../../../chem/curve/testdata/plover-200.csv")
	for k := 1; k <= 4; k++ {
		list = append(list, rows[1][k])
		for i := len(rows) - 1; i > 1; i-- {
			list = append(list, rows[i][k])
		}
	}
	return list
}

// on is the entry of the four sheets, with so many values typed.
func on(t testing.TB, h *hall, n int) *drive.Desk {
	t.Helper()
	tablet, err := curve.NominalTablet(curve.DefaultSteps, curve.DefaultStep)
	if err != nil {
		t.Fatal(err)
	}
	r := curve.Readings{Film: "Plover 200", Tablet: tablet}
	for k, m := range []float64{5, 7, 9.5, 13} {
		r.Add(time.Duration(m*float64(time.Minute)), k+1)
	}
	d := drive.On(t, New(h, densities.ReadingsFile{Name: "x", Readings: r}))
	for _, x := range typed(t)[:n] {
		d.Type(x).Press("enter").Done()
	}
	return d
}

func entered(d *drive.Desk) Model { return d.Screen.(Model) }

// Step after step and sheet after sheet, each kept before the next; at last the curves.
func TestStepAfterStep(t *testing.T) {
	h := &hall{}
	d := on(t, h, 0)
	d.Shows("base plus fog").Size(196, 40).Shows("step 1: the tablet's clearest part")
	d = on(t, h, 40).Golden("entry")
	d.Fits("▌", "density")
	d.Size(116, 34).Golden("entry-wide")
	blank, at := d.Text(), func(text string) int {
		return strings.Count(text[:strings.Index(text, "sheet 2, 7:00")], "\n")
	}
	field := strings.Count(blank[:strings.Index(blank, "▌")], "\n")
	if n := at(blank) - field; n > 2 {
		t.Errorf("%d rows from the field to the sheet", n)
	}
	if typing := on(t, h, 40).Size(116, 34).Type("0.1").Text(); at(typing) != at(blank) {
		t.Errorf("what stands beneath moves when one types\n%s", typing)
	}
	h.kept = nil
	d = on(t, h, 88).Says("last step of the last sheet")
	if last := h.kept[len(h.kept)-1]; len(h.kept) != 88 || last.Sheets[2].Count() != 21 || *last.Sheets[0].Base != 0.17 || *last.Sheets[0].Steps[0] != 1.22 {
		t.Fatalf("%d kept, the last %+v", len(h.kept), last)
	}
	d.Press("c")
	if a := drive.Asked[screen.OpenCurves](d); a.File.Name != "x" || a.File.Readings.Sheets[3].Count() != 21 {
		t.Errorf("%+v", a.File)
	}
}

// Keys that come while a value is on its way to the disk wait for it; none is lost.
func TestKeysWaitForTheDisk(t *testing.T) {
	h := &hall{}
	d := on(t, h, 0)
	d.Type("17").Press("enter", "enter") // asked about, then taken
	d.Type("1.22").Press("enter").Type("1.1").Press("enter", "esc")
	if len(h.kept) != 0 || len(d.Actions) != 1 {
		t.Fatalf("%d kept, %+v", len(h.kept), d.Actions)
	}
	if !entered(d).Unsaved() {
		t.Error("leaving now would lose something")
	}
	d.Done()
	drive.Asked[screen.Back](d)
	if n := len(h.kept); n != 3 || *h.kept[2].Sheets[0].Steps[1] != 1.1 || *h.kept[0].Sheets[0].Base != 0.17 {
		t.Fatalf("%d kept: %+v", n, h.kept)
	}
}

// What is not kept is said, and each entry tries again.
func TestAKeepingThatFails(t *testing.T) {
	h := &hall{err: errors.New("the disk is full")}
	d := on(t, h, 1).Says("Not kept: the disk is full")
	if d.Screen.About().Right != "NOT KEPT" {
		t.Error("the head says nothing")
	}
	h.err = nil
	d.Type("1.22").Press("enter").Done()
	if entered(d).Unsaved() || d.Screen.About().Right == "NOT KEPT" {
		t.Error("it is kept now")
	}
}

// Readings go on where a step is still to be read.
func TestReadingGoesOn(t *testing.T) {
	d := on(t, &hall{}, 30)
	m := New(&hall{}, densities.ReadingsFile{Readings: entered(d).r})
	if m.col != 1 || m.row != 7 {
		t.Errorf("sheet %d, step %d", m.col+1, m.row+1)
	}
}

// A density that turns the curve round is asked about; enter again keeps it, and the slip is
// named. It is left out, and undone.
func TestSlipsAreAskedAbout(t *testing.T) {
	d := on(t, &hall{}, 12)
	d.Type("1.9").Press("enter").Says("1.90 is above step")
	d.Press("enter").Done().Says("Step 12, 1.90, does not fit its neighbours")
	d.Press("up").Shows("does not fit").Golden("slip")
	d.Press("x").Done().Says("is left out")
	d.Press("up").Hides("does not fit")
	d.Press("u").Done().Says("Undone: step 12")
	if x := *(func() **curve.Density { m := entered(d); return m.cell() }()); x == nil || *x != 1.9 {
		t.Errorf("%v", x)
	}
	d.Press("u").Done()
	d.Type("0.32").Press("backspace").Type("a")
	if v := entered(d).typed.Value(); v != "0.3" {
		t.Errorf("typed %q", v)
	}
	d.Press("esc")
	if entered(d).typed.Value() != "" || len(d.Actions) > 1 {
		t.Errorf("esc forgets what is typed first: %+v", d.Actions)
	}
	d.Type("7").Press("enter", "enter", "enter").Done()
	d.Type("9..9").Press("enter").Shows("9..9")
	if entered(d).typed.Fault == "" {
		t.Error("9..9 is no density")
	}
}

// A value that is below one with less light is asked about too; typing on asks anew, and the
// screen before an entry stays as it was.
func TestAsksAnew(t *testing.T) {
	d := on(t, &hall{}, 12)
	before := entered(d)
	d.Press("up", "up").Type("0.1").Press("enter").Says("0.10 is below step 11, 0.44, which had less light")
	d.Press("backspace").Type("2").Press("enter").Says("0.20 is below step 11")
	d.Press("enter").Done()
	if x := *before.r.Sheets[0].Steps[9]; x == 0.2 {
		t.Error("the screen before was changed")
	}
}

// A strip that is typed from its other end is asked about, and one key turns it round.
func TestStripFromItsOtherEnd(t *testing.T) {
	d := on(t, &hall{}, 1)
	list, asked := typed(t)[:22], false
	for i := len(list) - 1; i > 0; i-- {
		d.Type(list[i]).Press("enter")
		if entered(d).confirmed {
			d.Press("enter") // kept as it is
		}
		d.Done()
	}
	for _, a := range d.Actions {
		m, ok := a.(screen.Message)
		asked = asked || ok && strings.Contains(m.Text, "Was this strip read from its other end?")
	}
	if !asked || !entered(d.Press("left")).reversed {
		t.Fatal("not noticed")
	}
	d.Shows("This strip falls").Golden("reversed")
	d.Press("r").Done().Says("turned round").Hides("This strip falls")
	if m := entered(d); m.reversed || fmt.Sprintf("%.2f", float64(*m.r.Sheets[0].Steps[0])) != list[1] {
		t.Errorf("step 1 is %.2f; expected %s", float64(*m.r.Sheets[0].Steps[0]), list[1])
	}
}

// The form says at its field what is missing; with a session the times are the sheets' own.
func TestSetup(t *testing.T) {
	h := &hall{session: tested(t)}
	d := drive.On(t, NewSetup(h, nil)).Done()
	d.Press("pgdown", "enter").Shows("no developing time").Golden("setup-fault")
	d.Fits("▌")
	d.Press("up", "up", "right").Done()
	d.Shows("5:00 7:00 9:30 13:00").Size(116, 30).Shows("13:14").Golden("setup-wide")
	d.Size(76, 18).Press("down", "down", "down", "right", "down", "right", "down", "down", "ctrl+u").Type("3").Press("pgdown", "enter")
	d.Shows("3 steps")
	d.Press("ctrl+u").Type("11").Press("down", "ctrl+u").Type("x").Press("pgdown", "enter").Shows(`"x" is no number`)
	d.Press("ctrl+u").Type("0,3").Press("down").Type("EI 200 +3").Press("pgdown", "enter").Done()
	a := drive.Asked[screen.OpenReading](d)
	r := a.File.Readings
	if a.File.Name != "2026-11-30-Plover 200" || !r.Stops || r.Channel != curve.Blue || len(r.Tablet) != 11 || len(r.Sheets) != 4 ||
		r.Sheets[3].Time != 13*time.Minute+14*time.Second || r.Sheets[3].Sheet != 4 || r.Session != h.session.ID || r.Metered != "EI 200 +3" {
		t.Fatalf("%+v", a.File)
	}
}

// A session asked for is chosen from the first, and a calibrated tablet has its own steps.
func TestSetupOfASession(t *testing.T) {
	s := tested(t)
	h := &hall{session: s, tablets: []densities.Tablet{{Name: "mine", Steps: []curve.Density{0.05, 0.2, 0.4, 0.6, 0.8}}}}
	h.session.Rehearsal, h.session.Ended = true, nil // it is offered all the same, since it was asked for
	d := drive.On(t, NewSetup(h, &s)).Done().Shows("2026-11-29 Film test: Plover 200")
	d.Press("down", "down", "down", "down", "down", "right").Shows("mine")
	d.Press("pgdown", "enter").Done()
	if r := drive.Asked[screen.OpenReading](d).File.Readings; len(r.Tablet) != 5 || r.Session != s.ID {
		t.Errorf("%+v", r)
	}
	d = drive.On(t, NewSetup(&hall{session: tested(t)}, nil)).Done()
	d.Press("right")
	late := d.Pending()[0]
	d.Press("right").Send(late()).Hides("5:00 7:00") // of a session that is no longer chosen
	d.Press("down", "down").Type("5m").Press("esc")
	drive.Asked[screen.Back](d)
}

// The list: none, some, one that cannot be read.
func TestList(t *testing.T) {
	h := &hall{}
	d := drive.On(t, NewList(h, env())).Shows("being read").Done().Golden("list-empty")
	d.Press("enter")
	if len(d.Actions) != 0 {
		t.Fatalf("%+v", d.Actions)
	}
	d.Press("n")
	drive.Asked[screen.OpenReadingSetup](d)
	r := entered(on(t, h, 30)).r
	h.files = []densities.ReadingsFile{{Name: "2026-11-30-plover", Readings: r}, {Name: "2026-11-28-tern", Err: errors.New("line 3: no number")}}
	d = drive.On(t, NewList(h, env())).Done().Golden("list").Fits("▌")
	d.Press("enter")
	if a := drive.Asked[screen.OpenReading](d); a.File.Name != "2026-11-30-plover" {
		t.Errorf("%+v", a)
	}
	d.Press("c")
	drive.Asked[screen.OpenCurves](d)
	d.Press("down", "enter").Says("line 3: no number")
	h.files = append([]densities.ReadingsFile{{Name: "2026-12-01-new"}}, h.files...)
	s, cmd := d.Screen.(List).Renew()
	d.Screen = s
	d.Send(cmd())
	if at := d.Screen.(List).at; at != 0 {
		t.Errorf("at %d: the new readings are the first", at)
	}
}

// A picture is read where it can be judged: not where all screens are red, which says why.
func TestPicturesAreNotForRed(t *testing.T) {
	d := drive.On(t, NewList(&hall{}, env())).Done().Press("p")
	drive.Asked[screen.OpenScan](d)
	red := env()
	red.RedDesk = true
	d = drive.On(t, NewList(&hall{}, red)).Done().Press("p")
	if a := drive.Asked[screen.Message](d); !a.Fault || !strings.Contains(a.Text, "in red") {
		t.Errorf("%+v", a)
	}
	for _, k := range d.Screen.About().Foot {
		if k.Help().Key == "p" {
			t.Error("the foot offers a picture in red")
		}
	}
}

// Readings of a picture say where they come from and how sure each is; what is typed over one is not its.
func TestReadingsOfAPicture(t *testing.T) {
	h := &hall{}
	tablet, _ := curve.NominalTablet(5, 0.15)
	r := curve.Readings{Film: "Plover 80", Tablet: tablet, Remarks: []string{"# read off a picture: wad.png, sha256 0123456789ab, 2026-11-30"}}
	r.Add(5*time.Minute, 0)
	for i := range tablet {
		x := curve.Density(1.5 - 0.1*float64(i))
		r.Sheets[0] = r.Sheets[0].Put(i, &x, 0.004)
	}
	d := drive.On(t, New(h, densities.ReadingsFile{Name: "x", Readings: r})).Press("down", "down").Shows("1.40 ±0.004").Shows("read off wad.png")
	d.Type("1.41").Press("enter").Done()
	if s := h.kept[0].Sheets[0]; s.Error(1) != 0 || s.Error(0) != 0.004 {
		t.Errorf("errors %v after typing", s.Errors)
	}
	d.Press("u").Done()
	if s := h.kept[1].Sheets[0]; s.Error(1) != 0.004 {
		t.Errorf("errors %v after undo", s.Errors)
	}
}
