package curve

// Readings typed by hand: nothing becomes a zero, slips are found, what was written
// is read back.

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestTyped(t *testing.T) {
	for _, tc := range []struct {
		line  string
		stops bool
		want  float64
		ask   string // in the question; "" for none
		err   bool
	}{
		{"0.56", false, 0.56, "", false},
		{" .56 ", false, 0.56, "", false},
		{"0,56", false, 0.56, "", false},
		{"1,2", false, 1.2, "", false},
		{"56", false, 0.56, "0.56?", false},
		{"056", false, 0.56, "0.56?", false},
		{"123", false, 1.23, "1.23?", false},
		{"2", false, 2, "2.00?", false},
		{"0", false, 0, "0.00?", false},
		{"0.00", false, 0, "0.00?", false},
		{"-0.02", false, -0.02, "", false},
		{"0,5,6", false, 0, "", true},
		{"1,234.5", false, 0, "", true},
		{"0.5x", false, 0, "", true},
		{"x", false, 0, "", true},
		{"0x1p1", false, 0, "", true},
		{"7.1", false, 0, "", true},
		{"999", false, 0, "", true},
		{"NaN", false, 0, "", true},
		// D = 0.301 x stops, to three decimals
		{"1", true, 0.301, "", false},
		{"3,3", true, 0.993, "", false},
		{"4 1/3", true, 1.304, "", false},
		{"2/3", true, 0.201, "", false},
		{"0", true, 0, "0.00?", false},
		{"-1", true, 0, "", true},
		{"21", true, 0, "", true},
		{"4 1/7", true, 0, "", true},
	} {
		a, err := ParseDensity(tc.line, tc.stops)
		switch {
		case (err != nil) != tc.err:
			t.Errorf("%q: %v", tc.line, err)
		case err != nil:
		case math.Abs(float64(a.Density)-tc.want) > 5e-4 || a.Empty:
			t.Errorf("%q: %v; expected %g", tc.line, a, tc.want)
		case (tc.ask == "") != (a.Confirm == "") || !strings.Contains(a.Confirm, tc.ask):
			t.Errorf("%q asks %q; expected %q", tc.line, a.Confirm, tc.ask)
		}
	}
	if a, err := ParseDensity("  ", false); err != nil || !a.Empty {
		t.Errorf("nothing typed: %+v, %v; expected a step left out", a, err)
	}
}

// No line whatever is taken for zero without a question.
func FuzzTypedIsNeverASilentZero(f *testing.F) {
	for _, s := range []string{"0", "0,0", "-0", "+.0", "0e5", "00", " 0.0 ", "0 1/3"} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, line string, stops bool) {
		a, err := ParseDensity(line, stops)
		if err == nil && !a.Empty && a.Density == 0 && a.Confirm == "" {
			t.Errorf("%q is taken for zero", line)
		}
		if err == nil && a.Empty && strings.TrimSpace(line) != "" {
			t.Errorf("%q is taken for nothing", line)
		}
	})
}

// typedTest is readings of a test with a reading and a column left out.
func typedTest() Readings {
	tablet, _ := NominalTablet(DefaultSteps, DefaultStep)
	r := Readings{Film: "Plover 200", Channel: Blue, Stops: true, Metered: "EI 50 +4", Session: "2026-11-25T1912-plover", Tablet: tablet}
	r.Add(7*time.Minute, 2)
	r.Add(431500*time.Millisecond, 1)
	base := Density(0.16)
	r.Sheets[0].Base = &base
	for i := range tablet {
		d := Density(2 - 0.09*float64(i))
		r.Sheets[0].Steps[i] = &d
	}
	r.Sheets[0].Steps[4] = nil
	for i := -1; i < len(tablet); i += 2 { // some read off a picture
		d := r.Sheets[0].Base
		if i >= 0 {
			d = r.Sheets[0].Steps[i]
		}
		r.Sheets[0] = r.Sheets[0].Put(i, d, 0.001*Density(i+2))
	}
	return r
}

func TestReadingsAreReadBack(t *testing.T) {
	want := typedTest()
	got, err := ReadReadings("x", want.Text())
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("read back as\n%+v, %v\nexpected\n%+v\n%s", got, err, want, want.Text())
	}
	// what anybody else reads of it: an empty column is refused, never taken for zeros
	if _, err := Read("x", want.Text(), Options{}); err == nil {
		t.Error("a sheet without readings was taken for a curve")
	}
	want.Sheets = want.Sheets[:1]
	family, err := Read("x", want.Text(), Options{})
	if err != nil || len(family.Curves) != 1 || len(family.Curves[0].Readings) != 20 || *family.Curves[0].Base != 0.16 {
		t.Fatalf("%+v, %v; expected one curve of 20 readings", family, err)
	}
	own, _ := want.Curve(0)
	if !reflect.DeepEqual(own.Readings, family.Curves[0].Readings) {
		t.Error("the file gives other exposures than the readings in hand")
	}
	if !reflect.DeepEqual(own.Errors, family.Curves[0].Errors) || own.BaseErr != 0.001 || len(own.Errors) != 20 || own.Errors[19] != 0 || own.Errors[18] != 0.003 {
		t.Errorf("errors %v, %v; in the file %v", own.BaseErr, own.Errors, family.Curves[0].Errors)
	}
}

