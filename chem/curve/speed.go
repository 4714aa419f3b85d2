package curve

// The speed point and the speeds that follow from it.
//
// Source: ISO 6:1993 (second hand; S = 0.8/Hm from memory): the speed point m
// lies 0.10 over base plus fog; S = 0.8/Hm with Hm in lux seconds; nominal
// values stand 0.1 apart in log10, half a step each side.

import (
	"fmt"
	"math"
	"strings"
	"time"
)

const (
	speedOverBase = 0.10 // density of the speed point over base plus fog
	speedConstant = 0.8  // lux seconds
	midtoneOver   = 1.0  // log H of a metered exposure over the speed point
	Tolerance     = 1e-9 // what arithmetic may lose at a limit
)

// nominalSpeeds are the ten values of a decade as they are written; the greater
// decades are multiples of ten of the middle row.
var nominalSpeeds = [3][10]float64{
	{1, 1.2, 1.6, 2, 2.5, 3, 4, 5, 6, 8},
	{10, 12, 16, 20, 25, 32, 40, 50, 64, 80},
	{100, 125, 160, 200, 250, 320, 400, 500, 640, 800},
}

// NominalSpeed is the value of the step that an arithmetic speed falls into:
// 100 for 89.1 up to 112.2. It errs outside the steps 1 to 1,000,000.
//
// Source: ISO 6:1993; the values below 50 and over 800 from memory.
func NominalSpeed(s float64) (float64, error) {
	n := int(math.Floor(10*math.Log10(s) + 0.5 + Tolerance))
	if !(s > 0) || n < 0 || n > 60 {
		return 0, fmt.Errorf("speed: %g; expected 1 to 1000000", s)
	}
	if n < 20 {
		return nominalSpeeds[n/10][n%10], nil
	}
	return nominalSpeeds[2][n%10] * math.Pow10(n/10-2), nil
}

// SpeedAnchor ties relative exposures to a film's box speed.
type SpeedAnchor struct {
	Speed      float64 // ISO arithmetic, as on the box
	SpeedPoint LogH    // where a film of that speed has its speed point
}

// AnchorFromMeter is the Box of exposures made through a camera: the log H on the
// family's scale that a meter set to the box speed asked for on a grey card.
// A film of box speed has its speed point 1.0 log H (three and a third stops) below it: a
// meter for reflected light asks for N^2/t = L S/K, which puts H = q L t/N^2 = q K/S on the film, with
// K = 12.5 (ISO 2720:1974 allows 10.6 to 13.4; meters have 12.5 or 14) and q = 0.65 of the light
// behind a lens; the speed point has 0.8/S (ISO 6:1993): log10(0.65 x 12.5/0.8) = 1.007, with 14 1.056.
// A meter in the camera may be set to 10/S (ISO 2721:1982): 1.10, a third of a stop more. K = 12.5 and 14
// seen in the definitions of GNU units, the rest of the constants from memory.
func AnchorFromMeter(boxSpeed float64, at LogH) SpeedAnchor {
	return SpeedAnchor{boxSpeed, at - midtoneOver}
}

// ParseExposed reads how a step tablet was exposed through a camera: "EI 50 +4" is a
// meter set to 50 on the surface behind the tablet, and four stops more given. It is
// the Box of exposures relative to density 0 of the tablet.
func ParseExposed(text string) (SpeedAnchor, error) {
	index, more, err := parseExposed(text)
	if err != nil {
		return SpeedAnchor{}, err
	}
	return AnchorFromMeter(index, -LogH(logHPerStop*more)), nil
}

func parseExposed(text string) (index, more float64, err error) {
	fields := strings.Fields(text)
	if len(fields) > 1 && strings.EqualFold(fields[0], "EI") {
		fields = fields[1:]
	}
	ok := len(fields) == 1 || len(fields) == 2
	if ok {
		index, ok = parseDecimal(fields[0])
	}
	if ok && len(fields) == 2 {
		more, ok = parseDecimal(fields[1])
	}
	if !ok || !(index >= 0.1 && index <= 100_000) || math.Abs(more) > maxStops {
		return 0, 0, fmt.Errorf(`metered %s; expected the meter's index and the stops given over it, such as "EI 50 +4"`, quoted(text))
	}
	return index, more, nil
}

