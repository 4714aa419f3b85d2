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
	least   = 120 * time.Millisecond  // the server has so much always: it outlasts a stall of ours
	usual   = 200 * time.Millisecond  // it is filled up to this
	most    = 2000 * time.Millisecond // and with silence to this
	reserve = 80 * time.Millisecond   // nothing is overwritten nearer to the device, which takes 20 ms at once
	extra   = 640 * time.Millisecond  // what a device that takes more at once is given beyond all these at most
	brink   = 50 * time.Millisecond   // silence ends so long before a sound, whose place may change yet
	answer  = 10 * time.Millisecond   // what it takes us to overwrite

	pulseFrames = Rate / 20 // in one pull at most
)

// feed sends what the server is to have by now, and tells how long that lasts.
func (p *pulse) feed(l *link) (lasts time.Duration, err error) {
	p.listen(l)
	if err := p.locate(l); err != nil {
		return 0, explained(l, err)
	}
	origin, taken := p.anchor.origin(), framesIn(time.Since(p.anchor.last().taken()))
	overwrite := p.turnBack(taken)
	from := p.written
	p.bytes = append(p.bytes[:0], make([]byte, descriptor)...)
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
		if err := p.check(l, from); err != nil {
			return 0, explained(l, err)
		}
	}
	p.tell()
	return max(0, timeOf(p.written-taken)-least-p.extra), nil
}

// explained is the error of a call to the server.
func explained(l *link, err error) error {
	if _, over := l.alive(); over != nil {
		return over
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return errors.New("the sound server does not answer")
	}
	return err
}

// turnBack takes silence back where something is to be heard sooner, and tells how many
// frames the next overwrite. The device has taken some.
func (p *pulse) turnBack(taken int64) (frames int64) {
	if !p.haste {
		return 0
	}
	p.haste = false
	if spare := p.written - taken - framesIn(reserve+p.extra); spare > 0 {
		frames = p.source.Back(spare)
		p.written -= frames
		p.quiet = 0 // as far as is known
	}
	return frames
}

// check finds out whether the device had taken what was overwritten from a frame on.
func (p *pulse) check(l *link, from int64) error {
	m, err := l.measure()
	if err == nil {
		p.learn(m.read, from)
	}
	return err
}

// learn gives a device more room that had read what was overwritten: what was to be heard
// there was not, or not its beginning.
func (p *pulse) learn(read, from int64) {
	if read > from {
		p.extra = min(2*p.extra+reserve, extra)
	}
}

// room is how many frames the server is to have more when its device has taken some.
func (p *pulse) room(taken int64) int64 {
	ahead := p.written - taken
	silence := min(framesIn(most)-ahead, framesIn(p.quiet-brink))
	return max(framesIn(usual+p.extra)-ahead, silence)
}

// tell tells the source how soon it can be heard, and the person what there is.
func (p *pulse) tell() {
	lead := reserve + p.extra + p.anchor.last().delay + answer
	p.source.Reach(lead)
	if p.hush != "" {
		p.fail(p.hush)
	} else {
		p.work(lead)
	}
}

// listen finds out whether what is played is turned down: when the server tells of a
// change, and now and then.
func (p *pulse) listen(l *link) {
	if l.mayBeTurned() || time.Since(p.looked) >= hushEvery {
		p.hush, p.looked = l.hushed(), time.Now()
	}
}

// locate finds out when frame 0 is heard: well where something is about to begin, else
// now and then.
func (p *pulse) locate(l *link) error {
	if l.stirred() {
		p.anchor = anchor{}
	}
	begins := p.quiet > 0 && p.quiet <= 2*brink
	for tries := range tired {
		fresh := p.anchor.age() < seldom && (!begins || p.anchor.age() < ready && p.anchor.sure())
		if fresh && (tries > 0 || !p.haste) || tries > 0 && p.haste {
			return nil
		}
		if tries > 0 && p.anchor.repeats {
			time.Sleep(again)
		}
		m, err := l.measure()
		if err != nil {
			return err
		}
		p.anchor.add(m)
	}
	return nil
}
