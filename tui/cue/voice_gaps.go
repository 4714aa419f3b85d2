package cue

// Where words have room: the tones, each with its second of quiet before it,
// the rows of moves, and what is said already.

import (
	"slices"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// The quiet around words, in real time.
const (
	beforeTone   = 1050 * time.Millisecond // a second, and what placing may be off
	afterTone    = 150 * time.Millisecond
	betweenLines = 350 * time.Millisecond
	rowGap       = 20 * time.Second // process time; moves further apart are no row
)

// span is a stretch of process time.
type span struct{ from, to sequence.Elapsed }

func (s span) meets(from, to sequence.Elapsed) bool { return from < s.to && s.from < to }

// slots knows what stretches are taken.
type slots struct {
	from, to sequence.Elapsed // words begin and end within
	speed    float64          // process time for each unit of real time
	tones    []span
	rows     []span
	taken    []span
}

func (r *slots) toProcessTime(d time.Duration) sequence.Elapsed {
	return sequence.Elapsed(float64(d) * r.speed)
}

// toneSpan is the stretch that one cue keeps free of words.
func (r *slots) toneSpan(c sequence.Cue) span {
	return span{c.At - r.toProcessTime(beforeTone), c.At + r.toProcessTime(Length(c.Kind)+afterTone)}
}

func (r *slots) take(from, to sequence.Elapsed) {
	gap := r.toProcessTime(betweenLines)
	r.taken = append(r.taken, span{from - gap, to + gap})
}

// conflict is a stretch that [from, to) meets, if there is one. In a row only
// what belongs to the row may be said.
func (r *slots) conflict(from, to sequence.Elapsed, inRow bool) (span, bool) {
	lists := [][]span{r.tones, r.taken, r.rows}
	if inRow {
		lists = lists[:2]
	}
	for _, list := range lists {
		for _, s := range list {
			if s.meets(from, to) {
				return s, true
			}
		}
	}
	return span{}, false
}

// firstFree is the first place for so long between from and to.
func (r *slots) firstFree(long, from, to sequence.Elapsed, inRow bool) (sequence.Elapsed, bool) {
	at, to := max(from, r.from), min(to, r.to)
	for at+long <= to {
		s, met := r.conflict(at, at+long, inRow)
		if !met {
			return at, true
		}
		at = s.to
	}
	return 0, false
}

// lastFree is the last place for so long between from and to.
func (r *slots) lastFree(long, from, to sequence.Elapsed, inRow bool) (sequence.Elapsed, bool) {
	from, at := max(from, r.from), min(to, r.to)-long
	for at >= from {
		s, met := r.conflict(at, at+long, inRow)
		if !met {
			return at, true
		}
		at = s.from - long
	}
	return 0, false
}

// transferRows are the stretches in which sheets go from one bath to the next one by
// one, from the first touch to the last. While moving on is stopped, what is to
// come is only a forecast and no row.
func transferRows(p *sequence.Plan, l engine.Snapshot) []span {
	entries := make([][]sequence.Elapsed, len(p.Steps)+1) // by the step entered; beyond the last: out
	enter := func(s int, at sequence.Elapsed) {
		if at != sequence.Never && (at <= l.Now || !l.Held && l.Overdue == 0) {
			entries[s] = append(entries[s], at)
		}
	}
	for _, y := range l.Passages {
		enter(y.Step, y.In)
		if y.Step == len(p.Steps)-1 {
			enter(y.Step+1, y.Out)
		}
	}
	var list []span
	for _, at := range entries {
		slices.Sort(at)
		for i := 0; i < len(at); {
			k := i
			for k+1 < len(at) && at[k+1]-at[k] <= rowGap {
				k++
			}
			if at[k] > at[i] {
				list = append(list, span{at[i], at[k]})
			}
			i = k + 1
		}
	}
	return list
}
