package estimate

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
)

const debianPython = "/usr/bin/python3" // with scipy

// independently is the same model worked without this package's closed forms or its filter: how the bath moves comes
// from a matrix exponential (C. F. Van Loan, IEEE Trans. Automat. Contr. 23 (1978) 395-404), and what the readings
// tell from one normal distribution of all of them together, not from one after the other.
const independently = `
import json, sys
import numpy as np
from scipy.linalg import expm
answers = []
for c in json.load(sys.stdin):
    tau, settle, q = c["tau"], c["settle"], c["wander"]**2
    A = np.zeros((5, 5))           # bath, two offsets, integral, one
    if tau > 0:
        A[0, 0], A[0, 4] = -1/tau, settle/tau
    A[3, 0] = 1
    L = np.zeros((5, 5)); L[0, 0] = q
    def step(t):
        V = np.zeros((10, 10)); V[:5, :5], V[:5, 5:], V[5:, 5:] = -A, L, A.T
        E = expm(V*t); F = E[5:, 5:].T
        return F, F @ E[:5, 5:]
    r = c["readings"]
    times = [x["at"] for x in r] + [c["end"]]
    # the bath at its first reading is an unknown of which nothing is known beforehand: least squares (kriging with
    # an unknown mean); m is what does not depend on it, g what does
    S = np.zeros((5, 5)); S[1, 1], S[2, 2] = c["offsets"][0]**2, c["offsets"][1]**2
    ms, gs, blocks, Fs = [np.array([0, 0, 0, 0, 1.0])], [np.array([1.0, 0, 0, 0, 0])], [S], []
    for a, b in zip(times, times[1:]):
        F, Q = step(b-a)
        ms.append(F @ ms[-1]); gs.append(F @ gs[-1]); blocks.append(F @ blocks[-1] @ F.T + Q); Fs.append(F)
    n = len(times)
    cov = np.zeros((5*n, 5*n))
    for j in range(n):
        C = blocks[j]
        for i in range(j, n):
            cov[5*i:5*i+5, 5*j:5*j+5], cov[5*j:5*j+5, 5*i:5*i+5] = C, C.T
            if i < n-1:
                C = Fs[i] @ C
    m, g = np.concatenate(ms), np.concatenate(gs)
    H = np.zeros((len(r), 5*n)); R = np.zeros((len(r), len(r))); z = np.zeros(len(r))
    for i, x in enumerate(r):
        H[i, 5*i], H[i, 5*i+1+x["by"]] = 1, 1
        R[i, i], z[i] = c["noises"][x["by"]]**2, x["t"]
    V = np.linalg.inv(H @ cov @ H.T + R)
    X = H @ g
    first = (X @ V @ (z - H @ m)) / (X @ V @ X)
    K = cov @ H.T @ V
    mean = m + g*first + K @ (z - H @ m - X*first)
    d = g - K @ X
    cov = cov - K @ H @ cov + np.outer(d, d) / (X @ V @ X)
    e = 5*(n-1)
    t = c["end"] - times[0]
    answers.append([mean[e], cov[e, e]**0.5, mean[e+3]/t, cov[e+3, e+3]**0.5/t, mean[e+1], cov[e+1, e+1]**0.5])
print(json.dumps(answers))`

type caseOf struct {
	Tau      float64     `json:"tau"`
	Settle   float64     `json:"settle"`
	Wander   float64     `json:"wander"`
	Offsets  [2]float64  `json:"offsets"`
	Noises   [2]float64  `json:"noises"`
	Readings []readingOf `json:"readings"`
	End      float64     `json:"end"`
}

type readingOf struct {
	At float64 `json:"at"`
	T  float64 `json:"t"`
	By int     `json:"by"`
}

var cases = []caseOf{
	{Wander: 0.1, Offsets: [2]float64{0.3, 0.2}, Noises: [2]float64{0.1, 0.03}, Readings: []readingOf{{0, 20, 0}}, End: 8},
	{Wander: 0.1, Offsets: [2]float64{0.3, 0.2}, Noises: [2]float64{0.1, 0.03}, Readings: []readingOf{{0, 20, 0}, {4, 20.6, 0}, {5.5, 20.1, 1}}, End: 9},
	{Tau: 45, Settle: 18, Wander: 0.05, Offsets: [2]float64{0.23, 0.29}, Noises: [2]float64{0.1, 0.03}, Readings: []readingOf{{0, 24, 1}, {1, 23.8, 1}, {2, 23.9, 0}, {7, 23.1, 1}}, End: 12},
	{Tau: 5, Settle: 26, Wander: 0.4, Offsets: [2]float64{0.1, 0.5}, Noises: [2]float64{0.2, 0.2}, Readings: []readingOf{{0, 19, 0}, {0.5, 19.9, 1}, {3, 22, 0}, {3.25, 22.9, 1}, {9, 25, 0}}, End: 30},
}

func (c caseOf) bath() Bath {
	b := Bath{Wander: c.Wander}
	for t := range b.Thermometers {
		b.Thermometers[t] = Errors{c.Offsets[t], c.Noises[t]}
	}
	if c.Tau > 0 {
		b.Drift = &chem.Drift{Settle: chem.Celsius(c.Settle), Tau: minutes(c.Tau)}
	}
	return b
}

func minutes(m float64) time.Duration { return time.Duration(math.Round(m * float64(time.Minute))) }

