package notebook

// How negatives that came out too thin or too dense correct the next developing time.

import (
	"strconv"

	"example.org/wetside/sequence"
)

// Correction is what the next session's developing time should be multiplied by.
type Correction struct {
	Factor float64
	Look   Appearance // of negatives that had the development planned: Thin or Dense
}

// Of is the correction as typed for conditions that may have had a factor already.
func (c Correction) Of(then sequence.Conditions) string {
	was := then.Factor
	if was == 0 {
		was = 1
	}
	return strconv.FormatFloat(c.Factor*was, 'g', 3, 64)
}

// Corrections for looks that the record does not explain (common practice, no source).
const (
	thinFactor  = 1.2
	denseFactor = 1 / thinFactor
)

// Correction is what the result of the session asks of the next: nothing where the
// negatives are as wanted, where they were not looked at, or where the record itself
// explains them, since then the plan was right and was not carried out.
func (s *Session) Correction() (Correction, bool) {
	if s.Plan == nil || s.Rehearsal {
		return Correction{}, false
	}
	for _, look := range s.NotesAfter.Appearances() {
		if look != Thin && look != Dense {
			continue
		}
		if len(s.strength(look)) > 0 {
			return Correction{}, false
		}
		if look == Dense {
			return Correction{denseFactor, look}, true
		}
		return Correction{thinFactor, look}, true
	}
	return Correction{}, false
}
