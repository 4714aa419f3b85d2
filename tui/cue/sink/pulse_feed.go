package sink

// How much the server has in hand: little where something sounds, so that what is cut
// short ends soon; through a silence two seconds, so that the processor can sleep.
// What is to be heard at once then overwrites silence that the device has not taken yet.

import (
	"context"
	"errors"
	"time"
)

const (
	minAhead       = 120 * time.Millisecond  // the server has so much always: it outlasts a stall of ours
	targetAhead    = 200 * time.Millisecond  // it is filled up to this
	maxAhead       = 2000 * time.Millisecond // and with silence to this
	rewindMargin   = 80 * time.Millisecond   // nothing is overwritten nearer to the device, which takes 20 ms at once
	maxExtraMargin = 640 * time.Millisecond  // what a device that takes more at once is given beyond all these at most
	preRoll        = 50 * time.Millisecond   // silence ends so long before a sound, whose place may change yet
	overwriteTime  = 10 * time.Millisecond   // what it takes us to overwrite

	pulseFrames = Rate / 20 // in one pull at most
)

// feed sends what the server is to have by now, and tells how long that lasts.
func (p *pulseSink) feed(l *pulseLink) (lasts time.Duration, err error) {
	p.checkMuted(l)
	if err := p.updateAnchor(l); err != nil {
		return 0, callError(l, err)
	}
	origin, taken := p.anchor.origin(), framesIn(time.Since(p.anchor.last().taken()))
	overwrite := p.rewind(taken)
	from := p.written
	p.bytes = append(p.bytes[:0], make([]byte, headerSize)...)
	for room := p.room(taken); room > 0; room = p.room(taken) {
		block := p.frames[:min(room, pulseFrames)]
		p.quiet = p.source.Pull(block, origin.Add(timeOf(p.written)))
		p.bytes = encodeOne(p.bytes, block)
		p.written += int64(len(block))
	}
	if p.written > from {
		if err := l.send(p.bytes, overwrite); err != nil {
			return 0, err
		}
	}
	if overwrite > 0 {
		if err := p.checkOverwrite(l, from); err != nil {
			return 0, callError(l, err)
		}
	}
	p.report()
	return max(0, timeOf(p.written-taken)-minAhead-p.extraMargin), nil
}

// callError is the error of a call to the server.
func callError(l *pulseLink, err error) error {
	if _, over := l.alive(); over != nil {
		return over
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return errors.New("the sound server does not answer")
	}
	return err
}

// rewind takes silence back where something is to be heard sooner, and tells how many
// frames the next overwrite. The device has taken some.
func (p *pulseSink) rewind(taken int64) (frames int64) {
	if !p.urgent {
		return 0
	}
	p.urgent = false
	if spare := p.written - taken - framesIn(rewindMargin+p.extraMargin); spare > 0 {
		frames = p.source.Rewind(spare)
		p.written -= frames
		p.quiet = 0 // as far as is known
	}
	return frames
}

// checkOverwrite finds out whether the device had taken what was overwritten from a frame on.
func (p *pulseSink) checkOverwrite(l *pulseLink, from int64) error {
	m, err := l.measure()
	if err == nil {
		p.adaptMargin(m.read, from)
	}
	return err
}

// adaptMargin gives a device more room that had read what was overwritten: what was to be heard
// there was not, or not its beginning.
func (p *pulseSink) adaptMargin(read, from int64) {
	if read > from {
		p.extraMargin = min(2*p.extraMargin+rewindMargin, maxExtraMargin)
	}
}

// room is how many frames the server is to have more when its device has taken some.
func (p *pulseSink) room(taken int64) int64 {
	ahead := p.written - taken
	silence := min(framesIn(maxAhead)-ahead, framesIn(p.quiet-preRoll))
	return max(framesIn(targetAhead+p.extraMargin)-ahead, silence)
}

// report tells the source how soon it can be heard, and the person what there is.
func (p *pulseSink) report() {
	lead := rewindMargin + p.extraMargin + p.anchor.last().delay + overwriteTime
	p.source.SetLatency(lead)
	if p.mutedReason != "" {
		p.failed(p.mutedReason)
	} else {
		p.working(lead)
	}
}

// checkMuted finds out whether what is played is turned down: when the server tells of a
// change, and now and then.
func (p *pulseSink) checkMuted(l *pulseLink) {
	if l.takeVolumeChanged() || time.Since(p.mutedChecked) >= muteCheckEvery {
		p.mutedReason, p.mutedChecked = l.muteReason(), time.Now()
	}
}

// updateAnchor finds out when frame 0 is heard: well where something is about to begin, else
// now and then.
func (p *pulseSink) updateAnchor(l *pulseLink) error {
	if l.takeMoved() {
		p.anchor = playbackAnchor{}
	}
	begins := p.quiet > 0 && p.quiet <= 2*preRoll
	for tries := range maxMeasurements {
		fresh := p.anchor.age() < measureEvery && (!begins || p.anchor.age() < freshBeforeSound && p.anchor.isSure())
		if fresh && (tries > 0 || !p.urgent) || tries > 0 && p.urgent {
			return nil
		}
		if tries > 0 && p.anchor.repeats {
			time.Sleep(repeatPause)
		}
		m, err := l.measure()
		if err != nil {
			return err
		}
		p.anchor.add(m)
	}
	return nil
}
