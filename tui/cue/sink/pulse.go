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

// pulseSink feeds a sound server.
type pulseSink struct {
	status
	worker
	source Source
	getenv func(string) string

	frames  [pulseFrames][2]float64
	bytes   [pulseFrames * monoBytes]byte
	written int64 // frames, on this link
	anchor  playbackAnchor
	muted   string // why nothing is heard though it is played; "" where it is
}

// openPulse errs where no server answers within a second.
func openPulse(source Source, getenv func(string) string) (*pulseSink, error) {
	l, err := openLink(getenv)
	if err != nil {
		return nil, err
	}
	p := &pulseSink{status: status{name: "pulse", latency: pulseLatency}, worker: newWorker(), source: source, getenv: getenv}
	if p.muted, err = l.muted(); err != nil {
		l.close()
		return nil, err
	}
	p.report(pulseLatency)
	go p.run(l)
	return p, nil
}

// run serves one link after the other. A server that is not there is cheap to
// ask for, and is asked for twice a second; one that fails after it has answered
// is given more and more time.
func (p *pulseSink) run(l *pulseLink) {
	defer close(p.ended)
	var patience backoff
	wait := retryFirst
	for {
		if l != nil {
			began := time.Now()
			err := p.serve(l)
			l.close()
			if err == nil {
				return
			}
			p.failed(err.Error())
			wait = patience.next(time.Since(began))
		}
		if !p.sleep(wait) {
			return
		}
		var err error
		if l, err = openLink(p.getenv); err != nil {
			p.failed(err.Error())
			wait = retryFirst
		}
	}
}

// serve feeds a link until it fails; nil where the sink was closed.
func (p *pulseSink) serve(l *pulseLink) (err error) {
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
			p.failed("the sound device is suspended")
			fed = time.Now()
		case wanted >= monoBytes:
			if err := p.feed(l, wanted/monoBytes); err != nil {
				return err
			}
			fed = time.Now()
		case time.Since(fed) > stallTimeout:
			return errors.New("the sound server asks for nothing")
		}
	}
}

// feed pulls so many frames and sends them.
func (p *pulseSink) feed(l *pulseLink, frames int) error {
	if l.takeMoved() {
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
		p.report(time.Until(heard))
	}
	return nil
}

// report tells the person what there is.
func (p *pulseSink) report(latency time.Duration) {
	if p.muted != "" {
		p.failed(p.muted)
	} else {
		p.working(latency)
	}
}
