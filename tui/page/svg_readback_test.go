package page

// Pictures in SVG read back: what is drawn where, and what the axes say that it stands for.

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
)

// readBack is what a picture's SVG holds.
type readBack struct {
	Width  string `xml:"width,attr"`
	Height string `xml:"height,attr"`
	Label  string `xml:"aria-label,attr"`
	Title  string `xml:"title"`
	Paths  []struct {
		D      string `xml:"d,attr"`
		Stroke string `xml:"stroke,attr"`
	} `xml:"path"`
	Circles []struct {
		X      float64 `xml:"cx,attr"`
		Y      float64 `xml:"cy,attr"`
		Fill   string  `xml:"fill,attr"`
		Stroke string  `xml:"stroke,attr"`
	} `xml:"circle"`
	Texts []struct {
		X      float64 `xml:"x,attr"`
		Y      float64 `xml:"y,attr"`
		Anchor string  `xml:"text-anchor,attr"`
		Words  string  `xml:",chardata"`
	} `xml:"text"`
}

func parsed(t *testing.T, svg []byte) (s readBack) {
	t.Helper()
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if err := xml.Unmarshal(svg, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// walk is a path's places, piece by piece.
func walk(t *testing.T, d string) (pieces [][]xy) {
	t.Helper()
	for _, piece := range strings.Split(d, "M")[1:] {
		var places []xy
		for _, pair := range strings.Split(piece, "L") {
			x, y, _ := strings.Cut(pair, ",")
			places = append(places, xy{number(t, x), number(t, y)})
		}
		pieces = append(pieces, places)
	}
	return pieces
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// paths are the pieces of all paths in an ink.
func (s readBack) paths(t *testing.T, ink color.RGBA) (pieces [][]xy) {
	for _, p := range s.Paths {
		if p.Stroke == hex(ink) {
			pieces = append(pieces, walk(t, p.D)...)
		}
	}
	return pieces
}

// scale reads both axes off the grid: each line of it has a number beside its end, and
// from two of them follows what any place stands for.
func (s readBack) scale(t *testing.T) (logH, density func(float64) float64) {
	t.Helper()
	var across, up [][2]float64 // place, value
	for _, g := range s.paths(t, paleGrey) {
		for _, k := range s.Texts {
			v, err := strconv.ParseFloat(strings.ReplaceAll(k.Words, "−", "-"), 64)
			switch {
			case err != nil:
			case g[0].x == g[1].x && math.Abs(k.X-g[0].x) < 0.01 && k.Anchor == "middle":
				across = append(across, [2]float64{g[0].x, v})
			case g[0].y == g[1].y && math.Abs(k.Y-g[0].y) < 10 && k.Anchor == "end":
				up = append(up, [2]float64{g[0].y, v})
			}
		}
	}
	if len(across) < 2 || len(up) < 2 || len(across)+len(up) != len(s.paths(t, paleGrey)) {
		t.Fatalf("labels of the grid: %v, %v", across, up)
	}
	by := func(list [][2]float64) func(float64) float64 {
		p, q := list[0], list[len(list)-1]
		return func(at float64) float64 { return p[1] + (at-p[0])/(q[0]-p[0])*(q[1]-p[1]) }
	}
	return by(across), by(up)
}
