package sequence

// Stock in hand: what the baths that are mixed fresh take of each part, and from which
// bottle of it, against what is left there. A part of which no bottle is known is not
// looked at: nobody counts it.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/chem"
)

// InHand is a bottle of one part, as it was when the plan was made.
type InHand struct {
	Part   string           `json:"part"`
	Bottle string           `json:"bottle"` // what is written on it
	Left   chem.Millilitres `json:"left_ml"`
	Of     chem.Millilitres `json:"of_ml"` // what it held when it was opened
}

// Draw is what a part of one bath takes from one bottle. Where all bottles of the part
// together do not suffice the last one has what is lacking.
type Draw struct {
	Bath, Part, Bottle string
	Volume             chem.Millilitres
	Left               chem.Millilitres // in the bottle, before
	Lacking            chem.Millilitres // 0 where there is enough
}

// Uses lists the bottles whose part some bath is mixed from, in their order.
func (r *Recipe) Uses(all []InHand) []InHand {
	var list []InHand
	for _, s := range all {
		if slices.ContainsFunc(r.Baths, func(b Bath) bool {
			return slices.ContainsFunc(b.Parts, func(p chem.Part) bool { return strings.EqualFold(p.Name, s.Part) })
		}) {
			list = append(list, s)
		}
	}
	return list
}

// Draws is what the plan's baths that are mixed fresh take from the stock in hand.
func (p *Plan) Draws() []Draw {
	var fresh []Bath
	for i := range p.Recipe.Baths {
		b := p.Recipe.Baths[i]
		used := slices.ContainsFunc(p.Steps, func(st PlanStep) bool { return st.Bath == b.ID })
		if _, kept := p.Bottle(b.ID); used && !kept {
			fresh = append(fresh, b)
		}
	}
	return DrawsOf(fresh, p.Conditions.InHand)
}

// DrawsOf is what baths mixed one after the other take from bottles, of each part the
// first bottle first.
func DrawsOf(baths []Bath, stock []InHand) []Draw {
	stock = slices.Clone(stock)
	var list []Draw
	for i := range baths {
		for _, a := range baths[i].Amounts() {
			list = append(list, drawsOf(baths[i].ID, a, stock)...)
		}
	}
	return list
}

// drawsOf takes one amount from bottles, which have less afterwards.
func drawsOf(bath string, a chem.Amount, stock []InHand) []Draw {
	var list []Draw
	need := a.Volume
	for i := range stock {
		s := &stock[i]
		if !strings.EqualFold(s.Part, a.Name) || need <= 0 || s.Left <= 0 && len(list) > 0 {
			continue
		}
		d := Draw{Bath: bath, Part: a.Name, Bottle: s.Bottle, Volume: min(need, s.Left), Left: s.Left}
		s.Left -= d.Volume
		need -= d.Volume
		list = append(list, d)
	}
	if n := len(list); n > 0 && need > 0 {
		list[n-1].Lacking = need
	}
	return list
}

// Say is a draw in words: "A: 23.8 ml of the 116 ml in stock-a".
func (d Draw) Say(h Habits) string {
	line := fmt.Sprintf("%s: %s of the %s in %s", d.Part, h.Volume(d.Volume), h.Volume(d.Left), d.Bottle)
	if d.Lacking > 0 {
		line += ", SHORT by " + h.Volume(d.Lacking)
	}
	return line
}

// inHand warns of stock that does not suffice.
func (w *wary) inHand() {
	for _, d := range w.p.Draws() {
		if d.Lacking > 0 {
			w.add(Care, "stock-lacking", "%s: %s of %s is lacking: %s has %s left", d.Bath, w.h.Volume(d.Lacking), d.Part, d.Bottle, w.h.Volume(d.Left))
		}
	}
}
