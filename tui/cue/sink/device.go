//go:build windows || darwin || (linux && alsa && cgo)

package sink

// The sink for the system's own sound device, by oto, which is pure Go on Windows and macOS; on
// Linux it wants cgo, ALSA's headers and -tags alsa. oto opens the device once in the life of a
// process, and a sink is a player on it. It tells neither how much the device has in hand,
// which is measured here when it begins, nor what the hardware adds to that. Where there is no
// device it would go on in silence: whether there is one is asked of the system.

import (
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"github.com/ebitengine/oto/v3"
)

const (
	deviceBuffer = 50 * time.Millisecond  // asked of the device, which takes what it likes
	deviceAhead  = Rate / 50 * frameBytes // bytes kept ready before it
	measureTime  = 400 * time.Millisecond // while the player's first half second lasts
	measureEvery = 5 * time.Millisecond
	lookEvery    = time.Second // at whether the device is still there
)

// theDevice is the one that oto opens.
var theDevice struct {
	mu    sync.Mutex
	out   *oto.Context
	ready chan struct{}
	depth time.Duration // in hand, as measured; deviceBuffer until then
}

// device is a player on the system's sound device.
type device struct {
	status
	worker
	source Source
	out    *oto.Context
	player *oto.Player

	mu     sync.Mutex
	depth  time.Duration
	origin time.Time // when the first frame is heard
	pulled int64
	taken  time.Time // when frames were last asked for
	frames [][2]float64
}

func openDevice(source Source) (Sink, error) {
	if err := devicePresent(); err != nil {
		return nil, fmt.Errorf("sound device: %w", err)
	}
	d := &device{status: status{name: "device"}, worker: newWorker(), source: source, taken: time.Now()}
	first, err := d.begin()
	if err != nil {
		close(d.quit) // a player that is there reads no more
		return nil, fmt.Errorf("sound device: %w", err)
	}
	d.working(d.latency())
	go d.run(first)
	return d, nil
}

// begin puts a player on the device; first tells that the device begins with it.
func (d *device) begin() (first bool, err error) {
	theDevice.mu.Lock()
	defer theDevice.mu.Unlock()
	if first = theDevice.out == nil; first {
		theDevice.out, theDevice.ready, err = oto.NewContext(&oto.NewContextOptions{SampleRate: Rate, ChannelCount: 2,
			Format: oto.FormatSignedInt16LE, BufferSize: deviceBuffer})
		if err != nil {
			theDevice.out = nil
			return false, err
		}
		theDevice.depth = deviceBuffer
	}
	d.out, d.depth = theDevice.out, theDevice.depth
	d.player = d.out.NewPlayer(d)
	if !first {
		d.player.SetBufferSize(deviceAhead)
	}
	d.player.Play()
	select {
	case <-theDevice.ready:
		return first, d.out.Err()
	case <-time.After(stallTimeout):
		return false, errors.New("it does not answer")
	}
}

// Read fills what oto will hand to the device.
func (d *device) Read(p []byte) (int, error) {
	select {
	case <-d.quit:
		return 0, io.EOF
	default:
	}
	waiting := timeOf(int64(d.player.BufferedSize() / frameBytes))
	d.mu.Lock()
	defer d.mu.Unlock()
	n := len(p) / frameBytes
	if len(d.frames) < n {
		d.frames = make([][2]float64, n)
	}
	d.taken = time.Now()
	d.origin = smoothOrigin(d.origin, d.taken.Add(waiting+d.depth-timeOf(d.pulled)))
	d.source.Pull(d.frames[:n], d.origin.Add(timeOf(d.pulled)))
	d.pulled += int64(n)
	encode(p[:0], d.frames[:n])
	return n * frameBytes, nil
}

// run measures a device that begins, and looks whether it is still there.
func (d *device) run(first bool) {
	defer close(d.ended)
	defer d.player.Pause()
	if first {
		d.measure()
	}
	d.player.SetBufferSize(deviceAhead)
	for {
		if fault := d.fault(); fault != nil {
			d.failed("sound device: " + fault.Error())
		} else {
			d.working(d.latency())
		}
		if !d.sleep(lookEvery) {
			return
		}
	}
}

// measure finds what the device has in hand, before the player's buffer is filled again.
func (d *device) measure() {
	var m depthMeter
	for until := time.Now().Add(measureTime); time.Now().Before(until) && d.sleep(measureEvery); {
		d.mu.Lock()
		pulled := d.pulled
		d.mu.Unlock()
		m.see(time.Now(), pulled-int64(d.player.BufferedSize()/frameBytes))
	}
	if m.depth == 0 { // it has taken nothing
		return
	}
	theDevice.mu.Lock()
	theDevice.depth = m.depth
	theDevice.mu.Unlock()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.depth, d.origin = m.depth, time.Time{} // reckoned from it at the next pull
}

// latency is from a pull to when it is heard.
func (d *device) latency() time.Duration {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.depth + timeOf(deviceAhead/frameBytes)
}

// fault is why nothing is heard; nil where it is.
func (d *device) fault() error {
	if err := d.out.Err(); err != nil {
		return fmt.Errorf("%w; it is opened once only: wetside resume takes the session up with a new one", err)
	}
	if err := devicePresent(); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if time.Since(d.taken) > stallTimeout {
		return errors.New("it takes nothing")
	}
	return nil
}
