package engine

// The dose of a session that was read at odd moments, against numerical integration:
// Simpson's rule over each stretch between two readings, and over the drift after the
// last one, with nothing taken from package chem.

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
)

// reading is what the bath read at a moment, in seconds and degrees.
type reading struct{ at, t float64 }

// integral is the dose from a to b: straight lines between readings, the first one
// before them, and after the last one towards settle with a time constant.
func integral(rs []reading, settle, tau, k, a, b float64) float64 {
	at := func(x float64) float64 {
		if x <= rs[0].at {
			return rs[0].t
		}
		for i := 1; i < len(rs); i++ {
			if x <= rs[i].at {
				p, q := rs[i-1], rs[i]
				return p.t + (q.t-p.t)*(x-p.at)/(q.at-p.at)
			}
		}
		last := rs[len(rs)-1]
		if tau == 0 {
			return last.t
		}
		return settle + (last.t-settle)*math.Exp(-(x-last.at)/tau)
	}
	edges := []float64{a, b}
	for _, r := range rs {
		if r.at > a && r.at < b {
			edges = append(edges, r.at)
		}
	}
	slices.Sort(edges)
	sum := 0.0
	for i := 1; i < len(edges); i++ {
		sum += simpson(edges[i-1], edges[i], 400, func(t float64) float64 { return math.Pow(k, (at(t)-20)/10) })
	}
	return sum
}

// simpson is the integral of f by Simpson's rule, in so many parts, an even number.
func simpson(from, to float64, parts int, f func(float64) float64) (sum float64) {
	h := (to - from) / float64(parts)
	for i := range parts + 1 {
		w := 2.0
		switch {
		case i == 0 || i == parts:
			w = 1
		case i%2 == 1:
			w = 4
		}
		sum += w * h / 3 * f(from+float64(i)*h)
	}
	return sum
}

func TestDoseOfARunAgainstSimpson(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(1.5, 3).Draw(t, "coefficient")
		r := recipetest.Recipe(sequence.Hangers, 1, recipetest.At(recipetest.Bath(sequence.Develop, recipetest.Seconds(t, 300, 900, "develop")), 20, k), recipetest.Bath(sequence.StopBath, recipetest.Minute))
		start := rapid.Float64Range(17, 24).Draw(t, "read at the start")
		c, settle, tau := sequence.Conditions{BathTemperature: recipetest.Degrees(start)}, 0.0, 0.0
		if rapid.Bool().Draw(t, "drifts") {
			settle, tau = rapid.Float64Range(15, 25).Draw(t, "settles"), float64(rapid.IntRange(600, 4000).Draw(t, "tau"))
			c.SettlesAt, c.TimeConstant = recipetest.Degrees(settle), sequence.Elapsed(tau)*recipetest.Second
		}
		p, err := planning.Resolve(r, c)
		if err != nil {
			t.Fatal(err)
		}
		n := begun(t, &p, 0)
		taken := []reading{{0, start}}
		now := sequence.Elapsed(0)
		for range rapid.IntRange(0, 12).Draw(t, "readings") {
			now += sequence.Elapsed(rapid.IntRange(1, 90_000).Draw(t, "later, ms")) * 1e6
			ago := sequence.Elapsed(rapid.IntRange(0, 60_000).Draw(t, "ago, ms")) * 1e6
			temp := rapid.Float64Range(16, 26).Draw(t, "reads")
			n.do(sequence.Wake{}, now)
			if n.s.Over() != "" {
				break // what is read after the last sheet out counts for nothing
			}
			n.do(sequence.TakeReading{T: *recipetest.Degrees(temp), Ago: ago, Source: sequence.BySensor}, now)
			at := (now - ago).Seconds()
			taken = slices.DeleteFunc(taken, func(x reading) bool { return x.at == at })
			taken = append(taken, reading{at, temp})
		}
		n.do(sequence.Wake{}, now+120*recipetest.Minute)
		slices.SortFunc(taken, func(a, b reading) int { return cmp.Compare(a.at, b.at) })
		d := n.s.Developments()[0]
		y := n.s.Passages()[0]
		want := integral(taken, settle, tau, k, y.In.Seconds(), y.Out.Seconds())
		if math.Abs(d.Done.Seconds()/want-1) > 1e-9 {
			t.Errorf("dose %.9f s; by Simpson %.9f", d.Done.Seconds(), want)
		}
	})
}
