package main

// A thermometer in a file, read once a second of process time.

import (
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/probe"
)

// thermometer is where it hangs and what it reads.
type thermometer struct {
	file   string
	hangs  string // developer, jacket or room
	offset string // jacket: the developer minus the jacket, in K, as typed
}

// places are where a thermometer may hang.
var places = []string{"developer", "jacket", "room"}

func (t thermometer) check() error {
	if !slices.Contains(places, t.hangs) {
		return usage("--hangs-in: %q; expected developer, jacket or room", t.hangs)
	}
	if (t.offset != "") != (t.hangs == "jacket") {
		return usage("--jacket-offset and --hangs-in jacket belong together: what is read there is not the developer's")
	}
	_, err := t.above()
	return err
}

// mostAbove is how far a developer may be from its jacket and still be told by it, in K
// (our own rule).
const mostAbove = 10

// above is by how much the developer is warmer than where the thermometer hangs.
func (t thermometer) above() (chem.Celsius, error) {
	if t.offset == "" {
		return 0, nil
	}
	k, err := strconv.ParseFloat(t.offset, 64)
	if err != nil || !(math.Abs(k) <= mostAbove) {
		return 0, usage("--jacket-offset: %q; expected -%d to %d K", t.offset, mostAbove, mostAbove)
	}
	return chem.Celsius(k), nil
}

const (
	readEvery = time.Second // of process time
	mostRead  = 4096        // bytes of the file
)

// watch follows the thermometer while the session lasts. In the room it tells
// nothing of the developer; its dropouts are told all the same.
func (t thermometer) watch(s *carried) {
	above, err := t.above()
	if t.file == "" || err != nil { // an offset that cannot be read was refused before
		return
	}
	go func() {
		var sieve probe.Sieve
		tick := time.NewTicker(max(time.Duration(float64(readEvery)/pace(s.factor)), time.Millisecond))
		defer tick.Stop()
		for {
			text, err := readSome(t.file)
			f := sieve.Take(s.Session.Look().Now, text, err)
			if f.Told != "" {
				s.Do(sequence.Tell{Kind: sequence.Trouble, Text: f.Told})
			}
			if f.Good && t.hangs != "room" {
				s.Do(sequence.Read{T: f.T + above, Source: sequence.BySensor})
			}
			select {
			case <-tick.C:
			case <-s.Ended():
				return
			}
		}
	}()
}

func readSome(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostRead))
	return string(text), err
}
