package sink

// The loop that feeds a playing program, and starts it again.

import (
	"errors"
	"fmt"
	"os"
	"time"
)

// execSink feeds a program.
type execSink struct {
	status
	worker
	source Source
	frames [execFrames][2]float64
	bytes  [execFrames * frameBytes]byte
}

// openExec errs where no program is installed that goes on playing.
func openExec(source Source) (*execSink, error) {
	p, err := startPlayer(nil)
	if err != nil {
		return nil, err
	}
	e := &execSink{status: status{name: "exec"}, worker: newWorker(), source: source}
	e.working(p.total())
	go e.run(p)
	return e, nil
}

// total is the time between a pull and the ear.
func (p *player) total() time.Duration { return p.latency + timeOf(pipeBytes/frameBytes) }

func (e *execSink) run(p *player) {
	defer close(e.ended)
	var patience backoff
	for {
		began := time.Now()
		var err error
		if p != nil {
			err = e.serve(p)
			p.stop()
			if err == nil {
				return
			}
			e.failed(err.Error())
		}
		if !e.sleep(patience.next(time.Since(began))) {
			return
		}
		if p, err = startPlayer(e.quit); err != nil {
			e.failed(err.Error())
			p = nil
		}
	}
}

// serve feeds a program until it fails; nil where the sink was closed. The pipe
// tells by its being full how far the program is.
func (e *execSink) serve(p *player) error {
	began, written := time.Now(), int64(0)
	origin := began.Add(p.total())
	for {
		select {
		case <-e.quit:
			return nil
		case <-p.ended:
			return fmt.Errorf("%s: %w", p.name, p.reason())
		default:
		}
		if early := time.Until(began.Add(timeOf(written) - p.total() - execAhead)); early > 0 && !e.sleep(early) {
			return nil
		}
		origin = smoothOrigin(origin, time.Now().Add(p.total()-timeOf(written)))
		e.source.Pull(e.frames[:], origin.Add(timeOf(written)))
		if err := e.give(p, encode(e.bytes[:0], e.frames[:])); err != nil {
			return err
		}
		written += execFrames
		e.working(p.total())
	}
}

func (e *execSink) give(p *player, block []byte) error {
	p.in.SetWriteDeadline(time.Now().Add(stallTimeout))
	_, err := p.in.Write(block)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, os.ErrDeadlineExceeded):
		return fmt.Errorf("%s takes nothing", p.name)
	}
	select {
	case <-p.ended:
		return fmt.Errorf("%s: %w", p.name, p.reason())
	case <-time.After(callTime):
		return fmt.Errorf("%s has closed its input", p.name)
	}
}

// smoothOrigin brings an origin nearer to the latest estimate of it: a program takes
// its input in gulps, each of which says little. After a jump, such as an
// underrun leaves, the estimate is believed.
func smoothOrigin(origin, estimate time.Time) time.Time {
	off := estimate.Sub(origin)
	if off.Abs() > execAhead {
		return estimate
	}
	return origin.Add(off / 16)
}
