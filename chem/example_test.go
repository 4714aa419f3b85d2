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

// E. J. Wall, "Thermo-Entwicklung", Jahrbuch fuer Photographie 24 (1910)
// p. 44: 70 s at 8 C and 25 s at 20 C. Expected: K 2.358, and 41.83 s at 14 C,
// half-way, where the time is the geometric mean.
func ExampleFitCoefficient() {
	k, err := chem.FitCoefficient([]chem.Point{{At: 70 * time.Second, T: 8}, {At: 25 * time.Second, T: 20}})
	fmt.Printf("%.3f %v\n", k, err)
	rate, err := chem.Coefficient{Reference: 20, K: k}.At(14)
	fmt.Printf("%.2f s %v\n", 25/rate, err)
	// Output:
	// 2.358 <nil>
	// 41.83 s <nil>
}

// A recipe's own times: between two of them ln(time) is linear, so half-way
// between 18 and 20 C the time is the geometric mean of 600 and 510 s,
// 553.17 s.
func ExampleNewPairs() {
	table, err := chem.NewPairs(20, []chem.Pair{{T: 18, Seconds: 600}, {T: 20, Seconds: 510}, {T: 24, Seconds: 372}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range []chem.Celsius{18, 19, 24, 26} {
		rate, err := table.At(t)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%.2f\n", 510/rate)
	}
	// Output:
	// 600.00
	// 553.17
	// 372.00
	// temperature outside the time-temperature table: 26 °C (78.8 °F); expected 17 °C (62.6 °F) to 25 °C (77 °F)
}

// A tray read twice before the film goes in and once on the way.
func ExampleCourse() {
	var bath chem.Course
	bath = bath.Add(chem.Point{At: -2 * time.Minute, T: 22})
	bath = bath.Add(chem.Point{At: 4 * time.Minute, T: 20.8})
	for _, at := range []time.Duration{-5 * time.Minute, 0, time.Minute, time.Hour} {
		fmt.Printf("%.1f\n", bath.At(at))
	}
	// Output:
	// 22.0
	// 21.6
	// 21.4
	// 20.8
}
