package demo

// What an invented film gives: a toe that bends into a straight line whose slope grows with the
// developing time, and readings that scatter as a hand's do.

import (
	"hash/fnv"
	"math"
	"strconv"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
)

// The invented film: the slope that no time passes, how fast it gets there in a minute, the log
// exposure of its toe behind the tablet's density 0, how soft the toe is, and base plus fog.
const (
	slopeLimit  = 1.25
	slopeRate   = 0.115
	toe         = -2.35
	toeSoftness = 0.16
	baseFog     = 0.14
	readingStep = 0.01 // a densitometer's last digit
)

// metered is how the tablet was exposed: through the camera, far enough over the meter for the highlights of a print to be
// read too.
const metered = "EI 100 +4"

// Read is what was read off the negatives of a session of such a film, a sheet for each time.
func Read(r *sequence.Recipe, session string) (*curve.Readings, error) {
	tablet, err := curve.NominalTablet(curve.DefaultSteps, curve.DefaultStep)
	if err != nil {
		return nil, err
	}
	readings := &curve.Readings{Film: r.Film.Name, Session: session, Tablet: tablet, Metered: metered,
		Remarks: []string{"# invented readings of an invented film: wetside demo"}}
	for k, t := range pullTimes(r) {
		readings.Add(t, k+1)
		sheet := &readings.Sheets[k]
		sheet.Base = rounded(baseFog)
		for i, d := range tablet {
			sheet.Steps[i] = rounded(density(-d, t) + scatter(session, k, i))
		}
	}
	return readings, nil
}

// density is the film's, at a log exposure and a developing time.
func density(logH float64, t time.Duration) float64 {
	slope := slopeLimit * (1 - math.Exp(-slopeRate*t.Minutes()))
	return baseFog + slope*toeSoftness*math.Log1p(math.Exp((logH-toe)/toeSoftness))
}

// scatter is a reading's error, within a hundredth and a half either way: the same each time the
// notebook is laid out.
func scatter(session string, sheet, step int) float64 {
	h := fnv.New32a()
	h.Write([]byte(session + strconv.Itoa(100*sheet+step)))
	return (float64(h.Sum32()%1000)/999 - 0.5) * 0.03
}

func rounded(d float64) *curve.Density {
	v := curve.Density(math.Round(d/readingStep) * readingStep)
	return &v
}