// ExposedTablet is where a usual tablet's steps lie when it is exposed by a meter.
type ExposedTablet struct {
	Index        float64  `json:"index"`               // the meter's
	Stops        float64  `json:"stops"`               // given over it
	MeteredAt    Density  `json:"metered_density"`     // tablet density that gets what the meter asks for
	SpeedPointAt Density  `json:"speed_point_density"` // where a film of that index has its speed point
	Notes        []string `json:"notes"`               // what the tablet will not show
}

// How much of the tablet a test wants on either side, should the film be two stops
// faster or slower than the index (our own rule).
const speedMargin = 2 * logHPerStop

// PlaceTablet says how a tablet of 0.05 to 3.05 lies on the film's scale when it is
// exposed as text says; errs as ParseExposed does.
func PlaceTablet(text string) (ExposedTablet, error) {
	index, more, err := parseExposed(text)
	if err != nil {
		return ExposedTablet{}, err
	}
	e := ExposedTablet{Index: index, Stops: more, MeteredAt: Density(logHPerStop * more), Notes: []string{}}
	e.SpeedPointAt = e.MeteredAt + midtoneOver
	least, most := Density(firstStep), Density(firstStep+tabletStep*(DefaultSteps-1))
	if e.SpeedPointAt-averagedOver-speedMargin < least {
		e.Notes = append(e.Notes, "a film two stops slower than that would show no average gradient: give more stops")
	}
	if e.SpeedPointAt+speedMargin > most {
		e.Notes = append(e.Notes, "a film two stops faster than that would show no speed point: give fewer stops")
	}
	return e, nil
}

// IndexAt is the exposure index at a developing time: between the sheets beside it,
// in proportion to log time, then once by the nominal steps; nil where no sheet near it
// has one.
func (out Results) IndexAt(t time.Duration) *float64 {
	index, ok := out.at(t, func(r Result) (float64, bool) {
		return math.Log(r.index), r.index > 0
	})
	step, err := NominalSpeed(math.Exp(index))
	if err != nil || !ok {
		return nil
	}
	return &step
}

// IndexShift is by how many stops the exposure index at one developing time is above
// that at another, by the speed points of the sheets beside them; nil where there are
// none. It needs no absolute exposures.
func (out Results) IndexShift(t, from time.Duration) *float64 {
	speed := func(r Result) (float64, bool) {
		if r.SpeedPoint == nil {
			return 0, false
		}
		return float64(*r.SpeedPoint), true
	}
	there, ok := out.at(t, speed)
	here, ok2 := out.at(from, speed)
	if !ok || !ok2 {
		return nil
	}
	return new(LogH(here - there).Stops())
}

// at is a value of the sheets at a developing time: between the two beside it in
// proportion to log time, that of the nearest outside; false where none has it.
func (out Results) at(t time.Duration, value func(Result) (float64, bool)) (float64, bool) {
	type known struct{ at, v float64 }
	var below, above *known
	now := math.Log(t.Seconds())
	for _, c := range out.Curves {
		v, ok := value(c)
		if !ok || c.Time == nil {
			continue
		}
		k := known{math.Log(*c.Time), v}
		if k.at <= now && (below == nil || k.at > below.at) {
			below = &k
		} else if k.at > now && (above == nil || k.at < above.at) {
			above = &k
		}
	}
	switch {
	case below == nil && above == nil:
		return 0, false
	case below == nil:
		below = above
	case above == nil:
		above = below
	}
	if above.at <= below.at {
		return below.v, true
	}
	return below.v + (now-below.at)/(above.at-below.at)*(above.v-below.v), true
}

// speeds fills in ISO speed and exposure index from the speed point.
//
// The exposure index is 0.8/H by the nominal steps, thirds of a stop, where
// exposures are lux seconds, placed or vouched for; against the box speed where a Box says what a
// relative exposure is worth; otherwise nil: relative exposures alone make no
// index, whatever is said of them. Only exposures that the person
// vouches for (absolute) and a valid rise make an ISO speed.
func (r *Result) speeds(scale Scale, absolute bool, box *SpeedAnchor) {
	if r.SpeedPoint == nil {
		return
	}
	h := float64(*r.SpeedPoint)
	index := 0.0
	switch {
	case scale != Relative && absolute, scale == LuxSeconds && box == nil:
		index = speedConstant * math.Pow(10, -h)
	case box != nil:
		index = box.Speed * math.Pow(10, float64(box.SpeedPoint)-h)
	}
	step, err := NominalSpeed(index)
	if err != nil {
		return
	}
	r.ExposureIndex, r.index = &step, index
	if absolute && scale != Relative && r.ISOValid {
		r.ISOSpeed = new(step)
	}
}
