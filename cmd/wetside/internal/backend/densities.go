package backend

// Readings of densities, and the recipes that they lead to, for the screens.

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
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

// Pictures are those of a folder, "" for where the program was started, and the tablets for them.
func (d densityReadings) Pictures(folder string) densities.PictureFolder {
	const mostTables = 200 // looked into
	folder = strings.TrimSpace(folder)
	if rest, ok := strings.CutPrefix(folder, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			folder = filepath.Join(home, rest)
		}
	}
	f := densities.PictureFolder{Path: folder, Tablets: d.Tablets()}
	at := folder
	if at == "" {
		at = "."
	}
	entries, err := os.ReadDir(at)
	if err != nil {
		f.Err = err
		return f
	}
	tables := 0
	for _, e := range entries {
		if !e.Type().IsRegular() {
			continue
		}
		switch ending := strings.ToLower(filepath.Ext(e.Name())); {
		case slices.Contains([]string{".png", ".tif", ".tiff", ".jpg", ".jpeg"}, ending):
			f.Pictures = append(f.Pictures, e.Name())
		case (ending == ".csv" || ending == ".txt") && tables < mostTables:
			tables++
			if steps, err := app.ReadTablet(filepath.Join(folder, e.Name())); err == nil && len(steps) > 0 {
				t := densities.Tablet{Name: e.Name()}
				for _, s := range steps {
					t.Steps = append(t.Steps, curve.Density(s))
				}
				f.Tablets = append(f.Tablets, t)
			}
		}
	}
	return f
}

func (d densityReadings) OpenPicture(path string) (*scan.Picture, densities.PictureFile, error) {
	return app.OpenPicture(path)
}
