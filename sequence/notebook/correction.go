package notebook

// How negatives that came out too thin or too dense correct the next developing time: little by one look, more
// by looks that agree, and always with how uncertain that is.
//
// A look says that the logarithm of the time was off by ln 1.2 (a fifth longer, a sixth less: common practice, no
// source), give or take lookError; beforehand a time is taken to be right, give or take timeError. Both are
// normal, so the correction is their weighted mean (a normal prior with a known variance).

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Correction is what the next session's developing time should be multiplied by.
type Correction struct {
	Factor    float64
	Low, High float64    // that hold nine times of ten
	Looks     int        // that it rests on
	Look      Appearance // of negatives that had the development planned: Thin or Dense
}

// Of is the correction as typed for conditions that may have had a factor already.
func (c Correction) Of(then sequence.Conditions) string {
	return strconv.FormatFloat(c.Factor*cmp.Or(then.Factor, 1), 'g', 3, 64)
}

// What a look says (common practice, no source), and how well it and a time are known (our own rules).
const (
	thinFactor = 1.2
	lookError  = 0.18 // as much as it says
	timeError  = 0.18
	ninetyPart = 1.645 // standard deviations that hold nine times of ten
)

// Look is how the negatives of one session looked, with the factor that its time had.
type Look struct{ Factor, Log float64 }

// look is what the session's negatives say; false where they were not looked at, and where the record itself
// explains them, since then the plan was right and was not carried out.
func (s *Session) look() (Look, bool) {
	if s.Plan == nil || s.Rehearsal {
		return Look{}, false
	}
	says := map[Appearance]float64{Thin: math.Log(thinFactor), Dense: -math.Log(thinFactor), Good: 0}
	for _, look := range s.NotesAfter.Appearances() {
		log, of := says[look]
		if !of {
			continue
		}
		if log != 0 && len(s.strength(look)) > 0 {
			return Look{}, false
		}
		return Look{cmp.Or(s.Plan.Conditions.Factor, 1), log}, true
	}
	return Look{}, false
}

// Correction is what the result of the session asks of the next, with the looks of the sessions like it that were
// gathered; nothing where its own negatives are as wanted, or say nothing.
func (s *Session) Correction() (Correction, bool) {
	own, ok := s.look()
	if !ok || own.Log == 0 {
		return Correction{}, false
	}
	sum := own.Log
	for _, l := range s.Alike {
		sum += math.Log(l.Factor/own.Factor) + l.Log
	}
	n := 1 + len(s.Alike)
	precision := 1/(timeError*timeError) + float64(n)/(lookError*lookError)
	mean, width := sum/(lookError*lookError)/precision, ninetyPart/math.Sqrt(precision)
	c := Correction{math.Exp(mean), math.Exp(mean - width), math.Exp(mean + width), n, Thin}
	if own.Log < 0 {
		c.Look = Dense
	}
	return c, true
}

// mostAlike is how many sessions like one are looked at, the newest first.
const mostAlike = 12

// OpenWithLooks is Open, and gathers how the negatives of other sessions of the same film, recipe, vessel and
// development looked.
func OpenWithLooks(store journal.Store, id string) (Session, error) {
	s, err := Open(store, id)
	if err != nil || s.Plan == nil || len(s.NotesAfter.Appearances()) == 0 {
		return s, err
	}
	for _, other := range List(store) {
		like := other.ID != id && !other.Rehearsal && other.Film == s.Film && other.Recipe == s.Recipe && other.Vessel == s.Vessel
		if !like || len(s.Alike) >= mostAlike {
			continue
		}
		full, err := Open(store, other.ID)
		if err != nil || full.Plan == nil || full.Plan.Conditions.Development != s.Plan.Conditions.Development || !sameTimes(&full, &s) {
			continue
		}
		if l, ok := full.look(); ok {
			s.Alike = append(s.Alike, l)
		}
	}
	return s, nil
}

// sameTimes reports whether two sessions' recipes have the same developing times: a recipe may be rewritten.
func sameTimes(a, b *Session) bool {
	times := func(s *Session) (list []sequence.Elapsed) {
		for i := range s.Plan.Steps {
			if st := &s.Plan.Steps[i]; st.Kind == sequence.Develop {
				list = append(list, st.Base)
			}
		}
		return list
	}
	return slices.Equal(times(a), times(b))
}
