package holders

// What was noted of a sheet's subject and exposure, as numbers: how far its light reaches over the speed point, and
// what a long exposure makes of its contrast.

import (
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
)

// speedPointStops is by how many stops a meter's index has the speed point under the metered tone: 1.0 log H (ISO 2720 with
// K = 12.5 to 14, and ISO 6; worked out at AnchorFromMeter in chem/curve), a third of a stop over three.
const speedPointStops = 10.0 / 3

// stops is how far the subject reaches over the speed point: its range from textured shadow to textured highlight, and
// how far over the speed point the shadow was placed. A shadow of which nothing is noted stands at the speed
// point; a range of which nothing is noted is the usual one.
func (e *ExposedSheet) stops() float64 {
	if e.Range == 0 {
		return curve.DefaultSubject.Stops()
	}
	if placed, ok := e.shadowPlaced(); ok {
		return e.Range + speedPointStops + placed
	}
	return e.Range
}

// subject is the same as a log range.
func (e *ExposedSheet) subject() curve.LogH { return curve.LogH(e.stops() * math.Log10(2)) }

// shadowPlaced reads where the shadow was placed, in stops from the metered tone: "-2", "-2.5 stops". False
// for nothing, and for what is no number.
func (e *ExposedSheet) shadowPlaced() (float64, bool) {
	fields := strings.Fields(strings.ReplaceAll(e.Shadow, "\u2212", "-"))
	if len(fields) == 0 || len(fields) > 1 && !strings.HasPrefix(fields[1], "stop") {
		return 0, false
	}
	v, err := strconv.ParseFloat(fields[0], 64)
	return v, err == nil && v >= -8 && v <= 4
}

// exposureTime reads the time out of an exposure as noted: "f/22 40s", "1m30s at f/32"; the longest where
// there are several, 0 where there is none of a second or more.
func (e *ExposedSheet) exposureTime() (longest time.Duration) {
	fields := strings.FieldsFunc(e.Exposure, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' })
	for i, f := range fields {
		if i+1 < len(fields) && (fields[i+1] == "s" || fields[i+1] == "min") {
			f += strings.TrimSuffix(fields[i+1], "in")
		}
		if f == "" || f[0] < '0' || f[0] > '9' || !strings.ContainsAny(f, "smh:") {
			continue
		}
		if d, err := chem.ParseDuration(f); err == nil && d >= time.Second {
			longest = max(longest, d)
		}
	}
	return longest
}

// leastImage is the least log range of an image that is reckoned with.
const leastImage = 0.3
