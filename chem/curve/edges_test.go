package curve

// Edges that few files or films come to, by hand: the last row, the first reading, one fault alone, more readings than are smoothed.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"strings"
	"testing"
	"time"
)

// Behind the end of the data one line is told, not each; a lone word behind BEGIN_DATA is a data set; a CSV that is too long is told at
// the first cell of the row too many; characters count, bytes do not, up to an empty cell at the end.
func TestEdgesOfFiles(t *testing.T) {
	told := func(file string) Faults {
		var list Faults
		_, err := Read("f", []byte(file), Options{})
		if !errors.As(err, &list) {
			t.Fatalf("%v", err)
		}
		return list
	}
	if list := told(cgats("END_DATA\n", "END_DATA\nMORE\nAGAIN\nONCE\n")); len(list) != 1 || list[0].Line != 12 {
		t.Errorf("three lines behind the end: %v", list)
	}
	if list := told(cgats("BEGIN_DATA\n", "BEGIN_DATA 7\n", "NUMBER_OF_SETS 3", "NUMBER_OF_SETS 4")); len(list) != 1 || !strings.Contains(list[0].What, "1 values") {
		t.Errorf("one word behind the beginning: %v", list)
	}
	if list := told("log_h,5m\n" + strings.Repeat("-3,0.1\n", 1001)); len(list) != 1 || list[0].Line != 1002 || list[0].Col != 1 {
		t.Errorf("a row too many: %v", list)
	}
	r := csv.NewReader(strings.NewReader("é,ü,"))
	record, err := r.Read()
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range readCells(r, record, bytes.Split([]byte("é,ü,"), []byte("\n"))) {
		if c.at != (position{1, []int{1, 3, 5}[i]}) {
			t.Errorf("cell %d stands at %+v", i, c.at)
		}
	}
}

// A level at a reading is where that is; a curve that rises and falls comes to it once, as does one that rises in its last piece.
func TestEdgesOfCrossings(t *testing.T) {
	for _, c := range []struct {
		y    []float64
		at   float64
		n    int
		want float64
	}{{[]float64{0.1, 0.5, 0.9}, 0.1, 0, -2}, {[]float64{0.1, 0.5, 0.9}, 0.5, 1, -1}, {[]float64{0, 1, 0}, 1, 1, -1}, {[]float64{0, 0, 1}, 1, 1, 0}} {
		p := NewInterpolant([]float64{-2, -1, 0}, c.y)
		got, ok := p.crossing(c.at)
		if n := p.crossings(c.at); !ok || n != c.n || got != c.want {
			t.Errorf("%v come to %g at %g, %v, %d times; expected %g, %d", c.y, c.at, got, ok, n, c.want, c.n)
		}
	}
}

// A level that is never come to is at the end of the readings that lies towards it. A line of slope 0.7 has a point 2.2 from its beginning
// when it is 2.2/sqrt(1.49) = 1.8023 log H long: shorter, there is no contrast index.
func TestWhereReadingsEnd(t *testing.T) {
	p := NewInterpolant([]float64{-2, -1, 0}, []float64{0.5, 0.1, 0.2})
	for level, want := range map[float64]float64{0.3: -2, 0.5: -2, 0.6: 0} {
		if got := p.reaches(level); got != want {
			t.Errorf("%g is reached at %g; expected %g", level, got, want)
		}
	}
	for n, want := range map[int]bool{90: false, 91: false, 92: true} { // up to 1.78, 1.80, 1.82
		d := straightFit(t, n, 0.02)
		if got, ok := d.curve.contrastIndex(0.1); ok != want || ok && !(math.Abs(got-0.7) <= 1e-6) {
			t.Errorf("%d readings: an index of %g, %v", n, got, ok)
		}
	}
}

