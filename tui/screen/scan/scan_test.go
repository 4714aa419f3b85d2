package scan

import (
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
	"example.org/wetside/tui/screen/recordtest"
	"example.org/wetside/tui/widget"
)

// pictures is where the pictures lie that chem/scan/testdata/pictures.py made: a tablet of 11 steps of
// 0.2, two strips.
const pictures = "../../../chem/scan/testdata"

// shelf hands them out, and holds what was kept.
type shelf struct {
	session notebook.Session
	asked   []string // folders
	kept    []curve.Readings
	full    bool // the disk
}

func (s *shelf) Pictures(folder string) densities.PictureFolder {
	s.asked = append(s.asked, folder)
	if folder == "elsewhere" {
		return densities.PictureFolder{Path: folder, Err: errors.New("there is no such folder")}
	}
	return densities.PictureFolder{Path: pictures, Pictures: []string{"negatives.png", "panel.png"}, Tablets: []densities.Tablet{{Name: "mine", Steps: tablet()}}}
}

// tablet is that of the picture, densest step first.
func tablet() (list []curve.Density) {
	for i := range 11 {
		list = append(list, curve.Density(math.Round(100*(2.05-0.2*float64(i)))/100))
	}
	return list
}

func (s *shelf) OpenPicture(path string) (*scan.Picture, densities.PictureFile, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, densities.PictureFile{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, densities.PictureFile{}, err
	}
	p, err := scan.Decode(io.NewSectionReader(f, 0, info.Size()))
	return p, densities.PictureFile{Name: filepath.Base(path), Hash: "85a5062feb9a"}, err
}

func (s *shelf) Sessions() []notebook.Summary          { return []notebook.Summary{s.session.Summary} }
func (s *shelf) Read(string) (notebook.Session, error) { return s.session, nil }

func (s *shelf) NameDensities(film string) string { return "2026-11-30-plover" }

func (s *shelf) KeepDensities(name string, r *curve.Readings) error {
	if s.full {
		return errors.New("the disk is full")
	}
	s.kept = append(s.kept, *r)
	return nil
}

func env() screen.Env {
	return screen.Env{Now: func() time.Time { return time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC) }}
}

// shown is the picture with the strips found by the calibrated tablet.
func shown(t testing.TB, s *shelf) *drive.Desk {
	t.Helper()
	d := drive.On(t, New(s, env())).Done()
	return d.Press("down", "down", "right", "pgdown", "enter").Done()
}

func looking(d *drive.Desk) Model { return d.Screen.(Model) }

// From the form to readings, with errors and origin; times are asked for.
func TestFromAPictureToReadings(t *testing.T) {
	s := &shelf{}
	d := shown(t, s).Shows("strip 2").Shows("no time yet").Golden("found")
	d.Press("enter").Shows("developed for").Type("x").Press("enter").Shows("cannot read").Press("backspace").Type("5m").Press("enter")
	d.Press("enter").Type("10m").Press("enter", "enter").Done()
	if a := drive.Asked[screen.OpenReading](d); len(s.kept) != 1 || a.File.Name != "2026-11-30-plover" {
		t.Fatalf("%d kept, %+v", len(s.kept), a)
	}
	r := s.kept[0]
	// pictures.py's logistic at the tablet's ends
	for k, want := range [][2]float64{{1.387, 0.477}, {1.725, 0.581}} {
		sheet := r.Sheets[k]
		if math.Abs(float64(*sheet.Steps[0])-want[0]) > 0.02 || math.Abs(float64(*sheet.Steps[10])-want[1]) > 0.02 || sheet.Error(3) <= 0 || sheet.Error(3) > 0.02 {
			t.Errorf("sheet %d: %.3f to %.3f, error %.3f; expected %v", k+1, float64(*sheet.Steps[0]), float64(*sheet.Steps[10]), float64(sheet.Error(3)), want)
		}
	}
	if r.Sheets[0].Time != 5*time.Minute || r.Sheets[1].Time != 10*time.Minute || r.Tablet[0] != 0.05 {
		t.Errorf("%v, %v, tablet from %g", r.Sheets[0].Time, r.Sheets[1].Time, r.Tablet[0])
	}
	if origins := densities.Origins(r); !slices.Equal(origins, []string{"negatives.png, sha256 85a5062feb9a, 2026-11-30"}) {
		t.Errorf("from %q", origins)
	}
}

// The session that developed the sheets gives film, times and numbers; the strips have the times as they
// were. A time that it has no sheet of is said, and nothing is kept.
func TestTheSheetsOfASession(t *testing.T) {
	s := &shelf{session: recordtest.FilmTest(t, []time.Duration{5 * time.Minute, 10 * time.Minute}, 14*time.Second)}
	d := drive.On(t, New(s, env())).Done().Press("down", "down", "right", "down", "down", "down", "right").Done().Shows("2026-11-29 Film test: Plover 200").Shows("Plover 200").Shows("5:00 10:00")
	d.Press("pgdown", "enter").Done().Shows("strip 2  10:00").Press("tab").Shows("sheet 2, 10:14")
	d.Press("t", "ctrl+u").Type("6m").Press("enter", "enter").Done()
	if a := drive.Asked[screen.Message](d); !a.Fault || !strings.Contains(a.Text, "expected one of 5:00, 10:00") || len(s.kept) > 0 {
		t.Errorf("%+v", a)
	}
	d.Press("t", "ctrl+u").Type("5m").Press("enter", "tab", "tab", "t", "ctrl+u").Type("10m").Press("enter", "enter").Done() // the strips lie the other way round
	if len(s.kept) != 1 {
		t.Fatalf("%d kept, %+v", len(s.kept), d.Actions)
	}
	r := s.kept[0]
	if r.Session != s.session.ID || r.Film != "Plover 200" || r.Sheets[0].Time != 10*time.Minute+14*time.Second || r.Sheets[0].Sheet != 2 || r.Sheets[1].Time != 5*time.Minute || r.Sheets[1].Sheet != 1 {
		t.Errorf("%+v", r)
	}
}

