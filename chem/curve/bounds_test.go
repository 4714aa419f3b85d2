package curve

// Every stated bound from both of its sides: what lies on it or just within is taken, what lies just beyond is not.

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

func fault(_ any, err error) error { return err }

// missing is an error where something was not found or said.
func missing(ok bool) error {
	if ok {
		return nil
	}
	return errors.New("no")
}

func TestBoundsFromBothSides(t *testing.T) {
	const day = 24 * time.Hour
	rising := func(n int, step float64) Curve {
		c := Curve{}
		for i := range n {
			c.Readings = append(c.Readings, Reading{LogH(-10 + step*float64(i)), 0.1})
		}
		return c
	}
	density := func(d float64) error { return Curve{Readings: []Reading{{0, 0.1}, {1, Density(d)}}}.check() }
	base := func(d Density) error { return Curve{Base: &d, Readings: []Reading{{0, 0.1}, {1, 0.2}}}.check() }
	logH := func(first, last LogH) error { return Curve{Readings: []Reading{{first, 0.1}, {last, 0.2}}}.check() }
	sheets := func(at time.Duration) error {
		return fault(FitGrowth([]Sheet{{12 * time.Hour, 0.5}, {at, 0.7}}, false))
	}
	grown := func(minutes float64) error {
		g := Growth{Limit: 1, K: 0.001}
		return fault(g.Time(-math.Expm1(-0.001 * minutes)))
	}
	paper := func(p, subject, flare LogH) error { return fault(PrintConditions{p, subject, flare}.Gradient()) }
	exposed := func(text string) error { return fault(ParseExposed(text)) }
	stops := func(text string) error { return fault(ParseDensity(text, true)) }
	typed := func(text string) error { return fault(ParseDensity(text, false)) }
	times := func(text string) error { return fault(ParseTimes(text)) }
	options := func(o Options) error { return o.check() }
	tablet := func(n int, step float64) error { return fault(NominalTablet(n, step)) }
	requested := func(r Request) error { return r.complete(Family{}) }
	scatter := func(v float64) error { return Errors{Sessions: &v}.check() }
	count := func(text string) error { _, ok := parseCount(text); return missing(ok) }
	falls := func(by float64) error {
		fs := &faultList{}
		var spots []tabletReading
		for i, d := range []float64{0.1, 0.5, 0.9, 0.9 - by, 1.3} {
			spots = append(spots, tabletReading{Reading{LogH(0.7 * float64(i)), Density(d)}, i + 1, position{}})
		}
		curveOf(fs, time.Minute, nil, spots)
		return fs.err()
	}
	test := func(guess time.Duration, n int) error { return fault(TestTimes(guess, n)) }
	speed := func(s float64) error { return fault(NominalSpeed(s)) }
	high, low := LogH(10), LogH(10.1)
	for name, c := range map[string]struct{ within, beyond error }{
		"readings":              {rising(1000, 0.01).check(), rising(1001, 0.01).check()},
		"few readings":          {rising(2, 1).check(), rising(1, 1).check()},
		"steps":                 {rising(3, 1.001e-6).check(), rising(3, 0.99e-6).check()},
		"density":               {density(6), density(6.01)},
		"density below zero":    {density(-0.2), density(-0.21)},
		"base":                  {base(6), base(6.01)},
		"log H":                 {logH(0, 10), logH(0, 10.1)},
		"log H below zero":      {logH(-10, 0), logH(-10.1, 0)},
		"time of a sheet":       {sheets(day), sheets(day + 1)},
		"time for a gradient":   {grown(1439.9), grown(1440.1)},
		"paper":                 {paper(5, 2, 0.4), paper(5.1, 2, 0.4)},
		"subject":               {paper(1, 10, 0.4), paper(1, 10.1, 0.4)},
		"flare":                 {paper(1, 2, 0), paper(1, 2, -0.01)},
		"left of the subject":   {paper(1, 2, 1.99), paper(1, 2, 2)},
		"index":                 {exposed("EI 100000"), exposed("EI 100001")},
		"least index":           {exposed("0.1"), exposed("0.09")},
		"stops over it":         {exposed("EI 50 +20"), exposed("EI 50 +20.1")},
		"stops":                 {stops("20"), stops("20.1")},
		"no stops":              {stops("0"), stops("-0.1")},
		"typed":                 {typed("6.00"), typed("6.01")},
		"developing time":       {times("24h"), times("24h1s")},
		"least developing time": {times("1s"), times("0.9s")},
		"developing times":      {times(strings.Repeat("5m ", 200)), times(strings.Repeat("5m ", 201))},
		"step":                  {options(Options{Step: 1}), options(Options{Step: 1.01})},
		"least step":            {options(Options{Step: 0.01}), options(Options{Step: 0.009})},
		"behind density 0":      {options(Options{LogH0: &high}), options(Options{LogH0: &low})},
		"stated time":           {options(Options{Time: day}), options(Options{Time: day + 1})},
		"tablet's steps":        {tablet(100, 0.05), tablet(101, 0.05)},
		"tablet's least":        {tablet(5, 0.15), tablet(4, 0.15)},
		"tablet's step":         {tablet(5, 1), tablet(5, 1.01)},
		"tablet's least step":   {tablet(5, 0.01), tablet(5, 0.009)},
		"tablet's end":          {tablet(12, 0.54), tablet(12, 0.55)}, // 0.05 + 11 x 0.54 = 5.99
		"smoothing":             {requested(Request{Smooth: 0.2}), requested(Request{Smooth: 0.21})},
		"rounds":                {requested(Request{Rounds: 10000}), requested(Request{Rounds: 10001})},
		"reading error":         {Errors{Reading: 0.2}.check(), Errors{Reading: 0.21}.check()},
		"scatter":               {Errors{Scatter: 0.5}.check(), Errors{Scatter: 0.51}.check()},
		"scatter of sessions":   {scatter(0.5), scatter(0.51)},
		"no scatter":            {scatter(0), scatter(-0.01)},
		"digits":                {count("999999"), count("1000000")},
		"a fall":                {falls(0.15), falls(0.151)},
		"sheets of a test":      {test(2*time.Hour, 200), test(2*time.Hour, 201)},
		"two sheets":            {test(8*time.Minute, 2), test(8*time.Minute, 1)},
		"short times":           {test(6400*time.Millisecond, 2), test(5900*time.Millisecond, 2)},                        // 5.9 s / sqrt(1.4) = 4.99 s
		"shortest times":        {test(7*time.Second, 2), test(2840*time.Millisecond, 2)},                                // 2.4 and 3.4 s would be 0 and 5
		"long times":            {test(time.Duration(20.2*float64(time.Hour)), 2), test(20*time.Hour+20*time.Minute, 2)}, // x sqrt(1.4) = 23.9 h
		"speed":                 {speed(1.12e6), speed(1.13e6)},
		"least speed":           {speed(0.892), speed(0.89)}, // 10^(-0.05) = 0.8913
	} {
		if c.within != nil {
			t.Errorf("%s: within the bound: %v", name, c.within)
		}
		if c.beyond == nil {
			t.Errorf("%s: beyond the bound: taken", name)
		}
	}
	for value, want := range map[float64]int{0.0001: 1, 0.2: 1, 0.201: 0, 0: 0, -0.1: 0} {
		if got := parseErrors(fmt.Sprint(value)); (got[0] > 0) != (want > 0) {
			t.Errorf("error %g: %v", value, got)
		}
	}
}

