package curve

// Small files worked by hand: words and columns, times and densities as they are typed.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// Words of a line by hand: quoted text keeps its blanks and may be empty; a comment ends the line; columns count characters.
func TestWordsOfALine(t *testing.T) {
	words, fault := splitLine(`é "b c" '' x"y"  7 # "z`, 3)
	var got []string
	for _, w := range words {
		got = append(got, fmt.Sprintf("%d:%d=%s", w.at.line, w.at.col, w.text))
	}
	if want := "3:1=é 3:3=b c 3:9= 3:12=x 3:13=y 3:18=7"; fault != "" || strings.Join(got, " ") != want {
		t.Errorf("%q, %q; expected %q", strings.Join(got, " "), fault, want)
	}
}

// Unusual shapes of a file that are sound, and some that are not.
func TestShapesOfCGATS(t *testing.T) {
	for name, c := range map[string]struct{ file, fault string }{
		"format begins on its line": {cgats("BEGIN_DATA_FORMAT\nSAMPLE_ID D_VIS", "BEGIN_DATA_FORMAT SAMPLE_ID\nD_VIS"), ""},
		"data begin on their line":  {cgats("BEGIN_DATA\n1 0.10", "BEGIN_DATA 1 0.10"), ""},
		"density first":             {cgats("SAMPLE_ID D_VIS", "D_VIS SAMPLE_ID", "1 0.10", "0.10 1", "2 0.56", "0.56 2", "3 1.20", "1.20 3"), ""},
		"quoted numbers backwards":  {cgats("1 0.10", "'3' 1.20", "3 1.20", "\"1\" 0.10"), ""},
		"a second format":           {cgats("NUMBER_OF_SETS", "BEGIN_DATA_FORMAT\nEND_DATA_FORMAT\nNUMBER_OF_SETS"), "a second BEGIN_DATA_FORMAT"},
		"a gap at once":             {cgats("2 0.56", "4 0.56", "3 1.20", "5 1.20"), "sample 4 follows 1"},
	} {
		f, err := Read("f", []byte(c.file), Options{})
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err != nil || f.Curves[0].Readings[0].Density != 0.10 || f.Curves[0].Readings[2].Density != 1.20 || !slices.Equal(f.Curves[0].Steps, []int{1, 2, 3}) {
			t.Errorf("%s: %+v, %v", name, f, err)
		}
	}
	two := []byte(cgats("NUMBER_OF_SETS 3", "NUMBER_OF_SETS 2", "3 1.20\n", "", "0.10", "1.30"))
	f, err := Read("f", two, Options{Tablet: []Density{0.05, 1}})
	if err != nil || f.Curves[0].Readings[0] != (Reading{-1, 0.56}) || f.Curves[0].Readings[1] != (Reading{-0.05, 1.30}) || f.Scale != Relative {
		t.Errorf("two samples: %+v, %v", f, err)
	}
	_, err = Read("f", []byte(cgats("D_VIS", "D_RED")), Options{Channel: Green})
	if err == nil || !strings.Contains(err.Error(), `one of those there: "D_RED"`) {
		t.Errorf("another channel: %v", err)
	}
	for _, fields := range [][]string{{"D_VIS", "D_BLUE"}, {"D_BLUE", "D_VIS"}} {
		s := cgatsTable{fields: []csvCell{{text: fields[0]}, {text: fields[1]}}}
		for _, v := range []float64{0.1, 0.5, 1} {
			cell := map[string]csvCell{"D_VIS": {text: fmt.Sprint(v)}, "D_BLUE": {text: fmt.Sprint(1.5 * v)}}
			s.sets = append(s.sets, []csvCell{cell[fields[0]], cell[fields[1]]})
		}
		if len(s.stain()) != 1 {
			t.Errorf("%v: no stain", fields)
		}
	}
	if (Curve{}).Step(0) != 1 || (Curve{}).Step(4) != 5 || (Curve{Steps: []int{7}}).Step(0) != 7 {
		t.Error("steps count from 1, where the file does not say")
	}
}

// A thousand rows and two hundred columns are read, no more.
func TestLargestCSV(t *testing.T) {
	rows := func(n int) []byte {
		var b strings.Builder
		b.WriteString("log_h,5m\n")
		for i := range n {
			fmt.Fprintf(&b, "%.3f,0.1\n", -9+0.01*float64(i))
		}
		return []byte(b.String())
	}
	columns := func(n int) []byte {
		return []byte("log_h" + strings.Repeat(",5m", n) + "\n-3" + strings.Repeat(",0.1", n) + "\n-2" + strings.Repeat(",0.2", n) + "\n")
	}
	for _, c := range []struct{ within, beyond []byte }{{rows(1000), rows(1001)}, {columns(200), columns(201)}} {
		if _, err := Read("f", c.within, Options{}); err != nil {
			t.Error(err)
		}
		if _, err := Read("f", c.beyond, Options{}); err == nil {
			t.Error("more are read")
		}
	}
}

