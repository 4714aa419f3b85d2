package cli

// The film's own time, from all that is known of it, beside what is planned.

import (
	"strings"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// filmOffer is the film's time for a plan; nil where nothing is known.
func filmOffer(plan *sequence.Plan) *film.Offer {
	return film.OfferTime(app.Films().Collect(plan.Recipe.Film.Name), plan, nil)
}

// filmTimeText is an offer on lines of its own, with how a plan takes it; "" for none.
func filmTimeText(p *app.Env, offer *film.Offer) string {
	if offer == nil {
		return ""
	}
	text, from := say.FilmTime(offer, p.Settings.Habits)
	if text += " " + from; offer.Factor != nil {
		text += " --factor " + say.Factor(*offer.Factor) + " takes the film's."
	}
	return strings.Join(widget.Wrap(text, p.Width()), "\n") + "\n"
}
