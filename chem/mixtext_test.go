package chem

// Mixes as typed: what adds up is read, what does not is refused in one line;
// what vessels take against GNU units and numerical integration.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

func TestParseMix(t *testing.T) {
	for text, want := range map[string]Mixture{
		"1+49":                                {Parts: []Part{{"stock", 1}, {"water", 49}}},
		"A 25ml + water 475 ml":               {Parts: []Part{{"A", 25}, {"water", 475}}, Total: 500},
		"A 40% + water 60 %":                  {Parts: []Part{{"A", 40}, {"water", 60}}},
		"acid 28% to 28%":                     {Parts: []Part{{"acid", 28}}},
		"metol 2g/l + sodium sulphite 75 g/l": {Solids: []Solid{{"metol", 2}, {"sodium sulphite", 75}}},
	} {
		if got, err := ParseMix(text); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %+v, %v; expected %+v", text, got, err, want)
		}
	}
	for text, says := range map[string]string{
		"A 40% + water 50%":   `adds up to 90%; expected 100%`,
		"A 60% + water 50%":   `adds up to 110%`,
		"A 40% + water 60":    `no amount in "water 60"`,
		"A 25ml + water 475":  `no amount in "water 475"`,
		"A 0ml + water 475ml": `0 parts of "A"`,
		"A -5ml + water 1l":   `no amount in "A -5ml"`,
		"acid 28% to 99.5%":   `99.5 % from 28 %`,
		"acid 28% to 0%":      `above 0`,
		"acid 28%":            `cannot read`,
		"metol 2g/l + A 3":    `no amount in "A 3"`,
		"metol 0g/l":          `0 parts of "metol"`,
		"2g/l":                `without a name`,
		"A 1 + A 2":           `twice`,
	} {
		if got, err := ParseMix(text); err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %+v, %v; expected one line with %q", text, got, err, says)
		}
	}
	if err := (Mixture{Total: 500}).CheckTotal(600); err == nil || !strings.Contains(err.Error(), "add up to 500ml; expected the 600ml") {
		t.Errorf("500 ml of 600: %v", err)
	}
	if err := (Mixture{Total: 500}).CheckTotal(500); err != nil {
		t.Error(err)
	}
}

// 10,000 random mixes typed out as volumes: what goes in comes out, and the
// stock in hand makes as much as it is in.
func TestTypedVolumesConserve(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 10_000 {
		n := 2 + r.IntN(5)
		text, sum := "", 0.0
		each := make([]float64, n)
		for i := range each {
			each[i] = math.Round(math.Exp(r.Float64()*8)*1000) / 1000
			sum += each[i]
			text += fmt.Sprintf("%sp%d %.3fml", map[bool]string{true: " + "}[i > 0], i, each[i])
		}
		typed, err := ParseMix(text)
		if err != nil || math.Abs(float64(typed.Total)/sum-1) > 1e-12 {
			t.Fatalf("%q: %+v, %v", text, typed, err)
		}
		amounts, err := Mix(typed.Parts, typed.Total)
		if err != nil {
			t.Fatal(err)
		}
		for i, a := range amounts {
			if math.Abs(float64(a.Volume)/each[i]-1) > 1e-9 {
				t.Fatalf("%q: %v came out as %v", text, each[i], a.Volume)
			}
		}
		of, err := Stock{"p1", Millilitres(each[1])}.MaxVolume(typed.Parts)
		if err != nil || math.Abs(float64(of)/sum-1) > 1e-9 {
			t.Fatalf("%q: %v of p1 make %v, %v", text, each[1], of, err)
		}
	}
}

func TestInHand(t *testing.T) {
	if h, err := ParseStock("part A 40 ml"); err != nil || h != (Stock{"part A", 40}) {
		t.Errorf("%+v, %v", h, err)
	}
	for _, text := range []string{"A", "40ml", "A 40", "A 0ml", "A 1ml + B 2ml", ""} {
		if h, err := ParseStock(text); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %+v, %v", text, h, err)
		}
	}
	if _, err := (Stock{"C", 5}).MaxVolume([]Part{{"A", 1}, {"water", 9}}); err == nil || !strings.Contains(err.Error(), "expected one of A, water") {
		t.Error(err)
	}
}

