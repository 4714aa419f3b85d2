package main

// A thermometer in a file, read once a second of process time.

import (
	"io"
	"os"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/probe"
)

// thermometer is where it hangs and what it reads.
type thermometer struct {
	file   string
	hangs  string  // developer, jacket or room
	offset float64 // jacket: the developer minus the jacket, in K
}

// places are where a thermometer may hang.
var places = []string{"developer", "jacket", "room"}

func (t thermometer) check() error {
	for _, place := range places {
		if t.hangs == place {
			return nil
		}
	}
	return usage("--hangs-in: %q; expected developer, jacket or room", t.hangs)
}

const (
	readEvery = time.Second // of process time
	mostRead  = 4096        // bytes of the file
)

// watch follows the thermometer while the session lasts. In the room it tells
// nothing of the developer; its dropouts are told all the same.
func (t thermometer) watch(s *carried) {
	if t.file == "" {
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
				s.Do(sequence.Read{T: f.T + chem.Celsius(t.offset), Source: sequence.BySensor})
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
