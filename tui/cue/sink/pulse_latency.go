package sink

// When a frame is heard: what the server tells of it, and how much of that is believed.
//
// PulseAudio reckons for each answer where its device is. PipeWire repeats what it knew
// when the device last took something, up to a fiftieth of a second ago. So an answer may
// put a frame too late, never too early, and of some the earliest counts; and a server that
// repeats itself is asked until the device has just taken something.

import (
	"cmp"
	"slices"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// How long an answer counts: crystals drift apart by a fifth of a millisecond in it at most.
// How often there is a new one, and how it is asked before a sound begins.
const (
	measurementLife  = 2 * time.Second
	measureEvery     = 2 * time.Second
	freshBeforeSound = time.Second / 2       // no older is the last before a sound begins
	quickAnswer      = time.Millisecond / 4  // an answer in this time is as good as any
	minAnswers       = 4                     // answers, where none is so quick
	serverAccuracy   = time.Millisecond      // what a server's own reckoning is good for
	repeatPause      = time.Millisecond      // between two questions to one that repeats itself
	maxMeasurements  = 30                    // of these
	maxStale         = 50 * time.Millisecond // how old what it repeats may be
)

// measurement is what one question about the latency gave.
type measurement struct {
	at    time.Time     // of the question
	took  time.Duration // until the answer
	read  int64         // frames that the device had taken
	delay time.Duration // from there to the loudspeaker
}

// measure asks the server where its loudspeaker is.
func (l *pulseLink) measure() (measurement, error) {
	var reply proto.GetPlaybackLatencyReply
	m := measurement{at: time.Now()}
	if err := l.client.Request(&proto.GetPlaybackLatency{StreamIndex: l.stream}, &reply); err != nil {
		return m, err
	}
	m.took = time.Since(m.at)
	m.read, m.delay = reply.ReadIndex/monoBytes, time.Duration(reply.Latency)*time.Microsecond
	return m, nil
}

// taken is when the device took frame 0, had it been so at the middle of the question.
func (m measurement) taken() time.Time { return m.at.Add(m.took/2 - timeOf(m.read)) }

// origin is the same for when frame 0 was or would have been heard.
func (m measurement) origin() time.Time { return m.taken().Add(m.delay) }

// latest is when frame 0 was heard at the latest.
func (m measurement) latest() time.Time { return m.origin().Add(m.took / 2) }

// earliest is when it was heard at the earliest, for what is repeated may be so old.
func (m measurement) earliest(old time.Duration) time.Time { return m.origin().Add(-m.took/2 - old) }

// sameAs says whether two answers tell the same, as of different times.
func (m measurement) sameAs(o measurement) bool { return m.read == o.read && m.delay == o.delay }

// agreesWith says whether two answers, soon after one another and both quick, tell of a device
// that has gone on between them.
func (m measurement) agreesWith(o measurement) bool {
	return !m.sameAs(o) && m.at.Sub(o.at) < 4*repeatPause && m.took < serverAccuracy && o.took < serverAccuracy &&
		m.origin().Sub(o.origin()).Abs() < serverAccuracy
}

// playbackAnchor is what is known of when frame 0 is heard.
type playbackAnchor struct {
	measured     []measurement // the latest last
	repeats      bool          // the server has told the same twice
	extrapolates bool          // two answers soon after one another have agreed
	step         time.Time     // of the answer that came just after the device had taken something
}

// add takes an answer in. What cannot be true beside it is void: the stream has jumped.
func (a *playbackAnchor) add(m measurement) {
	old := time.Duration(0)
	if n := len(a.measured); n > 0 {
		o := a.measured[n-1]
		a.extrapolates = a.extrapolates || !a.repeats && m.agreesWith(o)
		a.repeats = a.repeats || !a.extrapolates && m.sameAs(o)
		if a.repeats && !m.sameAs(o) && m.at.Sub(o.at) < 4*repeatPause {
			a.step, a.measured = m.at, nil // it is worth more than all before it
		}
	}
	if a.repeats {
		old = maxStale
	}
	a.measured = slices.DeleteFunc(a.measured, func(o measurement) bool {
		return m.at.Sub(o.at) > measurementLife || o.latest().Before(m.earliest(old).Add(-serverAccuracy))
	})
	a.measured = append(a.measured, m)
}

// last is the latest answer; there is one.
func (a *playbackAnchor) last() measurement { return a.measured[len(a.measured)-1] }

// age is how old it is; an hour where there is none.
func (a *playbackAnchor) age() time.Duration {
	if len(a.measured) == 0 {
		return time.Hour
	}
	return time.Since(a.last().at)
}

// recent are the answers of the last half second before the latest, and that.
func (a *playbackAnchor) recent() []measurement {
	since := a.last().at.Add(-freshBeforeSound)
	return a.measured[slices.IndexFunc(a.measured, func(m measurement) bool { return !m.at.Before(since) }):]
}

// isSure says whether the answers are good enough for a sound that is about to begin.
func (a *playbackAnchor) isSure() bool {
	switch {
	case len(a.measured) == 0:
		return false
	case a.repeats:
		return a.last().at.Equal(a.step)
	}
	late := a.recent()
	return len(late) >= minAnswers || a.extrapolates && slices.ContainsFunc(late, func(m measurement) bool { return m.took < quickAnswer })
}

// origin is when frame 0 is heard: of answers that repeat what was, by the one that leaves
// the least room; of others by the quickest of late.
func (a *playbackAnchor) origin() time.Time {
	if a.repeats {
		return slices.MinFunc(a.measured, func(m, o measurement) int { return m.latest().Compare(o.latest()) }).origin()
	}
	return slices.MinFunc(a.recent(), func(m, o measurement) int { return cmp.Compare(m.took, o.took) }).origin()
}
