package page

// All that is known of a film, as text and as one HTML file with the growth drawn.

import (
	"fmt"
	"image/color"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// Film is the page as text, so many columns wide.
func Film(p *film.Page, h sequence.Units, width int) string {
	var b strings.Builder
	b.WriteString(say.FilmHandling(p.Handling) + "\n\n")
	for _, line := range say.FilmAnswer(p, h) {
		b.WriteString(strings.Join(widget.Wrap(line, max(20, width)), "\n") + "\n")
	}
	for _, s := range say.FilmSections(p, h) {
		b.WriteString("\n" + s.Title + "\n")
		for _, row := range widget.SectionRows(s, max(20, width-2)) {
			b.WriteString("  " + row + "\n")
		}
	}
	return b.String()
}

// FilmHTML is the page as a file that needs no other.
func FilmHTML(p *film.Page, h sequence.Units) string {
	view := htmlPage{Title: say.FilmHandling(p.Handling), Head: say.FilmAnswer(p, h), Picture: growthPicture(p, h),
		Sections: say.FilmSections(p, h)}
	b := &strings.Builder{}
	view.write(b)
	return strings.Map(printableRune, b.String())
}

var bandGrey = color.RGBA{0x9a, 0x9a, 0x9a, 0xff}

// growthPicture is the growth with its band: dots are tests' sheets, rings sessions at what was wanted of them.
func growthPicture(p *film.Page, h sequence.Units) string {
	c := chart{title: say.FilmHandling(p.Handling), untitled: true, across: "minutes at " + say.Temperature(p.Target.Temperature, h), up: "average gradient"}
	var low, middle, high []point
	for _, g := range p.Curve {
		low, middle, high = append(low, point{g.Minutes, g.Low}), append(middle, point{g.Minutes, g.Middle}), append(high, point{g.Minutes, g.High})
	}
	c.lines = []line{{points: low, ink: bandGrey, width: triangleWidth, dashed: true}, {points: high, ink: bandGrey, width: triangleWidth, dashed: true},
		{points: middle, ink: inkBlack, width: curveWidth}}
	c.keys = []key{{text: "how contrast grows", ink: inkBlack}, {text: "where nine of ten next sessions lie", ink: bandGrey, sign: dashes}}
	if last := p.Curve[len(p.Curve)-1].Minutes; p.Target.AverageGradient > 0 {
		g := p.Target.AverageGradient
		c.lines = append(c.lines, line{points: []point{{0, g}, {last, g}}, ink: grey, width: triangleWidth})
		c.keys = append(c.keys, key{name: fmt.Sprintf("%.2f", g), ink: grey, end: point{last, g}})
	}
	tests, sessions := marks{ink: curveColours[1]}, marks{ink: curveColours[4], rings: true}
	for _, m := range p.Points {
		if m.Test {
			tests.points = append(tests.points, point{m.Minutes, m.Gradient})
		} else {
			sessions.points = append(sessions.points, point{m.Minutes, m.Gradient})
		}
	}
	c.marks = []marks{tests, sessions}
	c.keys = append(c.keys, key{text: "sheet of a film test", ink: tests.ink, sign: dot}, key{text: "session, at what was wanted of it", ink: sessions.ink, sign: ring})
	return c.inline()
}