// What is typed, by hand.
func TestTypedByHand(t *testing.T) {
	for text, want := range map[string]float64{"4 1/2": 4.5, "1/3": 1.0 / 3, "4 2/3": 4 + 2.0/3, "4,5": 4.5} {
		got, err := ParseDensity(text, true)
		if err != nil || !(math.Abs(float64(got.Density)-0.30103*want) <= 0.0006) {
			t.Errorf("%q stops: %+v, %v; expected %.3f", text, got, err, 0.30103*want)
		}
	}
	for text, want := range map[string]float64{"1e-1": 0.1, "1E+0": 1, "+.5": 0.5, "-0.1": -0.1} {
		if got, err := ParseDensity(text, false); err != nil || !(math.Abs(float64(got.Density)-want) <= 1e-12) {
			t.Errorf("%q: %+v, %v; expected %g", text, got, err, want)
		}
	}
	for _, text := range []string{"1-2", "e5", "1e", "--1", "1+"} {
		if got, err := ParseDensity(text, false); err == nil {
			t.Errorf("%q: %+v", text, got)
		}
	}
	if got, err := ParseTimes("5m"); err != nil || len(got) != 1 {
		t.Errorf("one time: %v, %v", got, err)
	}
	// 200 s x sqrt(1.4) = 236.6 s, under 4 min: to whole 5 s
	if two, _ := TestTimes(200*time.Second, 2); two[1] != 235*time.Second {
		t.Errorf("%v; expected 3:55", two[1])
	}
}

// A line drawn in four parts; the triangle of ISO 6; three times with induction are enough; an index by the box, ten times as
// fast for one log H; densities as they are written; sheets in the order of their times.
func TestSmallThingsByHand(t *testing.T) {
	p := NewInterpolant([]float64{-2, -1, 0}, []float64{0.1, 0.6, 1.1})
	for i, r := range p.Drawn(4) {
		if !(math.Abs(float64(r.LogH)-(-2+0.5*float64(i))) <= 1e-12) || !(math.Abs(float64(r.Density)-(0.1+0.25*float64(i))) <= 1e-12) {
			t.Errorf("point %d: %+v", i, r)
		}
	}
	if got := len(p.Drawn(4)); got != 5 {
		t.Errorf("%d points", got)
	}
	if from, to := p.Range(); from != -2 || to != 0 {
		t.Errorf("%v to %v", from, to)
	}
	for i, want := range []Reading{{-2, 0.2}, {-0.7, 0.2}, {-0.7, 1}} {
		if got := ISOTriangle(Reading{-2, 0.2})[i]; !(math.Abs(float64(got.LogH-want.LogH)) <= 1e-12) || !(math.Abs(float64(got.Density-want.Density)) <= 1e-12) {
			t.Errorf("corner %d: %+v; expected %+v", i, got, want)
		}
	}
	truth, sheets := Growth{Limit: 1.1, K: 0.12, Induction: 1.5}, []Sheet{}
	for _, m := range []float64{9, 4, 20} {
		sheets = append(sheets, Sheet{fromMinutes(m), truth.At(fromMinutes(m))})
	}
	if g, err := FitGrowth(sheets, true); err != nil || !(math.Abs(float64(g.Induction)-1.5) <= 1e-4) {
		t.Errorf("%+v, %v; expected %+v", g, err, truth)
	}
	if list := (Results{sheets: sheets}).Sheets(); list[0].Time != 4*time.Minute || list[2].Time != 20*time.Minute {
		t.Errorf("%v", list)
	}
	at := LogH(-2)
	r := Result{SpeedPoint: &at}
	if r.speeds(Relative, false, &SpeedAnchor{200, -1}); r.ExposureIndex == nil || *r.ExposureIndex != 2000 {
		t.Errorf("%v; expected 2000", r.ExposureIndex)
	}
	for d, want := range map[Density]string{1.5: "1.50", 1.234: "1.234", 0.56: "0.56", 2: "2.00"} {
		if got := formatDensity(&d); got != want {
			t.Errorf("%v: %q", d, got)
		}
	}
	one := Readings{Tablet: []float64{0.05, 0.2}, Sheets: []SheetReadings{{Sheet: 1, Steps: make([]*Density, 2)}}}
	d := Density(0.5)
	for n := range 3 {
		for i := range one.Sheets[0].Steps {
			if one.Sheets[0].Steps[i] = nil; i < n {
				one.Sheets[0].Steps[i] = &d
			}
		}
		if _, ok := one.Curve(0); ok != (n == 2) || one.Sheets[0].Count() != n || one.sheetList() != "1" {
			t.Errorf("%d readings: a curve %v, counted %d, sheets %q", n, ok, one.Sheets[0].Count(), one.sheetList())
		}
	}
	c, _ := one.Curve(0)
	if c.Readings[0].LogH != -0.2 || c.Steps[0] != 2 {
		t.Errorf("%+v; expected the tablet's densest step first", c)
	}
	fs := &faultList{}
	var spots []tabletReading
	for i, d := range []Density{1.2, 0.8, 0.4} {
		spots = append(spots, tabletReading{Reading{LogH(i), d}, i + 1, position{}})
	}
	for n, want := range map[int]string{3: "other end", 2: "falls below"} {
		fs.list = nil
		if curveOf(fs, 0, nil, spots[:n]); len(fs.list) != 1 || !strings.Contains(fs.list[0].What, want) {
			t.Errorf("%d readings that fall: %+v; expected %q", n, fs.list, want)
		}
	}
}
