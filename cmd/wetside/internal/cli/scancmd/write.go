package scancmd

// Readings of a picture, kept beside those that were typed.

import (
	"fmt"
	"os"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/scan"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// write keeps the readings under a name that is not taken.
func (e *scanFlags) write(p *app.Env, all []densities.ReadPicture, tablet []float64, channel scan.Channel) error {
	strips := 0
	for _, one := range all {
		strips += len(one.Result.Strips)
	}
	sheets, err := e.stripSheets(strips)
	if err != nil {
		return err
	}
	r, left := densities.PictureReadings{Pictures: all, Tablet: tablet, Film: e.film, Session: e.session, Channel: channel, Sheets: sheets,
		KeepSpotted: e.keepSpotted, Day: p.Clock.Read().Wall}.Readings()
	store := app.Densities()
	if !journal.IsID(e.writeName) {
		return app.Usagef("--write: %q; expected a name of letters, digits and hyphens", e.writeName)
	}
	if _, err := os.Lstat(store.Path(e.writeName)); err == nil {
		return fmt.Errorf("%s is there already; choose another name", store.Path(e.writeName))
	}
	if err := store.Save(e.writeName, &r); err != nil {
		return err
	}
	if !e.asJSON {
		fmt.Fprintf(p.Out, "Kept as %s; %d of %d patches left out\n\n", store.Path(e.writeName), left, strips*len(tablet))
	}
	return nil
}

// stripSheets are the sheets on the strips, one for each: of the session that was named, by the times
// that were planned or in its own order; else of the times typed.
func (e *scanFlags) stripSheets(strips int) (list []notebook.SheetDevelopment, err error) {
	times, err := e.stripTimes(strips)
	if err != nil {
		return nil, err
	}
	if e.session == "" {
		for _, t := range times {
			list = append(list, notebook.SheetDevelopment{Planned: t, Actual: t})
		}
		return list, nil
	}
	session, err := notebook.Open(journal.Default(), e.session)
	if err != nil {
		return nil, err
	}
	if e.session = session.ID; e.film == "" {
		e.film = session.Film
	}
	sheets := session.Developed()
	if e.times == "" {
		if len(sheets) != strips {
			return nil, fmt.Errorf("session %s developed %d sheets, and %d strips were read; --times says which they are, as they were planned", session.ID, len(sheets), strips)
		}
		return sheets, nil
	}
	return densities.Match(times, nil, sheets)
}

// stripTimes are the developing times typed, one for each strip; nil where a session tells them.
func (e *scanFlags) stripTimes(strips int) (list []time.Duration, err error) {
	if e.times == "" {
		return nil, nil
	}
	words := strings.Split(e.times, ",")
	if len(words) != strips {
		return nil, app.Usagef("--times: %d times for %d strips; expected one for each, left to right or top to bottom", len(words), strips)
	}
	for _, w := range words {
		d, err := chem.ParseDuration(strings.TrimSpace(w))
		if err != nil {
			return nil, app.Usagef("--times: %v", err)
		}
		list = append(list, d)
	}
	return list, nil
}
