package sequence

// What developing times were found for, kept in the recipe that a film test led to.

import "fmt"

// Aim is one of three: an average gradient, a contrast index, or both ends of a print.
type Aim struct {
	Average  float64   `json:"average_gradient,omitzero"`
	Contrast float64   `json:"contrast_index,omitzero"`
	Print    *PrintAim `json:"print,omitzero"`
}

// PrintAim is a paper, and what shall be printed on it.
type PrintAim struct {
	Paper    float64  `json:"paper_range"`    // the paper's log exposure range
	Subject  float64  `json:"subject_range"`  // in log10, from textured shadow to textured highlight
	Flare    float64  `json:"flare"`          // what it takes from a subject of 2.2
	Shadow   float64  `json:"shadow_density"` // of the shadow, over base plus fog
	Placed   float64  `json:"placed_stops"`   // where the shadow is placed on the meter's scale
	Enlarger Enlarger `json:"enlarger"`
}

// The usual shadow: at the density of the speed point, placed where a meter's index has that, 1.0 log H under the tone that is
// metered (ISO 2720 with K = 12.5 to 14, and ISO 6), a third of a stop over three stops.
const (
	UsualShadow = 0.10
	UsualPlaced = -10.0 / 3
)

// DevelopmentName is that of a development so many stops from N: "N-1", "N", "N+2".
func DevelopmentName(shift int) string {
	if shift == 0 {
		return "N"
	}
	return fmt.Sprintf("N%+d", shift)
}

// Enlarger is the light that prints are made by.
type Enlarger string

// The enlargers; contact prints are as Diffuse.
const (
	Diffuse   Enlarger = "diffuse"
	Condenser Enlarger = "condenser"
)

// Enlargers lists them.
var Enlargers = []Enlarger{Diffuse, Condenser}
