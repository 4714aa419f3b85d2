package sink

// Pulling in real time without a device: frame n belongs to the time at which
// n frames have passed since the start. Frames are pulled a little after their
// time, so that a cue for this very moment still finds its frame.

import (
	"sync/atomic"
	"time"
)

const (
	pullLag    = 250 * time.Millisecond // frames are pulled so long after their time
	pullEvery  = 50 * time.Millisecond
	idleEvery  = 200 * time.Millisecond // where nobody hears it, to let the processor sleep
	pullFrames = 4410                   // in one pull at most
)

// puller pulls from a source in real time and gives the frames away.
type puller struct {
	source  Source
	every   time.Duration // between pulls
	deliver func(frames [][2]float64)
	started time.Time
	pulled  int64
	buffer  [pullFrames][2]float64

	worker
	dropped atomic.Bool // nothing more is pulled
}

// startPuller starts pulling what is due since a moment; give is called from the goroutine that pulls.
func startPuller(started time.Time, source Source, every time.Duration, give func([][2]float64)) *puller {
	p := &puller{source: source, every: every, deliver: give, started: started, worker: newWorker()}
	go p.run()
	return p
}

func (p *puller) run() {
	defer close(p.ended)
	ticker := time.NewTicker(p.every)
	defer ticker.Stop()
	for {
		select {
		case <-ticker.C:
			p.pullUntil(time.Since(p.started) - pullLag)
		case <-p.quit:
			if !p.dropped.Load() {
				p.pullUntil(time.Since(p.started))
			}
			return
		}
	}
}

// pullUntil pulls what belongs to the time before d since the start.
func (p *puller) pullUntil(d time.Duration) {
	for left := framesIn(d) - p.pulled; left > 0 && !p.dropped.Load(); left = framesIn(d) - p.pulled {
		frames := p.buffer[:min(left, pullFrames)]
		p.source.Pull(frames, p.started.Add(timeOf(p.pulled)))
		p.deliver(frames)
		p.pulled += int64(len(frames))
	}
}

// abandon ends the pulling without what is left; Close pulls up to this moment first.
func (p *puller) abandon() {
	p.dropped.Store(true)
	p.Close()
}

// framesIn is how many whole frames fit into a time.
func framesIn(d time.Duration) int64 {
	seconds, rest := int64(d/time.Second), int64(d%time.Second)
	return seconds*Rate + rest*Rate/int64(time.Second)
}

// timeOf is how long so many frames take, to the nanosecond below.
func timeOf(frames int64) time.Duration {
	return time.Duration(frames/Rate)*time.Second + time.Duration(frames%Rate)*time.Second/Rate
}
