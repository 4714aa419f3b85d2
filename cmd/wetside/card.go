package main

// A pocket card of exposures for one film, and the law that one's own tests tell.

import (
	"fmt"
	"os"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/tui/page"
)

// cardTimes are the metered times of a card, in whole stops as shutters have them.
var cardTimes = []time.Duration{time.Second / 2, time.Second, 2 * time.Second, 4 * time.Second, 8 * time.Second, 15 * time.Second,
	30 * time.Second, time.Minute, 2 * time.Minute, 4 * time.Minute, 8 * time.Minute}

// showCard prints the card, or writes it as a page.
func (p *program) showCard(law namedLaw, x exposing) error {
	if law.law == nil {
		return usage("a card needs a law; expected RECIPE, --table, --exponent or --tests")
	}
	c := page.Card{Of: law.of, Filter: x.filter, Longest: max(law.longest, law.tested)}
	for _, metered := range cardTimes {
		e, err := chem.Expose(metered, x.filter, 1, law.law)
		if err != nil {
			return err
		}
		c.Rows = append(c.Rows, page.CardRow{Metered: e.Metered, Exposure: e.Final, Stops: e.Stops,
			Beyond: law.beyond(e) || law.longest > 0 && e.Extended > law.longest})
	}
	if x.html != "" {
		return os.WriteFile(x.html, []byte(page.CardHTML(c)), 0o600)
	}
	_, err := fmt.Fprint(p.out, cleaned(page.CardText(c)))
	return err
}

// lawTold is a fitted law for a script.
type lawTold struct {
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

// showLaw tells the law that tests tell.
func (p *program) showLaw(law namedLaw, asJSON bool) error {
	f := *law.fit
	if asJSON {
		t := lawTold{Exponent: float64(f.P), Low: f.PInterval.Low, High: f.PInterval.High, Scatter: f.PScatter,
			Prefers: orNull(f.Prefers), Confidence: f.Confidence}
		if f.Kron != nil {
			t.KronA, t.KronLow, t.KronHigh = &f.Kron.A, &f.KInterval.Low, &f.KInterval.High
			t.KronFrom, t.KronScat = &f.Kron.T0, &f.KScatter
		}
		return p.json(t)
	}
	fmt.Fprintf(p.out, "constant exponent %.3f (%.3f to %.3f with %.0f %% confidence), the tests scatter by %.2f stops about it\n",
		float64(f.P), f.PInterval.Low, f.PInterval.High, 100*f.Confidence, f.PScatter)
	if f.Kron != nil {
		fmt.Fprintf(p.out, "two-parameter law: a %.3f (%.3f to %.3f), nothing lost up to %.3g s; in weak light the exponent %.3f; scatter %.2f stops\n",
			f.Kron.A, f.KInterval.Low, f.KInterval.High, f.Kron.T0.Seconds(), 1/(1+f.Kron.A), f.KScatter)
	}
	switch f.Prefers {
	case "two-parameter":
		fmt.Fprintln(p.out, "the tests prefer the two-parameter law; --metered goes by it")
	case "exponent":
		fmt.Fprintln(p.out, "the tests prefer the constant exponent; --metered goes by it")
	default:
		fmt.Fprintln(p.out, "the tests do not tell the two laws apart; --metered goes by the exponent. More tests at longer times tell")
	}
	if law.note != "" {
		fmt.Fprintln(p.out, "note: "+law.note)
	}
	return nil
}
