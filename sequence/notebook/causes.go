package notebook

// How the negatives look, and what the record suggests as the cause. Only what the
// record holds is named as a cause; where it holds nothing that is said, with what
// else is usual (common practice, no source).

import (
	"fmt"
	"math"
	"slices"

	"example.org/wetside/sequence"
)

// causes tells for each look that was noted what the record suggests.
func causes(s *Session, h sequence.Units) []string {
	var list []string
	for _, look := range s.NotesAfter.Appearances() {
		var found []string
		usual := ""
		switch look {
		case Thin, Dense:
			found, usual = s.strength(look, h)
		case Fogged:
			found, usual = s.fog(), "light at the edges of the dark, old film or an exhausted developer are usual causes"
		case Uneven:
			found, usual = s.unevenness(), "too little or too regular agitation, and no water before the developer, are usual causes"
		case Scratched:
			found, usual = s.handling(), "nails, dry sheets sliding on wet ones and soft warm gelatin are usual causes"
		default:
			continue
		}
		for _, text := range found {
			list = append(list, fmt.Sprintf("Negatives %s: %s.", look, text))
		}
		if len(found) == 0 {
			list = append(list, fmt.Sprintf("Negatives %s: the record shows no cause; %s (common practice).", look, usual))
		}
	}
	return list
}

// developed is the share of the planned development that the sheets got on the whole,
// 1 for as planned; false where no sheet left a developer. Those set aside are lost.
func (s *Session) developed() (float64, bool) {
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

// strength tells whether more or less development than planned explains thin or
// dense negatives.
func (s *Session) strength(look Appearance, h sequence.Units) (found []string, usual string) {
	usual = "where the shadows are empty too, the film had too little exposure, which no development brings back; where only the lights are weak, develop a fifth longer"
	if look == Dense {
		usual = "where the shadows are heavy too, the film had more exposure than it needs; where only the lights are, develop a sixth less"
	}
	share, ok := s.developed()
	if !ok || math.Abs(share-1) < leastShare || (share < 1) != (look == Thin) {
		return nil, usual
	}
	warmth := ""
	for i := range s.Steps {
		if st := &s.Steps[i]; st.Plan.Kind == sequence.Develop {
			if left := leftOf(st); len(left) > 0 {
				warmth = bathAtEnd(left, h)
			}
		}
	}
	text := fmt.Sprintf("the record has %.0f%% of the planned development (100%% is right)", 100*share)
	if warmth != "" {
		text = warmth + ": " + text
	}
	return []string{text}, usual
}

// fog looks for light too early, for a developer used too long, and for forcing.
func (s *Session) fog() []string {
	var found []string
	for _, c := range s.Plan.Cautions {
		if c.Code == "stale" || c.Code == "light" {
			found = append(found, "the plan warned: "+c.Text)
		}
	}
	if share, ok := s.developed(); ok && share > 1+fogShare {
		found = append(found, fmt.Sprintf("the record has %.0f%% of the planned development (100%% is right), and fog grows with it", 100*share))
	}
	return found
}

// fogShare is how much more development is worth naming beside fog (our own rule).
const fogShare = 0.15

// unevenness looks for agitation that was not heard or not planned.
func (s *Session) unevenness() []string {
	var found []string
	if n := countMissed(s.Missed, sequence.CueAgitate, sequence.CueShuffle); n > 0 {
		found = append(found, fmt.Sprintf("%d calls to agitate or turn fell into a gap", n))
	}
	for _, c := range s.Plan.Cautions {
		if c.Code == "stack-at-rest" || c.Code == "short-develop" || c.Code == "rounds" {
			found = append(found, "the plan warned: "+c.Text)
		}
	}
	if s.Plan.Steps[0].Kind == sequence.Develop && s.Plan.Steps[0].Stack {
		found = append(found, "the sheets went into the developer dry, one on the other")
	}
	return found
}

// handling looks for long and warm wet handling of many sheets.
func (s *Session) handling() []string {
	var found []string
	if s.Wet.Used != nil && *s.Wet.Used > 1 {
		found = append(found, fmt.Sprintf("wet for %d %% of what the film stands in this vessel", sequence.PercentUsed(*s.Wet.Used)))
	}
	if n := s.Plan.Sheets; s.Plan.Steps[0].Stack && n > easySheets {
		found = append(found, fmt.Sprintf("%d sheets were shuffled in one tray; up to %d are easier on soft gelatin (common practice)", n, easySheets))
	}
	for _, c := range s.Plan.Cautions {
		if c.Code == "warm-gelatin" {
			found = append(found, "the plan warned: "+c.Text)
		}
	}
	return found
}

// easySheets is how many soft sheets are shuffled without harm (common practice, no source).
const easySheets = 4

func countMissed(cues []sequence.Cue, kinds ...sequence.CueKind) int {
	n := 0
	for _, c := range cues {
		if slices.Contains(kinds, c.Kind) {
			n++
		}
	}
	return n
}
