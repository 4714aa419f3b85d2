package exposecmd

// A pocket card of exposures for one film, and the law that one's own tests tell.

import (
	"fmt"
	"os"
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
		return app.Usagef("a card needs a law; expected RECIPE, --table, --exponent or --tests")
	}
	c := page.ExposureCard{Source: law.source, Filter: x.filter, Longest: max(law.longest, law.tested)}
	for _, metered := range cardMeteredTimes {
		e, err := chem.Expose(metered, x.filter, 1, law.law)
		if err != nil {
			return err
		}
		c.Rows = append(c.Rows, page.ExposureRow{Metered: e.Metered, Exposure: e.Final, Stops: e.Stops,
			OutsideTests: law.extrapolates(e) || law.longest > 0 && e.Extended > law.longest})
	}
	if x.html != "" {
		return os.WriteFile(x.html, []byte(page.ExposureCardHTML(c)), 0o600)
	}
	_, err := fmt.Fprint(p.Out, app.CleanPage(page.ExposureCardText(c)))
	return err
}

// reciprocityFitJSON is a fitted law for a script.
type reciprocityFitJSON struct {
	Exponent   float64        `json:"exponent"`
	Low        float64        `json:"exponent_low"`
	High       float64        `json:"exponent_high"`
	Scatter    float64        `json:"exponent_scatter_stops"`
	KronA      *float64       `json:"two_parameter_a"`
	KronLow    *float64       `json:"two_parameter_a_low"`
	KronHigh   *float64       `json:"two_parameter_a_high"`
	KronFrom   *time.Duration `json:"two_parameter_from_s"`
	KronScat   *float64       `json:"two_parameter_scatter_stops"`
	Prefers    *string        `json:"prefers"`
	Confidence float64        `json:"confidence"`
}

// printReciprocityFit tells the law that tests tell.
func printReciprocityFit(p *app.Env, law reciprocity, asJSON bool) error {
	f := *law.fit
	if asJSON {
		t := reciprocityFitJSON{Exponent: float64(f.Exponent), Low: f.ExponentInterval.Low, High: f.ExponentInterval.High, Scatter: f.ExponentScatter,
			Prefers: app.NilIfEmpty(f.Preferred), Confidence: f.Confidence}
		if f.Kron != nil {
			t.KronA, t.KronLow, t.KronHigh = &f.Kron.A, &f.KronInterval.Low, &f.KronInterval.High
			t.KronFrom, t.KronScat = &f.Kron.T0, &f.KronScatter
		}
		return p.WriteJSON(t)
	}
	fmt.Fprintf(p.Out, "constant exponent %.3f (%.3f to %.3f with %.0f %% confidence), the tests scatter by %.2f stops about it\n",
		float64(f.Exponent), f.ExponentInterval.Low, f.ExponentInterval.High, 100*f.Confidence, f.ExponentScatter)
	if f.Kron != nil {
		fmt.Fprintf(p.Out, "two-parameter law: a %.3f (%.3f to %.3f), nothing lost up to %.3g s; in weak light the exponent %.3f; scatter %.2f stops\n",
			f.Kron.A, f.KronInterval.Low, f.KronInterval.High, f.Kron.T0.Seconds(), 1/(1+f.Kron.A), f.KronScatter)
	}
	switch f.Preferred {
	case "two-parameter":
		fmt.Fprintln(p.Out, "the tests prefer the two-parameter law; --metered goes by it")
	case "exponent":
		fmt.Fprintln(p.Out, "the tests prefer the constant exponent; --metered goes by it")
	default:
		fmt.Fprintln(p.Out, "the tests do not tell the two laws apart; --metered goes by the exponent. More tests at longer times tell")
	}
	if law.note != "" {
		fmt.Fprintln(p.Out, "note: "+law.note)
	}
	return nil
}
