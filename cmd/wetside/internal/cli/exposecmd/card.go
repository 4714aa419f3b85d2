package exposecmd

// A pocket card of exposures for one film.

import (
	"fmt"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/tui/page"
)

// cardMeteredTimes are the metered times of a card, in whole stops as shutters have them.
var cardMeteredTimes = []time.Duration{time.Second / 2, time.Second, 2 * time.Second, 4 * time.Second, 8 * time.Second, 15 * time.Second,
	30 * time.Second, time.Minute, 2 * time.Minute, 4 * time.Minute, 8 * time.Minute}

// printCard prints the card, or writes it as a page.
func printCard(p *app.Env, law reciprocity, x exposeFlags) error {
	if law.law == nil {
		return app.Usagef("a card needs a law; expected RECIPE, --table or --exponent")
	}
	c := page.ExposureCard{Source: law.source, Filter: x.filter, Longest: law.longest}
	for _, metered := range cardMeteredTimes {
		e, err := chem.Expose(metered, x.filter, 1, law.law)
		if err != nil {
			return err
		}
		c.Rows = append(c.Rows, page.ExposureRow{Metered: e.Metered, Exposure: e.Final, Stops: e.Stops,
			OutsideTests: e.OutsideTests || law.longest > 0 && e.Extended > law.longest})
	}
	if x.html != "" {
		return x.out.Write(x.html, []byte(page.ExposureCardHTML(c)))
	}
	_, err := fmt.Fprint(p.Out, app.CleanPage(page.ExposureCardText(c)))
	return err
}
