package main

// Readers of figures: what a surface shows, read back out of its text as a person would. Not
// one sentence is compared, only the numbers in it, so that wording may change.

import (
	"fmt"
	"html"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
)

const clockText = `(-?\d+:\d\d(?::\d\d)?)`

// flat is a text on one line, without the tags of HTML and with all that stands for itself.
func flat(text string) string {
	text = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(text, " ")
	return strings.Join(strings.Fields(html.UnescapeString(text)), " ")
}

// readClock reads m:ss or h:mm:ss.
func readClock(text string) (d sequence.Elapsed) {
	negative := strings.HasPrefix(text, "-")
	for part := range strings.SplitSeq(strings.TrimPrefix(text, "-"), ":") {
		n, err := strconv.Atoi(part)
		if err != nil {
			panic(fmt.Sprintf("%q is no time", text))
		}
		d = d*60 + sequence.Elapsed(n)*time.Second
	}
	if negative {
		return -d
	}
	return d
}

// clocksAfter are the times that follow a word, wherever it stands.
func clocksAfter(text, word string) (list []sequence.Elapsed) {
	for _, m := range regexp.MustCompile(word+clockText).FindAllStringSubmatch(text, -1) {
		list = append(list, readClock(m[1]))
	}
	return list
}

// leftOver is the time in hand, negative where it says that it is too long; false for none.
func leftOver(text string) (sequence.Elapsed, bool) {
	m := regexp.MustCompile(clockText + ` (in hand|left|too long)`).FindStringSubmatch(text)
	switch {
	case m == nil:
		return 0, false
	case m[2] == "too long":
		return -readClock(m[1]), true
	}
	return readClock(m[1]), true
}

var percentOfLimit = regexp.MustCompile(`(\d+) ?% of (?:its |what |the )*(?:limit|film stands)`)

// percents are the shares of the limit that a text says.
func percents(text string) (list []int) {
	for _, m := range percentOfLimit.FindAllStringSubmatch(text, -1) {
		n, _ := strconv.Atoi(m[1])
		list = append(list, n)
	}
	return list
}

// pulls are the sheets' own times in a text: by sheet, as often as they are said.
func pulls(text string) (list [][]sequence.Elapsed) {
	for _, m := range regexp.MustCompile(`(?:out after|in for) ((?:sheet \d+ `+clockText+`,? ?)+)`).FindAllStringSubmatch(text, -1) {
		list = append(list, clocksAfter(m[1], `sheet \d+ `))
	}
	return list
}

// row is a step's beginning and its time, as a table has them.
type row struct{ start, time sequence.Elapsed }

// rows are the steps of a page of text: a line begins with a time, and has another behind the
// name of the step.
func rows(text string) (list []row) {
	line := regexp.MustCompile(`^ *` + clockText + `  (?:\d+  )?\pL[\pL\d -]*?  +` + clockText + `(?:  |$)`)
	for l := range strings.SplitSeq(text, "\n") {
		if m := line.FindStringSubmatch(l); m != nil {
			list = append(list, row{readClock(m[1]), readClock(m[2])})
		}
	}
	return list
}

// cells are the rows of the tables of an HTML page, each the texts of its cells.
func cells(text string) (list [][]string) {
	for _, m := range regexp.MustCompile(`(?s)<tr>(.*?)</tr>`).FindAllStringSubmatch(text, -1) {
		var one []string
		for _, c := range regexp.MustCompile(`(?s)<td[^>]*>(.*?)</td>`).FindAllStringSubmatch(m[1], -1) {
			one = append(one, flat(c[1]))
		}
		if len(one) > 0 {
			list = append(list, one)
		}
	}
	return list
}

// What the voice's words for hands mean, by the words that are recorded.
var spokenHands = map[cue.Word]sequence.Doing{"load": sequence.Loading, "shuffle": sequence.Shuffling, "agitate": sequence.Agitating,
	"stand": sequence.Standing, "drain": sequence.Draining, "transfer": sequence.Transfer, "pull-sheet": sequence.Pulling,
	"pour": sequence.Pouring, "other-way": sequence.Reversing}

// numbers reads the numbers and times out of spoken words: each run of number words with the
// unit behind it.
func spokenTime(c cue.Clause) (d sequence.Elapsed, rest cue.Clause) {
	n, found := 0, false
	for i, w := range c {
		unit := map[cue.Word]sequence.Elapsed{"second": time.Second, "seconds": time.Second, "minute": time.Minute, "minutes": time.Minute,
			"hour": time.Hour, "hours": time.Hour}[w]
		v, err := strconv.Atoi(string(w))
		switch {
		case err == nil:
			n, found = n+v, true
		case w == "hundred":
			n *= 100
		case unit > 0:
			d, n, found = d+sequence.Elapsed(n)*unit, 0, false
		case found:
			return d, c[i-1:]
		default:
			rest = append(rest, w)
		}
	}
	return d, rest
}

// spokenState is what an answer to a press says.
type spokenState struct {
	hands                sequence.Doing // "" for nothing
	sheet                int            // that they have in hand; 0 for none
	over                 bool           // the wet limit is passed
	wet                  *sequence.Elapsed
	worst                int // whose it is; 0 where it is not said
	atEnd, left, overdue *sequence.Elapsed
	percent              int // developed; -1 where it is not said
}

func listen(p cue.Phrase) spokenState {
	h := spokenState{percent: -1}
	for i, c := range p {
		d, rest := spokenTime(c)
		last := c[len(c)-1]
		switch do, ok := spokenHands[c[0]]; {
		case ok && i == 1:
			if h.hands = do; len(c) > 1 {
				h.sheet = spokenNumber(c[1:])
			}
		case c[0] == "wet-limit-passed":
			h.over = true
		case slices.Contains(c, "at-end") && last == "too-long":
			d = -d
			h.atEnd = &d
		case slices.Contains(c, "at-end"):
			h.atEnd = &d
		case slices.Contains(c, "wet-time"):
			if c[0] == "sheet" {
				h.worst = spokenNumber(c[1:slices.Index(c, "wet-time")])
				d, rest = spokenTime(c[slices.Index(c, "wet-time"):])
			}
			h.wet = &d
		case c[0] == "developed":
			h.percent = spokenNumber(c[1 : len(c)-1])
		case last == "left":
			h.left = &d
		case last == "overdue":
			h.overdue = &d
		}
		_ = rest
	}
	return h
}

func spokenNumber(c cue.Clause) (n int) {
	for _, w := range c {
		if v, err := strconv.Atoi(string(w)); err == nil {
			n += v
		} else if w == "hundred" {
			n *= 100
		}
	}
	return n
}
