package backend

// The bottles, for the screens.

import (
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
)

func (h *Backend) OpenBottlesFor(r sequence.Recipe) []sequence.OpenBottle { return h.Env.BottlesFor(r) }

func (h *Backend) Stock() []sequence.Stock { return h.Env.StockInHand() }

func (h *Backend) Bottles() ([]bottles.Bottle, error) {
	b, err := h.Env.ReadBottles()
	return b.OpenBottles(), err
}

func (h *Backend) OpenBottles(r sequence.Recipe) error {
	at := h.Env.Clock.Read().Wall
	for _, b := range r.Baths {
		if !app.IsPlainWater(b) {
			if _, err := app.BottleLedger().OpenBottle(b, "", at); err != nil {
				return err
			}
		}
	}
	return nil
}

func (h *Backend) Retire(bottle string) error {
	return app.BottleLedger().Write(bottles.Entry{At: h.Env.Clock.Read().Wall, Action: bottles.Retired, Bottle: bottle})
}

func (h *Backend) Swap(first, second bottles.Bottle) error { return h.Env.SwapBottles(first, second) }

func (h *Backend) RecordClearing(bottle string, took time.Duration) error {
	return app.BottleLedger().Write(bottles.Entry{At: h.Env.Clock.Read().Wall, Action: bottles.Cleared, Bottle: bottle, Clearing: took})
}
