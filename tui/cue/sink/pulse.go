package sink

// The sink for PulseAudio and PipeWire: a loop that keeps the server in frames, and comes
// back when the server does.

import (
	"time"
)

// pulse feeds a sound server.
type pulse struct {
	condition
	loop
	source Source
	getenv func(string) string

	frames  [pulseFrames][2]float64
	bytes   []byte
	written int64 // frames, on this link
	anchor  anchor
	quiet   time.Duration // after all that has been pulled
	extra   time.Duration // that the device takes more at once than is usual
	haste   bool          // something is to be heard before the end of that
	hush    string        // why nothing is heard though it is played; "" where it is
	looked  time.Time
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
	p.written, p.anchor, p.quiet, p.extra, p.looked = 0, anchor{}, 0, 0, time.Time{}
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		select {
		case <-p.quit:
			return nil
		case <-timer.C:
		case <-l.wake:
		case <-p.source.Sooner():
			p.haste = true
		}
		suspended, err := l.alive()
		if err != nil {
			return err
		}
		wait := stuck / 6
		if suspended {
			p.fail("the sound device is suspended")
		} else if wait, err = p.feed(l); err != nil {
			return err
		}
		timer.Reset(wait)
	}
}