func (r readingOf) reading() Reading {
	return Reading{minutes(r.At), chem.Celsius(r.T), Thermometer(r.By)}
}

func TestFilterIsScipys(t *testing.T) {
	in, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(debianPython, "-c", independently)
	cmd.Stdin = strings.NewReader(string(in))
	out, err := cmd.Output()
	if err != nil {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal("python3-scipy is wanted by WETSIDE_E2E=1: ", err)
		}
		t.Skip("python3-scipy is not installed")
	}
	var want [][6]float64
	if err := json.Unmarshal(out, &want); err != nil {
		t.Fatal(err)
	}
	for i, c := range cases {
		b := c.bath()
		s := b.Begin(c.Readings[0].reading())
		for _, r := range c.Readings[1:] {
			s = b.Take(s, r.reading())
		}
		s = b.Until(s, minutes(c.End))
		now, sd := s.Bath()
		mean, meanSD := s.Mean()
		off, offSD := s.x[offset+int(Hand)], root(s.p[offset+int(Hand)][offset+int(Hand)])
		for k, got := range []float64{float64(now), sd, float64(mean), meanSD, off, offSD} {
			if math.Abs(got-want[i][k]) > 1e-6 {
				t.Errorf("case %d, number %d: %.7f; scipy %.7f", i, k, got, want[i][k])
			}
		}
	}
}

// Thermometers without errors are believed to the bit, in whatever order they are read.
func TestWithoutErrors(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := Bath{Wander: rapid.Float64Range(0, 1).Draw(rt, "wander")}
		if rapid.Bool().Draw(rt, "drifts") {
			b.Drift = &chem.Drift{Settle: 18, Tau: minutes(rapid.Float64Range(1, 100).Draw(rt, "tau"))}
		}
		r := Reading{T: chem.Celsius(rapid.Float64Range(10, 30).Draw(rt, "t"))}
		s := b.Begin(r)
		for range rapid.IntRange(0, 20).Draw(rt, "readings") {
			if now, sd := s.Bath(); now != r.T || sd != 0 {
				rt.Fatalf("%v ± %g; read %v", now, sd, r.T)
			}
			r = Reading{r.At + minutes(rapid.Float64Range(0, 5).Draw(rt, "after")), chem.Celsius(rapid.Float64Range(10, 30).Draw(rt, "t")), Thermometer(rapid.IntRange(0, 1).Draw(rt, "by"))}
			if r.At == s.at {
				r.At += time.Second
			}
			s = b.Take(s, r)
		}
	})
}

// However often one thermometer is read, its own offset stays; a second one halves the variance.
func TestAnOffsetStays(t *testing.T) {
	b := Bath{Thermometers: [2]Errors{{0.3, 0.1}, {0.3, 0.1}}}
	s := b.Begin(Reading{T: 20})
	for i := range 10_000 {
		s = b.Take(s, Reading{At: time.Duration(i+1) * time.Second, T: 20})
	}
	if _, sd := s.Bath(); math.Abs(sd-0.3) > 1e-4 {
		t.Errorf("± %g after ten thousand readings of one thermometer; expected its offset, 0.3", sd)
	}
	for i := range 10_000 {
		s = b.Take(s, Reading{At: time.Duration(i+20_000) * time.Second, T: 20.2, By: Sensor})
	}
	if now, sd := s.Bath(); math.Abs(sd-0.3/math.Sqrt2) > 1e-3 || math.Abs(float64(now)-20.1) > 1e-3 {
		t.Errorf("%v ± %g with two alike; expected halfway, %g", now, sd, 0.3/math.Sqrt2)
	}
}

// A bath that only wanders, read at its start and once more without error: its mean is known best where s^3/12 + (L-s)^3/3
// is least (a Brownian bridge and a walk from its end), at two thirds; the mean's variance falls from L/3 to L/27.
func TestNextReading(t *testing.T) {
	b := Bath{Wander: 0.3}
	at, without, with := b.NextReading(b.Begin(Reading{T: 20}), 9*time.Minute, Hand)
	if at != 6*time.Minute || math.Abs(without-0.3*math.Sqrt(3)) > 1e-9 || math.Abs(with-0.3*math.Sqrt(9.0/27)) > 1e-9 {
		t.Errorf("read at %v, ± %g to %g; expected 6:00, %g to %g", at, without, with, 0.3*math.Sqrt(3), 0.3*math.Sqrt(9.0/27))
	}
	// where all that is in doubt is the thermometer's own offset, reading it again helps nothing
	still := Bath{Thermometers: [2]Errors{{0.3, 0}, {}}}
	if _, without, with := still.NextReading(still.Begin(Reading{T: 20}), 9*time.Minute, Hand); math.Abs(without-with) > 1e-9 || math.Abs(without-0.3) > 1e-9 {
		t.Errorf("± %g to %g; expected 0.3 both", without, with)
	}
}

// The mean counts from where it is told to.
func TestMeanCounts(t *testing.T) {
	b := Bath{Drift: &chem.Drift{Settle: 20, Tau: 10 * time.Minute}}
	s := b.Until(b.Begin(Reading{T: 30}), 10*time.Minute).Counting()
	mean, sd := b.Until(s, 20*time.Minute).Mean()
	if want := 20 + 10*math.Exp(-1)*(1-math.Exp(-1)); math.Abs(float64(mean)-want) > 1e-9 || sd != 0 {
		t.Errorf("%v ± %g; expected %g", mean, sd, want)
	}
}
