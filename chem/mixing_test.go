package chem

// Mixes conserve volume and proportion; what is not a mix is refused.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

func TestParseParts(t *testing.T) {
	for text, want := range map[string][]Part{
		"A 1 + B 3 + water 80":       {{"A", 1}, {"B", 3}, {"water", 80}},
		"stock solution 1.5+water 9": {{"stock solution", 1.5}, {"water", 9}},
		"1+49":                       {{"stock", 1}, {"water", 49}},
		" 1 + 1 + 100 ":              {{"A", 1}, {"B", 1}, {"water", 100}},
		"water 1":                    {{"water", 1}},
	} {
		if got, err := ParseParts(text); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	for text, says := range map[string]string{
		"1:49": "two ways", "": "cannot read", "A 1 +": "cannot read", "A + B 1": "no number of parts", "A 1 + A 2": "twice",
		"A 0 + B 1": "above 0", "A -1 + B 1": "no number of parts", "A NaN": "no number of parts", "A 1e3": "no number of parts",
		"1+2+3+4": "two or three", "5": "two or three", "A 1 + 49": "without a name", "A 99999999": "at most",
		strings.Repeat("A 1 + ", 25) + "B 1": "1 to 20",
	} {
		if got, err := ParseParts(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, %v; expected an error with %q", text, got, err, says)
		}
	}
}

// 10,000 random mixes: the amounts are in the parts' proportions and add up.
func TestMixConserves(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 10_000 {
		parts := make([]Part, 1+r.IntN(8))
		for i := range parts {
			parts[i] = Part{Name: fmt.Sprint("part ", i), Parts: math.Exp(r.Float64()*12 - 4)}
		}
		volume := Millilitres(math.Exp(r.Float64()*12 + 0.1))
		amounts, err := Mix(parts, volume)
		if err != nil || len(amounts) != len(parts) {
			t.Fatal(amounts, err)
		}
		sum := Millilitres(0)
		for i, a := range amounts {
			sum += a.Volume
			ratio := float64(a.Volume/amounts[0].Volume) / (parts[i].Parts / parts[0].Parts)
			if a.Name != parts[i].Name || math.Abs(ratio-1) > 1e-12 {
				t.Fatalf("%v of %v: amounts %v", volume, parts, amounts)
			}
		}
		if math.Abs(float64(sum/volume)-1) > 1e-12 {
			t.Fatalf("%v of %v: amounts add up to %v", volume, parts, sum)
		}
		stock, err := StockIn(parts, volume)
		whole := 0.0
		for _, p := range parts {
			whole += p.Parts
		}
		back := stock * Millilitres(whole/parts[0].Parts)
		if err != nil || math.Abs(float64(back/volume)-1) > 1e-12 {
			t.Fatalf("%v of %v: %v of stock, which is in %v", volume, parts, stock, back)
		}
	}
}

// 10,000 random dilutions: what dissolved is in the stock is in the bath.
func TestDiluteConserves(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 10_000 {
		stock := 0.1 + r.Float64()*99.9
		wanted := stock * (0.001 + 0.999*r.Float64())
		volume := Millilitres(1 + 1e5*r.Float64())
		of, water, err := Dilute(stock, wanted, volume)
		if err != nil || water < 0 || math.Abs(float64((of+water)/volume)-1) > 1e-12 ||
			math.Abs(stock*float64(of)/(wanted*float64(volume))-1) > 1e-12 {
			t.Fatalf("%v of %v %% from %v %%: %v and %v, %v", volume, wanted, stock, of, water, err)
		}
	}
}

// A strong salt solution against GNU units: 4 g/l, and 28 % (280 g/l).
func TestGramsAgainstGNUUnits(t *testing.T) {
	for _, c := range []struct{ perLitre, ml float64 }{{4, 250}, {280, 946.352946}, {0.5, 1500}} {
		want := gnuUnits(t, fmt.Sprintf("%g g/l * %.12g ml", c.perLitre, c.ml), "g")
		got, err := Grams(c.perLitre, Millilitres(c.ml))
		if err != nil || math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%v g/l in %v ml: %v g, %v; GNU units %v", c.perLitre, c.ml, got, err, want)
		}
	}
}

// The nearest mark is never more than half a division away, and from Least up
// the error stays within what was asked.
func TestGraduate(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 10_000 {
		g, within := Graduate(0.1+10*r.Float64()), 0.01+0.3*r.Float64()
		least, err := g.MinVolume(within)
		if err != nil {
			t.Fatal(err)
		}
		v := Millilitres(math.Exp(r.Float64()*8)) * least / 50
		mark, off, err := g.Round(v)
		if err != nil || math.Abs(float64(mark-v)) > float64(g)/2+1e-9 {
			t.Fatalf("division %v: %v measured as %v, %v", g, v, mark, err)
		}
		if math.Abs(float64(mark)/float64(v)-1-off) > 1e-9 || (v >= least && math.Abs(off) > within+1e-9) {
			t.Fatalf("division %v: %v measured as %v, off %v; least %v for %v", g, v, mark, off, least, within)
		}
	}
	if mark, off, err := Graduate(5).Round(2.4); mark != 0 || off != -1 || err != nil {
		t.Errorf("below half a division: %v, %v, %v; expected nothing, wholly short", mark, off, err)
	}
	parts := []Part{{"A", 2}, {"B", 1}, {"water", 97}}
	if v, part, err := Graduate(1).MinMix(parts, 0.05); err != nil || part != "B" || math.Abs(float64(v)-1000) > 1e-9 {
		t.Errorf("least mix %v for %q, %v; expected 10 ml of B in 1000", v, part, err)
	}
}

func TestMixingRefuses(t *testing.T) {
	two := []Part{{"A", 1}, {"water", 9}}
	nan := Millilitres(math.NaN())
	for name, err := range map[string]error{
		"no parts":       second(Mix(nil, 100)),
		"no volume":      second(Mix(two, 0)),
		"not a volume":   second(Mix(two, nan)),
		"infinite":       second(Mix(two, Millilitres(math.Inf(1)))),
		"part not known": second(Mix([]Part{{"A", math.NaN()}}, 100)),
		"stronger":       third(Dilute(10, 20, 100)),
		"no stock":       third(Dilute(0, 0, 100)),
		"over 100":       third(Dilute(101, 20, 100)),
		"nothing":        third(Dilute(10, 5, 0)),
		"no grams":       second(Grams(0, 100)),
		"grams in none":  second(Grams(5, 0)),
		"no marks":       third(Graduate(0).Round(10)),
		"mark of none":   third(Graduate(1).Round(0)),
		"no error":       second(Graduate(1).MinVolume(0)),
		"no divisions":   second(Graduate(nan).MinVolume(0.1)),
		"least of none":  third(Graduate(1).MinMix(nil, 0.1)),
		"least of error": third(Graduate(1).MinMix(two, 1)),
	} {
		if err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func second[A any](_ A, err error) error        { return err }
func third[A, B any](_ A, _ B, err error) error { return err }
