package curve

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"testing"
)

// TestWeightedSmoothingAgainstScipy: readings of different errors are smoothed as scipy's
// make_smoothing_spline does with the weights 1/variance.
func TestWeightedSmoothingAgainstScipy(t *testing.T) {
	missing := t.Skip
	if os.Getenv("WETSIDE_E2E") == "1" {
		missing = t.Fatal
	}
	const python = "/usr/bin/python3" // Debian's, which has scipy
	if exec.Command(python, "-c", "from scipy.interpolate import make_smoothing_spline").Run() != nil {
		missing("python3-scipy is not there: weighted smoothing is not compared with it")
	}
	rng := newRand(7)
	x, y, v := make([]float64, 15), make([]float64, 15), make([]float64, 15)
	for i := range x {
		x[i], v[i] = 0.2*float64(i)+0.05*rng.Float64(), 0.1+3*rng.Float64()
		y[i] = normalToe(x[i]-1) + 0.05*rng.NormFloat64()
	}
	in, _ := json.Marshal([][]float64{x, y, v})
	script := fmt.Sprintf("import json, numpy as n; from scipy.interpolate import make_smoothing_spline as m; x,y,v=map(n.array,%s); print(json.dumps(m(x,y,w=1/v,lam=0.003)(x).tolist()))", in)
	text, err := exec.Command(python, "-c", script).Output()
	var want []float64
	if err == nil {
		err = json.Unmarshal(text, &want)
	}
	if err != nil {
		t.Fatal(err)
	}
	s := newSmoother(x)
	s.v = v
	s.penalise(0.003)
	out := make([]float64, len(x))
	s.smooth(y, out)
	for i := range want {
		if math.Abs(out[i]-want[i]) > 1e-8 {
			t.Errorf("reading %d: %.10f; scipy %.10f", i+1, out[i], want[i])
		}
	}
}

// TestErrorsOfPicturesCount: films drawn at random whose dense readings are poor. With the errors that
// were drawn the average gradient comes closer to the film's own than without, and its interval is
// as often right as it says.
func TestErrorsOfPicturesCount(t *testing.T) {
	film := shapes["normal toe"]
	contrast := film.contrastFor(0.6)
	var with, without, held float64
	const films = 60
	for seed := range uint64(films) {
		rng := newRand(seed)
		base := Density(0.2)
		c := Curve{Base: &base, BaseErr: 0.002}
		for i := range 21 {
			x, e := -1.2+0.15*float64(i), 0.004
			if i%2 == 0 {
				e = 0.04
			}
			c.Readings = append(c.Readings, Reading{LogH(x), Density(0.2 + contrast*film(x) + e*rng.NormFloat64())})
			c.Errors = append(c.Errors, Density(e))
		}
		gradient := func(c Curve) (off float64, in *Interval) {
			r, err := Evaluate(Family{Curves: []Curve{c}}, Request{Intervals: true, Rounds: 100})
			if err != nil || r.Curves[0].AverageGradient == nil {
				t.Fatal(err)
			}
			return *r.Curves[0].AverageGradient - 0.6, r.Curves[0].Intervals.AverageGradient
		}
		off, in := gradient(c)
		with += off * off / films
		// the interval carries the usual 4 % from sheet to sheet too, which these films do not have
		if in != nil && in.Low <= 0.6 && in.High >= 0.6 {
			held += 1.0 / films
		}
		c.Errors, c.BaseErr = nil, 0
		off, _ = gradient(c)
		without += off * off / films
	}
	t.Logf("root mean square error %.4f with errors, %.4f without; intervals hold %.2f", math.Sqrt(with), math.Sqrt(without), held)
	if with > 0.7*without || held < 0.9 {
		t.Errorf("variance %.2g with errors, %.2g without; intervals hold %.2f", with, without, held)
	}
}

// TestPutForgetsWhatAPictureTold: a density that is typed over one of a picture has no error.
func TestPutForgetsWhatAPictureTold(t *testing.T) {
	s := typedTest().Sheets[0]
	d := Density(1)
	if again := s.Put(1, &d, 0); again.Error(1) != 0 || again.Error(3) != s.Error(3) || s.Error(1) != 0.003 {
		t.Errorf("error %v after typing, %v before", again.Error(1), s.Error(1))
	}
	if none := s.Put(1, nil, 0.01); none.Error(1) != 0 {
		t.Errorf("an error of %v without a density", none.Error(1))
	}
	r := Readings{Tablet: make([]float64, len(s.Steps)), Sheets: []SheetReadings{s}}
	if turned := r.TurnRound(0); turned.Sheets[0].Error(19) != s.Error(1) || turned.Sheets[0].Error(BaseRow) != s.Error(BaseRow) {
		t.Error("a strip turned round keeps its errors where they were")
	}
}
