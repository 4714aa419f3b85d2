package curve

// Own sessions by hand: what is weighed before a film is looked at, which sheets count, and sheets that are many and pale.

import (
	"fmt"
	"math"
	"testing"
	"time"
)

// Without films the sizes of scatter are those that were believed: 0.05 e^(z/2) with e^(-z^2/2), evenly from -3.5 to 3.5.
func TestSizesBeforeAnyFilm(t *testing.T) {
	list := explained(nil, -3.5, 3.5, 29)
	for i, w := range list {
		z := -3.5 + 0.25*float64(i)
		if len(list) != 29 || !(math.Abs(w.value/(0.05*math.Exp(z/2))-1) <= 1e-12) || !(math.Abs(w.weight-math.Exp(-z*z/2)) <= 1e-12) {
			t.Errorf("%d of %d: %+v", i, len(list), w)
		}
	}
}

// The first sixty sheets of a film with a time and a gradient; one alone stands for its level, and a nanosecond is a time.
func TestWhichSheetsOfAFilmCount(t *testing.T) {
	sheets := func(n int, m time.Duration, gradient float64) (list []SessionSheet) {
		for i := range n {
			list = append(list, SessionSheet{Sheet{m, gradient}, 0.01, fmt.Sprint(i % 3)})
		}
		return list
	}
	for _, c := range []struct {
		list           []SessionSheet
		sheets, within int
	}{{sheets(61, 8*time.Minute, 0.6), 60, 3}, {sheets(59, 8*time.Minute, 0.6), 59, 3}, {sheets(1, 1, 0.6), 1, 1}, {sheets(2, 0, 0.6), 0, 0}, {sheets(2, 8*time.Minute, 0), 0, 0}} {
		f := newFilmSheets(c.list)
		if len(f.measured) != c.sheets || f.sessions != c.within || c.sheets > 0 && !(math.Abs(f.fitted(8)-0.6) <= 1e-12) {
			t.Errorf("%d of %d sheets of %d sessions, %g after 8 min; expected %d of %d, 0.6", len(f.measured), len(c.list), f.sessions, f.fitted(8), c.sheets, c.within)
		}
	}
}

// Three sessions of one film are enough, and two of two; two of one are not. What a test goes by lies between points of the fine grid, a
// quarter of a spread apart. Sixty pale sheets tell a scatter, however small the product of what they are believed by.
func TestFewestSessions(t *testing.T) {
	film := func(sessions, sheets int, gradient float64) (list []SessionSheet) {
		for i := range sheets {
			list = append(list, SessionSheet{Sheet{8 * time.Minute, gradient * (1 + 0.05*float64(i%sessions))}, 0.0001, fmt.Sprint(i % sessions)})
		}
		return list
	}
	for _, c := range []struct {
		films [][]SessionSheet
		want  int
	}{{[][]SessionSheet{film(3, 3, 0.6)}, 3}, {[][]SessionSheet{film(2, 2, 0.6)}, 0}, {[][]SessionSheet{film(2, 2, 0.6), film(2, 2, 0.5), film(1, 2, 0.4)}, 4}, {[][]SessionSheet{film(3, 60, 0.01)}, 3}} {
		own := ScatterOfSessions(c.films)
		if own == nil {
			if c.want > 0 {
				t.Errorf("nothing of %d sessions", c.want)
			}
			continue
		}
		if own.Sessions != c.want || !(own.Low < own.Value && own.Value < own.High) {
			t.Errorf("%+v; expected %d sessions", own, c.want)
		}
		for _, end := range []weighted{own.believed[0], own.believed[len(own.believed)-1]} {
			if z := 4 * math.Log(end.value/0.05) / 0.5; !(math.Abs(z-math.Round(z)) <= 1e-6) {
				t.Errorf("a test goes by %g, at %.3f quarters of a spread", end.value, z)
			}
		}
	}
}
