package planning

// Stock in hand: what the baths that are mixed fresh take of each part, and from which
// bottle of it, against what is left there. A part of which no bottle is known is not
// looked at: nobody counts it.

import (
	"slices"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// StockUsed lists the bottles whose part some bath is mixed from, in their order.
func StockUsed(r *sequence.Recipe, all []sequence.Stock) []sequence.Stock {
	var list []sequence.Stock
	for _, s := range all {
		if slices.ContainsFunc(r.Baths, func(b sequence.Bath) bool {
			return slices.ContainsFunc(b.Parts, func(p chem.Part) bool { return strings.EqualFold(p.Name, s.Part) })
		}) {
			list = append(list, s)
		}
	}
	return list
}

// Withdrawals is what the plan's baths that are mixed fresh take from the stock in hand.
func Withdrawals(p *sequence.Plan) []sequence.Withdrawal {
	var fresh []sequence.Bath
	for i := range p.Recipe.Baths {
		b := p.Recipe.Baths[i]
		used := slices.ContainsFunc(p.Steps, func(st sequence.PlanStep) bool { return st.Bath == b.ID })
		if _, kept := p.OpenBottle(b.ID); used && !kept {
			fresh = append(fresh, b)
		}
	}
	return WithdrawalsFor(fresh, p.Conditions.Stock)
}

// WithdrawalsFor is what baths mixed one after the other take from bottles, of each part the
// first bottle first.
func WithdrawalsFor(baths []sequence.Bath, stock []sequence.Stock) []sequence.Withdrawal {
	stock = slices.Clone(stock)
	var list []sequence.Withdrawal
	for i := range baths {
		for _, a := range baths[i].Amounts() {
			list = append(list, withdraw(baths[i].ID, a, stock)...)
		}
	}
	return list
}

// withdraw takes one amount from bottles, which have less afterwards.
func withdraw(bath string, a chem.Amount, stock []sequence.Stock) []sequence.Withdrawal {
	var list []sequence.Withdrawal
	need := a.Volume
	for i := range stock {
		s := &stock[i]
		if !strings.EqualFold(s.Part, a.Name) || need <= 0 || s.Left <= 0 && len(list) > 0 {
			continue
		}
		d := sequence.Withdrawal{Bath: bath, Part: a.Name, Bottle: s.Bottle, Volume: min(need, s.Left), Left: s.Left}
		s.Left -= d.Volume
		need -= d.Volume
		list = append(list, d)
	}
	if n := len(list); n > 0 && need > 0 {
		list[n-1].Short = need
	}
	return list
}

// stockShort warns of stock that does not suffice.
func (w *cautionBuilder) stockShort() {
	for _, d := range Withdrawals(w.p) {
		if d.Short > 0 {
			w.add(sequence.Care, "stock-lacking", sequence.Values{Bath: d.Bath, Part: d.Part, Bottle: d.Bottle, Need: d.Short, Volume: d.Left})
		}
	}
}
