package densities

// Calibrated step tablets, kept beside the readings.

import (
	"os"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/journal"
)

// tabletSuffix ends the names of calibrated step tablets, kept beside the readings.
const tabletSuffix = ".tablet.csv"

// Tablet is a calibrated step tablet.
type Tablet struct {
	Name  string
	Steps []curve.Density
}

// Tablets lists the calibrated tablets that can be read: CSV with a column tablet.
func (d Store) Tablets() (list []Tablet) {
	entries, err := os.ReadDir(d.Folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), tabletSuffix)
		if !ok || !journal.IsID(name) || !e.Type().IsRegular() {
			continue
		}
		data, err := d.read(e.Name())
		if err != nil {
			continue
		}
		if steps, err := curve.ReadTablet(e.Name(), data, ""); err == nil {
			list = append(list, Tablet{name, steps})
		}
	}
	return list
}