// A strip that is moved is read anew where it lies then, once for all that was moved meanwhile.
func TestAStripIsMoved(t *testing.T) {
	d := shown(t, &shelf{})
	before := looking(d)
	d.Press("left", "left", "left", "e", "right")
	after := looking(d)
	if n := len(d.Pending()); n != 1 {
		t.Errorf("%d readings at one time; expected 1", n)
	}
	pitch := before.marks[1].at.Pitch()
	if moved := before.marks[1].at.X2 - after.marks[1].at.X2; math.Abs(moved-3*pitch/8) > 0.5 {
		t.Errorf("the last end moved by %.1f; expected %.1f", moved, 3*pitch/8)
	}
	if moved := before.marks[1].at.X1 - after.marks[1].at.X1; math.Abs(moved-2*pitch/8) > 1 {
		t.Errorf("the first end moved by %.1f; expected %.1f", moved, 2*pitch/8)
	}
	s := &shelf{}
	d = shown(t, s)
	was := looking(d).result.Strips[0].Patches[5].Density[scan.Luminance]
	d.Press(slices.Repeat([]string{"right"}, 8)...).Done().Done() // a whole step
	m := looking(d)
	next := before.result.Strips[0].Patches[6].Density[scan.Luminance]
	if is := m.result.Strips[0].Patches[5].Density[scan.Luminance]; math.Abs(is-next) > 0.02 || math.Abs(is-was) < 0.05 {
		t.Errorf("a step further on: %.3f; expected %.3f, not %.3f", is, next, was)
	}
	for range 60 {
		d.Press("right")
	}
	d.Shows("strip 1")
	if x := looking(d).marks[1].at.X2; x > float64(m.picture.Width) {
		t.Errorf("an end at %.0f, outside the picture", x)
	}
}

// What was not found can be placed; a strip more and one less.
func TestStripsArePlaced(t *testing.T) {
	d := drive.On(t, New(&shelf{}, env())).Done()
	d.Press("pgdown", "enter").Done() // a tablet of 21 steps is not there
	if m := looking(d); len(m.marks) != 2 || m.at != 0 || !strings.Contains(drive.Asked[screen.Message](d).Text, "No tablet") {
		t.Errorf("%d outlines, %+v", len(m.marks), d.Actions)
	}
	d = shown(t, &shelf{}).Press("tab", "n").Done().Shows("strip 3").Press("d").Done()
	if m := looking(d); len(m.marks) != 3 || len(m.result.Strips) != 2 {
		t.Errorf("%d outlines, %d strips", len(m.marks), len(m.result.Strips))
	}
	d.Press("d").Done().Press("d")
	if m := looking(d); len(m.marks) != 2 {
		t.Errorf("the last strip was dropped")
	}
}

// A doubtful step is asked about before anything is kept, and is kept or left out as was said.
func TestDoubtfulStepsAreAskedAbout(t *testing.T) {
	for _, key := range []string{"k", "x"} {
		s := &shelf{}
		d := shown(t, s)
		m := looking(d)
		m.result.Strips[1].Patches[4].Doubt[scan.Luminance] = scan.Spotted
		m.result.Strips[1].Patches[7].Doubt[scan.Luminance] = scan.Denser
		for i := 1; i < 3; i++ {
			m.marks[i].time = time.Minute
		}
		d.Shows("1 asked about").Press("enter")
		if looking(d).at != 2 || len(s.kept) > 0 {
			t.Fatal("not asked")
		}
		d.Shows("Step 5").Press(key, "enter").Done()
		if len(s.kept) != 1 || (s.kept[0].Sheets[1].Steps[4] != nil) != (key == "k") || s.kept[0].Sheets[1].Steps[7] != nil {
			t.Errorf("%s: %+v", key, s.kept)
		}
	}
}

// Whatever goes wrong is said, and nothing is lost.
func TestWhatGoesWrong(t *testing.T) {
	s := &shelf{full: true}
	d := shown(t, s)
	m := looking(d)
	for i := 1; i < 3; i++ {
		m.marks[i].time = time.Minute
	}
	d.Press("enter").Done()
	if a := drive.Asked[screen.Message](d); !a.Fault || !strings.Contains(a.Text, "disk is full") || looking(d).result == nil {
		t.Errorf("%+v", a)
	}
	d = drive.On(t, New(s, env())).Done().Press("up", "enter").Type("elsewhere").Press("enter").Done().Shows("no such folder")
	d.Press("pgdown", "enter").Shows("no PNG")
	d = shown(t, s).Press("esc").Shows("Read the picture")
	if a := d.Press("esc"); a.Actions[len(a.Actions)-1] != (screen.Back{}) {
		t.Errorf("%+v", a.Actions)
	}
}

// A picture that was left while it was read leaves nothing behind.
func TestLeftWhileItIsRead(t *testing.T) {
	if m := looking(shown(t, &shelf{}).Press("left", "esc").Done()); m.Unsaved() || m.busy != "" {
		t.Errorf("unsaved: %t, busy: %q", m.Unsaved(), m.busy)
	}
}

// Every size and depth has its picture, within its bounds.
func TestEveryDepthFits(t *testing.T) {
	for _, depth := range []widget.Depth{widget.Colours, widget.Greys, widget.Shades} {
		e := env()
		e.Depth = depth
		d := drive.On(t, New(&shelf{}, e)).Done()
		d.Press("down", "down", "right", "pgdown", "enter").Done().Fits("strip 1")
	}
}