// More than a hundred readings are not smoothed, so none between two others is judged; a penalty is that of all that are kept; the first
// reading is measured from the second.
func TestEdgesOfSlips(t *testing.T) {
	many := Curve{}
	for i := range 120 {
		many.Readings = append(many.Readings, Reading{LogH(0.02 * float64(i)), Density(0.1 + 0.012*float64(i))})
	}
	many.Readings[60].Density += 1
	if got := many.Outliers(0.01); len(got) != 0 {
		t.Errorf("of 120 readings: %v; expected none judged", got)
	}
	c, kept := Curve{}, []int{}
	for i, off := range []float64{0.04, -0.02, 0.03, -0.04, 0.01, 0.02, -0.03, 0.04, -0.01} {
		c.Readings, kept = append(c.Readings, Reading{LogH(0.15 * float64(i)), Density(0.1 + 0.02*float64(i*i) + off)}), append(kept, i)
	}
	x, y := c.columns()
	if want := (&fitResult{readings: y}).smootherFor(x, 0.01, penaltyShare).lambda; c.penalty(kept, 0.01) != want {
		t.Errorf("a penalty of %g; expected %g", c.penalty(kept, 0.01), want)
	}
	if got := endDistance([]float64{0.5, 0.1}, 0.7, true); !(math.Abs(got-0.2) <= 1e-12) {
		t.Errorf("the first lies %g over the second; expected 0.2", got)
	}
}

// A simulated sheet without errors: 21 readings from -1.2 on, of the toe s 0.16 ln(1 + e^(x/0.16)): 0.16 s ln 2 at 0, s x far above it;
// and the slope that gives an average gradient gives it, steep and flat.
func TestSimulatedSheetsByHand(t *testing.T) {
	slope := toeSlope(0.6)
	c := simulated(newRand(1), 0.6, 0)
	if len(c.Readings) != 21 || !(math.Abs(float64(c.Readings[0].LogH)+1.2) <= 1e-12) || !(math.Abs(float64(c.Readings[20].LogH)-1.8) <= 1e-12) ||
		!(math.Abs(float64(c.Readings[8].Density)-0.16*slope*math.Ln2) <= 1e-9) || !(math.Abs(float64(c.Readings[20].Density)-1.8*slope) <= 1e-4) {
		t.Errorf("%+v", c.Readings)
	}
	for _, g := range []float64{0.1, 0.6, 3, 6} {
		s := toeSlope(g)
		from := 0.16 * math.Log(math.Exp(0.1/(0.16*s))-1)
		if got := (s*0.16*math.Log(1+math.Exp((from+1.3)/0.16)) - 0.1) / 1.3; !(math.Abs(got/g-1) <= 1e-9) {
			t.Errorf("gradient %g: a slope of %g has %g", g, s, got)
		}
	}
	for _, times := range [][]time.Duration{{8 * time.Minute}, {}} {
		if _, err := ForecastTest(times, 8*time.Minute, 0.6, Errors{Reading: 0.01}); err == nil {
			t.Errorf("a test at %v is forecast", times)
		}
	}
	// 5.1 and 7.14 s are both 5 s to what a person can keep
	if times, err := TestTimes(6034*time.Millisecond, 2); err == nil {
		t.Errorf("the same time twice: %v", times)
	}
}

// A box speed under 1 is a speed; errors that pictures told stand for those that readings are too few to tell.
func TestEdgesOfARequest(t *testing.T) {
	r := Request{SpeedAnchor: &SpeedAnchor{0.5, -1}}
	if err := r.complete(Family{}); err != nil {
		t.Error(err)
	}
	r = Request{}
	c := Curve{Readings: make([]Reading, 3), Errors: []Density{0.03, 0.03, 0.03}}
	if err := r.complete(Family{Curves: []Curve{c}}); err != nil || !(math.Abs(float64(r.Errors.Reading)-0.03) <= 1e-12) || r.Exact {
		t.Errorf("%+v, %v; expected the pictures' 0.03", r, err)
	}
}

