// Package probe reads a thermometer that is a file: what a kernel's 1-wire or
// hwmon driver shows, or a file that anything else writes a number into.
//
// For cmd, which reads the file once a second of process time and passes on what
// a Sieve lets through. The package opens nothing and keeps no time: Parse turns
// text into degrees, a Sieve tells readings from dropouts and spikes.
package probe

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

// What a Sieve believes (our own rules).
const (
	least, most chem.Celsius = 0, 60 // of the first reading
	leap        chem.Celsius = 1.5   // between two readings, more is a spike at first
	drift       chem.Celsius = 0.02  // a second: what a bath may move besides, while nothing is read
	insist                   = 5     // as many readings in a row near each other are believed
	near        chem.Celsius = 0.5
	silence                  = 10 * second // without a reading: a dropout, told once
	stuckAfter               = 600 * second
	second                   = sequence.Elapsed(1e9)
)

// Sieve tells what to believe of a row of readings. The zero value is ready.
type Sieve struct {
	last    chem.Celsius
	at      sequence.Elapsed // of the last believed
	seen    bool             // there was one
	odd     []chem.Celsius   // readings in a row that leapt
	begun   bool
	since   sequence.Elapsed // when looking began, or of the last believed
	lost    bool             // a dropout was told
	changed sequence.Elapsed // when the value last changed
	stuck   bool             // that was told
}

// Finding is what came of one look at the file.
type Finding struct {
	T    chem.Celsius
	Good bool   // T is to be believed
	Told string // something to tell the person; "" for nothing
}

// Take looks at what the file said at a moment, or at why it could not be read.
func (s *Sieve) Take(at sequence.Elapsed, text string, err error) Finding {
	if !s.begun {
		s.begun, s.since = true, at
	}
	t, parseErr := Parse(text)
	if err == nil {
		err = parseErr
	}
	if err == nil && !s.plausible(at, t) {
		err = fmt.Errorf("%s is a spike", t.InBoth())
		if s.insists(t) {
			err = nil
		}
	}
	if err != nil {
		return s.bridge(at, err)
	}
	return s.believe(at, t)
}

// plausible says whether t may follow what was believed last.
func (s *Sieve) plausible(at sequence.Elapsed, t chem.Celsius) bool {
	if t < least || t > most {
		return false
	}
	most := leap + drift*chem.Celsius((at-s.at).Seconds())
	return !s.seen || (t-s.last <= most && s.last-t <= most)
}

// insists says whether an odd reading has come often enough to be true.
func (s *Sieve) insists(t chem.Celsius) bool {
	if t < least || t > most {
		s.odd = nil
		return false
	}
	if n := len(s.odd); n > 0 && (t-s.odd[n-1] > near || s.odd[n-1]-t > near) {
		s.odd = nil
	}
	s.odd = append(s.odd, t)
	return len(s.odd) >= insist
}

func (s *Sieve) believe(at sequence.Elapsed, t chem.Celsius) Finding {
	f := Finding{T: t, Good: true}
	if s.lost {
		f.Told = "the thermometer is back"
	}
	if !s.seen || t != s.last {
		s.changed, s.stuck = at, false
	}
	if at-s.changed >= stuckAfter && !s.stuck {
		s.stuck = true
		f.Told = fmt.Sprintf("the thermometer has said %s for ten minutes: is it in the bath?", t.InBoth())
	}
	s.last, s.at, s.since, s.seen, s.lost, s.odd = t, at, at, true, false, nil
	return f
}

// bridge leaves the bath to its model while nothing can be believed.
func (s *Sieve) bridge(at sequence.Elapsed, why error) Finding {
	if s.lost || at-s.since < silence {
		return Finding{}
	}
	s.lost = true
	return Finding{Told: fmt.Sprintf("no good reading from the thermometer (%v); the bath is reckoned on", why)}
}
