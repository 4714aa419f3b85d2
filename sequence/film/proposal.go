package film

// Which sheets to test next, from the same belief as the page.

import (
	"math"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/sequence"
)

// Proposal is which sheets of a test would say most of a film's time, beside the usual series.
type Proposal struct {
	Temperature sequence.Celsius `json:"temperature_c"`
	Next        []NextSheet      `json:"next"`
	Usual       []NextSheet      `json:"usual"`
	Enough      bool             `json:"enough"`  // sessions differ by more than the film is in doubt
	Guessed     bool             `json:"guessed"` // nothing is known: the guess counts as a borrowed time
}

// ProposeSheets proposes as many sheets as a film test's plan has, in its handling and at its recipe's temperature.
func ProposeSheets(known []Known, test *sequence.Plan, guess time.Duration) Proposal {
	k, step := knownFor(known, test)
	if k == nil {
		return Proposal{Next: []NextSheet{}, Usual: []NextSheet{}}
	}
	st, at := &test.Steps[step], growthbelief.Reference
	if by := st.TimeByTemperature; by != nil {
		at = by.At
	}
	e := k.evidence(usualAim)
	guessed := len(e.Tests)+len(e.Sessions)+len(e.Borrowed) == 0
	if guessed {
		e.Borrowed = []growthbelief.Borrowed{{Time: guess, Temperature: at, Wanted: usualAim, Log: math.Log1p(UsualWithin)}}
	}
	p := proposal(growthbelief.Believe(growthbelief.Weak, e), usualAim, at, len(st.Doses), st.Doses)
	p.Guessed = guessed
	return p
}

// proposal is n sheets for N, and for N-1 and N+1 as much.
func proposal(b *growthbelief.Belief, aim float64, at chem.Celsius, n int, usual []time.Duration) Proposal {
	advice := b.NextSheets([]float64{aim, wanted(aim, "N-1"), wanted(aim, "N+1")}, at, n, usual)
	sheets := func(gains []growthbelief.Gain) []NextSheet {
		list := []NextSheet{}
		for _, g := range gains {
			list = append(list, NextSheet{g.Time.Seconds(), g.Temperature, g.Gain})
		}
		return list
	}
	return Proposal{Temperature: at, Next: sheets(advice.Best), Usual: sheets(advice.Usual), Enough: advice.Enough()}
}
