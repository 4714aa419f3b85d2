package page

// The chart: its ticks, what its axes span, its inks, its dashes, and texts from
// outside.

import (
	"bytes"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/wetside/tui/light/lighttest"
)

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		s      span
		at     []float64
		labels []string
	}{
		{span{-0.62, 0.58}, []float64{-0.6, -0.5, -0.4, -0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3, 0.4, 0.5},
			[]string{"", "−0.5", "", "", "", "", "0.0", "", "", "", "", "0.5"}},
		{span{-0.3, 0.3}, []float64{-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3}, []string{"", "", "", "0.0", "", "", ""}},
		{span{0, 0.2}, []float64{0, 0.1, 0.2}, []string{"0.0", "", ""}},
		{span{-4, 2.6}, []float64{-4, -3.5, -3, -2.5, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, 2.5},
			[]string{"−4", "", "−3", "", "−2", "", "−1", "", "0", "", "1", "", "2", ""}},
	} {
		var at []float64
		var labels []string
		for _, k := range c.s.ticks() {
			at, labels = append(at, k.at), append(labels, k.label)
		}
		if !slices.Equal(at, c.at) || !slices.Equal(labels, c.labels) {
			t.Errorf("%v: ticks at %v, labels %q; want %v, %q", c.s, at, labels, c.at, c.labels)
		}
	}
}

// Both axes hold all that is drawn, out to the next tenth; density begins at zero, or
// below; one value has an axis, and so has none.
func TestSpans(t *testing.T) {
	for _, c := range []struct {
		lines, marks []point
		want         axes
	}{
		{[]point{{-2, 0.2}, {1, 2.5}}, []point{{1.5, 0.1}}, axes{span{-2, 1.5}, span{0, 2.5}}},
		{[]point{{-2.01, -0.02}, {1.01, 2.44}}, nil, axes{span{-2.1, 1.1}, span{-0.1, 2.5}}},
		// a hair off the tenth: -5.800000000000001 is -3.6 - 2.2, -3.1999999999999997 is -3.4 + 0.2
		{[]point{{-5.800000000000001, 0}, {-3.1999999999999997, 1}}, nil, axes{span{-5.8, -3.2}, span{0, 1}}},
		{nil, []point{{1, 0}}, axes{span{0.5, 1.5}, span{-0.5, 0.5}}},
		{nil, nil, axes{span{0, 1}, span{0, 1}}},
	} {
		got := chart{lines: []line{{points: c.lines}}, marks: []marks{{points: c.marks}}}.axes()
		if got != c.want {
			t.Errorf("%v, %v: axes %v; want %v", c.lines, c.marks, got, c.want)
		}
	}
}

func luminance(c color.RGBA) float64 { return lighttest.Luminance(c.R, c.G, c.B) }

// Inks can be told apart without their colour: CIE 1976 lightness L* differs by 8 between any
// two, by 15 between neighbours; and on white each has the contrast of 3:1 that
// WCAG 2.2, 1.4.11, asks of what is drawn.
func TestInksInGrey(t *testing.T) {
	lightness := func(c color.RGBA) float64 { return 116*math.Cbrt(luminance(c)) - 16 } // above L* 8; darker is near enough
	for i, c := range curveColours {
		if contrast := 1.05 / (luminance(c) + 0.05); contrast < 3 {
			t.Errorf("ink %d has a contrast of %.1f", i, contrast)
		}
		for j := range i {
			least := 8.0
			if i-j == 1 || i-j == len(curveColours)-1 {
				least = 15
			}
			if d := math.Abs(lightness(c) - lightness(curveColours[j])); d < least {
				t.Errorf("inks %d and %d are %.1f apart; want %g", j, i, d, least)
			}
		}
	}
}

// A way of 3-4-5 times 4: dashes of 5 with spaces of 3 begin at 0, 8 and 16, the last is cut at 20.
func TestDashed(t *testing.T) {
	got := dashed([]xy{{0, 0}, {12, 16}}, 5, 3)
	want := [][]xy{{{0, 0}, {3, 4}}, {{4.8, 6.4}, {7.8, 10.4}}, {{9.6, 12.8}, {12, 16}}}
	if len(got) != len(want) {
		t.Fatalf("%v; want %v", got, want)
	}
	for i := range want {
		for j := range want[i] {
			if p, q := got[i][j], want[i][j]; math.Hypot(p.x-q.x, p.y-q.y) > 1e-9 {
				t.Errorf("dash %d: %v; want %v", i, got[i], want[i])
			}
		}
	}
}

// What a file is called is text in the picture, never part of it; a character that
// XML has not does no harm.
func TestHostileNames(t *testing.T) {
	const hostile = `<script>"&'`
	c := chart{title: hostile + "\x01", across: "across", up: "up", keys: []key{{text: hostile, name: hostile}},
		lines: []line{{points: []point{{0, 0}, {2, 2}}}}}
	var out bytes.Buffer
	if err := c.write(&out); err != nil {
		t.Fatal(err)
	}
	s := parsed(t, out.Bytes())
	var all []string
	for _, k := range s.Texts {
		all = append(all, k.Words)
	}
	for _, want := range []string{"across", "up", "0.5", "2.0", hostile, hostile + "\ufffd"} {
		if !slices.Contains(all, want) {
			t.Errorf("no %q in %q", want, all)
		}
	}
	if s.Label != hostile+"\ufffd" || s.Title != s.Label || strings.Contains(out.String(), "<script") {
		t.Errorf("label %q, title %q", s.Label, s.Title)
	}
}

// Long titles are cut, long legends told of, names beyond the lower edge left out: nothing leaves the picture.
func TestTooMuch(t *testing.T) {
	c := chart{title: strings.Repeat("é", 65), lines: []line{{points: []point{{0, 0}, {2, 2}}}}}
	for range 200 {
		c.keys = append(c.keys, key{text: "12:00", name: "12:00"})
	}
	var out bytes.Buffer
	if err := c.write(&out); err != nil {
		t.Fatal(err)
	}
	more, cut := false, false
	for _, k := range parsed(t, out.Bytes()).Texts {
		more, cut = more || k.Words == "and 188 more", cut || k.Words == strings.Repeat("é", 63)+"…"
		if k.Y > chartHeight || k.X > chartWidth {
			t.Errorf("%q at %g, %g", k.Words, k.X, k.Y)
		}
	}
	if !more || !cut {
		t.Errorf("the rest told: %v; title cut: %v", more, cut)
	}
}

// Names where lines end at one height stand apart, and the higher line's above.
func TestNamesStandApart(t *testing.T) {
	c := chart{lines: []line{{points: []point{{0, 0}, {1, 1}}}},
		keys: []key{{name: "low", end: point{1, 0.5}}, {name: "high", end: point{1, 0.51}}, {name: "highest", end: point{1, 0.9}}}}
	var out bytes.Buffer
	if err := c.write(&out); err != nil {
		t.Fatal(err)
	}
	at := map[string]float64{}
	for _, k := range parsed(t, out.Bytes()).Texts {
		at[k.Words] = k.Y
	}
	if d := at["low"] - at["high"]; d < smallSize || d > 2*smallSize || at["highest"] > at["high"]-100 {
		t.Errorf("at %v", at)
	}
}
