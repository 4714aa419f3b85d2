package holders

// What each waiting sheet wants: from its subject's range, or from the development
// that was written down for it, to a gradient and a developing time; and which
// sessions have developed which sheet.

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// PaperAndFlare is what the negatives are printed on.
type PaperAndFlare struct {
	Paper curve.LogH // the paper's log exposure scale
	Flare curve.LogH // what flare takes from a subject's range
	// Stated says that the person asks for these, whatever a recipe's times were found for.
	Stated bool
}

// UsualPrinting is what sheets are made for until another is asked for: a paper's log exposure
// range for a diffusion enlarger (Stroebel et al., from memory).
var UsualPrinting = PaperAndFlare{Paper: 1.05, Flare: curve.DefaultFlare}

// development reads "N", "N-1", "N+2" as a number of stops, or a gradient.
func development(text string) (shift int, gradient float64, err error) {
	text = strings.TrimSpace(text)
	if text == "" || text == "N" {
		return 0, 0, nil
	}
	if n, ok := strings.CutPrefix(text, "N"); ok {
		shift, err = strconv.Atoi(n)
		if err == nil && strings.ContainsAny(n[:1], "+-") && shift >= -5 && shift <= 5 {
			return shift, 0, nil
		}
	} else if gradient, err = strconv.ParseFloat(text, 64); err == nil && gradient >= 0.2 && gradient < 2 {
		return 0, gradient, nil
	}
	return 0, 0, fmt.Errorf("development %q; expected N, N-1, N+1 or a gradient such as 0.62", text)
}

// DevelopmentWanted is what a sheet wants of a recipe's developer: by the film's response, without one by what the
// recipe knows. It errs where that cannot be had, or not be told.
func (e *ExposedSheet) DevelopmentWanted(r *sequence.Recipe, s *FilmResponse, on PaperAndFlare) (planning.DevelopmentWanted, error) {
	w := planning.DevelopmentWanted{Name: e.Name()}
	st := r.Developer()
	if st == nil {
		return w, errors.New("the recipe does not develop")
	}
	var err error
	if s != nil {
		err = e.byResponse(&w, s, st, r.Film.Reciprocity, on)
	} else {
		on = on.or(st.Aim)
		if w.Gain, err = e.gainOver(r.Film.Reciprocity, float64(e.subject()-on.Flare)); err == nil {
			w.Time, w.Gradient, err = e.timeIn(st, on, w.Gain)
		}
	}
	if err == nil && w.Gradient == 0 && st.Growth != nil && st.Growth.Covers(w.Time) {
		w.Gradient = st.Growth.At(w.Time)
	}
	return w, err
}

// timeIn finds the time, and the gradient where it led to the time. A development that was written down
// stands; else the subject's range counts, with what a long exposure makes of it.
func (e *ExposedSheet) timeIn(st *sequence.Step, on PaperAndFlare, gain float64) (sequence.Elapsed, float64, error) {
	shift, gradient, err := development(e.Development)
	if err != nil {
		return 0, 0, err
	}
	if e.Development == "" && (e.Range > 0 || gain > 1) {
		switch {
		case st.Growth == nil:
			shift = rangeShift(gain * e.stops())
		case e.Range > 0:
			print := curve.PrintConditions{Paper: on.Paper, Subject: e.subject(), Flare: on.Flare}
			if gradient, err = print.Gradient(); err != nil {
				return 0, 0, err
			}
			gradient /= gain
		default:
			return e.lessThanN(st, gain)
		}
	}
	if gradient > 0 {
		if st.Growth == nil {
			return 0, 0, fmt.Errorf("gradient %.2f: the recipe knows no growth curve; test the film, or write N-1, N, N+1", gradient)
		}
		t, err := st.Growth.Time(gradient)
		return t.Round(time.Second), gradient, err
	}
	t, g, err := timeNamed(st, shift)
	if err != nil && gain > 1 {
		err = fmt.Errorf("its long exposure raises contrast by %.0f%%: %w; or write its development down", 100*(gain-1), err)
	}
	return t, g, err
}

// lessThanN is the time whose gradient, times the gain, is that of N.
func (e *ExposedSheet) lessThanN(st *sequence.Step, gain float64) (sequence.Elapsed, float64, error) {
	n, _, err := timeNamed(st, 0)
	if err != nil {
		return 0, 0, err
	}
	if !st.Growth.Covers(n) {
		return n, 0, fmt.Errorf("contrast rises by %.0f%% in a long exposure, and the recipe's time for N, %s, is %w", 100*(gain-1), sequence.FormatElapsed(n), sequence.ErrUntested)
	}
	gradient := st.Growth.At(n) / gain
	t, err := st.Growth.Time(gradient)
	return t.Round(time.Second), gradient, err
}

// rangeShift is the development for a subject so many stops long, by the usual subject:
// a shorter one wants more (common practice, no source).
func rangeShift(stops float64) int { return int(math.Round(curve.DefaultSubject.Stops() - stops)) }

// timeNamed is the time of N, N-1 and so on: the recipe's own, else by its growth from that
// of N.
func timeNamed(st *sequence.Step, shift int) (sequence.Elapsed, float64, error) {
	name := sequence.DevelopmentName(shift)
	if own, ok := st.Named(name); ok {
		return own, 0, nil
	}
	n := st.Time
	if usual, ok := st.Named("N"); ok {
		n = usual
	}
	switch {
	case shift == 0 && n > 0:
		return n, 0, nil
	case n == 0 || st.Growth == nil:
		return 0, 0, fmt.Errorf("the recipe has no time for %s and no growth curve to find it by", name)
	}
	if !st.Growth.Covers(n) {
		return 0, 0, fmt.Errorf("%s: the recipe's time for N, %s, is %w", name, sequence.FormatElapsed(n), sequence.ErrUntested)
	}
	gradient, err := curve.PrintConditionsFor(st.Growth.At(n)).Shifted(shift).Gradient()
	if err != nil {
		return 0, 0, err
	}
	t, err := st.Growth.Time(gradient)
	if err != nil {
		return 0, 0, fmt.Errorf("%s: %w", name, err)
	}
	return t.Round(time.Second), gradient, nil
}
