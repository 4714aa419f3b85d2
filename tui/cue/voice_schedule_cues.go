package cue

// When each kind of words is said: what to do, explanations, news, the work of the hands, the
// time that is left.

import (
	"slices"

	"example.org/wetside/sequence"
)

// sayForecast says once, as soon as the forecast has it, that the wet time will be over
// its limit at the end.
func (w *scheduler) sayForecast() {
	if says := forecastPhrase(w.Look); says != nil && w.Look.Over == "" {
		w.placeOnce(sequence.Cue{Kind: aboutForecast}, w.From, w.Until, false, says)
	}
}

// sayReadingWanted says once in a step, where there is light for it, that the developer should be read now.
func (w *scheduler) sayReadingWanted() {
	at, ok := readingWanted(w.Look)
	if !ok || w.Look.Step < 0 {
		return
	}
	about := sequence.Cue{Kind: aboutReading, Step: w.Plan.Steps[w.Look.Step].Name}
	from := at - w.toProcessTime(readingTakes)
	w.placeOnce(about, from, from+w.toProcessTime(explainWithin), false, Phrase{{"read-developer"}})
}

// inRow says whether a cue falls into a row of moves, its first left out.
func (w *scheduler) inRow(c sequence.Cue) bool {
	return slices.ContainsFunc(w.rows, func(s span) bool {
		return c.At > s.from+sameWithin && c.At <= s.to+sameWithin
	})
}

// sayActions says what to do with film, before the tone that says when; where there
// is no room, the sheet's number after it. In a row that is the number alone.
func (w *scheduler) sayActions() {
	for _, c := range w.Cues {
		says := actionWords(w.Plan, c)
		if says == nil {
			continue
		}
		number := append(Clause{"sheet"}, numberWords(c.Sheet)...)
		switch inRow := c.Sheet > 0 && w.inRow(c); {
		case inRow:
			if !w.placeBefore(c, true, Phrase{number}) {
				w.placeAfter(c, saidAfter, true, Phrase{number})
			}
		case c.Kind == sequence.CueDone && c.At <= w.Look.Now: // the end is told
		default:
			choices := []Phrase{{says}, {says[:1]}}
			if c.Sheet > 0 {
				choices[1] = Phrase{number}
			}
			if help := w.handWork(c.At); w.Level == Full && help != nil {
				choices = slices.Insert(choices, 0, Phrase{says, help})
			}
			if !w.placeBefore(c, false, choices...) && c.Sheet > 0 {
				w.placeAfter(c, saidAfter, true, Phrase{number})
			}
		}
	}
}

// handWork is the word for what the hands begin at an instant; nil for nothing.
func (w *scheduler) handWork(at sequence.Elapsed) Clause {
	for _, c := range w.Cues {
		if words := handWords[c.Kind]; words != nil && (c.At-at).Abs() < sameWithin {
			return words
		}
	}
	return nil
}

// handWords are the words for what a cue has the hands do.
var handWords = map[sequence.CueKind]Clause{sequence.CueAgitate: {"agitate"}, sequence.CueShuffle: {"shuffle"},
	sequence.CueReverse: {"other-way"}, sequence.CueDrain: {"drain"}}

// sayExplanations follows cues that must not stay unexplained.
func (w *scheduler) sayExplanations() {
	for _, c := range slices.Concat(w.Unexplained, w.Cues) {
		within := explainWithin
		if c.Kind == sequence.CueReady || c.Kind == sequence.CueOverdue {
			within = saidAfter
		}
		if c.At+w.toProcessTime(within) < w.From {
			continue // too late; in a fast rehearsal there are many
		}
		if says := explanation(w.Plan, w.Look, c, w.Units); says != nil {
			w.placeAfter(c, within, false, prefixes(says)...)
		}
	}
	since := w.Look.Now - w.Look.Overdue
	if w.Look.Overdue > 0 && w.Look.Next.At != sequence.Never { // at once, and then with the cue
		w.placeAfter(sequence.Cue{At: since, Kind: sequence.CueOverdue}, saidAfter, false, Phrase{{"time-up"}})
	}
}

func (w *scheduler) sayNews() {
	for _, n := range w.News {
		w.placeAfter(n.About, explainWithin, false, prefixes(n.Says)...)
	}
}

// prefixes are a phrase and, for where there is less room, ever fewer of its first clauses.
func prefixes(says Phrase) []Phrase {
	var list []Phrase
	for n := len(says); n > 0; n-- {
		list = append(list, says[:n])
	}
	return list
}

// sayHandWork says what the hands do, ahead of it: the first turn of many, each
// agitation and its end, and draining where sheets do not go one by one.
func (w *scheduler) sayHandWork() {
	var last *sequence.Cue
	if l := w.Look.LastCue; l != nil && (len(w.Cues) == 0 || l.At < w.Cues[0].At) {
		last = l
	}
	for i, c := range w.Cues {
		says := handWords[c.Kind]
		withAct := slices.ContainsFunc(w.Cues, func(o sequence.Cue) bool {
			return actionWords(w.Plan, o) != nil && (o.At-c.At).Abs() < sameWithin
		})
		repeated := c.Kind == sequence.CueShuffle || c.Kind == sequence.CueReverse
		repeated = repeated && (last != nil && last.Kind == c.Kind || !continues(w.Cues[i+1:], c))
		switch {
		case c.Kind == sequence.CueStand && !isMergedRest(w.Cues, c):
			w.placeAfter(c, saidAfter/2, false, Phrase{{"stand"}})
		case says == nil || c.Kind == sequence.CueDrain && c.Sheet > 0:
		case withAct && w.inRow(c): // the row ends with it
			w.placeAfter(c, saidAfter/2, false, Phrase{says})
		case !withAct && !repeated && c.At > w.Look.Now:
			w.placeBefore(c, false, Phrase{says})
		}
		last = &w.Cues[i]
	}
}

// continues says whether more of a kind follow in the same step: if none do, this
// is the last of a row, not the first.
func continues(cues []sequence.Cue, c sequence.Cue) bool {
	return slices.ContainsFunc(cues, func(o sequence.Cue) bool { return o.Kind == c.Kind && o.Step == c.Step })
}
