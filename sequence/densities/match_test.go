package densities

import (
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
)

func TestSheetsHaveTheirRealTimes(t *testing.T) {
	s := warmTest(t)
	list := s.Developed()
	if len(list) != 2 || list[0].Planned != 5*recipetest.Minute || list[1].Planned != 10*recipetest.Minute {
		t.Fatalf("%+v", list)
	}
	// The bath went from 20 C at 0 to 22 C at 11 min in a straight line. With a rate of
	// 2^((T-20)/10) the dose to t is (11 min/(0.2 ln 2)) (2^(0.2 t/11) - 1): the integral.
	for i, real := range []float64{5, 10} {
		want := 11 / (0.2 * math.Ln2) * (math.Pow(2, 0.2*real/11) - 1)
		if got := list[i].Actual.Minutes(); math.Abs(got-want) > 0.005 {
			t.Errorf("sheet %d: %.4f min; expected %.4f", i+1, got, want)
		}
	}
	f := curve.Family{Curves: []curve.Curve{{Time: 10 * recipetest.Minute}, {Time: 5 * recipetest.Minute}}}
	if err := UseActualTimes(&f, curve.Link{}, &s); err != nil {
		t.Fatal(err)
	}
	if f.Curves[0].Time != list[1].Actual.Round(time.Millisecond) || f.Curves[1].Time != list[0].Actual.Round(time.Millisecond) {
		t.Errorf("curves at %v and %v; expected each sheet's own time", f.Curves[0].Time, f.Curves[1].Time)
	}
	if len(f.Notes) != 2 || !strings.Contains(f.Notes[0], "sheet 2") || !strings.Contains(f.Notes[0], "planned 10:00") {
		t.Errorf("notes %q", f.Notes)
	}
}

// Whoever evaluates readings that name a session has its sheets' real times, and those of the file where the session
// is not there.
func TestReadingsBySession(t *testing.T) {
	s := warmTest(t)
	rise := func(d curve.Density) *curve.Density { return &d }
	k := ReadingsFile{Name: "warm", Readings: curve.Readings{Session: "warm", Tablet: []float64{0.05, 0.20}}}
	for i, m := range []time.Duration{10, 5} {
		k.Readings.Add(m*time.Minute, 2-i)
		k.Readings.Sheets[i].Steps = []*curve.Density{rise(1), rise(0.5)}
	}
	f, at, found, err := k.FamilyBySession(func(id string) (notebook.Session, error) { return s, nil })
	if err != nil || found == nil || len(at) != 2 {
		t.Fatalf("%v %v %v", at, found, err)
	}
	for i, d := range []notebook.SheetDevelopment{s.Developed()[1], s.Developed()[0]} {
		if got := f.Curves[i].Time; got != d.Actual.Round(time.Millisecond) || got == d.Planned {
			t.Errorf("curve %d: %v; expected the actual %v", i, got, d.Actual)
		}
	}
	f, _, found, err = k.FamilyBySession(func(string) (notebook.Session, error) { return notebook.Session{}, fs.ErrNotExist })
	if err != nil || found != nil || f.Curves[0].Time != 10*time.Minute {
		t.Errorf("without the session: %v, %v, %v", f.Curves[0].Time, found, err)
	}
	k.Readings.Sheets[0].Sheet = 7
	f, _, _, err = k.FamilyBySession(func(string) (notebook.Session, error) { return s, nil })
	if err == nil || f.Curves[0].Time != 10*time.Minute {
		t.Errorf("a sheet that the session has not: %v, %v; expected the file's time and why", f.Curves[0].Time, err)
	}
}

func TestMatch(t *testing.T) {
	list := []notebook.SheetDevelopment{{Sheet: 1, Actual: 310 * recipetest.Second, Planned: 300 * recipetest.Second}, {Sheet: 2, Actual: 620 * recipetest.Second, Planned: 600 * recipetest.Second}}
	for _, tc := range []struct {
		times  []time.Duration
		sheets []int
		want   string // sheets found, or in the error
	}{
		{[]time.Duration{600 * recipetest.Second}, nil, "2"},
		{[]time.Duration{600 * recipetest.Second, 300 * recipetest.Second}, nil, "21"},
		{[]time.Duration{310 * recipetest.Second, 620 * recipetest.Second}, nil, "12"},          // as really developed: in order
		{[]time.Duration{310 * recipetest.Second, 620 * recipetest.Second}, []int{2, 1}, "21"},  // as numbered
		{[]time.Duration{600 * recipetest.Second, 600 * recipetest.Second}, nil, "no sheet"},    // one sheet is not two curves
		{[]time.Duration{310 * recipetest.Second}, nil, "no sheet"},                             // which?
		{[]time.Duration{300 * recipetest.Second, 1}, []int{1, 3}, "no sheet"},                  // there is no third
		{[]time.Duration{300 * recipetest.Second, 600 * recipetest.Second, 1}, nil, "no sheet"}, // more curves than sheets
		{[]time.Duration{300 * recipetest.Second, 600 * recipetest.Second}, []int{1, 0}, "12"},  // partly numbered
		{[]time.Duration{300500 * time.Millisecond}, nil, "1"},                                  // within a second
		{[]time.Duration{302 * recipetest.Second}, nil, "expected one of 5:00, 10"},             // told what there is
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
