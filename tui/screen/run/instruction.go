package run

// What to do now: one large word, the same in a sentence, and a large time with what it
// counts to.

import (
	"cmp"
	"fmt"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen/strips"
)

// now is the moment in words.
type now struct {
	word    string // what the hands do
	more    string // what is said behind it where there is room: how long, or which sheet
	plain   string
	shorter []string // the same in fewer words, for where there is no room
	clock   string
	counted []string // what the clock counts to, the most said first
}

const (
	momentFor = 3 * time.Second   // how long a sentence stands for an act that is over in a moment
	readyFor  = 20 * time.Second  // how long before a transfer it is announced
	shortest  = 100 * time.Second // what is agitated for less than this is counted beside the word
)

func nowOf(p *sequence.Plan, l engine.Snapshot) now {
	n := now{clock: clock(l), counted: counted(p, l)}
	switch {
	case l.Over == sequence.SessionStopped:
		n.word, n.plain = "ENDED", "The session was ended early."
	case l.Over != "":
		n.word, n.plain = "DONE", "The last film is out."
	case l.Hands == nil:
		n.word, n.plain = "READY", say.Sentence(say.NextTransfer(p, l.Next)[0]+" in "+n.clock)
	default:
		n = n.hands(p, l)
	}
	n.plain = safetext.Clean(n.plain)
	return n
}

// hands is what they do, as long as they do it; whatever else was heard in the last moments
// is said beneath it.
func (n now) hands(p *sequence.Plan, l engine.Snapshot) now {
	h := *l.Hands
	left := leftOf(l, h.Until)
	if l.Overdue > 0 {
		left = 0 // for as long as it takes
	}
	n.word, n.plain = say.Doing(p, h), say.HandsNow(p, h, left)
	sheet := h.Sheet
	if c := l.LastCue; c != nil && l.Now-c.At < lasting(p, *c) {
		switch c.Kind {
		case sequence.CueLoad, sequence.CueTransfer, sequence.CuePull, sequence.CueDrain, sequence.CueAgitate:
			sheet = cmp.Or(sheet, c.Sheet) // which sheet the hands have is theirs to say
		}
		if heard := say.CueNow(p, *c); heard != "" {
			n.plain = heard
		}
	}
	switch {
	case sheet > 0:
		n.more = fmt.Sprintf(" %d", sheet)
	case h.Do == sequence.Agitating && left > 0 && left < shortest:
		n.more = fmt.Sprintf(" %d s", left/time.Second)
	}
	if ready := l.Left > 0 && l.Left <= readyFor; ready && !l.Held && h.Do != sequence.Transfer && h.Do != sequence.Loading {
		for i, next := range say.NextTransfer(p, l.Next) {
			if text := safetext.Clean(say.Sentence("be ready: " + next)); i == 0 {
				n.plain = text
			} else {
				n.shorter = append(n.shorter, text)
			}
		}
	}
	return n
}

// lasting is for how long a cue stands beside what the hands do.
func lasting(p *sequence.Plan, c sequence.Cue) time.Duration {
	if c.Kind == sequence.CueDrain {
		return max(momentFor, p.Steps[p.StepIndex(c.Step)%len(p.Steps)].Drain)
	}
	return momentFor
}

// leftOf is how long it is until a moment, by the second that is shown.
func leftOf(l engine.Snapshot, at sequence.Elapsed) sequence.Elapsed {
	return say.LeftOf(strips.ShownSecond(l.Now), at)
}

// clock is the time to the next transfer, or how long it is overdue, or since the first
// sheet went in.
func clock(l engine.Snapshot) string {
	if l.Next.At == sequence.Never {
		return sequence.FormatElapsed(strips.ShownSecond(l.Now))
	}
	return sequence.FormatElapsed(leftOf(l, l.Now+l.Left))
}

// counted is what the clock counts to, the most said first.
func counted(p *sequence.Plan, l engine.Snapshot) []string {
	var list []string
	for _, next := range say.NextTransfer(p, l.Next) {
		switch {
		case l.Next.At == sequence.Never:
			return []string{"since the first sheet went in"}
		case l.Overdue > 0:
			list = append(list, "overdue: "+next+" on your signal", "overdue: "+next)
		case l.Next.Step == 0 && l.Step < 0:
			return []string{"until the first sheet goes in"}
		default:
			list = append(list, "until "+next)
		}
	}
	return list
}
