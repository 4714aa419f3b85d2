package response

import (
	"math"
	"testing"
	"time"
)

// straight is a test on straight lines with the law exactly: D = 0.1 + u (h + 3), u = 1 - exp(-0.1 t).
func straight(times ...float64) (list []Sheet) {
	for _, t := range times {
		s := Sheet{Time: time.Duration(t * float64(time.Minute))}
		for i := range 21 {
			h := -3 + 0.15*float64(i)
			s.LogH, s.Density = append(s.LogH, h), append(s.Density, 0.1-math.Expm1(-0.1*t)*(h+3))
		}
		list = append(list, s)
	}
	return list
}

// TestStraightLine: on a straight line all aims are arithmetic. A gradient of 0.58 takes t with 1 - exp(-t/10) =
// 0.58: 8.675 min. A print of range 1.05 of a subject of 2.2 with a flare of 0.0097 has 1.80 on the film, so a gradient of
// 1.05/1.80 = 0.5833: 8.755 min; its shadow, 0.10 over base, lies at -3 + 0.10/0.5833 = -2.829.
func TestStraightLine(t *testing.T) {
	s, err := Fit(straight(4, 6, 9, 13), Options{ReadingError: 0.002, SheetScatter: 0.001})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s: %.4f; expected %.4f", what, got, want)
		}
	}
	got, err := s.Solve(Average{0.58})
	if err != nil {
		t.Fatal(err)
	}
	near("average gradient: minutes", got.Time.Minutes(), 8.675, 0.03)
	p := Print{Paper: 1.05, Subject: DefaultSubject, Flare: DefaultFlare, Shadow: DefaultShadow}
	near("range on film", p.OnFilm(), 1.80, 0.002)
	got, err = s.Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	near("print: minutes", got.Time.Minutes(), 8.755, 0.03)
	near("print: shadow", got.Shadow, -2.829, 0.005)
	l := s.Land(p, got.Time, got.Shadow)
	near("shadow's density", l.ShadowD, 0.10, 0.003)
	near("highlight's density", l.HighlightD, 1.15, 0.005)
	near("range", l.Range, 1.05, 0.003)
	// Without flare the meter's tone lies 1.0 over the speed point: an index is 0.8/H of it.
	near("index", Print{}.Index(-2, 10/3.0), 80*math.Pow(10, 1-10/3.0*math.Log10(2)), 0.01)
	if c := s.Chance(p, got.Time, got.Shadow, 0, 9); c != 1 {
		t.Errorf("chance of any range: %g", c)
	}
}

func TestGrades(t *testing.T) {
	for _, c := range []struct{ logRange, grade float64 }{{1.05, 2.5}, {1.15, 2}, {0.5, 6}, {1.7, 0}, {0.875, 3.5}} {
		if g := GradeOf(c.logRange); math.Abs(g-c.grade) > 1e-9 {
			t.Errorf("range %g: grade %g; expected %g", c.logRange, g, c.grade)
		}
	}
	if r, err := GradeRange(2); err != nil || math.Abs(r-1.05) > 1e-9 {
		t.Errorf("grade 2: %g, %v", r, err)
	}
	if _, err := GradeRange(6); err == nil {
		t.Error("grade 6 has a range")
	}
}