// Errors of base plus fog come first, then by step, each with a density of its own; a `#` line names the column that its errors are of,
// from 1 to 200.
func TestPlacesOfErrors(t *testing.T) {
	d := Density(0.5)
	both := []Density{0.01, 0.02}
	for _, c := range []struct {
		s    SheetReadings
		want [2]Density
	}{{SheetReadings{Base: &d, Steps: []*Density{nil}}, [2]Density{0.01, 0}}, {SheetReadings{Steps: []*Density{&d}}, [2]Density{0, 0.02}}} {
		if got := c.s.withErrors(both); got.Error(BaseRow) != c.want[0] || got.Error(0) != c.want[1] {
			t.Errorf("%v; expected %v", got.Errors, c.want)
		}
	}
	if got := (SheetReadings{}).Error(3); got != 0 {
		t.Errorf("an error of %g, where none is known", float64(got))
	}
	for what, want := range map[string]int{"errors 1": 1, "errors 200": 200, "errors 201": 0, "errors 01": 0, "errors x": 0, "film": 0} {
		if got := errorsColumn(what); got != want {
			t.Errorf("%q: column %d; expected %d", what, got, want)
		}
	}
}

// Values go on by a millionth at least, one way or the other, or the first that does not is told; two tell which way; nothing falls where
// everything rises.
func TestDirectionsByHand(t *testing.T) {
	for _, c := range []struct {
		values    []float64
		sign, bad int
	}{{[]float64{1, 2, 3}, 1, -1}, {[]float64{3, 2, 1}, -1, -1}, {[]float64{2, 1}, -1, -1}, {[]float64{1, 2}, 1, -1}, {[]float64{1}, 1, -1},
		{[]float64{0, 0.6e-6}, 1, 1}, {[]float64{0, -0.6e-6}, -1, 1}, {[]float64{1, 2, 1.5}, 1, 2}} {
		if sign, bad := checkDirection(c.values); sign != c.sign || bad != c.bad {
			t.Errorf("%v: %d, %d; expected %d, %d", c.values, sign, bad, c.sign, c.bad)
		}
	}
	if at, below := sampled(-3, 0.5, 0.1, 0.2, 0.4).deepest(nil); at != -1 || below != 0 {
		t.Errorf("reading %d falls below %g", at, float64(below))
	}
}

// Where a file of readings is at fault, with its place and both texts.
func TestFaultsOfReadingsFiles(t *testing.T) {
	for file, want := range map[string]string{
		"log_h,5m\n-3,0.1\n-2,0.2\n":                    `f:1:1: first column "log_h"; expected tablet, as wetside writes readings`,
		"tablet,5m\n0.1,1.1\n0.5,0.7\n0.3,0.9\n":        `f:4:1: tablet "0.3" after "0.5"; expected every row to go on in the direction of the first two`,
		"tablet,5m\n0.5,1.1\n0.1,0.7\n\n0.3,0.9\n1,0.1": `f:5:1: tablet "0.3" after "0.1"; expected every row to go on in the direction of the first two`,
	} {
		if _, err := ReadReadings("f", []byte(file)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; expected %s", file, err, want)
		}
	}
	if _, err := Read("f", []byte("\xfflog_h,5m\n-3,0.1\n-2,0.2\n"), Options{}); err == nil || !strings.Contains(err.Error(), "f:1:1: byte 0xff is not UTF-8") {
		t.Errorf("the first byte: %v", err)
	}
	if err := (Options{Time: 25 * time.Hour}).check(); err == nil || !strings.Contains(err.Error(), "25h0m0s; expected up to 24 h") {
		t.Errorf("25 h: %v", err)
	}
}

// An index that comes to 1 by the steps of ISO 6 is told.
func TestTheLeastIndex(t *testing.T) {
	five := 300.0
	if got := (Results{Curves: []Result{{Time: &five, index: 0.95}}}).IndexAt(5 * time.Minute); got == nil || *got != 1 {
		t.Errorf("%v; expected 1", got)
	}
}
