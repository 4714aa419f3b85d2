package flags

// The volume of a bath told by its vessel and by how deep it is filled.

import (
	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
)

// VesselFlags is a vessel and how deep it is filled, as typed.
type VesselFlags struct {
	tray, tank, drum, depth string
	TooShallow              bool // too little to cover film that is moved
}

func (f *VesselFlags) Add(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.tray, "tray", "", "`AxB`: fill a tray of this size inside (8x10in, 20x25cm); with --depth")
	fs.StringVar(&f.tank, "tank", "", "`AxB`: fill a tank with this footprint inside; with --depth")
	fs.StringVar(&f.drum, "drum", "", "`WIDTHxLENGTH`: fill a lying drum of this size inside; with --depth")
	fs.StringVar(&f.depth, "depth", "", "`L`: how deep the bath is (12mm, 2.5cm, 0.5in)")
}

// Volume is what the vessel takes; 0 where none was typed.
func (f *VesselFlags) Volume() (chem.Millilitres, error) {
	if f.depth == "" {
		return 0, nil
	}
	depth, err := chem.ParseLength(f.depth)
	if err != nil {
		return 0, app.Usagef("--depth: %v", err)
	}
	a, b, err := chem.ParseSides(f.tray + f.tank + f.drum)
	if err != nil {
		return 0, app.AsUsage(err)
	}
	if f.drum != "" {
		return chem.LyingCylinderVolume(a, b, depth)
	}
	f.TooShallow = f.tray != "" && depth < chem.MinDepth-1e-9
	return chem.RectangularVolume(a, b, depth)
}
