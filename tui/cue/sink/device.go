//go:build windows || (darwin && cgo) || (linux && alsa && cgo)

package sink

// The sink for the system's own sound device, by oto: windows, macOS with cgo,
// and Linux with cgo, ALSA's headers and -tags alsa. oto does not tell the latency
// of a device, so it is taken to be the size of the buffers.

import (
	"errors"
	"fmt"
	"time"

	"github.com/hajimehoshi/oto"
)

const (
	deviceBuffer = Rate * frameBytes / 10 // bytes: 100 ms
	deviceFrames = Rate / 50
)

var deviceLatency = timeOf(deviceBuffer / frameBytes)

// device feeds the system's sound device.
type device struct {
	status
	worker
	source Source
	frames [deviceFrames][2]float64
	bytes  [deviceFrames * frameBytes]byte
}

// otoContext keeps one device at a time: oto panics at a second.
var otoContext = make(chan struct{}, 1)

// openContext opens the device, unless it is open or has not let go yet.
func openContext() (*oto.Context, error) {
	select {
	case otoContext <- struct{}{}:
	default:
		return nil, errors.New("the sound device is in use")
	}
	out, err := oto.NewContext(Rate, 2, 2, deviceBuffer)
	if err != nil {
		<-otoContext
		return nil, fmt.Errorf("sound device: %w", err)
	}
	return out, nil
}

func openDevice(source Source) (Sink, error) {
	out, err := openContext()
	if err != nil {
		return nil, err
	}
	d := &device{status: status{name: "device"}, worker: newWorker(), source: source}
	d.working(deviceLatency)
	go d.run(out)
	return d, nil
}

func (d *device) run(out *oto.Context) {
	defer close(d.ended)
	var patience backoff
	for {
		began := time.Now()
		if out != nil {
			err := d.serve(out)
			if err == nil {
				return
			}
			d.failed(err.Error())
		}
		if !d.sleep(patience.next(time.Since(began))) {
			return
		}
		var err error
		if out, err = openContext(); err != nil {
			d.failed(err.Error())
		}
	}
}

// writer writes blocks to a device until there are no more. It is apart from the
// sink's goroutine, since a device that is gone may never take another frame.
type writer struct {
	blocks chan []byte
	taken  chan error
	ended  chan struct{}
}

func newWriter(out *oto.Context) *writer {
	w := &writer{make(chan []byte), make(chan error, 1), make(chan struct{})}
	go func() {
		player := out.NewPlayer()
		for b := range w.blocks {
			_, err := player.Write(b)
			w.taken <- err
		}
		player.Close()
		out.Close()
		<-otoContext
		close(w.ended)
	}()
	return w
}

// close ends the writer, and waits for that as long as a call may take.
func (w *writer) close() {
	close(w.blocks)
	select {
	case <-w.ended:
	case <-time.After(callTime):
	}
}

// serve feeds a device until it fails; nil where the sink was closed.
func (d *device) serve(out *oto.Context) error {
	w := newWriter(out)
	defer w.close()
	origin, written := time.Now().Add(deviceLatency), int64(0)
	watch := time.NewTimer(stallTimeout)
	defer watch.Stop()
	for {
		origin = smoothOrigin(origin, time.Now().Add(deviceLatency-timeOf(written)))
		d.source.Pull(d.frames[:], origin.Add(timeOf(written)))
		w.blocks <- encode(d.bytes[:0], d.frames[:])
		watch.Reset(stallTimeout)
		select {
		case err := <-w.taken:
			if err != nil {
				return fmt.Errorf("sound device: %w", err)
			}
		case <-d.quit:
			return nil
		case <-watch.C:
			return errors.New("the sound device takes nothing")
		}
		written += deviceFrames
		d.working(deviceLatency)
	}
}
