package tui

// Densities: the readings kept so far, to go on with or to see their curves, and new
// ones.

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
)

// DensityStore is where readings of densities are kept, and where the recipes go that they
// lead to.
type DensityStore interface {
	Densities() []densities.ReadingsFile // newest first
	Tablets() []densities.Tablet         // calibrated ones
	NameDensities(film string) string    // for new readings
	// KeepDensities has them on disk when it returns.
	KeepDensities(name string, r *curve.Readings) error
	// KeepRecipe writes a recipe among the person's own, never over another, and
	// tells its name.
	KeepRecipe(sequence.Recipe) (name string, err error)
}

// densitiesModel is the list. The first line is for new readings.
type densitiesModel struct {
	noInput
	noMessages
	kept []densities.ReadingsFile
	at   int
}

func (densitiesModel) id() screenID { return densitiesScreen }

func (m Model) enterDensities() Model { return m.enter(densitiesModel{kept: m.o.Backend.Densities()}) }

// Refresh puts the cursor on readings that were begun meanwhile, else leaves it where
// it was.
func (d densitiesModel) Refresh(host Backend) subscreen {
	was, name := len(d.kept), ""
	if d.at > 0 {
		name = d.kept[d.at-1].Name
	}
	d.kept = host.Densities()
	if name != "" || len(d.kept) > was {
		d.at = 1 + max(0, slices.IndexFunc(d.kept, func(k densities.ReadingsFile) bool { return k.Name == name }))
	}
	d.at = min(d.at, len(d.kept))
	return d
}

func (d densitiesModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	switch actionOf(densitiesScreen, key) {
	case up:
		d.at = max(0, d.at-1)
	case down:
		d.at = min(len(d.kept), d.at+1)
	case enter:
		return d.open(m, false), nil
	case curves:
		return d.open(m, true), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m.changed(d), nil
}

// open goes on with the readings under the cursor, or shows their curves.
func (d densitiesModel) open(m Model, drawn bool) Model {
	if d.at == 0 {
		if drawn {
			return m.showError("choose readings first; enter begins new ones")
		}
		return m.enter(newReadingSetup(m.o.Backend, ""))
	}
	k := d.kept[d.at-1]
	if k.Err != nil {
		return m.showError(k.Err.Error())
	}
	r := newReadings(k.Name, k.Readings)
	m = m.enter(r)
	if drawn {
		m = r.curves(m)
	}
	return m
}

func (d densitiesModel) draw(g grid, f frame) {
	g.text(f.head, "Densities", strong)
	l := listOf(f.body, len(d.kept)+1).stripless(f.body)
	g.listed(l.list, len(d.kept)+1, d.at, d.line)
	g.paragraphs(l.about, d.about())
}

func (d densitiesModel) line(i int) (string, string, brightness) {
	if i == 0 {
		return "new readings", "", text
	}
	k := d.kept[i-1]
	day := k.Day()
	if k.Err != nil {
		return k.Name, "cannot be read, " + day, dim
	}
	return filmOf(k), day, text
}

// filmOf is the film, or the name where no film is told.
func filmOf(k densities.ReadingsFile) string {
	if k.Readings.Film != "" {
		return k.Readings.Film
	}
	return k.Name
}

// about is what is told of the line under the cursor.
func (d densitiesModel) about() []prepLine {
	if d.at == 0 {
		return []prepLine{{"Densities off step-tablet negatives, typed step after step: their curves tell the film's speed, its contrast and the right developing time.", dim}}
	}
	k := d.kept[d.at-1]
	if k.Err != nil {
		return []prepLine{{k.Err.Error(), strong}}
	}
	list := []prepLine{{k.Name, dim}}
	for i, s := range k.Readings.Sheets {
		list = append(list, prepLine{fmt.Sprintf("%s: %d of %d steps", sheetName(&k.Readings, i), s.Count(), len(s.Steps)), text})
	}
	if k.Readings.Session != "" {
		list = append(list, prepLine{"session " + k.Readings.Session, dim})
	}
	return list
}

// sheetName is a sheet's developing time, and its number in the session.
func sheetName(r *curve.Readings, k int) string {
	s := r.Sheets[k]
	if s.Sheet > 0 {
		return fmt.Sprintf("sheet %d, %s", s.Sheet, sequence.FormatElapsed(s.Time))
	}
	return sequence.FormatElapsed(s.Time)
}
