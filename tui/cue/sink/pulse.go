package sink

// The sink for PulseAudio and PipeWire: a loop that gives the server what it asks for,
// finds out each time when that is heard, and comes back when the server does.

import (
	"errors"
	"time"
)

const (
	pulseFrames = Rate / 5        // in one pull at most
	muteEvery   = 2 * time.Second // between two looks at whether somebody has turned it down
)

// pulse feeds a sound server.
type pulse struct {
	condition
	loop
	source Source
	getenv func(string) string

	frames  [pulseFrames][2]float64
	bytes   [pulseFrames * monoBytes]byte
	written int64 // frames, on this link
	anchor  anchor
	muted   string // why nothing is heard though it is played; "" where it is
}

// openPulse errs where no server answers within a second.
func openPulse(source Source, getenv func(string) string) (*pulse, error) {
	l, err := openLink(getenv)
	if err != nil {
		return nil, err
	}
	p := &pulse{condition: condition{name: "pulse", latency: pulseLatency}, loop: newLoop(), source: source, getenv: getenv}
	if p.muted, err = l.muted(); err != nil {
		l.close()
		return nil, err
	}
	p.tell(pulseLatency)
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
func (p *pulse) serve(l *link) (err error) {
	p.written, p.anchor = 0, nil
	if p.muted, err = l.muted(); err != nil {
		return err
	}
	look := time.NewTicker(muteEvery)
	defer look.Stop()
	fed := time.Now()
	for {
		select {
		case <-p.quit:
			return nil
		case <-look.C:
			if p.muted, err = l.muted(); err != nil {
				return err
			}
		case <-l.wake:
		}
		wanted, suspended, err := l.wants()
		switch {
		case err != nil:
			return err
		case suspended:
			p.fail("the sound device is suspended")
			fed = time.Now()
		case wanted >= monoBytes:
			if err := p.feed(l, wanted/monoBytes); err != nil {
				return err
			}
			fed = time.Now()
		case time.Since(fed) > stuck:
			return errors.New("the sound server asks for nothing")
		}
	}
}

// feed pulls so many frames and sends them.
func (p *pulse) feed(l *link, frames int) error {
	if l.stirred() {
		p.anchor = nil
	}
	far, err := l.howFar()
	if err != nil {
		return err
	}
	p.anchor = p.anchor.with(far)
	origin := p.anchor.origin()
	for frames > 0 {
		block := p.frames[:min(frames, pulseFrames)]
		heard := origin.Add(timeOf(p.written))
		p.source.Pull(block, heard)
		if err := l.send(encodeMono(p.bytes[:0], block)); err != nil {
			return err
		}
		p.written += int64(len(block))
		frames -= len(block)
		p.tell(time.Until(heard))
	}
	return nil
}

// tell tells the person what there is.
func (p *pulse) tell(latency time.Duration) {
	if p.muted != "" {
		p.fail(p.muted)
	} else {
		p.work(latency)
	}
}
