package curve

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"testing"
	"time"
)

// The scatter of a person's sessions against brute force (testdata/ownsessions.py): hundreds of
// thousands of films drawn, each weighed by the normal distribution. Draws are good to 2 or 3 %.
func TestOwnSessionsAgainstNumpy(t *testing.T) {
	text, err := os.ReadFile("testdata/ownsessions.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Films                    [][][3]float64 // session, minutes, gradient
		Reading, Mean, Low, High float64
	}
	if err := json.Unmarshal(text, &cases); err != nil || len(cases) != 3 {
		t.Fatal(len(cases), err)
	}
	for i, c := range cases {
		var films [][]SessionSheet
		for f, sheets := range c.Films {
			films = append(films, nil)
			for _, s := range sheets {
				films[f] = append(films[f], SessionSheet{Sheet{fromMinutes(s[1]), s[2]}, c.Reading, fmt.Sprint(s[0])})
			}
		}
		got := ScatterOfSessions(films)
		if got == nil {
			t.Fatalf("case %d: nothing of %d films", i, len(films))
		}
		for what, v := range map[string][2]float64{"mean": {got.Value, c.Mean}, "low": {got.Low, c.Low}, "high": {got.High, c.High}} {
			if math.Abs(v[0]/v[1]-1) > 0.05 {
				t.Errorf("case %d: %s %.4f; numpy %.4f", i, what, v[0], v[1])
			}
		}
		kept, sum := 0.0, 0.0
		for _, s := range got.believed {
			kept, sum = kept+s.weight*s.value, sum+s.weight
		}
		if math.Abs(kept/sum/got.Value-1) > 0.02 || len(got.believed) != ownCoarse {
			t.Errorf("case %d: a test goes by %.4f, told is %.4f", i, kept/sum, got.Value)
		}
	}
}

// Sessions of one sheet each, all developed alike: the gradients' own variance is the sum of the
// variances of sessions and sheets, and its likelihood, the level being anything, is that of
// chi-square with one less than there are (closed form: W. G. Cochran 1934). What is
// believed of the sessions' is the prior times that, over all that is believed of the sheets'.
func TestOwnSessionsAgainstTheClosedForm(t *testing.T) {
	const n, level, s2 = 12, 0.6, 0.08 * 0.08
	var film []SessionSheet
	for i := range n { // equal steps about the level, of the variance s2 with n - 1
		off := (float64(i) - (n-1)/2.0) / math.Sqrt(n*(n+1)/12.0) * math.Sqrt(s2)
		film = append(film, SessionSheet{Sheet{8 * time.Minute, level * math.Exp(off)}, 0, fmt.Sprint(i)})
	}
	got := ScatterOfSessions([][]SessionSheet{film})
	if got == nil || got.Sessions != n || got.Films != 1 {
		t.Fatalf("%+v", got)
	}
	mean, sum := 0.0, 0.0
	for z := -3.5; z <= 3.5; z += 0.01 {
		size, l := 0.05*math.Exp(0.5*z), 0.0
		for v := -2.0; v <= 2; v += 0.5 { // what is believed of sheets
			own := 0.04 * math.Exp(0.5*v)
			both := size*size + own*own
			l += math.Exp(-v*v/2) * math.Pow(both, -(n-1)/2.0) * math.Exp(-(n-1)*s2/(2*both))
		}
		w := math.Exp(-z*z/2) * l
		mean, sum = mean+w*size, sum+w
	}
	if want := mean / sum; math.Abs(got.Value/want-1) > 0.02 {
		t.Errorf("%.4f; closed form %.4f", got.Value, want)
	}
}

// Few sessions are believed little: three that differ by a fifth do not make it a fifth, and what
// tells nothing leaves the usual. The more there are, the nearer to their own.
func TestFewOwnSessionsAreShrunk(t *testing.T) {
	sessions := func(n int) []SessionSheet {
		var film []SessionSheet
		for i := range n {
			off := 0.2 * float64(i%3-1) * math.Sqrt(1.5) // of standard deviation 0.2
			for _, m := range []float64{6, 9} {
				film = append(film, SessionSheet{Sheet{fromMinutes(m), (Growth{Limit: 1.1, K: 0.11}).At(fromMinutes(m)) * (1 + off)}, 0.012, fmt.Sprint(i)})
			}
		}
		return film
	}
	last := 0.05
	for _, n := range []int{3, 6, 12, 24} {
		got := ScatterOfSessions([][]SessionSheet{sessions(n)})
		if got == nil || !(got.Value > last && got.Value < 0.21) || !(got.Low < got.Value && got.Value < got.High) {
			t.Fatalf("%d sessions: %+v; expected more than %.3f, under 0.2", n, got, last)
		}
		last = got.Value
	}
	if last < 0.16 {
		t.Errorf("24 sessions that differ by 0.2: %.3f", last)
	}
	if got := ScatterOfSessions([][]SessionSheet{sessions(2)}); got != nil {
		t.Errorf("two sessions: %+v; expected the usual scatter to stay", got)
	}
	if got := ScatterOfSessions([][]SessionSheet{sessions(2), sessions(2), sessions(1)}); got == nil || got.Sessions != 4 || got.Films != 2 {
		t.Errorf("two sessions of two films, one of a third: %+v; expected four of two", got)
	}
}

// The next session's interval is as wide as a person's own sessions differ; a scatter that is stated
// overrules them.
func TestIntervalsGoByOwnSessions(t *testing.T) {
	var film []SessionSheet
	for i := range 20 {
		film = append(film, SessionSheet{Sheet{8 * time.Minute, 0.6 * (1 + 0.15*math.Sin(2.4*float64(i)))}, 0.012, fmt.Sprint(i)})
	}
	own := ScatterOfSessions([][]SessionSheet{film})
	rng := newRand(77)
	f := Family{}
	for _, m := range []float64{5, 7, 10, 14} {
		c := readSheet(rng, normalToe, normalToeFor(0.2+0.04*m), 0.01, false)
		c.Time = fromMinutes(m)
		f.Curves = append(f.Curves, c)
	}
	width := func(e Errors) float64 {
		out, err := Evaluate(f, Request{Rounds: 50, Target: 0.55, Errors: e})
		if err != nil {
			t.Fatal(err)
		}
		if e.Own != nil && e.Sessions == nil && (out.Errors.Own != own || math.Abs(out.Errors.Sessions/own.Value-1) > 0.03) {
			t.Errorf("%+v; expected %.3f of own sessions", out.Errors, own.Value)
		}
		if e.Sessions != nil && (out.Errors.Own != nil || !out.Errors.SessionsStated) {
			t.Errorf("stated, and yet %+v", out.Errors)
		}
		return *out.Target.High - *out.Target.Low
	}
	usual, wide, none := width(Errors{}), width(Errors{Own: own}), 0.0
	if stated := width(Errors{Own: own, Sessions: &none}); !(stated < usual && usual < wide) {
		t.Errorf("%.0f s without scatter, %.0f with the usual 5 %%, %.0f with own sessions of %.2f; expected rising", stated, usual, wide, own.Value)
	}
}

func normalToeFor(gradient float64) float64 { return shape(normalToe).contrastFor(gradient) }
