package backend

// The bottles, for the screens.

import (
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
)

// bottleLedger is the bottles of mixed baths and of stock.
type bottleLedger struct{ env *app.Env }

func (b bottleLedger) OpenBottlesFor(r sequence.Recipe) []sequence.OpenBottle {
	return b.env.BottlesFor(r)
}

func (b bottleLedger) Stock() []sequence.Stock { return b.env.StockInHand() }

func (b bottleLedger) Bottles() ([]bottles.Bottle, error) {
	all, err := b.env.ReadBottles()
	return all.OpenBottles(), err
}

func (b bottleLedger) OpenBottles(r sequence.Recipe) error {
	at := b.env.Clock.Read().Wall
	for _, bath := range r.Baths {
		if !app.IsPlainWater(bath) {
			if _, err := app.BottleLedger().OpenBottle(bath, "", at); err != nil {
				return err
			}
		}
	}
	return nil
}

func (b bottleLedger) Retire(bottle string) error {
	return app.BottleLedger().Write(bottles.Entry{At: b.env.Clock.Read().Wall, Action: bottles.Retired, Bottle: bottle})
}

func (b bottleLedger) Swap(first, second bottles.Bottle) error {
	return b.env.SwapBottles(first, second)
}

func (b bottleLedger) RecordClearing(bottle string, took time.Duration) error {
	return app.BottleLedger().Write(bottles.Entry{At: b.env.Clock.Read().Wall, Action: bottles.Cleared, Bottle: bottle, Clearing: took})
}

func (b bottleLedger) Replenish(bottle string, added sequence.Millilitres) error {
	return app.BottleLedger().Write(bottles.Entry{At: b.env.Clock.Read().Wall, Action: bottles.Replenished, Bottle: bottle, Volume: added})
}
