package sequence

// Batches: more sheets than one session can take, as rounds. A round is as large as
// the vessel, the wet limit, the baths and the stock allow, and all are as even as can
// be; a bath is mixed fresh where it would be too old, or would have had its sheets.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.org/wetside/chem"
)

// BatchOrder is what is to be done.
type BatchOrder struct {
	Sheets  int              // in all
	AtOnce  int              // most sheets in one round; 0: as many as the recipe loads
	Between Elapsed          // from the last lift of a round to the first dip of the next
	Stock   chem.Millilitres // of the developer's first part, in hand; 0: not told
	Over    int              // rounds that are over: what they took stands in the bottles
}

// BetweenRounds is the time between two rounds where none is told: to dry hands,
// hang film up, and load (our own rule).
const BetweenRounds = 10 * time.Minute

// Batches is an order in rounds.
type Batches struct {
	Rounds  []Round           `json:"rounds"`
	Total   Elapsed           `json:"total_s"`  // from the first dip of the first to the last lift of the last
	Why     string            `json:"why"`      // what keeps a round from being larger
	Stock   *chem.Millilitres `json:"stock_ml"` // of the developer's first part; nil where not known
	Lacking chem.Millilitres  `json:"lacking_ml"`
}

// Round is one session of them.
type Round struct {
	Sheets int         `json:"sheets"`
	Start  Elapsed     `json:"start_s"` // after the first dip of the first round
	Time   Elapsed     `json:"time_s"`  // first dip to last lift
	Wet    Elapsed     `json:"wet_s"`
	Margin *Elapsed    `json:"margin_s"` // nil where no limit is known
	Baths  []RoundBath `json:"baths"`
}

// RoundBath is one bath in one round.
type RoundBath struct {
	ID     string           `json:"id"`
	Fresh  bool             `json:"fresh"`
	Bottle string           `json:"bottle,omitzero"` // that it comes from; "" for none
	Why    string           `json:"why"`             // why it is mixed fresh; "" where it is not
	Served int              `json:"served"`          // sheets it has had after the round, since it was fresh
	Room   int              `json:"room"`            // sheets that it can serve; 0 where not known
	Volume chem.Millilitres `json:"volume_ml"`       // 0 where not given
	Stock  chem.Millilitres `json:"stock_ml"`        // of its first part, mixed for this round; 0 for none
}

// mostInStack is the most sheets shuffled in one tray (NAVEDTRA 14209 pp. 258-259: 6 to
// 12 with practice).
const mostInStack = 12

// Batch divides an order into rounds of a recipe under conditions, whose own number
// of sheets counts for nothing. The error says why not even one sheet can be planned.
func Batch(r Recipe, c Conditions, o BatchOrder) (Batches, error) {
	if o.Sheets < 1 || o.Sheets > 1000 {
		return Batches{}, fmt.Errorf("sheets: %d in all; expected 1 to 1000", o.Sheets)
	}
	for _, st := range r.Steps {
		if len(st.TakeOut) > 0 {
			return Batches{}, errors.New("a film test has a sheet for each of its times; expected a recipe for any number of sheets")
		}
	}
	most, why, err := largest(r, c, o)
	if err != nil {
		return Batches{}, err
	}
	b := Batches{Why: why}
	n := (o.Sheets + most - 1) / most
	use := usage{recipe: r, state: map[string]*served{}}
	for i := range n {
		c.Sheets = (o.Sheets + n - 1 - i) / n // the larger ones first
		p, f, err := timed(r, c)
		if err != nil {
			return Batches{}, err
		}
		p.Wet = tally(&p, f)
		round := Round{Sheets: c.Sheets, Start: b.Total, Time: p.Wet.Session, Wet: p.Wet.Total, Margin: p.Wet.Margin}
		if i > 0 {
			round.Start += o.Between
		}
		if i == o.Over {
			use.draw(&p, round.Start)
		}
		round.Baths = use.round(&p, round.Start)
		b.Total = round.Start + round.Time
		b.Rounds = append(b.Rounds, round)
	}
	b.stock(r, o)
	return b, nil
}

// largest is how many sheets one round takes, and what keeps it from taking more.
func largest(r Recipe, c Conditions, o BatchOrder) (int, string, error) {
	cap, why := min(o.Sheets, r.Load.Sheets), "the recipe loads no more at once"
	if o.AtOnce > 0 {
		cap, why = min(o.Sheets, o.AtOnce), "no more were asked for at once"
	}
	v := r.Load.Vessel
	if c.Vessel != "" {
		v = c.Vessel
	}
	if v == Tray && cap > mostInStack {
		cap, why = mostInStack, fmt.Sprintf("%d sheets are as many as a hand shuffles (NAVEDTRA 14209 pp. 258-259)", mostInStack)
	}
	if cap == o.Sheets {
		why = "all fit into one"
	}
	cap, why = bathRoom(r, cap, why)
	var last error
	for n := cap; n >= 1; n-- {
		c.Sheets = n
		p, f, err := timed(r, c)
		if err != nil {
			last = err
			why = "the hand could not serve more"
			continue
		}
		wet := tally(&p, f)
		switch {
		case wet.Margin == nil || *wet.Margin >= r.Film.WetWarning || n == 1 && *wet.Margin >= 0:
			return n, why, nil
		case n == 1:
			last = fmt.Errorf("even a single sheet is wet for %s too long; expected a plan under its limit: shorten it first", Clock(-*wet.Margin))
		}
		why = "more would be wet for longer than the film's limit less its warning"
	}
	return 0, "", last
}

