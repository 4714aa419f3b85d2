package sequence

import "strings"

// Vessel is what the film is processed in.
type Vessel string

// The vessels.
const (
	Tray         Vessel = "tray"
	SingleTrays  Vessel = "single"
	Cradle       Vessel = "cradle"
	Hangers      Vessel = "hangers"
	DaylightTank Vessel = "daylight-tank"
	Drum         Vessel = "drum"
	Tube         Vessel = "tube"
)

// Vessels lists every vessel, in the order in which help names them.
var Vessels = []Vessel{Tray, SingleTrays, Cradle, Hangers, DaylightTank, Drum, Tube}

// Closed reports whether the vessel keeps light out while baths are changed.
func (v Vessel) Closed() bool { return v == DaylightTank || v == Drum || v == Tube }

// In says in words where film is in the vessel: "in hangers".
func (v Vessel) In() string {
	switch v {
	case Hangers:
		return "in hangers"
	case SingleTrays:
		return "in trays, one sheet each"
	case Tray:
		return "in trays"
	}
	return "in a " + strings.ReplaceAll(string(v), "-", " ")
}
