package bottlescmd

// A bottle as wetside bottles --json gives it: what the ledger knows, as of now.

import (
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
)

// bottleJSON is a bottle as baths tells it to a script.
type bottleJSON struct {
	Name     string            `json:"name"`
	Bath     string            `json:"bath"`
	Parts    []chem.Part       `json:"parts"`
	Volume   *chem.Millilitres `json:"volume_ml"`
	Mixed    time.Time         `json:"mixed"`
	Age      sequence.Elapsed  `json:"age_s"` // negative where the clock was set back
	Life     *sequence.Elapsed `json:"working_life_s"`
	Stale    *bool             `json:"stale"`
	Area     float64           `json:"square_inches"`
	Sheets   float64           `json:"sheets"`        // of 4x5in
	Behind   float64           `json:"sheets_behind"` // that it fixed behind another fixer, on which they count
	Follower *string           `json:"followed_by"`   // the bottle that takes its place when it is spent
	Room     *float64          `json:"room_sheets"`
	OneShot  bool              `json:"one_shot"`
	Fresh    *sequence.Elapsed `json:"fresh_clearing_s"`
	Clearing *sequence.Elapsed `json:"clearing_s"`
	ByTime   *float64          `json:"room_by_clearing_sheets"` // in all, by its clearing times; of 4x5in
	Silver   *bool             `json:"silver_left"`             // by the last test for residual silver; null for none
	Longer   *float64          `json:"time_factor"`             // how many times as long it develops now, by its reuse; null where that is not said
	Added    *chem.Millilitres `json:"replenished_ml"`
	Owed     *chem.Millilitres `json:"replenish_ml"` // replenisher that it wants now
	Sessions []string          `json:"sessions"`
	Retired  *time.Time        `json:"retired"`
}

// asBottleJSON is a bottle for a script.
func asBottleJSON(p *app.Env, all bottles.Inventory, c bottles.Bottle) bottleJSON {
	now := p.Clock.Read().Wall
	k := c.OpenBottle(now)
	t := bottleJSON{Name: c.Name, Bath: c.Bath.ID, Parts: c.Bath.Parts, Volume: app.OrNull(k.Volume),
		Mixed: c.Mixed, Age: k.Age, Life: app.OrNull(k.WorkingLife),
		Area: c.Area, Sheets: c.Sheets(), Behind: c.SheetsBehind(), OneShot: c.Bath.OneShot,
		Fresh: app.OrNull(c.FreshClearing), Clearing: app.OrNull(c.Clearing),
		Sessions: append([]string{}, c.Sessions...), Retired: c.Retired}
	if second, ok := all.Successor(c); ok && c.Retired == nil && c.Area > 0 {
		t.Follower = &second.Name
	}
	if room, ok := k.Capacity(); ok {
		t.Room = &room
	}
	if k.WorkingLife > 0 && k.Age >= 0 {
		stale := k.Age > k.WorkingLife
		t.Stale = &stale
	}
	if by, ok := k.CapacityByClearing(); ok {
		t.ByTime = &by
	}
	if r := c.Bath.Reuse; r != nil && k.Volume > 0 {
		factor, _ := r.Factor(r.Unmade(k.SheetsDone, k.Replenished) / float64(k.Volume) * 1000)
		owed := r.Owed(k.SheetsDone, k.Replenished)
		t.Longer, t.Added, t.Owed = &factor, &k.Replenished, &owed
	}
	if c.SilverTest != nil {
		t.Silver = &c.SilverLeft
	}
	return t
}
