package page

// The chart: where points lie, which ticks have labels, and that what is drawn is
// there in both formats.

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/color"
	"image/png"
	"io"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func TestTicks(t *testing.T) {
	var at []float64
	var labels []string
	for _, k := range ticks(span{-0.62, 0.58}) {
		at, labels = append(at, k.at), append(labels, k.label)
	}
	if want := []float64{-0.6, -0.5, -0.4, -0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3, 0.4, 0.5}; !slices.Equal(at, want) {
		t.Errorf("ticks at %v; want %v", at, want)
	}
	if want := []string{"", "-0.5", "", "", "", "", "0.0", "", "", "", "", "0.5"}; !slices.Equal(labels, want) {
		t.Errorf("labels %q; want %q", labels, want)
	}
}

// Both axes hold all that is drawn; density begins at zero; one value has an axis.
func TestSpans(t *testing.T) {
	x, y := chart{lines: []line{{points: []point{{-2, 0.2}, {1, 2.5}}}}, marks: []marks{{points: []point{{1.5, 0.1}}}}}.spans()
	if (x != span{-2, 1.5}) || (y != span{0, 2.5}) {
		t.Errorf("%v, %v", x, y)
	}
	x, y = chart{marks: []marks{{points: []point{{1, 0}}}}}.spans()
	if (x != span{0.5, 1.5}) || (y != span{-0.5, 0.5}) {
		t.Errorf("of one point %v, %v", x, y)
	}
	if x, _ = (chart{}).spans(); x != (span{0, 1}) {
		t.Errorf("of nothing %v", x)
	}
}

// A red line from corner to corner of the axes, with a blue mark at its middle: found
// in the picture where arithmetic puts them.
func TestChartInPixels(t *testing.T) {
	red, blue := color.RGBA{0xff, 0, 0, 0xff}, color.RGBA{0, 0, 0xff, 0xff}
	c := chart{title: "a title", across: "across", up: "up",
		lines: []line{{[]point{{0, 0}, {2, 2}}, draw.LineStyle{Color: red, Width: vg.Points(2)}}},
		marks: []marks{{[]point{{1, 1}}, draw.GlyphStyle{Color: blue, Radius: vg.Points(4), Shape: draw.CircleGlyph{}}}},
		keys:  []key{{"a key", draw.LineStyle{Color: red, Width: vg.Points(1)}}}}
	var out bytes.Buffer
	if err := c.write(&out, 10*vg.Centimeter, 8*vg.Centimeter, "png"); err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(&out)
	if err != nil {
		t.Fatal(err)
	}
	box := map[color.Color][4]int{} // least x, most x, least y, most y
	for y := range picture.Bounds().Dy() {
		for x := range picture.Bounds().Dx() {
			at := color.RGBAModel.Convert(picture.At(x, y))
			b, seen := box[at]
			if !seen {
				b = [4]int{x, x, y, y}
			}
			box[at] = [4]int{min(b[0], x), max(b[1], x), min(b[2], y), max(b[3], y)}
		}
	}
	line, mark := box[red], box[blue]
	middle := func(b [4]int) (int, int) { return b[0] + b[1], b[2] + b[3] } // twice
	lx, ly := middle(line)
	mx, my := middle(mark)
	if d := max(lx-mx, mx-lx, ly-my, my-ly); d > 6 || line[1]-line[0] < picture.Bounds().Dx()/2 || mark[1]-mark[0] > 20 {
		t.Errorf("the line is in %v, the mark in %v: %d from its middle", line, mark, d)
	}
	if picture.Bounds().Dx() < 370 || picture.Bounds().Dx() > 380 { // 10 cm at 96 dots an inch: 378
		t.Errorf("%v", picture.Bounds())
	}
}

// What a file is called is text in the picture, never part of it.
func TestChartInSVG(t *testing.T) {
	const hostile = `<script>"&'`
	var out bytes.Buffer
	c := chart{title: hostile, across: "across", up: "up", keys: []key{{text: hostile, style: axisLine}},
		lines: []line{{[]point{{0, 0}, {2, 2}}, axisLine}}}
	if err := c.write(&out, 10*vg.Centimeter, 8*vg.Centimeter, "svg"); err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for d := xml.NewDecoder(&out); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch k := token.(type) {
		case xml.StartElement:
			if k.Name.Local == "script" {
				t.Error("a script")
			}
		case xml.CharData:
			text.Write(k)
		}
	}
	for _, want := range []string{"across", "up", "0.5", "2.0"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("no %q in %q", want, text.String())
		}
	}
	if strings.Count(text.String(), hostile) != 2 {
		t.Errorf("%q", text.String())
	}
}
