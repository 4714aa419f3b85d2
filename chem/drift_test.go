package chem

// Courses: what they say between and after readings, and that adding a
// reading leaves the old course alone.

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestCourseAt(t *testing.T) {
	c := Course{
		Readings: []Point{{-time.Minute, 22}, {time.Minute, 24}},
		Drift:    &Drift{Settle: 18, Tau: time.Hour},
	}
	for at, want := range map[time.Duration]float64{
		-time.Hour:              22,
		-time.Minute:            22,
		0:                       23,
		time.Minute:             24,
		time.Hour + time.Minute: 18 + 6/math.E, // one time constant
		1000 * time.Hour:        18,
	} {
		if got := c.At(at); math.Abs(float64(got)-want) > 1e-12 {
			t.Errorf("at %v: %v C; expected %v", at, got, want)
		}
	}
	c.Drift.Tau = 0
	if c.At(time.Minute+1) != 18 {
		t.Errorf("settled at once: %v C; expected 18", c.At(time.Minute+1))
	}
	if got := (Course{Drift: c.Drift}).At(0); got != 18 {
		t.Errorf("no reading: %v C; expected where it settles, 18", got)
	}
	if got := (Course{}).At(0); !math.IsNaN(float64(got)) {
		t.Errorf("nothing known: %v C; expected NaN", got)
	}
}

// What is wrong with a course names the reading, counted from one.
func TestCourseOutOfOrder(t *testing.T) {
	c := Course{Readings: []Point{{0, 20}, {time.Minute, 21}, {time.Minute, 22}}}
	if err := c.check(0); err == nil || !strings.Contains(err.Error(), "reading 3 is not later than the one before") {
		t.Errorf("%v", err)
	}
}

// Readings in any order give the course of the sorted ones; the last of two at
// one time stands; the receiver and its spare capacity stay as they were.
func TestAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := map[time.Duration]Celsius{}
		c := Course{Readings: make([]Point, 0, 20)}
		for range rapid.IntRange(1, 8).Draw(t, "readings") {
			p := Point{
				At: time.Duration(rapid.IntRange(-3, 3).Draw(t, "at")) * time.Second,
				T:  Celsius(rapid.IntRange(10, 30).Draw(t, "T")),
			}
			before := slices.Clone(c.Readings)
			next := c.Add(p)
			if !slices.Equal(c.Readings, before) {
				t.Fatalf("adding changed the receiver: %v; it was %v", c.Readings, before)
			}
			want[p.At] = p.T
			c = next
		}
		if !slices.IsSortedFunc(c.Readings, byTime) || len(c.Readings) != len(want) {
			t.Errorf("readings %v; expected %d in order", c.Readings, len(want))
		}
		for at, temperature := range want {
			if c.At(at) != temperature {
				t.Errorf("at %v: %v; expected exactly %v", at, c.At(at), temperature)
			}
		}
	})
}

func TestCourseKeys(t *testing.T) {
	text := `{"readings":[{"at_s":-5,"t_c":22.5}],"drift":{"settle_c":18,"tau_s":7}}`
	var c Course
	if err := json.Unmarshal([]byte(text), &c); err != nil {
		t.Fatal(err)
	}
	want := Course{Readings: []Point{{-5, 22.5}}, Drift: &Drift{Settle: 18, Tau: 7}}
	if !reflect.DeepEqual(c, want) {
		t.Errorf("read %+v; expected %+v", c, want)
	}
}

// Differences of times that no duration holds, and a bath that is used from a reading on: what lies before may be anything, what
// the time rests on may not.
func TestTimesFarApart(t *testing.T) {
	if got := since(math.MinInt64, math.MaxInt64); got != math.MaxInt64-float64(math.MinInt64) {
		t.Errorf("%g", got)
	}
	if got := since(math.MaxInt64, math.MinInt64); got != math.MinInt64-float64(math.MaxInt64) {
		t.Errorf("%g", got)
	}
	bad := Celsius(math.NaN())
	for _, c := range []struct {
		readings []Point
		ok       bool
	}{{[]Point{{0, bad}, {time.Minute, bad}, {2 * time.Minute, 20}}, true}, {[]Point{{0, 20}, {time.Minute, 20}, {2 * time.Minute, bad}}, false}} {
		_, err := Dose(Coefficient{20, 2}, Course{Readings: c.readings}, 3*time.Minute, 4*time.Minute)
		if (err == nil) != c.ok {
			t.Errorf("%v: %v", c.readings, err)
		}
	}
}

// A bath that leaves its table on the way is past it however soon it is back: one kelvin past the end something is known, no more.
func TestBathsLeaveTheTableAtItsEnds(t *testing.T) {
	p, err := NewPairs(20, []Pair{{18, 720}, {21, 600}, {24, 450}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		to Celsius
		ok bool
	}{{17, true}, {16.5, false}, {25, true}, {25.5, false}} {
		course := Course{Readings: []Point{{0, 20}, {10 * time.Minute, c.to}}}
		if _, err := Dose(p, course, 0, 10*time.Minute); (err == nil) != c.ok {
			t.Errorf("to %v: %v", c.to, err)
		}
	}
}