// A forecast is made for gradients over 0.1 and under 3.
func TestBoundsOfAForecast(t *testing.T) {
	for target, ok := range map[float64]bool{0.1: false, 0.11: true, 2.9: true, 3: false} {
		_, err := ForecastTest([]time.Duration{6 * time.Minute, 10 * time.Minute}, 8*time.Minute, target, Errors{Reading: 0.01})
		if (err == nil) != ok {
			t.Errorf("%g: %v", target, err)
		}
	}
}

// ISO 6:1993, the scale of speeds: ten steps a decade, each from half a step below to half a step above (those below
// 50 and over 800 from memory).
func TestEverySpeedStep(t *testing.T) {
	steps := strings.Fields("1 1.2 1.6 2 2.5 3 4 5 6 8 10 12 16 20 25 32 40 50 64 80 100 125 160 200 250 320 400 500 640 800 " +
		"1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 12500 16000 20000 25000 32000 40000 50000 64000 80000 100000")
	for n, want := range steps {
		for _, off := range []float64{-0.499, 0, 0.499} {
			s := math.Pow(10, (float64(n)+off)/10)
			if got, err := NominalSpeed(s); err != nil || fmt.Sprintf("%.10g", got) != want {
				t.Errorf("%g: %g, %v; expected %s", s, got, err, want)
			}
		}
	}
}
