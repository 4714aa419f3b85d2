package running

// A thermometer in a file, read once a second of process time.

import (
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/thermometer"
)

// Thermometer is where it hangs and what it reads.
type Thermometer struct {
	File         string
	HangsIn      string // developer, jacket or room
	JacketOffset string // jacket: the developer minus the jacket, in °C, as typed
}

// thermometerPlaces are where a thermometer may hang.
var thermometerPlaces = []string{"developer", "jacket", "room"}

func (t Thermometer) Check() error {
	if !slices.Contains(thermometerPlaces, t.HangsIn) {
		return app.Usagef("--sensor-in: %q; expected developer, jacket or room", t.HangsIn)
	}
	if (t.JacketOffset != "") != (t.HangsIn == "jacket") {
		return app.Usagef("--jacket-offset and --sensor-in jacket belong together: what is read there is not the developer's")
	}
	_, err := t.jacketOffset()
	return err
}

// maxJacketOffset is how far a developer may be from its jacket and still be told by it, in K
// (our own rule).
const maxJacketOffset = 10

// jacketOffset is by how much the developer is warmer than where the thermometer hangs.
func (t Thermometer) jacketOffset() (chem.Celsius, error) {
	if t.JacketOffset == "" {
		return 0, nil
	}
	k, err := strconv.ParseFloat(t.JacketOffset, 64)
	if err != nil || !(math.Abs(k) <= maxJacketOffset) {
		return 0, app.Usagef("--jacket-offset: %q; expected -%d to %d °C", t.JacketOffset, maxJacketOffset, maxJacketOffset)
	}
	return chem.Celsius(k), nil
}

const (
	readEvery          = time.Second // of process time
	maxThermometerFile = 4096        // bytes of the file
)

// Follow follows the thermometer while the session lasts. In the room it tells
// nothing of the developer; its dropouts are told all the same.
func (t Thermometer) Follow(s *RunningSession) {
	above, err := t.jacketOffset()
	if t.File == "" || err != nil { // an offset that cannot be read was refused before
		return
	}
	go func() {
		var sieve thermometer.Filter
		tick := time.NewTicker(max(time.Duration(float64(readEvery)/clockRate(s.Factor)), time.Millisecond))
		defer tick.Stop()
		for {
			text, err := readThermometerFile(t.File)
			f := sieve.Take(s.Session.Snapshot().Now, text, err)
			if f.Message != "" {
				s.Do(sequence.Report{Kind: sequence.FollowerFailed, Text: f.Message})
			}
			if f.Believed && t.HangsIn != "room" {
				s.Do(sequence.TakeReading{T: f.T + above, Source: sequence.BySensor})
			}
			select {
			case <-tick.C:
			case <-s.Ended():
				return
			}
		}
	}()
}

func readThermometerFile(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxThermometerFile))
	return string(text), err
}
