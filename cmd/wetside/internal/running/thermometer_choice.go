package running

// A thermometer as it is chosen, typed or kept with the session.

import (
	"cmp"
	"math"
	"path/filepath"
	"slices"
	"strconv"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/journal"
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

// sensor is the thermometer as the session's first record keeps it; nil for none.
func (t Thermometer) sensor() *journal.Sensor {
	if t.File == "" {
		return nil
	}
	file, err := filepath.Abs(t.File)
	if err != nil {
		file = t.File // no working folder any more: as it was typed
	}
	return &journal.Sensor{File: file, In: t.HangsIn, Offset: t.JacketOffset}
}

// orKept is this thermometer, or where none was typed the one that the session began with.
func (t Thermometer) orKept(s *journal.Sensor) Thermometer {
	if t.File != "" || s == nil {
		return t
	}
	return Thermometer{File: s.File, HangsIn: cmp.Or(s.In, "developer"), JacketOffset: s.Offset}
}

// Args are the flags again, for a command that this program starts.
func (t Thermometer) Args() []string {
	if t.File == "" {
		return nil
	}
	args := []string{"--thermometer", t.File, "--sensor-in", t.HangsIn}
	if t.JacketOffset != "" {
		args = append(args, "--jacket-offset", t.JacketOffset)
	}
	return args
}
