package backend

// The exposed sheets that wait, for the screens.

import (
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/holders"
)

func (h *Backend) Sheets() ([]holders.ExposedSheet, []holders.Outcome, error) {
	return h.Env.ExposedSheets()
}

func (h *Backend) AddSheet(e holders.ExposedSheet) error { return app.ExposedSheetLists().Add(e) }

func (h *Backend) ReplaceSheet(from holders.ExposedSheet, to *holders.ExposedSheet) error {
	return app.ExposedSheetLists().Replace(from, to)
}
