package film

// From what was found to what a page shows.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/growthbelief"
)

// Question is what is asked of a film.
type Question struct {
	Aim    float64       // average gradient; 0: the usual subject's on a diffusion enlarger
	At     *chem.Celsius // the developer's temperature today; nil: the reference
	Also   string        // another developer whose tests count too; "" for none
	Sheets int           // of the next test; 0: the usual number
}

const (
	usualAim    = 0.58 // of the usual subject on a diffusion enlarger: see chem/curve
	usualSheets = 3
	AlsoWeight  = 0.25 // how much another developer's tests count (our own rule)
	farOff      = 1.35 // times the right time, from where a borrowed one is far too long
	seenBy      = 0.7  // of the prior's interval: narrower, and evidence has said something
)

// assessment is a page in the making.
type assessment struct {
	page           Page
	known          *Known
	aim            float64
	at             chem.Celsius
	belief, untold *growthbelief.Belief // untold: without borrowed times
}

// Assess makes a page of what was found. Others is all that was found of the film, for Question.Also.
func Assess(k *Known, others []Known, q Question) (Page, error) {
	a := assessment{known: k, aim: cmp.Or(q.Aim, usualAim), at: growthbelief.Reference}
	a.page = Page{Handling: k.Handling, Tests: len(k.Tests), Sessions: len(k.Sessions), WetLife: []WetLife{}, Borrowed: []Confronted{}, Next: []NextSheet{}, Usual: []NextSheet{},
		Sources: []Source{}, Assumed: []string{}, Developments: []Development{}}
	if q.Aim == 0 {
		a.page.Assumed = append(a.page.Assumed, AssumedAim)
	}
	if q.At != nil {
		a.at = *q.At
	} else {
		a.page.Assumed = append(a.page.Assumed, AssumedTemperature)
	}
	if err := a.believe(others, q.Also); err != nil {
		return a.page, err
	}
	a.sources()
	a.times()
	a.figures()
	a.index()
	a.wetLife()
	a.recipe()
	a.borrowed()
	a.next(cmp.Or(q.Sheets, usualSheets))
	a.picture()
	return a.page, nil
}

// evidence is what a film's belief rests on, its borrowed times too, for an aim.
func (k *Known) evidence(aim float64) (e growthbelief.Evidence) {
	for _, t := range k.Tests {
		if len(t.Sheets) > 0 {
			e.Tests = append(e.Tests, growthbelief.Test{Readings: t.Sheets, Weight: 1})
		}
	}
	for _, s := range k.Sessions {
		if look, told := s.look(); told {
			e.Sessions = append(e.Sessions, growthbelief.Session{Time: s.Time, Temperature: s.Temperature, Wanted: wanted(aim, s.Development), Look: look})
		}
	}
	for _, b := range k.Borrowed {
		e.Borrowed = append(e.Borrowed, growthbelief.Borrowed{Time: b.Time, Temperature: b.Temperature, Wanted: b.Wanted, Log: math.Log1p(b.Within)})
	}
	return e
}

// believe weighs the evidence, another developer's tests too where they are asked for.
func (a *assessment) believe(others []Known, also string) error {
	e := a.known.evidence(a.aim)
	if len(e.Tests) == 0 {
		a.page.Assumed = append(a.page.Assumed, AssumedGrowth)
	}
	borrowed, more := e.Borrowed, 0
	for _, o := range others {
		if also == "" || o.Developer == a.known.Developer || !strings.EqualFold(o.Developer, also) {
			continue
		}
		for _, t := range o.Tests {
			a.page.Sources = append(a.page.Sources, t.source("also", o.Developer))
			e.Tests = append(e.Tests, growthbelief.Test{Readings: t.Sheets, Weight: AlsoWeight})
			more++
		}
	}
	switch {
	case also == "":
	case more == 0:
		return fmt.Errorf("%q: no test of %s in that developer; expected one of %s", also, a.known.Film, developers(others, a.known.Developer))
	default:
		a.page.Assumed = append(a.page.Assumed, AssumedAlso)
	}
	e.Borrowed = nil
	a.untold = growthbelief.Believe(growthbelief.Weak, e)
	if a.belief = a.untold; len(borrowed) > 0 {
		e.Borrowed = borrowed
		a.belief = growthbelief.Believe(growthbelief.Weak, e)
	}
	return nil
}

// sources are where the evidence is from.
func (a *assessment) sources() {
	list := []Source{}
	for _, t := range a.known.Tests {
		list = append(list, t.source("test", ""))
	}
	list = append(list, a.page.Sources...) // another developer's
	for _, s := range a.known.Sessions {
		one := Source{Kind: "session", Day: s.Day, Session: s.ID}
		if _, told := s.look(); told {
			one.Look = string(s.Appearances[0])
		}
		list = append(list, one)
	}
	for _, b := range a.known.Borrowed {
		list = append(list, Source{Kind: "borrowed", Day: b.Written.Format(time.DateOnly), From: b.From})
	}
	a.page.Sources = list
}

