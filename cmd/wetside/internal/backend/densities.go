package backend

// Readings of densities, and the recipes that they lead to, for the screens.

import (
	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/densities"
)

func (h *Backend) Densities() []densities.ReadingsFile { return app.Densities().List() }

func (h *Backend) Tablets() []densities.Tablet { return app.Densities().Tablets() }

func (h *Backend) NameDensities(film string) string {
	return app.Densities().NewName(h.Env.Clock.Read().Wall, film)
}

func (h *Backend) KeepDensities(name string, r *curve.Readings) error {
	return app.Densities().Save(name, r)
}
