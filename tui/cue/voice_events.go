package cue

// What the voice says of an event: answers to the person, and what happened by itself.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// EventPhrase says what an event tells, and whether it answers the person. The phrase
// is nil where nothing is said of it. P and l are the session as of the event.
func EventPhrase(p *sequence.Plan, l engine.Snapshot, e sequence.Event) (say Phrase, asked bool) {
	switch e.Kind {
	case sequence.Transferred, sequence.Pulled:
		say = actPhrase(p, l, e)
		return say, say != nil
	case sequence.Held:
		if e.Sheet > 0 { // told with the sheet that is late
			return nil, false
		}
		return Phrase{{"held"}}, e.Act != 0
	case sequence.LateReported, sequence.SetAside:
		say = sheetPhrase(p, l, e)
		return say, say != nil
	case sequence.HoldEnded:
		return Phrase{{"going-on"}}, e.Act != 0
	case sequence.Undone:
		return append(Phrase{{"undone"}}, StatePhrase(p, l)...), true
	case sequence.Resumed:
		return append(Phrase{{"taken-up"}}, StatePhrase(p, l)...), true
	case sequence.GapFound:
		say = Phrase{{"asleep"}}
		if e.Since != nil {
			say = append(say, durationWords(e.At-*e.Since))
		}
		return say, false
	case sequence.SoundBack:
		return Phrase{{"sound-back"}}, false
	}
	return nil, false
}

// actPhrase answers an act of the person's: where the film is now, and that it can be
// taken back.
func actPhrase(p *sequence.Plan, l engine.Snapshot, e sequence.Event) Phrase {
	if e.Act == 0 || !l.CanUndo {
		return nil
	}
	var where Clause
	switch s := stepOf(p, e.Step); {
	case e.Sheet > 0:
		where = append(Clause{"sheet"}, numberWords(e.Sheet)...)
	case s == len(p.Steps):
		where = Clause{"last-sheet-out"}
	default:
		where = bathWords(p, s)
	}
	return Phrase{where, {"undo-ten"}}
}

// sheetPhrase answers where the person has said which sheet is late, or set aside: which,
// where it is, and that it can be taken back.
func sheetPhrase(p *sequence.Plan, l engine.Snapshot, e sequence.Event) Phrase {
	if e.Act == 0 || e.Kind == sequence.SetAside && e.Source != sequence.ByHand { // a film test's
		return nil
	}
	say := Phrase{asideWords(e.Sheet)}
	if e.Kind == sequence.LateReported {
		from := -1 // dry
		if e.Step != "" {
			from = stepOf(p, e.Step)
		}
		if say = (Phrase{append(Clause{"late-sheet"}, numberWords(e.Sheet)...)}); p.Sheets == 1 || p.MovesTogether(from) {
			say = Phrase{{"film-late"}}
		}
		where := Clause{"before-first"}
		if from >= 0 {
			where = bathWords(p, from)
		}
		say = append(say, where, Clause{"held"})
	}
	if l.CanUndo {
		say = append(say, Clause{"undo-ten"})
	}
	return say
}
