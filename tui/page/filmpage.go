package page

// All that is known of a film, as text and as one HTML file with the growth drawn.

import (
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
	wrapped := func(text, indent string) {
		rows := []string{text}
		if widget.Width(text) > width-len(indent) {
			rows = widget.Wrap(text, max(20, width-len(indent)))
		}
		for i, row := range rows {
			if i > 0 {
				row = "  " + row
			}
			b.WriteString(indent + row + "\n")
		}
	}
	b.WriteString(say.FilmHandling(p.Handling) + "\n\n")
	for _, line := range say.FilmAnswer(p, h) {
		wrapped(line, "")
	}
	for _, s := range say.FilmSections(p, h) {
		b.WriteString("\n" + s.Title + "\n")
		for _, line := range s.Lines {
			wrapped(line, "  ")
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
	c := chart{title: say.FilmHandling(p.Handling), across: "minutes at " + say.Temperature(p.Target.Temperature, h), up: "average gradient"}
	var low, middle, high []point
	for _, g := range p.Curve {
		low, middle, high = append(low, point{g.Minutes, g.Low}), append(middle, point{g.Minutes, g.Middle}), append(high, point{g.Minutes, g.High})
	}
	c.lines = []line{{points: low, ink: bandGrey, width: triangleWidth, dashed: true}, {points: high, ink: bandGrey, width: triangleWidth, dashed: true},
		{points: middle, ink: inkBlack, width: curveWidth}}
	c.keys = []key{{text: "growth, and 90% of the next sessions", name: "growth", ink: inkBlack, end: middle[len(middle)-1]}}
	if last := p.Curve[len(p.Curve)-1].Minutes; p.Target.AverageGradient > 0 {
		g := p.Target.AverageGradient
		c.lines = append(c.lines, line{points: []point{{0, g}, {last, g}}, ink: grey, width: triangleWidth})
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
	return c.inline()
}
