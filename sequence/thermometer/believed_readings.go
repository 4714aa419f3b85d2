// Package thermometer reads a thermometer that is a file: what a kernel's 1-wire or
// hwmon driver shows, or a file that anything else writes a number into.
//
// For cmd, which reads the file once a second of process time and passes on what
// a Filter lets through. The package opens nothing and keeps no time: Parse turns
// text into degrees, a Filter tells readings from dropouts and spikes.
package thermometer

// What a thermometer's file says, and whether to believe it.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// thousandths is the number from which a reading is taken as thousandths of a
// degree, as the kernel's sensors write them.
const thousandths = 200

// Parse reads a sensor's text: degrees Celsius, or thousandths of a degree where
// the number is over 200 either way. A kernel's 1-wire file, which ends in
// "t=21562", is read too.
func Parse(text string) (chem.Celsius, error) {
	text = strings.TrimSpace(text)
	if i := strings.LastIndex(text, "t="); i >= 0 {
		if strings.Contains(text, "crc") && !strings.Contains(text, "YES") {
			return 0, fmt.Errorf("the sensor's checksum is wrong")
		}
		text = text[i+2:]
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is no temperature; expected a number", clip(text))
	}
	if math.Abs(x) > thousandths {
		x /= 1000
	}
	return chem.Celsius(x), nil
}

func clip(s string) string {
	if r := []rune(s); len(r) > 20 {
		return string(r[:20]) + "…"
	}
	return s
}

// What a Filter believes (our own rules).
const (
	lowestFirst, highestFirst chem.Celsius = 0, 60 // of the first reading
	largestStep               chem.Celsius = 1.5   // between two readings, more is a spike at first
	largestDrift              chem.Celsius = 0.02  // a second: what a bath may move besides, while nothing is read
	acceptAfter                            = 5     // as many readings in a row near each other are believed
	nearEnough                chem.Celsius = 0.5
	dropoutAfter                           = 10 * second // without a reading: a dropout, told once
	stuckAfter                             = 600 * second
	second                                 = sequence.Elapsed(1e9)
)

// Filter tells what to believe of a row of readings. The zero value is ready.
type Filter struct {
	last     chem.Celsius
	at       sequence.Elapsed // of the last believed
	seen     bool             // there was one
	outliers []chem.Celsius   // readings in a row that leapt
	begun    bool
	since    sequence.Elapsed // when looking began, or of the last believed
	lost     bool             // a dropout was told
	changed  sequence.Elapsed // when the value last changed
	stuck    bool             // that was told
}

// Result is what came of one look at the file.
type Result struct {
	T        chem.Celsius
	Believed bool   // T is to be believed
	Message  string // something to tell the person; "" for nothing
}

// Take looks at what the file said at a moment, or at why it could not be read.
func (s *Filter) Take(at sequence.Elapsed, text string, err error) Result {
	if !s.begun {
		s.begun, s.since = true, at
	}
	t, parseErr := Parse(text)
	if err == nil {
		err = parseErr
	}
	if err == nil && !s.plausible(at, t) {
		err = fmt.Errorf("%s is a spike", t.InBoth())
		if s.acceptOutlier(t) {
			err = nil
		}
	}
	if err != nil {
		return s.dropout(at, err)
	}
	return s.believe(at, t)
}

// plausible says whether t may follow what was believed last.
func (s *Filter) plausible(at sequence.Elapsed, t chem.Celsius) bool {
	if t < lowestFirst || t > highestFirst {
		return false
	}
	most := largestStep + largestDrift*chem.Celsius((at-s.at).Seconds())
	return !s.seen || (t-s.last <= most && s.last-t <= most)
}

// acceptOutlier says whether an odd reading has come often enough to be true.
func (s *Filter) acceptOutlier(t chem.Celsius) bool {
	if t < lowestFirst || t > highestFirst {
		s.outliers = nil
		return false
	}
	if n := len(s.outliers); n > 0 && (t-s.outliers[n-1] > nearEnough || s.outliers[n-1]-t > nearEnough) {
		s.outliers = nil
	}
	s.outliers = append(s.outliers, t)
	return len(s.outliers) >= acceptAfter
}

func (s *Filter) believe(at sequence.Elapsed, t chem.Celsius) Result {
	f := Result{T: t, Believed: true}
	if s.lost {
		f.Message = "the thermometer is back"
	}
	if !s.seen || t != s.last {
		s.changed, s.stuck = at, false
	}
	if at-s.changed >= stuckAfter && !s.stuck {
		s.stuck = true
		f.Message = fmt.Sprintf("the thermometer has said %s for ten minutes: is it in the bath?", t.InBoth())
	}
	s.last, s.at, s.since, s.seen, s.lost, s.outliers = t, at, at, true, false, nil
	return f
}

// dropout leaves the bath to its model while nothing can be believed.
func (s *Filter) dropout(at sequence.Elapsed, why error) Result {
	if s.lost || at-s.since < dropoutAfter {
		return Result{}
	}
	s.lost = true
	return Result{Message: fmt.Sprintf("no good reading from the thermometer (%v); the bath is reckoned on", why)}
}