// bathRoom lowers a number of sheets to what one fill of each bath serves.
func bathRoom(r Recipe, n int, why string) (int, string) {
	for i := range r.Baths {
		b := &r.Baths[i]
		if room := r.room(b); room > 0 && room < n {
			n, why = room, fmt.Sprintf("%.4g ml of %s serves no more", float64(b.Volume), b.ID)
		}
	}
	return n, why
}

// room is how many of the recipe's sheets a fresh fill of a bath serves, by its
// capacity and by the stock in it; 0 where neither is known, 1 at least.
func (r *Recipe) room(b *Bath) int {
	area, room := r.Load.Size.SquareInches(), 0
	if n, err := chem.Capacity(b.Volume, b.SheetsPerLitre, area); err == nil {
		room = max(1, n)
	}
	have, known := chem.StockIn(b.Parts, b.Volume)
	each, asked := chem.StockFor(1, area, b.StockPerSheet)
	if known == nil && asked == nil {
		n := max(1, int(math.Floor(float64(have/each)+1e-9)))
		if room == 0 || n < room {
			room = n
		}
	}
	return room
}

// usage follows the baths through the rounds.
type usage struct {
	recipe Recipe
	state  map[string]*served
}

// served is a bath since it was fresh.
type served struct {
	sheets int
	since  Elapsed // when it was mixed: at the start of a round, or before the first
	room   int     // sheets that it can serve; 0 where not known
	keeps  Elapsed // 0 where not known
	bottle string  // that it comes from; "" where it was mixed for a round
}

// draw takes the bottles that stand open, as they are at the start of a round.
func (u *usage) draw(p *Plan, start Elapsed) {
	for i := range u.recipe.Baths {
		b := &u.recipe.Baths[i]
		k := p.kept(b)
		if k == nil {
			continue
		}
		const grain = 1e-9 // of a sheet
		share := chem.SheetArea / p.Recipe.Load.Size.SquareInches()
		was := &served{sheets: int(math.Ceil(k.Done*share - grain)), since: start - max(0, k.Age), keeps: k.Keeps, bottle: k.Bottle}
		if room, known := k.Room(); known {
			was.room = max(1, int(math.Floor(room*share+grain)))
		}
		u.state[b.ID] = was
	}
}

// round uses the baths for one round.
func (u *usage) round(p *Plan, start Elapsed) []RoundBath {
	var list []RoundBath
	for i := range u.recipe.Baths {
		b := &u.recipe.Baths[i]
		last := p.lastUse(b.ID)
		if last == 0 {
			continue
		}
		was := u.state[b.ID]
		rb := RoundBath{ID: b.ID, Volume: b.Volume, Why: stale(b, was, p.Sheets, start+last, develops(p, b.ID))}
		if rb.Why != "" {
			was, rb.Fresh = &served{since: start, room: u.recipe.room(b), keeps: b.TrayLife}, true
			u.state[b.ID] = was
			if have, err := chem.StockIn(b.Parts, b.Volume); err == nil && len(b.Parts) > 1 {
				rb.Stock = have
			}
		}
		was.sheets += p.Sheets
		rb.Served, rb.Room, rb.Bottle = was.sheets, was.room, was.bottle
		list = append(list, rb)
	}
	return list
}

// stale is why a bath must be mixed fresh before it serves n more sheets until a
// moment; "" where it need not.
func stale(b *Bath, was *served, n int, until Elapsed, develops bool) string {
	switch {
	case was == nil:
		return "the first round"
	case b.onlyWater():
		return "water is fresh in each round"
	case b.OneShot && was.sheets > 0:
		return "it is for one session"
	case was.room > 0 && was.sheets+n > was.room:
		return fmt.Sprintf("it has had %d of %d sheets", was.sheets, was.room)
	case was.keeps > 0 && until-was.since > was.keeps:
		return "it would be older than " + LongTime(was.keeps)
	case develops && was.room == 0 && was.sheets > 0:
		return "how many sheets it serves is not known"
	}
	return ""
}

// onlyWater reports whether a bath is water and nothing else.
func (b *Bath) onlyWater() bool {
	return len(b.Parts) > 0 && !slices.ContainsFunc(b.Parts, func(p chem.Part) bool { return !named(p, "water") })
}

// develops reports whether a bath is a developer.
func develops(p *Plan, bath string) bool {
	for i := range p.Steps {
		if p.Steps[i].Bath == bath && p.Steps[i].Kind == Develop {
			return true
		}
	}
	return false
}

// stock adds up the first part of the developer, and what of it is lacking.
func (b *Batches) stock(r Recipe, o BatchOrder) {
	developer := ""
	for _, st := range r.Steps {
		if st.Kind == Develop && developer == "" {
			developer = st.Bath
		}
	}
	var sum chem.Millilitres
	for _, round := range b.Rounds {
		for _, bath := range round.Baths {
			if bath.ID == developer {
				sum += bath.Stock
			}
		}
	}
	if sum == 0 {
		return
	}
	b.Stock = &sum
	if o.Stock > 0 {
		b.Lacking = max(0, sum-o.Stock)
	}
}
