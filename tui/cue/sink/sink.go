// Package sink holds the ways out to a loudspeaker, and two without one.
//
// For cmd: Open takes the words of --sound and a Source, usually the Ear of
// package cue, and starts pulling. A sink tells its source for every pull when
// the first of the frames will be heard, so that the source can put a sound on
// its instant to the sample. A sink never fails once it is open: what goes wrong
// becomes its State, and where the fault may pass it tries again. Goroutines start in Open and have ended when Close
// returns. The package knows no cue, no session and no clock but Go's.
package sink

// What every sink offers, the states they tell, and the choice among them.

import (
	"fmt"
	"runtime"
	"strings"
	"sync"
	"time"
)

// Rate is the sample rate of all sinks, in frames a second.
const Rate = 44100

// Source is what a sink plays.
type Source interface {
	// Pull fills all of frames, which will be heard one after the other from the given
	// time on. It is called from one goroutine at a time and must not block.
	Pull(frames [][2]float64, heard time.Time)
}

// Sink is an open way out.
type Sink interface {
	// State is a line for the person: "sound: pulse, 100 ms" or
	// "NO SOUND: reason".
	State() string
	// Sounding says whether what is pulled now will be heard, or written.
	Sounding() bool
	// Close ends the sink's goroutines. A loudspeaker stops at once: wait first
	// for what is to be heard yet.
	Close() error
}

// Open opens the sink that spec names: auto, pulse, exec, device, wav:FILE or
// off. It errs where the words are wrong, or where a file cannot be made or a
// chosen device is not there.
func Open(spec string, source Source) (Sink, error) {
	name, file, hasFile := strings.Cut(spec, ":")
	switch {
	case name == "wav" && file != "":
		return openWAV(file, source)
	case hasFile:
	case name == "off":
		return openSilent("switched off", source), nil
	case name == "auto":
		return openAuto(triedOutputs(runtime.GOOS), source), nil
	}
	for _, w := range outputs {
		if w.name == spec {
			s, err := w.open(source)
			if err != nil {
				return nil, fmt.Errorf("sound: %s: %w", spec, err)
			}
			return s, nil
		}
	}
	return nil, fmt.Errorf("sound: %q is no way out; expected auto, pulse, exec, device, wav:FILE or off", spec)
}

const stableTime = 20 * time.Millisecond

// status is the state of a sink, written by its goroutine and read by all.
type status struct {
	mu      sync.Mutex
	name    string
	detail  string        // after the name, where sound is heard
	why     string        // why this sink and no better
	fault   string        // why nothing is heard; empty where it is
	latency time.Duration // between a pull and the moment its first frame is heard, as last known
}

// State is the line for the person.
func (c *status) State() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.fault != "" {
		return "NO SOUND: " + c.fault
	}
	detail := c.detail
	if detail == "" {
		detail = fmt.Sprintf("%d ms", c.latency.Milliseconds())
	}
	if c.why != "" {
		detail += " (" + c.why + ")"
	}
	return "sound: " + c.name + ", " + detail
}

// setReason sets why this sink was chosen and no better one.
func (c *status) setReason(why string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.why = why
}

// Sounding says whether there is no fault.
func (c *status) Sounding() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.fault == ""
}

// failed sets why nothing is heard.
func (c *status) failed(reason string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.fault = reason
}

// working clears the fault and follows the latency. A state that is read by a
// person does not flicker: the latency stays until it has changed by steady.
func (c *status) working(latency time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.fault = ""
	if (latency - c.latency).Abs() > stableTime {
		c.latency = latency.Round(stableTime)
	}
}
