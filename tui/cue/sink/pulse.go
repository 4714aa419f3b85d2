package sink

// The sink for PulseAudio and PipeWire: a loop that feeds the server what it asks
// for, finds the latency out again before every pull, and comes back when the
// server does.

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"time"
)

// trusted is how long a measurement of the latency counts. Crystals drift apart by
// a tenth of a millisecond in it at most.
const trusted = time.Second

// How often the latency is asked for: where something is to begin soon, of some answers
// the best counts; where nothing is, one answer now and then is good enough for what
// nobody can foresee.
const (
	soon   = 1500 * time.Millisecond
	asked  = trusted / 6
	seldom = 2 * time.Second
)

// pulse feeds a sound server.
type pulse struct {
	condition
	loop
	source Source
	getenv func(string) string

	frames   [paceFrames][2]float64
	bytes    [paceFrames * frameBytes]byte
	written  int64 // frames, on this link
	measured []measurement
	quiet    time.Duration // after all that has been pulled
	hush     string        // why nothing is heard though it is played; "" where it is
	looked   time.Time
}

// openPulse errs where no server answers within a second.
func openPulse(source Source, getenv func(string) string) (*pulse, error) {
	l, err := openLink(getenv)
	if err != nil {
		return nil, err
	}
	p := &pulse{condition: condition{name: "pulse", latency: 100 * time.Millisecond}, loop: newLoop(),
		source: source, getenv: getenv}
	if p.listen(l); p.hush != "" {
		p.fail(p.hush)
	}
	go p.run(l)
	return p, nil
}

// run serves one link after the other. A server that is not there is cheap to
// ask for, and is asked for twice a second; one that fails after it has answered
// is given more and more time.
func (p *pulse) run(l *link) {
	defer close(p.ended)
	var patience patience
	wait := retryFirst
	for {
		if l != nil {
			began := time.Now()
			err := p.serve(l)
			l.close()
			if err == nil {
				return
			}
			p.fail(err.Error())
			wait = patience.wait(time.Since(began))
		}
		if !p.pause(wait) {
			return
		}
		var err error
		if l, err = openLink(p.getenv); err != nil {
			p.fail(err.Error())
			wait = retryFirst
		}
	}
}

// serve feeds a link until it fails; nil where the sink was closed.
func (p *pulse) serve(l *link) error {
	p.written, p.measured, p.quiet, p.looked = 0, nil, 0, time.Time{}
	watch := time.NewTimer(stuck / 6) // while the server asks for frames it never comes
	defer watch.Stop()
	fed := time.Now()
	for {
		watch.Reset(stuck / 6)
		select {
		case <-p.quit:
			return nil
		case <-watch.C:
		case <-l.wake:
		}
		wanted, suspended, err := l.wants()
		switch {
		case err != nil:
			return err
		case wanted >= frameBytes:
			if err := p.feed(l, wanted/frameBytes); err != nil {
				return err
			}
			p.listen(l)
			fed = time.Now()
		case suspended:
			p.fail("the sound device is suspended")
			fed = time.Now()
		case time.Since(fed) > stuck:
			return errors.New("the sound server asks for nothing")
		}
	}
}

// feed pulls so many frames and sends them.
func (p *pulse) feed(l *link, frames int) error {
	origin, err := p.anchor(l)
	if err != nil {
		if _, _, over := l.wants(); over != nil {
			return over
		}
		if errors.Is(err, context.DeadlineExceeded) {
			return errors.New("the sound server does not answer")
		}
		return err
	}
	for frames > 0 {
		block := p.frames[:min(frames, paceFrames)]
		heard := origin.Add(timeOf(p.written))
		p.quiet = p.source.Pull(block, heard)
		if err := l.send(encode(p.bytes[:0], block)); err != nil {
			return err
		}
		p.written += int64(len(block))
		frames -= len(block)
		if p.hush != "" {
			p.fail(p.hush)
		} else {
			p.work(time.Until(heard))
		}
	}
	return nil
}

// listen finds out now and then whether what is played is turned down.
func (p *pulse) listen(l *link) {
	if time.Since(p.looked) >= hushEvery {
		p.hush, p.looked = l.hushed(), time.Now()
	}
}

// anchor finds out when frame 0 is heard: the server's latest answers count, and
// among them the one that came quickest, since it tells its own time best.
func (p *pulse) anchor(l *link) (time.Time, error) {
	if l.stirred() {
		p.measured = nil
	}
	every := asked
	if p.quiet > soon {
		every = seldom
	}
	if n := len(p.measured); n > 0 && time.Since(p.measured[n-1].at) < every {
		return p.quickest(), nil
	}
	m, err := l.measure()
	if err != nil {
		return time.Time{}, err
	}
	p.measured = slices.DeleteFunc(append(p.measured, m), func(old measurement) bool {
		return m.at.Sub(old.at) > trusted || old.contradicts(m)
	})
	return p.quickest(), nil
}

// quickest is what the quickest answer told.
func (p *pulse) quickest() time.Time {
	return slices.MinFunc(p.measured, func(a, b measurement) int { return cmp.Compare(a.took, b.took) }).origin
}
