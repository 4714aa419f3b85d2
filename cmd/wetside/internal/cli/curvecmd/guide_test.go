package curvecmd

// The worked example of the guide: each number that it prints, by its arithmetic and by the film's response.

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
)

// printed are the numbers of one step of the worked example that stand where the pattern has them.
func printed(t *testing.T, guide, pattern string) (list []float64) {
	t.Helper()
	pattern = strings.ReplaceAll(regexp.QuoteMeta(pattern), "#", `(-?\d+(?:\.\d+)?)`)
	found := regexp.MustCompile(pattern).FindStringSubmatch(guide)
	if found == nil {
		t.Fatalf("the guide has no %s", pattern)
	}
	for _, text := range found[1:] {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, v)
	}
	return list
}

func TestWorkedExample(t *testing.T) {
	data, err := os.ReadFile("../help/print.md")
	if err != nil {
		t.Fatal(err)
	}
	guide := strings.Join(strings.Fields(string(data)), " ")
	same := func(what string, printed, want, within float64) {
		t.Helper()
		if math.Abs(printed-want) > within {
			t.Errorf("%s: the guide has %g; it is %.5f", what, printed, want)
		}
	}
	// To the time and the index.
	x := printed(t, guide, "Seven stops are 7 x # = #.")
	subject := 7 * math.Log10(2)
	same("a stop", x[0], math.Log10(2), 0.0005)
	same("seven stops", x[1], subject, 0.0005)
	x = printed(t, guide, "(10^1.8 - 1) = #.")
	f := (1 - math.Pow(10, -0.4)) / (math.Pow(10, 1.8) - 1)
	same("flare", x[0], f, 0.00005)
	x = printed(t, guide, "On film: log10((1 + f)/(10^-2.107 + f)) = #. The shadow is lifted by log10(1 + f 10^2.107) = #.")
	onFilm, lift := math.Log10((1+f)/(math.Pow(10, -subject)+f)), math.Log10(1+f*math.Pow(10, subject))
	same("on film", x[0], onFilm, 0.0005)
	same("lift", x[1], lift, 0.0006)
	x = printed(t, guide, "Grade 2 is #, so u = 1.05/1.761 = #, and t = -10 ln(1 - 0.596) = # min: #:#.")
	u := x[0] / onFilm
	minutes := -10 * math.Log(1-u)
	same("u", x[1], u, 0.0005)
	same("t", x[2], minutes, 0.005)
	same("t as a clock has it", 60*x[3]+x[4], 60*minutes, 0.6)
	at := time.Duration(60*x[3]+x[4]) * time.Second
	x = printed(t, guide, "at -2 + 0.10/0.596 = #; without flare it gets #. Placed 1.0 log H under the metered tone: index 0.8/10^-2.182 = #, by the meter's steps #.")
	same("shadow", x[0], -2+0.10/u, 0.0005)
	same("without flare", x[1], -2+0.10/u-lift, 0.001) // from rounded steps
	same("index", x[2], 0.8/math.Pow(10, -2+0.10/u-lift), 0.7)
	index := x[3]
	// And forward again.
	x = printed(t, guide, "The metered tone gets 8/125 = # lux s, the shadow a tenth of that, the highlight 2.107 more than the shadow: # and #. Flare adds f of the highlight's to both: # and #.")
	tone := 8 / index
	shadow, highlight := tone/10, tone/10*math.Pow(10, subject)
	same("metered", x[0], tone, 0.0005)
	same("shadow alone", x[1], shadow, 0.00005)
	same("highlight alone", x[2], highlight, 0.0005)
	shadow, highlight = shadow+f*highlight, highlight*(1+f)
	same("shadow with flare", x[3], shadow, 0.00005)
	same("highlight with flare", x[4], highlight, 0.0006)
	x = printed(t, guide, "In log H: # and #. Densities: 0.10 + 0.596 (2 - 1.844) = #, and 0.10 + 0.596 (2 - 0.082) = #.")
	same("log H of the shadow", x[0], math.Log10(shadow), 0.0011)
	same("log H of the highlight", x[1], math.Log10(highlight), 0.0011)
	low, high := 0.10+u*(2+math.Log10(shadow)), 0.10+u*(2+math.Log10(highlight))
	same("the shadow's density", x[2], low, 0.001)
	same("the highlight's density", x[3], high, 0.001)
	same("the paper's range", printed(t, guide, "1.243 - 0.193 = # more log exposure")[0], x[3]-x[2], 0.0005)
	s := straightFilm(t)
	met, err := s.Meet(sequence.Aim{Print: &sequence.PrintAim{Paper: 1.05, Subject: subject, Flare: 0.4, Shadow: 0.10, Placed: sequence.UsualPlaced, Enlarger: sequence.Diffuse}})
	if err != nil || met.Index == nil || *met.Index != index || math.Abs(met.Time.Seconds()/at.Seconds()-1) > 0.01 {
		t.Errorf("%v: %v, index %v; the guide has %v and %g", err, met.Time, met.Index, at, index)
	}
	lands := s.Land(response.Print{Subject: subject, Flare: f}, at, math.Log10(shadow))
	same("the shadow's density by the response", x[2], s.BaseFog(at)+lands.ShadowD, 0.005)
	same("the highlight's density by the response", x[3], s.BaseFog(at)+lands.HighlightD, 0.01)
}

// straightFilm is the response of the film that the guide names, from its readings.
func straightFilm(t *testing.T) densities.Response {
	t.Helper()
	family, _, err := ReadFamily([]string{"../../../../../chem/response/testdata/straight.csv"}, curve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	q := curve.Request{Absolute: true}
	r, err := curve.Evaluate(family, q)
	if err != nil {
		t.Fatal(err)
	}
	s, err := densities.ResponseOf(family, r, q)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
