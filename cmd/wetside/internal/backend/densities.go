package backend

// Readings of densities, and the recipes that they lead to, for the screens.

import (
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/densities"
)

// densityReadings are the readings of densities that are kept.
type densityReadings struct{ env *app.Env }

func (d densityReadings) Densities() []densities.ReadingsFile { return app.Densities().List() }

func (d densityReadings) Tablets() []densities.Tablet { return app.Densities().Tablets() }

func (d densityReadings) NameDensities(film string) string {
	return app.Densities().NewName(d.env.Clock.Read().Wall, film)
}

func (d densityReadings) KeepDensities(name string, r *curve.Readings) error {
	return app.Densities().Save(name, r)
}
