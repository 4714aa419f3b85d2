package chem

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// debianPython has scipy.
const debianPython = "/usr/bin/python3"

// TestWashIsScipys: the closed form against scipy's solve_ivp.
func TestWashIsScipys(t *testing.T) {
	cases := []struct {
		v, vg, half, q, minutes float64
		from                    Left
	}{
		{500, 2, 1, 0, 3, Left{1, 0.02}}, {1500, 3, 3.4, 0, 5, Left{0.3, 0.001}}, {200, 10, 1, 0.2, 12, Left{1, 1}},
		{1000, 4, 0.57, 2, 2.5, Left{0.8, 0.1}}, {50, 20, 2, 0, 10, Left{1, 0}}, {1000, 3, 10, 0.33, 40, Left{1, 0.5}},
	}
	script := "import json,sys\nfrom math import log\nfrom scipy.integrate import solve_ivp\nout=[]\nfor v,vg,half,q,m,g,b in json.load(sys.stdin):\n" +
		" k=log(2)/half\n s=solve_ivp(lambda t,y:[-k*(y[0]-y[1]),vg/v*k*(y[0]-y[1])-q*y[1]],(0,m),[g,b],rtol=1e-11,atol=1e-14)\n out.append([s.y[0][-1],s.y[1][-1]])\nprint(json.dumps(out))"
	var in [][7]float64
	for _, c := range cases {
		in = append(in, [7]float64{c.v, c.vg, c.half, c.q, c.minutes, c.from.Gelatin, c.from.Water})
	}
	text, _ := json.Marshal(in)
	cmd := exec.Command(debianPython, "-c", script)
	r, w, _ := os.Pipe()
	fmt.Fprint(w, string(text))
	w.Close()
	cmd.Stdin = r
	out, err := cmd.Output()
	if err != nil {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal("python3-scipy is wanted by WETSIDE_E2E=1: ", err)
		}
		t.Skip("python3-scipy is not installed")
	}
	var want [][2]float64
	if err := json.Unmarshal(out, &want); err != nil {
		t.Fatal(err)
	}
	for i, c := range cases {
		b := WashBath{Millilitres(c.v), 1, Millilitres(c.vg), time.Duration(c.half * float64(time.Minute))}
		got := b.Run(c.from, time.Duration(c.minutes*float64(time.Minute)), c.q)
		if math.Abs(got.Gelatin-want[i][0]) > 1e-6*want[i][0]+1e-9 || math.Abs(got.Water-want[i][1]) > 1e-6*want[i][1]+1e-9 {
			t.Errorf("case %d: %.9g and %.9g; scipy %.9g and %.9g", i, got.Gelatin, got.Water, want[i][0], want[i][1])
		}
	}
}

// TestWashLaws: nothing is made or lost in standing water; longer and more changes leave less; the
// water's own bound lies beneath; gelatin that gives up at once is plain thinning.
func TestWashLaws(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b := WashBath{
			Volume:    Millilitres(rapid.Float64Range(100, 5000).Draw(r, "volume")),
			CarryOver: Millilitres(rapid.Float64Range(1, 90).Draw(r, "carry-over")),
			Gelatin:   Millilitres(rapid.Float64Range(0.2, 30).Draw(r, "gelatin")),
			Half:      time.Duration(rapid.Float64Range(0.2, 10).Draw(r, "half")*60) * time.Second,
		}
		l := Left{rapid.Float64Range(0, 1).Draw(r, "g"), rapid.Float64Range(0, 1).Draw(r, "b")}
		d := time.Duration(rapid.IntRange(1, 3600).Draw(r, "s")) * time.Second
		still := b.Run(l, d, 0)
		before, after := b.Gelatin*Millilitres(l.Gelatin)+b.Volume*Millilitres(l.Water), b.Gelatin*Millilitres(still.Gelatin)+b.Volume*Millilitres(still.Water)
		if math.Abs(float64(before-after)) > 1e-9*float64(before)+1e-12 {
			t.Fatalf("standing water: %g became %g", before, after)
		}
		n := rapid.IntRange(1, 12).Draw(r, "n")
		left := b.Total(b.Changes(Unwashed, n, d))
		if more := b.Total(b.Changes(Unwashed, n+1, d)); more > left*(1+1e-9) {
			t.Fatalf("%d changes leave %g, one more %g", n, left, more)
		}
		if longer := b.Total(b.Changes(Unwashed, n, 2*d)); longer > left*(1+1e-9)+1e-15 {
			t.Fatalf("%v leave %g, twice as long %g", d, left, longer)
		}
		thinned, err := Residue(b.CarryOver, b.Volume, n)
		if err != nil {
			t.Fatal(err)
		}
		if b.Total(b.Changes(Unwashed, n, d)) < thinned*float64(b.CarryOver/(b.CarryOver+b.Gelatin))*(1-1e-9) {
			t.Fatal("less is left than thinning alone leaves")
		}
		b.Half = time.Microsecond
		at := b.Changes(Unwashed, 1, time.Hour)
		if want := float64((b.CarryOver + b.Gelatin) / (b.Volume + b.Gelatin)); math.Abs(at.Gelatin-want) > 1e-6 {
			t.Fatalf("at once: %g; expected %g", at.Gelatin, want)
		}
	})
}

// ExampleWashBath works the README's wash through: six sheets of 4x5 in from a fixer of 160 g/l, 30 ml carried
// over into changes of 1.5 l that stand for 3 min, at 24 C.
func ExampleWashBath() {
	const area, strength = 120.0, 160.0
	fast, slow, _ := GelatinHalfTime(24, false)
	fmt.Printf("half in %.1f to %.1f min\n", fast.Minutes(), slow.Minutes())
	b, _ := NewWashBath(30, 1500, area, slow)
	fmt.Printf("gelatin holds %.2f ml\n", float64(b.Gelatin))
	for _, n := range []int{3, 5, 10} {
		left, _ := b.Thiosulfate(b.Changes(Unwashed, n, MinChange), strength, area)
		lower, _ := Residue(30, 1500, n)
		low, _ := ResidualThiosulfate(strength, 30, lower, area)
		fmt.Printf("%d changes: %.2g to %.2g g/m2\n", n, low, left)
	}
	// By hand: 120 sq in are 0.0774 m2, 35.7 ml/m2 of gelatin hold 2.76 ml. 160 g/l x 35.7 ml/m2 is 5.71 g/m2, log2 of it
	// over 0.014 is 8.67 halvings in 30 min: 3.46 min each. Three changes of 3 min leave 2^(-9/3.46) = 0.165
	// of the gelatin's 5.71 g/m2, 0.94, and what the gelatin gave to the last water adds a little. Thinning
	// alone: 160 g/l x 30 ml x (1/50)^3 over 0.0774 m2 is 0.0005.

	// Output:
	// half in 1.0 to 3.5 min
	// gelatin holds 2.76 ml
	// 3 changes: 0.0005 to 0.98 g/m2
	// 5 changes: 2e-07 to 0.29 g/m2
	// 10 changes: 6.3e-16 to 0.015 g/m2
}
