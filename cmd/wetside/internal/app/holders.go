package app

// The exposed sheets on this person's lists, and what became of each.

import (
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// ExposedSheets are all sheets with what became of them.
func (p *Env) ExposedSheets() ([]holders.ExposedSheet, []holders.Outcome, error) {
	list, err := ExposedSheetLists().List()
	if err != nil {
		return nil, nil, err
	}
	return list, holders.Outcomes(list, notebook.List(journal.Default())), nil
}

// WaitingSheets are the sheets that have had no session.
func (p *Env) WaitingSheets() ([]holders.ExposedSheet, error) {
	list, fates, err := p.ExposedSheets()
	var waiting []holders.ExposedSheet
	for i := range list {
		if fates[i].Session == "" {
			waiting = append(waiting, list[i])
		}
	}
	return waiting, err
}
