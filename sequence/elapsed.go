package sequence

// Times of a session: seconds and minutes as they are shown.

import (
	"math"
	"time"

	"example.org/wetside/chem"
)

// Seconds is d in seconds. Below 104 days the nearest float64 reads back as
// the same nanosecond.
func Seconds(d Elapsed) float64 { return float64(d) / 1e9 }

// Never is the time of what has not happened.
const Never Elapsed = math.MaxInt64

// FormatElapsed writes a time as people read it: 8:30, 1:02:03, -0:10.
func FormatElapsed(d Elapsed) string { return chem.FormatDuration(d) }

// Elapsed is process time since the first sheet went in.
type Elapsed = time.Duration

// Celsius and Millilitres are chem's, for packages that need no more of chem than that.
type (
	Celsius     = chem.Celsius
	Millilitres = chem.Millilitres
)
