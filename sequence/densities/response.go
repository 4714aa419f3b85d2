package densities

// A film's response as one surface, and aims met on it: one account for commands and screens.

import (
	"errors"
	"fmt"
	"math"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/sequence"
)

// Response is a film's surface, with what places its exposures.
type Response struct {
	*response.Surface
	lux *float64 // makes the readings' exposures log10 of lux seconds by being added; nil: nothing places them
}

// ResponseOf is the response of the family's film. Stated errors count as stated; the rest is as the evaluation
// found. It errs as response.Fit does.
func ResponseOf(f curve.Family, r curve.Results, q curve.Request) (Response, error) {
	o := response.Options{SheetScatter: max(r.Errors.Sheets, 1e-4), SessionScatter: max(r.Errors.Sessions, 1e-4), Induction: q.Induction}
	if r.Errors.Stated {
		o.ReadingError = float64(r.Errors.Reading)
	}
	if r.Growth == nil { // nothing was found of the scatters
		o.SheetScatter, o.SessionScatter = 0, 0
	}
	s, err := response.Fit(responseSheets(f), o)
	return Response{s, luxSeconds(f, q)}, err
}

func responseSheets(f curve.Family) (list []response.Sheet) {
	sessions := map[string]int{}
	for _, c := range f.Curves {
		if c.Time <= 0 {
			continue
		}
		if _, known := sessions[c.Session]; !known {
			sessions[c.Session] = len(sessions)
		}
		s := response.Sheet{Time: c.Time, Session: sessions[c.Session]}
		if c.Base != nil {
			s.Base = new(float64(*c.Base))
		}
		for _, x := range c.Readings {
			s.LogH, s.Density = append(s.LogH, float64(x.LogH)), append(s.Density, float64(x.Density))
		}
		list = append(list, s)
	}
	return list
}

func luxSeconds(f curve.Family, q curve.Request) *float64 {
	var lux float64
	switch {
	case q.SpeedAnchor != nil:
		lux = math.Log10(0.8/q.SpeedAnchor.Speed) - float64(q.SpeedAnchor.SpeedPoint)
	case f.Scale != curve.LuxSeconds && !(f.Scale == curve.Unstated && q.Absolute):
		return nil
	}
	return &lux
}

// PrintOf is an aim as the surface takes it.
func PrintOf(a sequence.PrintAim) response.Print {
	p := response.Print{Paper: a.Paper, Subject: a.Subject, Flare: response.FlareShare(a.Flare), Shadow: a.Shadow}
	if a.Enlarger == sequence.Condenser {
		p.Enlarger = response.Condenser
	}
	return p
}

// Met is an aim met: a contrast index by a time alone, a print by its negative.
type Met struct {
	Aim sequence.Aim
	response.Solution
	Negative     response.Negative // of a print
	Index        *float64          // exposure index, as meters have it; nil where nothing places the exposures
	Developments []MetDevelopment  // of a print: N-2 to N+2, by the subject's range
}

// MetDevelopment is one of them.
type MetDevelopment struct {
	Name     string
	Subject  float64            // log range
	Negative *response.Negative // nil where it cannot be had
	Index    *float64
	More     float64 // exposure than N has, in stops
}

// Meet meets an aim. It errs where the film or its readings do not reach it.
func (s Response) Meet(a sequence.Aim) (Met, error) {
	if a.Print != nil {
		return s.meetPrint(a)
	}
	var aim response.Aim = response.Contrast{Index: a.Contrast}
	if a.Contrast == 0 {
		aim = response.Average{Gradient: a.Average}
	}
	at, err := s.Solve(aim)
	met := Met{Aim: a, Solution: at}
	if err == nil {
		met.Index = s.index(response.Print{}, at.Shadow, response.SpeedPointStops)
	}
	return met, err
}

// ForPrint is the negative of a print. Where it cannot be had the error says which end gives way.
func (s Response) ForPrint(p response.Print) (response.Negative, error) {
	n, err := s.Negative(p)
	if err != nil {
		err = s.givesWay(p, err)
	}
	return n, err
}

func (s Response) meetPrint(a sequence.Aim) (Met, error) {
	p := PrintOf(*a.Print)
	n, err := s.ForPrint(p)
	if err != nil {
		return Met{Aim: a}, err
	}
	under := -a.Print.Placed
	met := Met{Aim: a, Solution: n.Solution, Negative: n, Index: s.index(p, n.Lands.Shadow, under)}
	for shift := -2; shift <= 2; shift++ {
		d := MetDevelopment{Name: sequence.DevelopmentName(shift), Subject: p.Shifted(shift).Subject}
		if one, err := s.Negative(p.Shifted(shift)); err == nil && d.Subject > 0 {
			d.Negative, d.More, d.Index = &one, one.More(n, under), s.index(one.Print, one.Lands.Shadow, under)
		}
		met.Developments = append(met.Developments, d)
	}
	return met, nil
}

func (s Response) index(p response.Print, shadow, under float64) *float64 {
	if s.lux == nil {
		return nil
	}
	v, err := curve.NominalSpeed(p.Index(shadow+*s.lux, under))
	if err != nil { // beyond all meters
		return nil
	}
	return &v
}

// outOfReach is why a print cannot be had, and the error behind it, which callers ask for by kind.
type outOfReach struct {
	error
	behind error
}

func (e outOfReach) Unwrap() error { return e.behind }

// givesWay says by how much a print cannot be had, where the shadow keeps its density.
func (s Response) givesWay(p response.Print, err error) error {
	t, n, ok := s.Nearest(p)
	switch {
	case errors.Is(err, response.ErrReadings) && ok:
		_, high := s.Exposures()
		return outOfReach{fmt.Errorf("the highlight lies at log H %.2f and the readings end at %.2f: read steps of more exposure, or take a shorter subject",
			n.Highlight, high), err}
	case !ok:
		return outOfReach{fmt.Errorf("no sheet's readings pass the shadow's density, %.2f over base plus fog", p.Shadow), err}
	}
	return outOfReach{fmt.Errorf("the highlight gives way: with the shadow at %.2f over base plus fog, %s gives a range of %.2f, %.2f less than the paper's %.2f: as for grade %.1f",
		p.Shadow, sequence.FormatElapsed(t), n.Range, p.Paper-n.Range, p.Paper, response.GradeOf(n.Range)), err}
}

// Aimed is what a recipe is refined with.
func (m *Met) Aimed() *Aimed {
	a := &Aimed{Aim: m.Aim, Index: m.Index}
	if m.Aim.Print == nil {
		a.Times = []curve.Development{{Name: "N", Target: targetOf(m.Solution)}}
	}
	for _, d := range m.Developments {
		one := curve.Development{Name: d.Name}
		if d.Negative != nil {
			one.Target = targetOf(d.Negative.Solution)
		}
		a.Times = append(a.Times, one)
	}
	return a
}

func targetOf(s response.Solution) *curve.Target {
	return &curve.Target{Time: s.Time.Seconds(), Low: new(s.Low.Seconds()), High: new(s.High.Seconds()),
		Confidence: response.Confidence}
}
