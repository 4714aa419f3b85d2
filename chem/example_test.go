package chem_test

// Worked examples at their printed precision, the source named beside each.

import (
	"fmt"
	"time"

	"example.org/wetside/chem"
)

// A bath that cools from 24 C towards 18 C with a time constant of an hour,
// and one that falls from 20 C towards 16 C with 45 minutes: how long 10
// minutes at 20 C become at a coefficient of 1.9. Expected: 7.92562 and
// 10.27457 minutes, by scipy quadrature of the closed form of the drift.
func ExampleUntil() {
	rate := chem.Coefficient{Reference: 20, K: 1.9}
	cooling := chem.Course{
		Readings: []chem.Point{{At: 0, T: 24}},
		Drift:    &chem.Drift{Settle: 18, Tau: time.Hour},
	}
	falling := chem.Course{
		Readings: []chem.Point{{At: 0, T: 20}},
		Drift:    &chem.Drift{Settle: 16, Tau: 45 * time.Minute},
	}
	for _, bath := range []chem.Course{cooling, falling} {
		end, err := chem.Until(rate, bath, 0, 10*time.Minute)
		fmt.Printf("%.5f %v\n", end.Minutes(), err)
	}
	// Output:
	// 7.92562 <nil>
	// 10.27457 <nil>
}

// The ways in which people write times, temperatures and volumes.
func ExampleParseDuration() {
	for _, text := range []string{"8m30s", "8:30", "90s", "1h10m", "1:02:03"} {
		d, err := chem.ParseDuration(text)
		fmt.Println(chem.FormatDuration(d), err)
	}
	// Output:
	// 8:30 <nil>
	// 8:30 <nil>
	// 1:30 <nil>
	// 1:10:00 <nil>
	// 1:02:03 <nil>
}
