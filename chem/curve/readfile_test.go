package curve

// The readers: the invented Plover 200, and every way of refusing a file, with
// its text.

import (
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"
)

func testFile(tb testing.TB, name string) []byte {
	tb.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		tb.Fatal(err)
	}
	return data
}

func plover(tb testing.TB) Family {
	tb.Helper()
	f, err := Read("plover-200.csv", testFile(tb, "plover-200.csv"), Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

func TestPloverCSV(t *testing.T) {
	f := plover(t)
	if len(f.Curves) != 4 || f.Scale != Unstated || len(f.Notes) != 0 {
		t.Fatalf("%d curves, scale %d, notes %q", len(f.Curves), f.Scale, f.Notes)
	}
	c := f.Curves[2]
	if c.Time != 9*time.Minute+30*time.Second || len(c.Readings) != 21 || *c.Base != 0.16 {
		t.Errorf("%v, %d readings, base %v", c.Time, len(c.Readings), *c.Base)
	}
	if c.Readings[0] != (Reading{-3.35, 0.16}) || c.Readings[20] != (Reading{-0.35, 1.75}) {
		t.Errorf("from %v to %v", c.Readings[0], c.Readings[20])
	}
}

// The same sheet as CGATS text: densities alike, exposures in equal steps or by
// the tablet.
func TestPloverCGATS(t *testing.T) {
	data := testFile(t, "plover-200.cgats")
	csv := plover(t).Curves[2]
	h0 := LogH(-0.30)
	var tablet []Density
	for i := range 21 {
		tablet = append(tablet, Density(0.05+0.15*float64(i)))
	}
	for name, o := range map[string]Options{
		"equal steps": {Channel: Blue},
		"by tablet":   {Channel: Blue, Tablet: tablet, LogH0: &h0, Time: csv.Time},
	} {
		f, err := Read("plover-200.cgats", data, o)
		if err != nil {
			t.Fatal(err)
		}
		c := f.Curves[0]
		off := float64(csv.Readings[0].LogH)
		if o.Tablet != nil {
			off = 0
		}
		for i, r := range c.Readings {
			if want := csv.Readings[i]; r.Density != want.Density || math.Abs(float64(r.LogH-want.LogH)+off) > 1e-9 {
				t.Errorf("%s: reading %d: %v; CSV %v", name, i, r, want)
			}
		}
		if turned := strings.Contains(strings.Join(f.Notes, ""), "turned round"); turned != (o.Tablet == nil) {
			t.Errorf("%s: notes %q; expected to be told of turning equal steps only", name, f.Notes)
		}
		if c.Time != o.Time || (f.Scale == LuxSeconds) != (o.Tablet != nil) {
			t.Errorf("%s: time %v, scale %d", name, c.Time, f.Scale)
		}
	}
	vis, err := ReadCGATS("plover-200.cgats", data, Options{})
	if err != nil || vis.Curves[0].Readings[20].Density != 1.35 {
		t.Errorf("visual by default: %v, %v; expected 1.35 in the end", vis, err)
	}
}

func TestTabletsTurnRoundExposures(t *testing.T) {
	h0 := LogH(-1)
	f, err := Read("t.csv", []byte("\ufefftablet,5m,7m\r\n0.05,2.00,2.4\r\n# a \"quote\", and more\r\n  # after blanks\r\n1.05,1.00,\r\n2.05,.20,0.2\r\n# end\r\n,,\r\n"), Options{LogH0: &h0})
	if err != nil {
		t.Fatal(err)
	}
	want := []Reading{{-3.05, 0.20}, {-2.05, 1.00}, {-1.05, 2.00}}
	for i, r := range f.Curves[0].Readings {
		if math.Abs(float64(r.LogH-want[i].LogH)) > 1e-12 || r.Density != want[i].Density {
			t.Errorf("reading %d: %v; expected %v", i, r, want[i])
		}
	}
	if n := len(f.Curves[1].Readings); n != 2 || f.Curves[1].Base != nil {
		t.Errorf("%d readings at 7m; expected 2: an empty cell is none", n)
	}
}

// cgats is a small sound file with some of its text replaced.
func cgats(replace ...string) string {
	return strings.NewReplacer(replace...).Replace("ISO28178\nNUMBER_OF_FIELDS 2\nBEGIN_DATA_FORMAT\nSAMPLE_ID D_VIS\nEND_DATA_FORMAT\n" +
		"NUMBER_OF_SETS 3\nBEGIN_DATA\n1 0.10\n2 0.56\n3 1.20\nEND_DATA\n")
}

// refusals are files with what is said of them.
var refusals = []struct{ name, file, want string }{
	{"decimal comma, cut in two", "log_h,5m\n-3,0.1\n-2,0,56\n", `f:3:1: 3 cells in this row; expected 2, as in the header (a decimal comma makes two cells of one number)`},
	{"decimal comma, quoted", "log_h,5m\n-3,0.1\n-2,\"0,56\"\n", `f:3:4: "0,56" has a decimal comma; expected a density with a point, such as 0.56`},
	{"decimal comma, as a density", "log_h,5m\n-3,0.1\n0,56\n", `f:3:3: "56" is out of range; expected a density from -0.2 to 6`},
	{"semicolons", "log_h;5m\n-3;0,1\n-2;zero\n", `f:3:4: "zero" is not a number; expected a density from -0.2 to 6`},
	{"short row", "log_h,5m,7m\n-3,0.1,0.1\n-2,0.5\n", `f:3:1: 2 cells in this row; expected 3, as in the header (a decimal comma makes two cells of one number)`},
	{"no exposure", "log_h,5m\n-3,0.1\n,0.5\n-1,0.9\n", `f:3:1: no log_h in this row; expected a log exposure from -10 to 10, or no row`},
	{"exposure turns", "log_h,5m\n-3,0.1\n-2,0.5\n-2.5,0.9\n", `f:4:1: log_h "-2.5" after "-2"; expected every row to go on in the direction of the first two`},
	{"exposure twice", "log_h,5m\n-3,0.1\n-3,0.5\n-2,0.9\n", `f:3:1: log_h "-3" after "-3"; expected every row to go on in the direction of the first two`},
	{"density falls", "log_h,5m\n-3,0.1\n-2,0.9\n-1,0.7\n", `f:4:4: density 0.70 falls below 0.90, read at less exposure; expected densities that rise with exposure, within 0.15; leave a doubtful one empty`},
	{"tablet taken for exposure", "log_h,5m\n0.05,2.0\n1.05,1.0\n", `f:3:6: density 1.00 falls below 2.00, read at less exposure; expected densities that rise with exposure, within 0.15; leave a doubtful one empty`},
	{"a word", "log_h,5m\n-3,none\n-2,0.5\n-1,0.9\n", `f:2:4: "none" is not a number; expected a density from -0.2 to 6`},
	{"NaN", "log_h,5m\n-3,NaN\n-2,0.5\n-1,0.9\n", `f:2:4: "NaN" is not a number; expected a density from -0.2 to 6`},
	{"hexadecimal", "log_h,5m\n-3,0x1p-2\n-2,0.5\n-1,1e999\n", "f:2:4: \"0x1p-2\" is not a number; expected a density from -0.2 to 6\n" +
		`f:4:4: "1e999" is not a number; expected a density from -0.2 to 6`},
	{"several at once, columns in characters", "log_h,5m,é\n-3,x,0.1\n-2,0.5,\n", "f:1:10: developing time \"é\" is not a time; expected one such as 5m, 4m30s or 4:30\n" +
		`f:2:4: "x" is not a number; expected a density from -0.2 to 6`},
	{"a column after letters of two bytes", "log_h,5m,7m\n-3,é,x\n-2,0.5,0.6\n-1,0.6,0.7\n", "f:2:4: \"é\" is not a number; expected a density from -0.2 to 6\n" + `f:2:6: "x" is not a number; expected a density from -0.2 to 6`},
	{"too many times", "log_h" + strings.Repeat(",5m", maxCurves+1) + "\n-3" + strings.Repeat(",0.1", maxCurves+1) + "\n", `f:1:1: ` + strconv.Itoa(maxCurves+1) + ` developing times; expected at most ` + strconv.Itoa(maxCurves)},
	{"CGATS, one sample", cgats("NUMBER_OF_SETS 3", "NUMBER_OF_SETS 1", "2 0.56\n3 1.20\n", ""), `f: 1 samples; expected at least 2`},
	{"CGATS, lines that end as on another system", strings.ReplaceAll(cgats("0.56", "0,56"), "\n", "\r\n"), `f:9:3: "0,56" has a decimal comma; expected a density with a point, such as 0.56`},
	{"no time", "log_h\n-3\n", `f:1:1: no developing time; expected one for each column after log_h`},
	{"time of nothing", "log_h,0s\n-3,0.1\n-2,0.5\n", `f:1:7: developing time "0s" is out of range; expected 1 s to 24 h`},
	{"another header", "density,5m\n-3,0.1\n", `f:1:1: first column "density"; expected log_h or tablet`},
	{"two bases", "log_h,5m\nbase,0.1\nbase,0.1\n-3,0.1\n-2,0.5\n", `f:3:1: a second row called base; expected one`},
	{"empty column", "log_h,5m\n-3,\n-2,0.5\n", `f:1:7: 1 readings under "5m"; expected at least 2`},
	{"only a header", "log_h,5m\n", `f: no readings; expected a row for each step`},
	{"nothing", "# nothing\n", `f: no header; expected log_h or tablet, then developing times`},
	{"open quote", "log_h,5m\n-3,\"0.1\n", `f:2: a stray or unclosed quotation mark; expected cells without quotation marks`},
	{"not UTF-8", "log_h,5m\n-3,0.1\xff\n", `f:2:7: byte 0xff is not UTF-8; expected a text file in UTF-8`},
	{"control characters", "log_h,5m\n-3,\x1b[2J\n-2,0.5\n-1,0.9\n", `f:2:4: "\x1b[2J" is not a number; expected a density from -0.2 to 6`},
	{"too large", "log_h,5m\n" + strings.Repeat("#", 64<<10), `f: 65545 bytes; expected at most 65536`},

	{"CGATS: decimal comma", cgats("0.56", "0,56"), `f:9:3: "0,56" has a decimal comma; expected a density with a point, such as 0.56`},
	{"CGATS: wrong field count", cgats("FIELDS 2", "FIELDS 3"), `f: 2 fields in the format, but NUMBER_OF_FIELDS is 3; expected the same number`},
	{"CGATS: wrong set count", cgats("SETS 3", "SETS 4"), `f: 3 data sets, but NUMBER_OF_SETS is 4; expected the same number`},
	{"CGATS: no set count", cgats("NUMBER_OF_SETS 3\n", ""), `f: no NUMBER_OF_SETS; expected it before the data, 3 here`},
	{"CGATS: no field count", cgats("NUMBER_OF_FIELDS 2\n", ""), `f: no NUMBER_OF_FIELDS; expected it before the data, 2 here`},
	{"CGATS: count is no number", cgats("SETS 3", "SETS 3.0"), "f: 3 data sets, but NUMBER_OF_SETS is 0; expected the same number\n" + `f:6:16: NUMBER_OF_SETS "3.0"; expected one whole number, once`},
	{"CGATS: value missing", cgats("2 0.56", "2"), `f:9:1: 1 values in this data set; expected 2, as in the format`},
	{"CGATS: no end", cgats("END_DATA\n", ""), `f:10:1: the file ends inside the data; expected END_DATA`},
	{"CGATS: gap", cgats("3 1.20", "4 1.20"), `f:10:1: sample 4 follows 2; expected no gap in the numbers`},
	{"CGATS: sample twice", cgats("3 1.20", "2 1.20"), `f:10:1: a second sample "2"; expected each once`},
	{"CGATS: open quote", cgats("1 0.10", "\"1 0.10"), `f:8: a quotation mark without its end; expected quoted text to end on its line`},
	{"CGATS: keyword without value", cgats("ISO28178", "ISO28178\nORIGINATOR"), `f:2:1: keyword "ORIGINATOR" has no value; expected a value on the same line`},
	{"CGATS: other channel", cgats("D_VIS", "LAB_L"), `f:4:1: no D_VIS in the format; expected a file with densities`},
	{"CGATS: no sample names", cgats("SAMPLE_ID", "PATCH"), `f:4:1: no SAMPLE_ID in the format; expected one`},
	{"CGATS: two tables", cgats("END_DATA\n", "END_DATA\nISO28178\n"), `f:12:1: "ISO28178" after the end of the data; expected one table in a file`},
	{"CGATS: no identification", cgats("ISO28178\n", ""), "f: no NUMBER_OF_FIELDS; expected it before the data, 2 here\n" + `f:1:1: the file begins with "NUMBER_OF_FIELDS"; expected a line of identification, such as ISO28178`},
	{"CGATS: density falls", cgats("3 1.20", "3 0.30"), `f:10:3: density 0.30 falls below 0.56, read at less exposure; expected densities that rise with exposure, within 0.15; leave a doubtful one empty`},
	{"CGATS: NaN", cgats("0.56", "nan"), `f:9:3: "nan" is not a number; expected a density from -0.2 to 6`},
}

func TestRefusals(t *testing.T) {
	for _, c := range refusals {
		_, err := Read("f", []byte(c.file), Options{})
		var fs Faults
		if !errors.As(err, &fs) {
			t.Errorf("%s: %v; expected faults", c.name, err)
			continue
		}
		if err.Error() != c.want {
			t.Errorf("%s:\n%s\nexpected\n%s", c.name, err, c.want)
		}
	}
}

// sound are unusual CGATS texts of the same three samples.
var sound = map[string]string{
	"plain":               cgats(),
	"CR LF and tabs":      cgats("\n", "\r\n", " ", "\t"),
	"CR alone":            cgats("\n", "\r"),
	"quoted strings":      cgats("1 0.10", "\"1\"   '0.10'"),
	"quoted # and blanks": cgats("ISO28178", "ISO28178\nORIGINATOR \"Salt # marsh\"\n# a comment \"with a quote"),
	"own keywords":        cgats("ISO28178", "ISO28178\nKEYWORD \"TRAY\"\nTRAY 3"),
	"numbers backwards":   cgats("1 0.10", "3 1.20", "3 1.20", "1 0.10"),
	"names":               cgats("1 0", "A1 0", "2 0", "A2 0", "3 1", "A3 1"),
	"falling":             cgats("0.10", "1.20", "1.20", "0.10"),
	"format on one line":  cgats("BEGIN_DATA_FORMAT\nSAMPLE_ID D_VIS\nEND_DATA_FORMAT", "BEGIN_DATA_FORMAT SAMPLE_ID D_VIS END_DATA_FORMAT"),
	"Latin-1 in a string": cgats("ISO28178", "ISO28178\nORIGINATOR \"20 \xb0C\""),
}

func TestCGATSAccepted(t *testing.T) {
	for name, file := range sound {
		f, err := Read("f", []byte(file), Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if r := f.Curves[0].Readings; len(r) != 3 || r[0] != (Reading{0, 0.10}) || r[1] != (Reading{0.15, 0.56}) || r[2] != (Reading{0.30, 1.20}) {
			t.Errorf("%s: %v", name, r)
		}
		if (len(f.Notes) > 0) != (name == "falling") {
			t.Errorf("%s: notes %q", name, f.Notes)
		}
	}
}

func TestChannels(t *testing.T) {
	both := []byte(cgats("SAMPLE_ID D_VIS", "SAMPLE_ID D_RED D_GREEN", "FIELDS 2", "FIELDS 3", "0.10", "0.10 0.2", "0.56", "0.56 0.6", "1.20", "1.20 1.3"))
	if _, err := Read("f", both, Options{}); err == nil || err.Error() != `f:4:1: no D_VIS in the format; expected one of those there: "D_RED D_GREEN"` {
		t.Errorf("no visual channel: %v", err)
	}
	if f, err := Read("f", both, Options{Channel: Green}); err != nil || f.Curves[0].Readings[1].Density != 0.6 {
		t.Errorf("green: %v, %v", f, err)
	}
	if f, err := Read("f", []byte(cgats("D_VIS", "D_BLUE")), Options{}); err != nil || len(f.Notes) != 1 {
		t.Errorf("the only channel: %v, %v; expected it to be taken and said", f, err)
	}
	if _, err := Read("f", both, Options{Channel: "uv"}); err == nil || err.Error() != `channel: "uv"; expected vis, blue, green or red` {
		t.Errorf("another channel: %v", err)
	}
}

func TestReadTablet(t *testing.T) {
	for name, file := range map[string]string{
		"CSV":   "# a tablet\ntablet\n0.10\n0.56\n1.20\n",
		"CGATS": cgats(),
	} {
		tablet, err := ReadTablet("t", []byte(file), "")
		if err != nil || len(tablet) != 3 || tablet[1] != 0.56 {
			t.Errorf("%s: %v, %v", name, tablet, err)
		}
	}
	for file, want := range map[string]string{
		"log_h\n0.1\n":                    `t:1:1: first column "log_h"; expected tablet`,
		"tablet\n0.1\n0.5\n0.4\n":         `t:4:1: tablet density 0.4 after 0.5; expected every step to go on in the direction of the first two`,
		"tablet\n0.1\n-0.1\n":             `t:3:1: "-0.1" is out of range; expected a tablet density from 0 to 6`,
		cgats("0.10", "-0.10"):            `t:8:3: tablet density -0.1; expected a tablet density from 0 to 6`,
		cgats("3 1.20", "4 1.20"):         `t:10:1: sample 4 follows 2; expected no gap in the numbers`,
		"tablet,5m\n0.1,0.2\n0.5,\"0.3\n": `t:3: a stray or unclosed quotation mark; expected cells without quotation marks`,
	} {
		if _, err := ReadTablet("t", []byte(file), ""); err == nil || err.Error() != want {
			t.Errorf("%q: %v; expected %s", file, err, want)
		}
	}
	_, err := Read("f", []byte(cgats()), Options{Tablet: []Density{0, 1}})
	if want := "f: 3 samples for a tablet of 2 steps; expected a sample for each step"; err == nil || err.Error() != want {
		t.Errorf("%v; expected %s", err, want)
	}
}

func TestNoControlCharactersInErrors(t *testing.T) {
	_, err := Read("a\x1b[2J\u202e.csv", []byte("\x1b]0;x\a,5m\n"), Options{})
	if err == nil || strings.ContainsAny(err.Error(), "\x1b\a\u202e") {
		t.Errorf("%q", err)
	}
}

// No bytes make the readers panic, accept what cannot be drawn, or put a
// control character into an error.
func FuzzCSV(f *testing.F)   { fuzz(f, ReadCSV) }
func FuzzCGATS(f *testing.F) { fuzz(f, ReadCGATS) }

func fuzz(f *testing.F, read func(string, []byte, Options) (Family, error)) {
	for _, c := range refusals {
		if len(c.file) < 1000 {
			f.Add([]byte(c.file))
		}
	}
	f.Add([]byte(cgats()))
	f.Add([]byte("tablet,5m,7m\nbase,0.1,\n0.05,2.0,2.4\n1.05,1.0,\n2.05,0.2,0.3\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if tablet, err := ReadTablet("f", data, ""); err == nil {
			for _, d := range tablet {
				if !tabletLimits.holds(float64(d)) {
					t.Errorf("tablet density %g", float64(d))
				}
			}
		}
		family, err := read("f", data, Options{})
		if err != nil {
			soundError(t, err)
			return
		}
		for i, c := range family.Curves {
			if err := c.check(); err != nil {
				t.Fatalf("curve %d was read and cannot be drawn: %v", i, err)
			}
		}
		out, _ := Evaluate(family, Request{Target: 0.6, Rounds: 5})
		for _, r := range out.Curves {
			if g := r.AverageGradient; g != nil && (math.IsNaN(*g) || math.IsInf(*g, 0)) {
				t.Fatalf("average gradient %g", *g)
			}
		}
		for _, n := range out.Notes {
			soundText(t, n)
		}
	})
}

func soundError(t *testing.T, err error) {
	t.Helper()
	var fs Faults
	if errors.As(err, &fs) && len(fs) == 0 {
		t.Fatal("no faults in the error")
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		soundText(t, line)
	}
}

func soundText(t *testing.T, text string) {
	t.Helper()
	for _, r := range text {
		if !unicode.IsGraphic(r) {
			t.Fatalf("%q in %q", r, text)
		}
	}
}

// plover.py makes visual densities over fog those in blue divided by 1.3: a stain of 1.3.
func TestStainIsTold(t *testing.T) {
	data, err := os.ReadFile("testdata/plover-200.cgats")
	if err != nil {
		t.Fatal(err)
	}
	f, err := Read("plover-200.cgats", data, Options{Channel: Blue})
	if err != nil {
		t.Fatal(err)
	}
	if text := strings.Join(f.Notes, "\n"); !strings.Contains(text, "rise 1.30 times as fast as visual ones: a stained negative") {
		t.Errorf("notes %q", text)
	}
	plain := strings.ReplaceAll(string(data), "D_BLUE", "D_RED")
	if f, err = Read("x", []byte(plain), Options{}); err != nil || strings.Contains(strings.Join(f.Notes, ""), "stain") {
		t.Errorf("notes %q, %v of a file without blue", f.Notes, err)
	}
}
