package sink

// The sink for PulseAudio and PipeWire: a loop that keeps the server in frames, and comes
// back when the server does.

import "time"

// pulseSink feeds a sound server.
type pulseSink struct {
	status
	worker
	source Source
	getenv func(string) string

	frames       [pulseFrames][2]float64
	bytes        []byte
	written      int64 // frames, on this link
	anchor       playbackAnchor
	quiet        time.Duration // after all that has been pulled
	extraMargin  time.Duration // that the device takes more at once than is usual
	urgent       bool          // something is to be heard before the end of that
	mutedReason  string        // why nothing is heard though it is played; "" where it is
	mutedChecked time.Time
}

// openPulse errs where no server answers within a second.
func openPulse(source Source, getenv func(string) string) (*pulseSink, error) {
	l, err := openLink(getenv)
	if err != nil {
		return nil, err
	}
	p := &pulseSink{status: status{name: "pulse", latency: 100 * time.Millisecond}, worker: newWorker(),
		source: source, getenv: getenv}
	if p.checkMuted(l); p.mutedReason != "" {
		p.failed(p.mutedReason)
	}
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
func (p *pulseSink) serve(l *pulseLink) error {
	p.written, p.anchor, p.quiet, p.extraMargin, p.mutedChecked = 0, playbackAnchor{}, 0, 0, time.Time{}
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		select {
		case <-p.quit:
			return nil
		case <-timer.C:
		case <-l.wake:
		case <-p.source.Wake():
			p.urgent = true
		}
		suspended, err := l.alive()
		if err != nil {
			return err
		}
		wait := stallTimeout / 6
		if suspended {
			p.failed("the sound device is suspended")
		} else if wait, err = p.feed(l); err != nil {
			return err
		}
		timer.Reset(wait)
	}
}
