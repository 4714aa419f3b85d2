package notebook

// How the negatives look, and what the record suggests as the cause. Only what the
// record holds is named as a cause; where it holds nothing, that is the finding.

import (
	"math"
	"slices"

	"example.org/wetside/sequence"
)

// Causes are what the record suggests as the causes of how the negatives look; nothing
// for a rehearsal.
func (s *Session) Causes() []Finding {
	if s.Plan == nil || s.Rehearsal {
		return nil
	}
	var list []Finding
	for _, look := range s.NotesAfter.Appearances() {
		var found []Finding
		switch look {
		case Thin, Dense:
			found = s.strength(look)
		case Fogged:
			found = s.fog()
		case Uneven:
			found = s.unevenness()
		case Scratched:
			found = s.handling()
		default:
			continue
		}
		if len(found) == 0 {
			found = []Finding{{Code: NoCause}}
		}
		for _, f := range found {
			f.Look = look
			list = append(list, f)
		}
	}
	return list
}

// DevelopedShare is the share of the planned development that the sheets got on the whole,
// 1 for as planned; false where no sheet left a developer. Those set aside are lost.
func (s *Session) DevelopedShare() (float64, bool) {
	sum, n := 0.0, 0
	for _, st := range s.Steps {
		for _, y := range st.Sheets {
			if y.Developed != nil && y.Out != sequence.Never && !y.Aside {
				sum, n = sum+y.Developed.Share(), n+1
			}
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// strength looks whether more or less development than planned explains thin or dense
// negatives.
func (s *Session) strength(look Appearance) []Finding {
	share, ok := s.DevelopedShare()
	if !ok || !s.canBeSeen(share) || (share < 1) != (look == Thin) {
		return nil
	}
	f := Finding{Code: DevelopedOff, Low: share, High: share}
	for i := range s.Steps {
		if st := &s.Steps[i]; st.Plan.Kind == sequence.Develop {
			if left := leftOf(st); len(left) > 0 {
				f.Bath = bathAtEnd(left)
			}
		}
	}
	return []Finding{f}
}

// leastSeen is the share of the gradient that is large enough to be seen in negatives (our own rule).
const leastSeen = 0.05

// usualSlope is by how much of its gradient a film rises for a share more of development, where its growth is not
// known: 1 - exp(-kt) at kt of 1 rises by 0.58 of it (Mees 1911 for the form; kt of about 1 is our own rule).
const usualSlope = 0.58

// canBeSeen reports whether a share of the planned development changes the gradient enough to be seen.
func (s *Session) canBeSeen(share float64) bool {
	return math.Abs(s.gradientChange(share)) >= leastSeen
}

// gradientChange is what a share of the planned development does to the gradient, as a share of it: by the step's
// own growth where that is known.
func (s *Session) gradientChange(share float64) float64 {
	for i := range s.Plan.Steps {
		st := &s.Plan.Steps[i]
		if g := st.Growth; g != nil && st.Kind == sequence.Develop {
			dose := st.Fresh(st.Dose)
			if whole := g.At(dose); whole > 0 {
				return g.At(sequence.Elapsed(share*float64(dose)))/whole - 1
			}
		}
	}
	return usualSlope * (share - 1)
}

// fog looks for light too early, for a developer used too long, and for forcing.
func (s *Session) fog() []Finding {
	found := s.warned("stale", "light")
	if share, ok := s.DevelopedShare(); ok && share > 1+fogShare {
		found = append(found, Finding{Code: DevelopedFar, Low: share, High: share})
	}
	return found
}

// fogShare is how much more development is worth naming beside fog (our own rule).
const fogShare = 0.15

// warned are the plan's cautions of some codes.
func (s *Session) warned(codes ...string) (found []Finding) {
	for _, c := range s.Plan.Cautions {
		if slices.Contains(codes, c.Code) {
			found = append(found, Finding{Code: PlanWarned, Caution: c})
		}
	}
	return found
}

// unevenness looks for agitation that was not heard or not planned.
func (s *Session) unevenness() []Finding {
	var found []Finding
	if n := countMissed(s.Missed, sequence.CueAgitate, sequence.CueShuffle); n > 0 {
		found = append(found, Finding{Code: AgitationMissed, Count: n})
	}
	found = append(found, s.warned("stack-at-rest", "short-develop", "rounds")...)
	if s.Plan.Steps[0].Kind == sequence.Develop && s.Plan.Steps[0].Stack {
		found = append(found, Finding{Code: DryIntoDeveloper})
	}
	return found
}

// handling looks for long and warm wet handling of many sheets.
func (s *Session) handling() []Finding {
	var found []Finding
	if s.Wet.Used != nil && *s.Wet.Used > 1 {
		found = append(found, Finding{Code: WetBeyond, Used: *s.Wet.Used})
	}
	if n := s.Plan.Sheets; s.Plan.Steps[0].Stack && n > EasySheets {
		found = append(found, Finding{Code: LargeStack, Count: n})
	}
	return append(found, s.warned("warm-gelatin")...)
}

// EasySheets is how many soft sheets are shuffled without harm (common practice, no source).
const EasySheets = 4

func countMissed(cues []sequence.Cue, kinds ...sequence.CueKind) (n int) {
	for _, c := range cues {
		if slices.Contains(kinds, c.Kind) {
			n++
		}
	}
	return n
}
