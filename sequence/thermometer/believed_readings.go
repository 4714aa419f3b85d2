package thermometer

// Whether to believe a reading. A bath is slow: what comes suddenly is a sensor that
// was lifted, shorted or just powered until the next ten readings, or the person, agree.

import (
	"errors"
	"fmt"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// What a Filter believes (our own rules, unless a source stands there).
const (
	largestSurprise chem.Celsius = 5    // of the first reading, from what was reckoned, outside the recipe's range
	largestStep     chem.Celsius = 1.5  // between two readings
	largestDrift    chem.Celsius = 0.02 // a second: what a bath may move besides, while nothing is read,
	mostDrift       chem.Celsius = 3.5  // and how far at most
	largestRate     chem.Celsius = 0.05 // a second, kept up:
	largestLag      chem.Celsius = 3    // how far a faster one gets
	acceptAfter                  = 10   // as many readings in a row near each other are believed
	nearEnough      chem.Celsius = 0.5
	toldAfter                    = 4 * time.Second // without a good reading: told once
	stuckAfter                   = 10 * time.Minute
)

// What a 1-wire sensor says that has measured nothing: 85 is its register after power-on
// (data sheet of the DS18B20, "power-on reset value"); a line that is shorted reads as
// zeros, whose checksum is zero and so looks right.
const (
	shorted   chem.Celsius = 0
	powerOn   chem.Celsius = 85
	zeroesSay              = "a shorted line says so"
	resetSays              = "a sensor that was just powered says so"
)

// Expectation is what the bath is reckoned to be at, and between which temperatures its
// recipe is meant to work; Low and High are equal where it does not say.
type Expectation struct{ T, Low, High chem.Celsius }

// Filter tells what to believe of a row of readings. The zero value is ready.
type Filter struct {
	Offset   chem.Celsius // by how much the bath is warmer than where the sensor hangs
	Expected *Expectation // of the first reading; nil for whatever a bath may be at

	last     chem.Celsius
	at       sequence.Elapsed // of the last believed
	slow     chem.Celsius     // follows what is believed as fast as a bath can
	seen     bool             // there was one
	byHand   bool             // the last believed was typed, and the sensor has not agreed yet
	outliers []chem.Celsius   // readings in a row that leapt
	begun    bool
	since    sequence.Elapsed // when looking began, or of the last believed
	lost     bool             // that there is no good reading was told
	changed  sequence.Elapsed // when the value last changed
	stuck    bool             // that was told
}

// Result is what came of one look at the file.
type Result struct {
	T        chem.Celsius // of the bath
	Believed bool         // T is to be believed
	Message  string       // something to tell the person; "" for nothing
}

// SilentError says that whoever wrote the file has stopped; it needs no second look.
type SilentError struct{ For time.Duration }

func (e SilentError) Error() string {
	return fmt.Sprintf("nobody has written its file for %d s", int(e.For.Seconds()))
}

// Take looks at what the file said at a moment, or at why it could not be read.
func (s *Filter) Take(at sequence.Elapsed, text string, err error) Result {
	if !s.begun {
		s.begun, s.since = true, at
	}
	raw, parseErr := Parse(text)
	if err == nil {
		err = parseErr
	}
	t := raw + s.Offset
	if err == nil {
		err = impossible(raw, t)
	}
	if err != nil {
		s.outliers = nil
		return s.nothing(at, err)
	}
	if !s.plausible(at, t) {
		if !s.insists(t) {
			return s.nothing(at, s.doubt(t))
		}
		s.slow, s.seen = t, true
		r := s.believe(at, t)
		r.Message = fmt.Sprintf("%d readings of the thermometer agree: %s is used", acceptAfter, t.InBoth())
		return r
	}
	return s.believe(at, t)
}

// Confirm takes what the person read at a moment: it is believed, and what the sensor says is
// measured by it. A sensor that goes on contradicting is not believed however often.
func (s *Filter) Confirm(at sequence.Elapsed, t chem.Celsius) {
	s.last, s.at, s.slow, s.seen, s.byHand, s.outliers = t, at, t, true, true, nil
}

// impossible is why no bath reads so.
func impossible(raw, t chem.Celsius) error {
	switch {
	case raw == shorted:
		return fmt.Errorf("%s: %s", raw.InBoth(), zeroesSay)
	case raw == powerOn:
		return fmt.Errorf("%s: %s", raw.InBoth(), resetSays)
	case t < sequence.LowestBath || t > sequence.HighestBath:
		return fmt.Errorf("%s: no bath is at that", t.InBoth())
	}
	return nil
}

// plausible says whether t may follow what was believed last, or be the first.
func (s *Filter) plausible(at sequence.Elapsed, t chem.Celsius) bool {
	if !s.seen {
		e := s.Expected
		return e == nil || apart(t, e.T) <= largestSurprise || t >= e.Low && t <= e.High
	}
	unread := chem.Celsius(max(0, at-s.at).Seconds())
	drift := min(mostDrift, largestDrift*unread)
	return apart(t, s.last) <= largestStep+drift && apart(t, s.slow) <= largestLag+drift
}

// doubt is why a reading that a bath may have is not believed yet.
func (s *Filter) doubt(t chem.Celsius) error {
	from := s.last
	if !s.seen {
		from = s.Expected.T
	}
	if s.byHand {
		return fmt.Errorf("%s, but you read %s: not used until it agrees", t.InBoth(), from.InBoth())
	}
	return fmt.Errorf("%s, where %s was expected: not used until %d readings agree, or you type what you read",
		t.InBoth(), from.InBoth(), acceptAfter)
}

// insists says whether an odd reading has come often enough to be true.
func (s *Filter) insists(t chem.Celsius) bool {
	if n := len(s.outliers); n > 0 && apart(t, s.outliers[n-1]) > nearEnough {
		s.outliers = nil
	}
	s.outliers = append(s.outliers, t)
	s.outliers = s.outliers[max(0, len(s.outliers)-acceptAfter):]
	return len(s.outliers) == acceptAfter && !s.byHand
}

func apart(a, b chem.Celsius) chem.Celsius { return max(a-b, b-a) }

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
	if !s.seen {
		s.slow = t
	}
	most := largestRate * chem.Celsius(max(0, at-s.at).Seconds())
	s.slow += min(most, max(-most, t-s.slow))
	s.last, s.at, s.since, s.seen, s.byHand, s.lost, s.outliers = t, at, at, true, false, false, nil
	return f
}

// nothing leaves the bath to its model while no reading can be believed.
func (s *Filter) nothing(at sequence.Elapsed, why error) Result {
	sure := errors.As(why, new(SilentError))
	if s.lost || at-s.since < toldAfter && !sure {
		return Result{}
	}
	s.lost = true
	return Result{Message: fmt.Sprintf("no good reading from the thermometer (%v); the bath is reckoned on", why)}
}
