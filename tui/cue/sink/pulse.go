package sink

// The sink for PulseAudio and PipeWire: a loop that feeds the server what it asks
// for, finds the latency out again before every pull, and comes back when the
// server does.

import (
	"context"
	"errors"
	"sync"
	"time"
)

const (
	pulseSilence = 3 * time.Second // the server asks for nothing for so long: something is wrong
	retryFirst   = 500 * time.Millisecond
	retryMost    = 5 * time.Second
	quickAnswer  = 5 * time.Millisecond // a slower one says little about latency
	trusted      = time.Second          // an older measurement is void
)

// pulse feeds a sound server.
type pulse struct {
	condition
	source Source
	getenv func(string) string

	once  sync.Once
	quit  chan struct{}
	ended chan struct{}

	frames   [paceFrames][2]float64
	bytes    [paceFrames * frameBytes]byte
	written  int64     // frames, on this link
	origin   time.Time // when frame 0 of this link is heard
	measured time.Time
}

// openPulse errs where no server answers within a second.
func openPulse(source Source, getenv func(string) string) (*pulse, error) {
	l, err := openLink(getenv)
	if err != nil {
		return nil, err
	}
	p := &pulse{condition: condition{name: "pulse", latency: 100 * time.Millisecond}, source: source,
		getenv: getenv, quit: make(chan struct{}), ended: make(chan struct{})}
	go p.run(l)
	return p, nil
}

// Close ends the stream; what has not been heard by then is cut off.
func (p *pulse) Close() error {
	p.once.Do(func() { close(p.quit) })
	<-p.ended
	return nil
}

// run serves one link after the other. A server that is not there is cheap to
// ask for, and is asked for twice a second; one that fails after it has answered
// is given more and more time.
func (p *pulse) run(l *link) {
	defer close(p.ended)
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
			if time.Since(began) > retryMost {
				wait = retryFirst
			}
		}
		select {
		case <-p.quit:
			return
		case <-time.After(wait):
		}
		var err error
		if l, err = openLink(p.getenv); err != nil {
			p.fail(err.Error())
			l, wait = nil, retryFirst
			continue
		}
		wait = min(2*wait, retryMost)
	}
}

// serve feeds a link until it fails; nil where the sink was closed.
func (p *pulse) serve(l *link) error {
	p.written, p.measured = 0, time.Time{}
	watch := time.NewTicker(pulseSilence / 6)
	defer watch.Stop()
	fed := time.Now()
	for {
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
			fed = time.Now()
		case suspended:
			p.fail("the sound device is suspended")
			fed = time.Now()
		case time.Since(fed) > pulseSilence:
			return errors.New("the sound server asks for nothing")
		}
	}
}

// feed pulls so many frames and sends them.
func (p *pulse) feed(l *link, frames int) error {
	if err := p.anchor(l); err != nil {
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
		heard := p.origin.Add(timeOf(p.written))
		p.source.Pull(block, heard)
		if err := l.send(encode(p.bytes[:0], block)); err != nil {
			return err
		}
		p.written += int64(len(block))
		frames -= len(block)
		p.work(time.Until(heard))
	}
	return nil
}

// anchor finds out when frame 0 is heard. An answer that took long is not
// believed as long as there is a better one.
func (p *pulse) anchor(l *link) error {
	if l.stirred() {
		p.measured = time.Time{}
	}
	origin, took, err := l.measure()
	if err != nil {
		return err
	}
	if took <= quickAnswer || time.Since(p.measured) > trusted {
		p.origin, p.measured = origin, time.Now()
	}
	return nil
}
