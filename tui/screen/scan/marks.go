package scan

// A picture with the outlines of tablet and strips on it: where they lie, how they are moved, and which
// of their steps are doubtful.

import (
	"slices"
	"time"

	"example.org/wetside/chem/scan"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/widget"
)

// look is a picture that is shown, with what is marked on it.
type look struct {
	opened
	result *scan.Result   // nil until there is one for the marks as they lie
	fault  string         // why there is none
	marks  []mark         // where tablet and strips lie, the tablet first
	along  [][]float64    // the light along each
	at     int            // the mark that keys act on
	part   part           // of it, that the arrows move
	again  bool           // moved while it was being read
	sure   bool           // asked about a strip that may lie a step off: enter again takes it
	typing *widget.Prompt // a developing time; nil while none is typed
}

// opened is a picture as it was read first.
type opened struct {
	picture, flat *scan.Picture
	of            densities.PictureFile
	small         scan.Small
	tablet        []float64
	channel       scan.Channel
}

// mark is where a strip lies, and what the person said of it.
type mark struct {
	at      scan.Strip
	time    time.Duration // developing time; 0 until it is known
	answers []answer      // about its doubtful steps
}

// answer is whether a doubtful step is kept.
type answer struct {
	step int
	keep bool
}

// part is of a strip what the arrows move.
type part int

const (
	whole part = iota
	firstEnd
	lastEnd
)

// laid is a strip along the picture's longer side, so many thirds across it.
func (l look) laid(thirds float64) scan.Strip {
	w, h := float64(l.picture.Width), float64(l.picture.Height)
	if w >= h {
		return scan.Strip{X1: 0.1 * w, X2: 0.9 * w, Y1: h * thirds / 3, Y2: h * thirds / 3, Across: 0.1 * h, Steps: len(l.tablet)}
	}
	return scan.Strip{X1: w * thirds / 3, X2: w * thirds / 3, Y1: 0.1 * h, Y2: 0.9 * h, Across: 0.1 * w, Steps: len(l.tablet)}
}

// options are the marks as they lie, for a reading.
func (l look) options() scan.Options {
	tablet := l.marks[0].at
	o := scan.Options{Tablet: l.tablet, Flat: l.flat, TabletAt: &tablet}
	for _, one := range l.marks[1:] {
		o.Strips = append(o.Strips, one.at)
	}
	return o
}

// changed is the look with another mark in the chosen one's place.
func (l look) changed(one mark) look {
	l.marks = slices.Clone(l.marks)
	l.marks[l.at], l.sure = one, false
	return l
}

// moveShare is of a step how far one arrow moves.
const moveShare = 0.125

// shifted moves the chosen strip, or one end of it; false where it would leave the picture.
func (l look) shifted(dx, dy float64) (look, bool) {
	one := l.marks[l.at]
	by := max(1, moveShare*one.at.Pitch())
	s := one.at
	s.Unsure = false // the person has placed it
	if l.part != lastEnd {
		s.X1, s.Y1 = s.X1+dx*by, s.Y1+dy*by
	}
	if l.part != firstEnd {
		s.X2, s.Y2 = s.X2+dx*by, s.Y2+dy*by
	}
	w, h := float64(l.picture.Width), float64(l.picture.Height)
	if min(s.X1, s.X2, s.Y1, s.Y2) < 0 || max(s.X1, s.X2) > w || max(s.Y1, s.Y2) > h {
		return l, false
	}
	one.at, one.answers = s, nil
	return l.changed(one), true
}

// another has one more strip, beneath the chosen one or, where no room is, above it.
func (l look) another() look {
	s := l.marks[l.at].at
	s.Unsure = false
	shift := 1.2 * s.Across
	if s.Y1+shift > float64(l.picture.Height) || s.Y2+shift > float64(l.picture.Height) {
		shift = -shift
	}
	s.Y1, s.Y2 = max(0, s.Y1+shift), max(0, s.Y2+shift)
	l.marks = append(slices.Clone(l.marks), mark{at: s})
	l.at, l.sure = len(l.marks)-1, false
	return l
}

// without leaves the chosen strip out.
func (l look) without() look {
	l.marks = slices.Delete(slices.Clone(l.marks), l.at, l.at+1)
	l.at, l.sure = min(l.at, len(l.marks)-1), false
	return l
}

// isDoubtful reports whether a step of a strip is asked about and not answered.
func (l look) isDoubtful(strip, step int) bool {
	return l.result.Strips[strip-1].Patches[step].Doubt[l.channel] == scan.Spotted &&
		!slices.ContainsFunc(l.marks[strip].answers, func(a answer) bool { return a.step == step })
}

// isRead reports whether a mark is a strip that was read.
func (l look) isRead(i int) bool { return l.result != nil && i > 0 && i <= len(l.result.Strips) }

// doubtful is the first doubtful step of a mark; -1 for none.
func (l look) doubtful(i int) int {
	if !l.isRead(i) {
		return -1
	}
	for k := range l.result.Strips[i-1].Patches {
		if l.isDoubtful(i, k) {
			return k
		}
	}
	return -1
}

// answered is the result with the doubts taken off what is kept all the same.
func (l look) answered() *scan.Result {
	r := *l.result
	r.Strips = slices.Clone(r.Strips)
	for i, one := range l.marks[1:] {
		for _, a := range one.answers {
			if a.keep {
				r.Strips[i].Patches = slices.Clone(r.Strips[i].Patches)
				r.Strips[i].Patches[a.step].Doubt[l.channel] = scan.NoDoubt
			}
		}
	}
	return &r
}