// source is where a test is from.
func (t *Test) source(kind, from string) Source {
	return Source{Kind: kind, Day: t.Day, Session: t.Session, Readings: t.Readings, Sheets: max(len(t.Sheets), len(t.Indexes)), From: from}
}

// developers are those that have tests, but for one.
func developers(others []Known, but string) string {
	var list []string
	for _, o := range others {
		if len(o.Tests) > 0 && o.Developer != but && o.Developer != "" && !slices.Contains(list, o.Developer) {
			list = append(list, fmt.Sprintf("%q", o.Developer))
		}
	}
	if len(list) == 0 {
		return "those with tests, of which there is none"
	}
	return strings.Join(list, ", ")
}

// wanted is the gradient that a development such as "N-1" is for.
func (a *assessment) wanted(name string) float64 { return wanted(a.aim, name) }

func wanted(aim float64, name string) float64 {
	n := 0
	if _, err := fmt.Sscanf(name, "N%d", &n); err != nil {
		n = 0
	}
	g, err := curve.PrintConditionsFor(aim).Shifted(n).Gradient()
	if err != nil {
		return aim
	}
	return g
}

// seconds is a time in minutes as JSON has it; nil for one that never comes.
func seconds(minutes float64) *float64 {
	const longest = 24 * 60
	if !(minutes < longest) {
		return nil
	}
	return new(minutes * 60)
}

// times is the time for the aim, and for N-2 to N+2.
func (a *assessment) times() {
	v, own := a.belief.Time(a.aim, a.at), a.belief.TimeOfFilm(a.aim, a.at)
	a.page.Target = &Target{Kind: "average", AverageGradient: a.aim, Temperature: a.at, Time: seconds(v.Middle), Low: seconds(v.Low), High: seconds(v.High),
		FilmLow: seconds(own.Low), FilmHigh: seconds(own.High), Confidence: growthbelief.Confidence}
	for _, name := range []string{"N-2", "N-1", "N", "N+1", "N+2"} {
		g := a.wanted(name)
		v := a.belief.Time(g, a.at)
		d := Development{Name: name, AverageGradient: g, Time: seconds(v.Middle), Low: seconds(v.Low), High: seconds(v.High)}
		if n, ok := a.indexAt(a.aim); ok {
			if other, ok := a.indexAt(g); ok {
				d.IndexStops = new(math.Log2(other / n))
			}
		}
		a.page.Developments = append(a.page.Developments, d)
	}
}

// figure is an interval, assumed where it is about as wide as before any evidence.
func figure(v, before growthbelief.Interval) Figure {
	return Figure{Value: v.Middle, Low: v.Low, High: v.High, Assumed: !(v.Narrowness() < seenBy*before.Narrowness())}
}

func (a *assessment) figures() {
	prior := growthbelief.Believe(growthbelief.Weak, growthbelief.Evidence{})
	b := a.belief
	a.page.Growth = &Growth{figure(b.Limit(), prior.Limit()), figure(b.Rate(), prior.Rate()), figure(b.Induction(), prior.Induction())}
	a.page.Coefficient = figure(b.Coefficient(), prior.Coefficient())
	a.page.Scatter = figure(b.Sessions(), prior.Sessions())
	if a.page.Coefficient.Assumed {
		a.page.Assumed = append(a.page.Assumed, AssumedCoefficient)
	}
}

// next is which sheets to test for N, and N-1 and N+1 as much, beside the usual series.
func (a *assessment) next(n int) {
	var usual []time.Duration
	middle := a.belief.TimeOfFilm(a.aim, a.at).Middle
	if guess := time.Duration(middle * float64(time.Minute)); middle < 120 {
		usual, _ = curve.TestTimes(guess, max(2, n))
	}
	p := proposal(a.belief, a.aim, a.at, n, usual[:min(n, len(usual))])
	a.page.Next, a.page.Usual, a.page.Enough = p.Next, p.Usual, p.Enough
}

// picture is the growth with its band, and what stands upon it.
func (a *assessment) picture() {
	coefficient := a.belief.Coefficient().Middle
	today := func(t time.Duration, at chem.Celsius) float64 {
		return t.Minutes() * math.Pow(coefficient, float64(at-a.at)/10)
	}
	longest := 15.0
	for _, t := range a.known.Tests {
		for _, s := range t.Sheets {
			a.page.Points = append(a.page.Points, MeasuredPoint{Minutes: today(s.Time, s.Temperature), Gradient: s.Gradient, Test: true})
		}
	}
	for _, s := range a.known.Sessions {
		if _, ok := s.look(); ok {
			a.page.Points = append(a.page.Points, MeasuredPoint{Minutes: today(s.Time, s.Temperature), Gradient: a.wanted(s.Development)})
		}
	}
	for _, p := range a.page.Points {
		longest = math.Max(longest, 1.15*p.Minutes)
	}
	const points = 40
	for i := 1; i <= points; i++ {
		m := math.Min(longest, 60) * float64(i) / points
		g := a.belief.Gradient(time.Duration(m*float64(time.Minute)), a.at)
		a.page.Curve = append(a.page.Curve, GrowthAt{m, g.Low, g.Middle, g.High})
	}
}
