package cue

// Numbers, times and temperatures as the voice says them.

import (
	"strconv"
	"time"
)

// numberWords says 0 to 9999; a number beyond these says the nearest of them.
func numberWords(n int) Clause {
	n = min(max(n, 0), 9999)
	if n >= 100 {
		c := append(numberWords(n/100), "hundred")
		if n%100 > 0 {
			c = append(c, numberWords(n%100)...)
		}
		return c
	}
	if n <= 20 || n%10 == 0 {
		return Clause{Word(strconv.Itoa(n))}
	}
	return Clause{Word(strconv.Itoa(n / 10 * 10)), Word(strconv.Itoa(n % 10))}
}

func countWords(n int, one, many Word) Clause {
	if n == 1 {
		return append(numberWords(n), one)
	}
	return append(numberWords(n), many)
}

// durationWords says a time, rounded down so that it never promises more than there
// is: to seconds, from ten minutes on to minutes.
func durationWords(d time.Duration) Clause {
	s := int(max(d.Round(time.Millisecond), 0) / time.Second) // shares of a limit are off by nanoseconds
	h, m := s/3600, s/60%60
	s %= 60
	var c Clause
	if h > 0 {
		c = append(c, countWords(h, "hour", "hours")...)
	}
	if m > 0 {
		c = append(c, countWords(m, "minute", "minutes")...)
	}
	if h == 0 && m < 10 && s > 0 || h == 0 && m == 0 {
		c = append(c, countWords(s, "second", "seconds")...)
	}
	return c
}

// shiftWords says by how much a move comes later than was told; nil for not at all.
func shiftWords(change time.Duration) Clause {
	switch {
	case change <= -time.Second:
		return append(durationWords(-change), "earlier")
	case change >= time.Second:
		return append(durationWords(change), "later")
	}
	return nil
}

// temperatureWords says a temperature to a tenth.
func temperatureWords(t float64) Clause { return append(tenthsWords(t), "degrees") }

// percentWords says whole per cent.
func percentWords(n int) Clause { return append(numberWords(n), "per-cent") }

// tenthsWords says a number to a tenth.
func tenthsWords(x float64) Clause {
	tenths := int(max(x, 0)*10 + 0.5)
	return append(append(numberWords(tenths/10), "point"), numberWords(tenths%10)...)
}

// DurationPhrase says a length of time alone, as a stopwatch does.
func DurationPhrase(d time.Duration) Phrase { return Phrase{durationWords(d)} }

// SkippedPhrase says that a rehearsal has passed over so much time in which the hands rest.
func SkippedPhrase(d time.Duration) Phrase { return Phrase{append(durationWords(d), "later")} }