// What a person typed behind # in a file of readings is still there when it was gone on
// with on the screens.
func TestRemarksInReadingsStay(t *testing.T) {
	r, err := ReadReadings("x", []byte("# read by the window: glare\n# film: Plover 80\n#\twith the old densitometer\r\ntablet,5m\n# step 2 is scratched\n0.05,0.5\n0.2,0.4\n"))
	if err != nil || r.Film != "Plover 80" {
		t.Fatalf("%+v, %v", r, err)
	}
	want := []string{"# read by the window: glare", "#\twith the old densitometer", "# step 2 is scratched"}
	for range 2 {
		if !slices.Equal(r.Remarks, want) {
			t.Fatalf("%q; expected %q", r.Remarks, want)
		}
		if r, err = ReadReadings("x", r.Text()); err != nil {
			t.Fatal(err)
		}
	}
}

func TestNominalTablet(t *testing.T) {
	tablet, err := NominalTablet(21, 0.15)
	// NAVEDTRA 14209 p. 282: 0.05 to 3.05 in 21 steps
	if err != nil || len(tablet) != 21 || tablet[0] != 0.05 || tablet[20] != 3.05 {
		t.Errorf("%v, %v", tablet, err)
	}
	for _, bad := range []struct {
		n       int
		csvStep float64
	}{{4, 0.15}, {101, 0.05}, {21, 0}, {21, 1.1}, {50, 0.15}, {21, math.NaN()}} {
		if _, err := NominalTablet(bad.n, bad.csvStep); err == nil {
			t.Errorf("%d steps of %g were taken", bad.n, bad.csvStep)
		}
	}
}

// Sound readings are hardly ever doubted; a slip of the hand nearly always is, and
// it alone.
func TestOutliers(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	const tests = 120
	doubted, found, alone := 0, 0, 0
	for range tests {
		c := simulated(rng, 0.4+0.4*rng.Float64(), 0.015)
		doubted += len(c.Outliers(defaultReadingError))
		at := 1 + rng.IntN(len(c.Readings)-2)
		slip := Density(0.2 + 0.3*rng.Float64())
		if rng.IntN(2) == 0 {
			slip = -slip
		}
		c.Readings[at].Density += slip
		got := c.Outliers(defaultReadingError)
		if len(got) > 0 && got[0] == at {
			found++
		}
		if slices.Equal(got, []int{at}) {
			alone++
		}
	}
	if doubted > tests*21/200 {
		t.Errorf("%d of %d sound readings are doubted; expected 0.5 %% at most", doubted, tests*21)
	}
	if found < tests*98/100 || alone < tests*95/100 {
		t.Errorf("%d slips of %d are found, %d of them alone", found, tests, alone)
	}
}

func TestOutliersAtTheEnds(t *testing.T) {
	c := simulated(rand.New(rand.NewPCG(1, 2)), 0.6, 0.005)
	c.Readings[0].Density += 0.1
	if got := c.Outliers(defaultReadingError); !slices.Contains(got, 0) {
		t.Errorf("%v; expected the first reading", got)
	}
	c = simulated(rand.New(rand.NewPCG(1, 2)), 0.6, 0.005)
	last := len(c.Readings) - 1
	c.Readings[last].Density -= 0.3
	if got := c.Outliers(defaultReadingError); !slices.Contains(got, last) {
		t.Errorf("%v; expected the last reading, %d", got, last)
	}
	c.Readings = c.Readings[:5]
	if got := c.Outliers(defaultReadingError); got != nil {
		t.Errorf("%v of five readings", got)
	}
}

func TestDoubtfulNamesSteps(t *testing.T) {
	tablet, _ := NominalTablet(DefaultSteps, DefaultStep)
	r := Readings{Tablet: tablet}
	r.Add(time.Minute, 0)
	for i := range tablet { // a straight line, densest at step 1
		d := Density(2 - 0.09*float64(i))
		r.Sheets[0].Steps[i] = &d
	}
	*r.Sheets[0].Steps[7] += 0.4
	if got := r.Doubtful(0, defaultReadingError); !slices.Equal(got, []int{7}) {
		t.Errorf("steps %v; expected [7]", got)
	}
}

// Whatever a file holds, nothing panics and every fault can be shown; readings that
// are read, written and read again are the same.
func FuzzReadings(f *testing.F) {
	whole := typedTest()
	f.Add(whole.Text())
	f.Add([]byte("tablet,5m,7m\nbase,0.1,\n0.05,2.0,\n1.05,1.0,\n"))
	f.Add([]byte("# film: \x1b[2J\n# sheets: 1 0 x\ntablet,5m\n0.05,9\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadReadings("f", data)
		if err != nil {
			soundError(t, err)
			return
		}
		text := r.Text()
		again, err := ReadReadings("f", text)
		if err != nil {
			t.Fatalf("%q was written as %q: %v", data, text, err)
		}
		if second := again.Text(); !bytes.Equal(second, text) {
			t.Errorf("written as %q, then as %q", text, second)
		}
	})
}
