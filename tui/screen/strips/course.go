package strips

// The developer's temperature as a small plot: the course that is reckoned with, a sign at
// each reading, and the present moment.

import (
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// Developer is the bath that works by temperature, as a session knows it at a moment.
type Developer struct {
	Plan   *sequence.Plan
	Look   engine.Snapshot
	Events []sequence.Event
	Units  sequence.Units
}

// Course is that plot under its heading; nil where there is no room, or no bath works by temperature.
func (d Developer) Course(w, h int) []string {
	c, end, ok := d.temperature()
	if !ok || h < 8 {
		return nil
	}
	u := d.Units
	plot := widget.Plot{Width: w, Height: h - 2, X: widget.Axis{Name: "min", To: math.Ceil(end.Minutes())}}
	low, high := math.Inf(1), math.Inf(-1)
	curve := widget.Curve{Ink: &style.Quiet}
	const points = 120
	for i := range points + 1 {
		at := end / points * time.Duration(i)
		degrees := u.Number(c.At(at))
		if math.IsNaN(degrees) {
			return nil
		}
		low, high = min(degrees, low), max(degrees, high)
		curve.Points = append(curve.Points, widget.Point{X: at.Minutes(), Y: degrees})
	}
	const steady = 0.05 // as little as no thermometer shows
	if high-low < steady && !d.read() {
		return nil // it would say nothing
	}
	plot.Curves = []widget.Curve{curve}
	for _, r := range c.Readings {
		degrees := u.Number(r.T)
		low, high = min(degrees, low), max(degrees, high)
		plot.Signs = append(plot.Signs, widget.Sign{At: widget.Point{X: max(0, r.At.Minutes()), Y: degrees}, Sign: '●', Ink: &style.Ink})
	}
	legend := style.Label("developer's temperature   ") + style.Value("●") + style.Label(" read")
	if now := d.Look.Now; now >= 0 && now <= end {
		legend += style.Title("   ◆") + style.Label(" now")
		plot.Signs = append(plot.Signs, widget.Sign{At: widget.Point{X: now.Minutes(), Y: u.Number(c.At(now))}, Sign: '◆', Ink: &style.Strong})
	}
	const air = 0.5
	plot.Y = widget.Axis{Name: "°" + string(rune(u.Scale())), From: low - air, To: high + air}
	return append([]string{legend}, strings.Split(plot.View(), "\n")...)
}

// read reports whether the developer was read in the session.
func (d Developer) read() bool {
	return slices.ContainsFunc(d.Events, func(e sequence.Event) bool { return e.Kind == sequence.ReadingTaken })
}

// temperature is the course of the developing bath with what was read, and when it ends.
func (d Developer) temperature() (chem.Course, sequence.Elapsed, bool) {
	p := d.Plan
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.TimeByTemperature == nil {
			continue
		}
		c, end := p.Course(st), st.End
		for _, y := range d.Look.Passages {
			if y.Step == i && y.Out != sequence.Never {
				end = max(end, y.Out)
			}
		}
		for _, e := range d.Events {
			if e.Kind != sequence.ReadingTaken || e.Temperature == nil {
				continue
			}
			at := e.At
			if e.Since != nil {
				at = *e.Since
			}
			c = c.Add(chem.Point{At: at, T: *e.Temperature})
		}
		return c, end, end > 0
	}
	return chem.Course{}, 0, false
}
