package page

// Pictures of a family, read back: the grid's labels give the scale, and by that the
// circles must be the readings that stand in the file.

import (
	"bytes"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
)

const plover = "../../chem/curve/testdata/plover-200.csv"

// columns are the file's numbers, read without our reader: base plus fog of each curve
// and rows of log H and densities.
func columns(t *testing.T) (base []float64, rows [][]float64) {
	t.Helper()
	data, err := os.ReadFile(plover)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range strings.Split(strings.TrimSpace(string(data)), "\n")[2:] {
		var row []float64
		for _, cell := range strings.Split(text, ",") {
			if cell != "base" {
				row = append(row, number(t, cell))
			}
		}
		if strings.HasPrefix(text, "base") {
			base = row
		} else {
			rows = append(rows, row)
		}
	}
	return base, rows
}

// pictured draws the invented Plover.
func pictured(t *testing.T) (curve.Results, []byte) {
	t.Helper()
	data, err := os.ReadFile(plover)
	if err != nil {
		t.Fatal(err)
	}
	f, err := curve.ReadCSV("some/where/plover-200.csv", data, curve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := curve.Evaluate(f, curve.Request{Rounds: 1, Exact: true})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := Curves(&out, f, r); err != nil {
		t.Fatal(err)
	}
	return r, out.Bytes()
}

// near is to half a hundredth.
func near(a, b float64) bool { return math.Abs(a-b) <= 0.005 }

// Every reading is a dot, and lies on its curve; all to half a hundredth.
func TestDotsAreReadings(t *testing.T) {
	_, svg := pictured(t)
	s := parsed(t, svg)
	logH, density := s.scale(t)
	_, rows := columns(t)
	for i := range len(rows[0]) - 1 {
		var dots []xy
		for _, c := range s.Circles {
			if c.Fill == hex(curveColours[i]) {
				dots = append(dots, xy{logH(c.X), density(c.Y)})
			}
		}
		if len(dots) != len(rows) {
			t.Fatalf("curve %d has %d dots; want %d", i, len(dots), len(rows))
		}
		drawn := s.paths(t, curveColours[i])
		line := drawn[len(drawn)-2] // the last is in the legend
		if i == 0 {                 // of the axes' ink too
			line = longest(drawn)
		}
		for k := range line[1:] {
			if gap := logH(line[k+1].x) - logH(line[k].x); gap > 0.01 {
				t.Fatalf("curve %d has a straight piece of %.3f", i, gap)
			}
		}
		for k, row := range rows {
			if !near(dots[k].x, row[0]) || !near(dots[k].y, row[i+1]) {
				t.Errorf("curve %d, dot %d at %.3f, %.3f; the file has %g, %g", i, k, dots[k].x, dots[k].y, row[0], row[i+1])
			}
			if d := along(line, logH, row[0]); !near(density(d), row[i+1]) {
				t.Errorf("curve %d at %g: drawn at %.3f; the file has %g", i, row[0], density(d), row[i+1])
			}
		}
	}
}

func longest(pieces [][]xy) (most []xy) {
	for _, p := range pieces {
		if len(p) > len(most) {
			most = p
		}
	}
	return most
}

// along is how high a line stands where its log H is nearest to that.
func along(line []xy, logH func(float64) float64, at float64) (y float64) {
	least := math.Inf(1)
	for _, p := range line {
		if d := math.Abs(logH(p.x) - at); d < least {
			least, y = d, p.y
		}
	}
	return y
}

// ISO 6:1993: the speed point lies 0.10 over base plus fog, and the triangle goes from the
// first of them 1.30 across and 0.80 up.
func TestRingsAndTriangle(t *testing.T) {
	r, svg := pictured(t)
	s := parsed(t, svg)
	logH, density := s.scale(t)
	base, _ := columns(t)
	rings := 0
	for _, c := range s.Circles {
		if c.Fill != "none" || c.Stroke == hex(inkBlack) && c.X < leftEdge+40 && c.Y < upperEdge+9*lineStep {
			continue // a dot, or the ring of the legend
		}
		if c.Stroke != hex(curveColours[rings]) || !near(density(c.Y), base[rings]+0.10) || !near(logH(c.X), float64(*r.Curves[rings].SpeedPoint)) {
			t.Errorf("ring %d at %.3f, %.3f; base plus fog is %g", rings, logH(c.X), density(c.Y), base[rings])
		}
		rings++
	}
	if rings != len(base) {
		t.Errorf("%d rings; want %d", rings, len(base))
	}
	low, high := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	dashes := s.paths(t, grey)
	if len(dashes) < 50 {
		t.Errorf("%d dashes", len(dashes))
	}
	for _, dash := range dashes {
		for _, p := range dash {
			if p.x < leftEdge+41 && p.y < upperEdge+9*lineStep {
				continue // the legend's
			}
			x, y := logH(p.x), density(p.y)
			low, high = point{min(low.x, x), min(low.y, y)}, point{max(high.x, x), max(high.y, y)}
		}
	}
	if first := float64(*r.Curves[0].SpeedPoint); !near(low.x, first) || !near(low.y, base[0]+0.10) || !near(high.x-low.x, 1.30) || !near(high.y-low.y, 0.80) {
		t.Errorf("the triangle spans %v to %v", low, high)
	}
}

// The triangle stands at the curve that is nearest to the time found, 7:00 to 6:15 as the ratio of times goes, and the legend
// says so.
func TestTriangleAtTheTimeFound(t *testing.T) {
	f := curve.Family{Curves: []curve.Curve{{Time: 5 * time.Minute}, {Time: 7 * time.Minute}, {Time: 13 * time.Minute}}}
	r, _ := pictured(t)
	r.Curves = r.Curves[:3]
	for _, c := range []struct {
		target *curve.Target
		at     string
	}{{nil, "5:00"}, {&curve.Target{Time: 375}, "7:00"}, {&curve.Target{Time: 900}, "13:00"}} {
		r.Target = c.target
		if got := curveChart(f, r).keys; got[len(got)-1].text != "triangle of ISO 6:1993, at "+c.at {
			t.Errorf("%+v: %q; expected it at %s", c.target, got[len(got)-1].text, c.at)
		}
	}
}

// Title, axes, and for each curve its time, at its end and in the legend.
func TestWordsOfAPicture(t *testing.T) {
	r, svg := pictured(t)
	s := parsed(t, svg)
	count, edge := map[string]int{}, 0.0 // the grid's
	for _, g := range s.paths(t, paleGrey) {
		edge = max(edge, g[1].x)
	}
	for _, k := range s.Texts {
		count[k.Words]++
		if k.Words == "13:00" && k.X <= edge {
			t.Errorf("the grid goes through %q", k.Words)
		}
	}
	for _, want := range []string{"plover-200.csv", "log exposure", "density", "5:00", "7:00", "9:30", "13:00"} {
		if count[want] != 1 {
			t.Errorf("%q stands there %d times", want, count[want])
		}
	}
	for i, time := range []string{"5:00", "7:00", "9:30", "13:00"} {
		if want := time + ", average gradient " + strconv.FormatFloat(*r.Curves[i].AverageGradient, 'f', 2, 64); count[want] != 1 {
			t.Errorf("no %q in %v", want, count)
		}
	}
	if s.Width != "16cm" || s.Height != "12cm" {
		t.Errorf("%s by %s", s.Width, s.Height)
	}
	if got := title("one/five.csv, two/seven.csv"); got != "five.csv, seven.csv" {
		t.Errorf("two files are called %q", got)
	}
}