// Boxes and uprights against GNU units.
func TestVesselsAgainstGNUUnits(t *testing.T) {
	a, b, err := ParseSides("8x10in")
	if err != nil {
		t.Fatal(err)
	}
	depth, _ := ParseLength("12mm")
	got, _ := RectangularVolume(a, b, depth)
	if want := gnuUnits(t, "8 in * 10 in * 12 mm", "ml"); math.Abs(float64(got)/want-1) > 1e-12 {
		t.Errorf("a tray: %v ml; GNU units %v", got, want)
	}
	got, _ = LyingCylinderVolume(7, 12, 7)
	if want := gnuUnits(t, "circlearea(3.5 cm) * 12 cm", "ml"); math.Abs(float64(got)/want-1) > 1e-9 {
		t.Errorf("a full drum: %v ml; GNU units %v", got, want)
	}
	want := gnuUnits(t, "6 * 20 in^2", "m^2")
	if got := SquareMetres(120); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("six sheets: %v m2; GNU units %v", got, want)
	}
}

// A lying drum against the sum of its chords, half full and full.
func TestLyingAgainstChords(t *testing.T) {
	const d, l = 7.0, 21.0
	for _, h := range []float64{0.4, 1.5, 3.5, 6, 7} {
		const n = 200_000
		sum := 0.0
		for i := range n {
			y := -d/2 + h*(float64(i)+0.5)/n
			sum += 2 * math.Sqrt(d*d/4-y*y) * h / n
		}
		if got, err := LyingCylinderVolume(d, l, Centimetres(h)); err != nil || math.Abs(float64(got)/(sum*l)-1) > 1e-6 {
			t.Errorf("%v cm deep: %v, %v; chords add up to %v", h, got, err, sum*l)
		}
	}
}

func TestVesselsRefuse(t *testing.T) {
	for name, err := range map[string]error{
		"no depth":     second(RectangularVolume(20, 25, 0)),
		"no side":      second(RectangularVolume(0, 25, 1)),
		"too deep":     second(LyingCylinderVolume(7, 21, 7.1)),
		"no width":     second(LyingCylinderVolume(0, 21, 5)),
		"no unit":      second(ParseLength("12")),
		"zero":         second(ParseLength("0mm")),
		"negative":     second(ParseLength("-3mm")),
		"words":        second(ParseLength("deep")),
		"far too long": second(ParseLength("600cm")),
		"one side":     third(ParseSides("8in")),
		"sides, no in": third(ParseSides("8x10")),
		"a side of 0":  third(ParseSides("0x10in")),
		"three sides":  third(ParseSides("8x10x2in")),
		"no area":      second(ResidualThiosulfate(100, 10, 0.1, 0)),
		"no strength":  second(ResidualThiosulfate(0, 10, 0.1, 20)),
		"none carried": second(ResidualThiosulfate(100, 0, 0.1, 20)),
		"over all":     second(ResidualThiosulfate(100, 10, 1.1, 20)),
		"no solid":     second(Weigh([]Solid{{"A", 0}}, 100)),
	} {
		if err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v; expected an error on one line", name, err)
		}
	}
}

// Fill and dump comes first where it is the shortest, and cold slows all down.
func TestWays(t *testing.T) {
	warm, known := WashMethods(FromFahrenheit(72), 2)
	if !known || warm[0].Way != WashChanges || warm[0].WetTime.Minutes() != 6 {
		t.Errorf("%+v", warm[0])
	}
	cold, known := WashMethods(FromFahrenheit(55), 0)
	if !known || cold[0].WetTime.Minutes() != 17.5 || cold[1].WetTime.Minutes() != 60 || cold[2].WetTime.Minutes() != 90 {
		t.Errorf("in the cold: %+v", cold)
	}
	if _, known := WashMethods(5, 0); known {
		t.Error("5 C is said to be known")
	}
}

// Volumes of one digit are volumes; 40 ml of A, two parts of ten, make 200 ml.
func TestMixesByHand(t *testing.T) {
	if m, err := ParseMix("A 5ml + water 5ml"); err != nil || m.Total != 10 || len(m.Parts) != 2 || m.Parts[0].Parts != 5 {
		t.Errorf("%+v, %v", m, err)
	}
	if v, err := (Stock{Name: "A", Volume: 40}).MaxVolume([]Part{{"A", 2}, {"water", 8}}); err != nil || math.Abs(float64(v)-200) > 1e-9 {
		t.Errorf("%v, %v; expected 200", v, err)
	}
}
