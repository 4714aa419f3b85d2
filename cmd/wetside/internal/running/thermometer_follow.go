package running

// The thermometer's file, read once a second of process time. A read that does not come back
// holds up nothing: it is told, and the bath is reckoned on.

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/live"
	"example.org/wetside/sequence/plainfile"
	"example.org/wetside/sequence/thermometer"
)

const (
	readEvery          = time.Second // of process time
	maxThermometerFile = 4096        // bytes of the file
)

// thermometerReader is a thermometer being followed.
type thermometerReader struct {
	Thermometer
	of     *RunningSession
	mu     sync.Mutex // of the filter
	filter thermometer.Filter
	writer fileWriter
}

// Follow follows the thermometer while the session lasts. In the room it tells
// nothing of the developer; its dropouts are told all the same.
func (t Thermometer) Follow(s *RunningSession) {
	above, err := t.jacketOffset()
	if t.File == "" || err != nil { // an offset that cannot be read was refused before
		return
	}
	r := &thermometerReader{Thermometer: t, of: s}
	r.filter.Offset = above
	if t.HangsIn != "room" {
		r.filter.Expected = expected(s)
		s.Follow("thermometer", s.FirstRecord, r.confirm)
	}
	go r.run()
}

// expected is what the developer is reckoned to be at now; nil where the recipe does not say.
func expected(s *RunningSession) *thermometer.Expectation {
	t, within, ok := s.State().Reckoned(s.Session.Snapshot().Now)
	if !ok {
		return nil
	}
	e := &thermometer.Expectation{T: t, Low: t, High: t}
	if len(within) == 2 {
		e.Low, e.High = within[0], within[1]
	}
	return e
}

// confirm is the follower that measures the sensor by what the person reads.
func (r *thermometerReader) confirm(ctx context.Context, c *live.Cursor) error {
	for {
		rec, ok := c.Next(ctx)
		if !ok {
			return nil
		}
		if e := rec.Event; e.Kind == sequence.ReadingTaken && e.Source == sequence.ByHand && e.Temperature != nil && e.Since == nil {
			r.mu.Lock()
			r.filter.Confirm(e.At, *e.Temperature)
			r.mu.Unlock()
		}
	}
}

var errNoAnswer = errors.New("reading its file has not come to an end")

func (r *thermometerReader) run() {
	tick := time.NewTicker(max(time.Duration(float64(readEvery)/clockRate(r.of.Factor)), time.Millisecond))
	defer tick.Stop()
	for {
		answer := make(chan fileReading, 1)
		go func() { answer <- readThermometerFile(r.File) }()
		for waiting := true; waiting; {
			select {
			case a := <-answer:
				r.take(r.writer.check(a))
				waiting = false
			case <-tick.C:
				r.take("", errNoAnswer)
			case <-r.of.Ended():
				return
			}
		}
		select {
		case <-tick.C:
		case <-r.of.Ended():
			return
		}
	}
}

// take hands on what the filter believes, and what it has to tell.
func (r *thermometerReader) take(text string, err error) {
	r.mu.Lock()
	f := r.filter.Take(r.of.Session.Snapshot().Now, text, err)
	r.mu.Unlock()
	if f.Message != "" {
		r.of.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: f.Message})
	}
	if f.Believed && r.HangsIn != "room" {
		r.of.Do(sequence.TakeReading{T: f.T, Source: sequence.BySensor})
	}
}

// fileReading is one look at the file.
type fileReading struct {
	text    string
	written time.Time
	err     error
}

func readThermometerFile(name string) fileReading {
	text, info, err := plainfile.ReadRegular(name, maxThermometerFile)
	if err != nil {
		return fileReading{err: err}
	}
	return fileReading{text: string(text), written: info.ModTime()}
}

// fileWriter is whoever writes the file, as far as its times tell: where it was written
// steadily, and is no more, what stands in it is old. A kernel's file and one written by
// hand are never steady.
type fileWriter struct {
	last time.Time
	gaps []time.Duration
}

// How a steady writer is known, and when it is missed (our own rules).
const (
	steadyGaps = 3                // as many in a row,
	steadyGap  = 30 * time.Second // none longer
	missedGaps = 3                // so many times the longest: it has stopped,
	missedTime = 4 * time.Second  // but not before
)

// check is what was read, or that it is old.
func (w *fileWriter) check(a fileReading) (string, error) {
	if a.err != nil {
		return "", a.err
	}
	if !a.written.Equal(w.last) {
		if !w.last.IsZero() {
			w.gaps = append(w.gaps, a.written.Sub(w.last))
			w.gaps = w.gaps[max(0, len(w.gaps)-steadyGaps):]
		}
		w.last = a.written
	}
	if len(w.gaps) < steadyGaps || slices.Max(w.gaps) > steadyGap {
		return a.text, nil
	}
	if old := time.Since(a.written); old > max(missedTime, missedGaps*slices.Max(w.gaps)) {
		return "", thermometer.SilentError{For: old}
	}
	return a.text, nil
}
