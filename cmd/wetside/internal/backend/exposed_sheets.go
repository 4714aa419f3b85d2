package backend

// The exposed sheets that wait, for the screens.

import (
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/holders"
)

// exposedSheets are the sheets that wait in their holders.
type exposedSheets struct{ env *app.Env }

func (s exposedSheets) Sheets() ([]holders.ExposedSheet, []holders.Outcome, error) {
	return s.env.ExposedSheets()
}

func (s exposedSheets) AddSheet(e holders.ExposedSheet) error { return app.ExposedSheetLists().Add(e) }

func (s exposedSheets) ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error {
	return app.ExposedSheetLists().Replace(from, to)
}
