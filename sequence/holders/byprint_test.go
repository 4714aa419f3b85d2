package holders

import (
	"errors"
	"math"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/sessiontest"
)

// straight is kept readings of a film on straight lines, D = 0.10 + (1 - exp(-t/10 min)) (log H + 3), and a recipe that they
// led to: N 9:05 for a print of seven stops on grade 2, as in the guide's worked example.
func straight(t *testing.T) (sequence.Recipe, []densities.ReadingsFile) {
	t.Helper()
	readings := curve.Readings{Film: "Plover 80"}
	for i := range 21 {
		readings.Tablet = append(readings.Tablet, 0.15*float64(i))
	}
	for k, m := range []float64{4, 6, 9, 13} {
		readings.Add(time.Duration(m*float64(time.Minute)), k+1)
		base := curve.Density(0.10)
		readings.Sheets[k].Base = &base
		for i, d := range readings.Tablet {
			density := curve.Density(0.10 - math.Expm1(-m/10)*(3-d))
			readings.Sheets[k].Steps[i] = &density
		}
	}
	r := sessiontest.SixInTray()
	st := &r.Steps[1]
	st.Time = 545 * time.Second
	st.Growth = &sequence.Growth{Limit: 1, K: 0.1, From: "session s, readings 2026-11-30-plover.csv", Tested: []sequence.TestedTime{{Time: 4 * time.Minute, Gradient: 0.33}, {Time: 13 * time.Minute, Gradient: 0.73}}}
	st.Aim = &sequence.Aim{Print: &sequence.PrintAim{Paper: 1.05, Subject: 2.107, Flare: 0.4, Shadow: 0.1, Placed: sequence.UsualPlaced, Enlarger: sequence.Diffuse}}
	return r, []densities.ReadingsFile{{Name: "other"}, {Name: "2026-11-30-plover", Readings: readings}}
}

// Each sheet by its own subject, by hand, with f = 0.009693: on film log10((1+f)/(10^-s + f)), u = 1.05 over that, t = -10 ln(1-u);
// the shadow at -3 + 0.10/u, lifted by log10(1 + f 10^s). Seven stops: 1.761, u 0.5962, shadow -2.8323, lift 0.3503.
// Six: 1.6006, 0.6560, 10.67 min, -2.8476, 0.2096: (0.1407 - 0.0153)/0.301 = 0.417 stops more. Eight: 1.8706, 0.5613, 8.240 min.
// Seven of a contrast of 1.18: 2.0780, 0.5053, 7.038 min, -2.8021, and 0.18 of 1.0034 - 0.3503 more: 0.491 stops. Eight against
// seven: (-2.8218 - 0.5416 + 2.8323 + 0.3503)/0.301 = -0.601. Times within 2 %: the sheets are believed to scatter by 4 %.
func TestEachSheetByItsPrint(t *testing.T) {
	r, kept := straight(t)
	r.Film.Reciprocity = &sequence.Reciprocity{Table: [][2]time.Duration{{time.Second, time.Second}, {1000 * time.Second, time.Duration(math.Pow(10, 3*1.18) * float64(time.Second))}}}
	by := Grouper{Printing: PaperAndFlare{Paper: 0.8, Flare: 0.2}, Response: ResponsesFrom(kept, nil)}
	for name, c := range map[string]struct {
		e             ExposedSheet
		minutes, more float64
		print         bool
	}{
		"six stops":                  {ExposedSheet{Range: 6}, 10.67, 0.417, true},
		"its shadow placed higher":   {ExposedSheet{Range: 6 - 4.0/3, Shadow: "-2"}, 10.67, 0.417, true},
		"a long exposure":            {ExposedSheet{Exposure: "f/22 5m"}, 7.038, 0.491, true},
		"N, as the recipe has it":    {ExposedSheet{}, 545.0 / 60, 0, false},
		"N, written down":            {ExposedSheet{Development: "N", Range: 6}, 545.0 / 60, 0, false},
		"N-1, which it has not":      {ExposedSheet{Development: "N-1"}, 8.240, -0.601, true},
		"a gradient: 1-e^(-.8675)":   {ExposedSheet{Development: "0.58"}, 8.675, 0, false},
		"seven stops, so as N but s": {ExposedSheet{Range: 7}, 9.07, 0, true},
	} {
		c.e.Holder = "1"
		w, err := by.Wanted(&c.e, &r)
		if err != nil || math.Abs(w.Time.Minutes()/c.minutes-1) > 0.02 || (w.Print != nil) != c.print {
			t.Errorf("%s: %.3f min, %+v, %v; expected %.3f", name, w.Time.Minutes(), w.Print, err, c.minutes)
			continue
		}
		// EI 500 for N is 374 with 0.417 stops more, by the meter's steps 400
		r.Film.ExposureIndex = 500
		if name == "six stops" && *PrintIndex(&r, w.Print) != 400 {
			t.Errorf("index %g", *PrintIndex(&r, w.Print))
		}
		if p := w.Print; p != nil && (p.More == nil || math.Abs(*p.More-c.more) > 0.03 || p.Paper != 1.05 || p.Low >= w.Time || p.High <= w.Time || !(p.Chance > 0.2 && p.Chance < p.Near)) {
			t.Errorf("%s: %+v, %.3f stops more; expected %.3f", name, p, *p.More, c.more)
		}
	}
}

// What lies outside the test is refused; paper and flare that the person states count before the recipe's; a recipe of other
// readings goes by its growth.
func TestWhoseResponseCounts(t *testing.T) {
	r, kept := straight(t)
	by := Grouper{Printing: PaperAndFlare{Paper: 1.05, Flare: 0.4}, Response: ResponsesFrom(kept, nil)}
	short := ExposedSheet{Holder: "1", Range: 4.5}
	if _, err := by.Wanted(&short, &r); !errors.Is(err, sequence.ErrUntested) {
		t.Errorf("4.5 stops: %v", err)
	}
	short.Shadow = "-7.5"
	if _, err := by.Wanted(&short, &r); err == nil {
		t.Error("a subject of less than nothing has a time")
	}
	// without flare seven stops are 2.107 on film, and a paper of 1.2 asks for u = 0.5695: 8.429 min
	by.Printing = PaperAndFlare{Paper: 1.2, Flare: 0, Stated: true}
	if w, err := by.Wanted(&ExposedSheet{Holder: "1", Range: 7}, &r); err != nil || math.Abs(w.Time.Minutes()/8.429-1) > 0.02 {
		t.Errorf("by what is stated: %v, %v", w.Time, err)
	}
	by.Printing = PaperAndFlare{Paper: 1.05, Flare: 0.4}
	r.Steps[1].Growth.From = "readings elsewhere.csv"
	if w, err := by.Wanted(&ExposedSheet{Holder: "1", Range: 7}, &r); err != nil || w.Print != nil || math.Abs(w.Gradient-1.05/(2.1072-0.4)) > 0.001 {
		t.Errorf("by the growth: %+v, %v", w, err)
	}
}
