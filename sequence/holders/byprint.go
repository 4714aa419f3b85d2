package holders

// What a waiting sheet wants by its film's response: shadow and highlight of its own subject on the paper.

import (
	"cmp"
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/planning"
)

// FilmResponse is the response of a recipe's film in its developer, and the negatives that were asked of it.
type FilmResponse struct {
	densities.Response
	known map[response.Print]negative
}

type negative struct {
	response.Negative
	err error
}

// NewFilmResponse makes one.
func NewFilmResponse(s densities.Response) *FilmResponse {
	return &FilmResponse{s, map[response.Print]negative{}}
}

// ResponsesFrom finds the response of a recipe's film: that of the kept readings which the recipe's times were found by. It
// is nil for a recipe that names none, or none that are kept. Each is worked out once, by the times that the
// readings' sessions tell.
func ResponsesFrom(kept []densities.ReadingsFile, open densities.Opener) func(*sequence.Recipe) *FilmResponse {
	known := map[string]*FilmResponse{}
	return func(r *sequence.Recipe) *FilmResponse {
		list := densities.ReadingsOf(r, kept)
		if len(list) == 0 {
			return nil
		}
		found, done := known[r.Origin()]
		if !done {
			if s, err := densities.ResponseOfReadings(list, open); err == nil {
				found = NewFilmResponse(s)
			}
			known[r.Origin()] = found
		}
		return found
	}
}

// negative solves for a print; sheets with like subjects share it.
func (s *FilmResponse) negative(p response.Print) (response.Negative, error) {
	n, known := s.known[p]
	if !known {
		n.Negative, n.err = s.ForPrint(p)
		s.known[p] = n
	}
	return n.Negative, n.err
}

// byResponse finds it by the film's response. A development that was written down stands: as the recipe has it, else as
// the response gives it.
func (e *ExposedSheet) byResponse(w *planning.DevelopmentWanted, s *FilmResponse, st *sequence.Step, table *sequence.Reciprocity, on PaperAndFlare) error {
	shift, gradient, err := development(e.Development)
	if err != nil {
		return err
	}
	if gradient > 0 {
		at, err := s.Meet(sequence.Aim{Average: gradient})
		w.Time, w.Gradient = at.Time.Round(time.Second), gradient
		return within(s, at.Solution, err)
	}
	usual := on.aim(st)
	aim, err := e.aim(usual)
	if err != nil {
		return err
	}
	p := densities.PrintOf(aim)
	if w.Gain, err = e.gainOver(table, p.OnFilm()); err != nil {
		return err
	}
	switch own, _, missing := timeNamed(st, shift); {
	case e.Development != "" || e.Range == 0 && w.Gain == 1:
		_, named := st.Named(sequence.DevelopmentName(shift))
		if missing == nil && (shift == 0 || named) {
			w.Time, w.Gain = own, 1
			return nil
		}
		p = densities.PrintOf(usual).Shifted(shift)
	case w.Gain > 1:
		p.Contrast = w.Gain
	}
	n, err := s.negative(p)
	if err := within(s, n.Solution, err); err != nil {
		return fmt.Errorf("for a print of %.1f stops %w", p.Subject/math.Log10(2), err)
	}
	w.Time = n.Time.Round(time.Second)
	w.Print = &planning.PrintWanted{Subject: p.Subject, Paper: p.Paper, Low: n.Low, High: n.High, Chance: n.Chance, Near: n.Near}
	if than, err := s.negative(densities.PrintOf(usual)); err == nil {
		w.Print.More = new(n.More(than, -usual.Placed))
	}
	return nil
}

// PrintIndex is the exposure index for a print, as meters have it: the recipe's own for N, less by the exposure needed over that; nil
// where the recipe has none.
func PrintIndex(r *sequence.Recipe, p *planning.PrintWanted) *float64 {
	if p.More == nil || r.Film.ExposureIndex == 0 {
		return nil
	}
	v, err := curve.NominalSpeed(r.Film.ExposureIndex * math.Exp2(-*p.More))
	if err != nil {
		return nil
	}
	return &v
}

// within errs for a time that cannot be had, or that lies outside the test's by more than a hand keeps.
func within(s *FilmResponse, at response.Solution, err error) error {
	const hand = 5 * time.Second
	if err != nil {
		return err
	}
	if at.Time < s.Shortest-hand || at.Time > s.Longest+hand {
		return fmt.Errorf("%w (%s to %s), at about %s", sequence.ErrUntested, sequence.FormatElapsed(s.Shortest), sequence.FormatElapsed(s.Longest), sequence.FormatElapsed(at.Time.Round(hand)))
	}
	return nil
}

// or is what the person says, else what a recipe's times were found for.
func (on PaperAndFlare) or(a *sequence.Aim) PaperAndFlare {
	if !on.Stated && a != nil && a.Print != nil {
		on.Paper, on.Flare = curve.LogH(a.Print.Paper), curve.LogH(a.Print.Flare)
	}
	return on
}

// Of is what the prints of a recipe's sheets are aimed at, as its times were found for it; else the usual print.
func (on PaperAndFlare) Of(r *sequence.Recipe) sequence.PrintAim {
	return on.aim(cmp.Or(r.Developer(), &sequence.Step{}))
}

func (on PaperAndFlare) aim(st *sequence.Step) sequence.PrintAim {
	a := sequence.PrintAim{Subject: response.DefaultSubject, Shadow: sequence.UsualShadow, Placed: sequence.UsualPlaced, Enlarger: sequence.Diffuse}
	if st.Aim != nil && st.Aim.Print != nil {
		a = *st.Aim.Print
	}
	on = on.or(st.Aim)
	a.Paper, a.Flare = float64(on.Paper), float64(on.Flare)
	return a
}

// aim is the usual one for the sheet's own subject. Its range counts from where the shadow is usually placed, so
// one that was placed higher leaves room for deeper shadows beneath it.
func (e *ExposedSheet) aim(usual sequence.PrintAim) (sequence.PrintAim, error) {
	if e.Range == 0 {
		return usual, nil
	}
	stops := e.Range
	if placed, ok := e.shadowPlaced(); ok {
		stops += placed - usual.Placed
	}
	if stops < leastRange {
		return usual, fmt.Errorf("a range of %g stops with the shadow at %s leaves nothing to print", e.Range, e.Shadow)
	}
	usual.Subject = stops * math.Log10(2)
	return usual, nil
}

// gainOver is by what the sheet's long exposure multiplies the contrast of an image of a log range, by the film's table;
// 1 for none.
func (e *ExposedSheet) gainOver(table *sequence.Reciprocity, image float64) (float64, error) {
	t := e.exposureTime()
	if table == nil || t == 0 {
		return 1, nil
	}
	law, err := chem.NewExposureTable(table.Table)
	if err != nil {
		return 1, err
	}
	metered, err := chem.MeteredFor(law, t)
	if err != nil {
		return 1, err
	}
	return chem.ContrastGain(law, metered, max(leastImage, image))
}
