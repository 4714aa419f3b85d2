package planning

// Batches: more sheets than one session can take, as rounds. A round is as large as
// the vessel, the wet limit, the baths and the stock allow, and all are as even as can
// be; a bath is mixed fresh where it would be too old, or would have had its sheets.

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// RoundsOrder is what is to be done.
type RoundsOrder struct {
	Sheets      int              // in all
	MostInRound int              // most sheets in one round; 0: as many as the recipe loads
	Between     sequence.Elapsed // from the last sheet out of a round to the first sheet in of the next
	Stock       chem.Millilitres // of the developer's first part, in hand; 0: not told
	Over        int              // rounds that are over: what they took stands in the bottles
}

// BetweenRounds is the time between two rounds where none is told: to dry hands,
// hang film up, and load (our own rule).
const BetweenRounds = 10 * time.Minute

// RoundsPlan is an order in rounds.
type RoundsPlan struct {
	Rounds []Round           `json:"rounds"`
	Total  sequence.Elapsed  `json:"total_s"`    // from the first sheet in of the first to the last sheet out of the last
	Limit  sequence.Reason   `json:"limited_by"` // what keeps a round from being larger
	Why    string            `json:"why"`        // the same in words; empty until someone says it
	Stock  *chem.Millilitres `json:"stock_ml"`   // of the developer's first part; nil where not known
	Short  chem.Millilitres  `json:"lacking_ml"`
}

// Round is one session of them.
type Round struct {
	Sheets int               `json:"sheets"`
	Start  sequence.Elapsed  `json:"start_s"` // after the first sheet goes in of the first round
	Time   sequence.Elapsed  `json:"time_s"`  // first sheet in to last sheet out
	Wet    sequence.Elapsed  `json:"wet_s"`
	Margin *sequence.Elapsed `json:"margin_s"` // nil where no limit is known
	Baths  []RoundBath       `json:"baths"`
}

// RoundBath is one bath in one round.
type RoundBath struct {
	ID       string           `json:"id"`
	Fresh    bool             `json:"fresh"`
	Bottle   string           `json:"bottle,omitzero"`        // that it comes from; "" for none
	Cause    sequence.Reason  `json:"fresh_because,omitzero"` // why it is mixed fresh; none where it is not
	Why      string           `json:"why"`                    // the same in words; empty until someone says it
	Served   int              `json:"served"`                 // sheets it has had after the round, since it was fresh
	Capacity int              `json:"room"`                   // sheets that it can serve; 0 where not known
	Volume   chem.Millilitres `json:"volume_ml"`              // 0 where not given
	Stock    chem.Millilitres `json:"stock_ml"`               // of its first part, mixed for this round; 0 for none
}

// mostInStack is the most sheets shuffled in one tray (NAVEDTRA 14209 pp. 258-259: 6 to
// 12 with practice).
const mostInStack = 12

// DivideIntoRounds divides an order into rounds of a recipe under conditions, whose own number
// of sheets counts for nothing. The error says why not even one sheet can be planned.
func DivideIntoRounds(r sequence.Recipe, c sequence.Conditions, o RoundsOrder) (RoundsPlan, error) {
	if o.Sheets < 1 || o.Sheets > 1000 {
		return RoundsPlan{}, sequence.Refuse("order", sequence.Values{Sheets: o.Sheets})
	}
	if slices.ContainsFunc(r.Steps, func(st sequence.Step) bool { return len(st.PullTimes) > 0 }) {
		return RoundsPlan{}, sequence.Refuse("order-of-test", sequence.Values{})
	}
	most, why, err := largestRound(r, c, o)
	if err != nil {
		return RoundsPlan{}, err
	}
	b := RoundsPlan{Limit: why}
	n := (o.Sheets + most - 1) / most
	use := bathUse{recipe: r, state: map[string]*bathAge{}}
	for i := range n {
		c.Sheets = (o.Sheets + n - 1 - i) / n // the larger ones first
		start := b.Total
		if i > 0 {
			start += o.Between
		}
		p, f, err := use.planRound(c, start, i == o.Over)
		if err != nil {
			return RoundsPlan{}, err
		}
		p.Wet = schedule.WorstWet(&p, f)
		round := Round{Sheets: c.Sheets, Start: start, Time: p.Wet.Session, Wet: p.Wet.Total, Margin: p.Wet.Margin}
		round.Baths = use.forRound(&p, round.Start)
		b.Total = round.Start + round.Time
		b.Rounds = append(b.Rounds, round)
	}
	b.addUpStock(r, o)
	return b, nil
}

// largestRound is how many sheets one round takes, and what keeps it from taking more.
func largestRound(r sequence.Recipe, c sequence.Conditions, o RoundsOrder) (int, sequence.Reason, error) {
	cap, why := min(o.Sheets, r.Load.Sheets), sequence.Reason{Code: "recipe-load"}
	if o.MostInRound > 0 {
		cap, why = min(o.Sheets, o.MostInRound), sequence.Reason{Code: "asked-for"}
	}
	if cmp.Or(c.Vessel, r.Load.Vessel) == sequence.Tray && cap > mostInStack {
		cap, why = mostInStack, sequence.Reason{Code: "shuffle", Values: sequence.Values{Sheets: mostInStack}}
	}
	if cap == o.Sheets {
		why = sequence.Reason{Code: "all-fit"}
	}
	cap, why = limitByBaths(r, cap, why)
	var last error
	for n := cap; n >= 1; n-- {
		c.Sheets = n
		p, f, err := planTimes(r, c)
		if err != nil {
			last = err
			why = sequence.Reason{Code: "hand"}
			continue
		}
		wet := schedule.WorstWet(&p, f)
		switch {
		case wet.Margin == nil || *wet.Margin >= r.Film.WetWarning || n == 1 && *wet.Margin >= 0:
			return n, why, nil
		case n == 1:
			last = sequence.Refuse("one-sheet-too-wet", sequence.Values{Margin: *wet.Margin})
		}
		why = sequence.Reason{Code: "wet-limit"}
	}
	return 0, sequence.Reason{}, last
}

// draw takes the bottles that stand open, as they are at the start of a round.
func (u *bathUse) draw(p *sequence.Plan, start sequence.Elapsed) {
	for i := range u.recipe.Baths {
		b := &u.recipe.Baths[i]
		k := bottleFor(p, b)
		if k == nil {
			continue
		}
		const grain = 1e-9 // of a sheet
		share := chem.SheetArea / p.Recipe.Load.Size.SquareInches()
		was := &bathAge{sheets: int(math.Ceil(k.SheetsDone*share - grain)), since: start - max(0, k.Age), keeps: k.WorkingLife, bottle: k.Bottle}
		if room, known := k.Capacity(); known {
			was.room = max(1, int(math.Floor(room*share+grain)))
		}
		u.state[b.ID] = was
	}
}

// addUpStock adds up the first part of the developer, and what of it is lacking.
func (b *RoundsPlan) addUpStock(r sequence.Recipe, o RoundsOrder) {
	i := slices.IndexFunc(r.Steps, func(st sequence.Step) bool { return st.Kind == sequence.Develop && st.Bath != "" })
	var sum chem.Millilitres
	for _, round := range b.Rounds {
		for _, bath := range round.Baths {
			if i >= 0 && bath.ID == r.Steps[i].Bath {
				sum += bath.Stock
			}
		}
	}
	if sum == 0 {
		return
	}
	b.Stock = &sum
	if o.Stock > 0 {
		b.Short = max(0, sum-o.Stock)
	}
}
