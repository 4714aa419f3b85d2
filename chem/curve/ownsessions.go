package curve

// What a person's own sessions tell of the scatter between sessions: of films that were tested in
// several, whatever of their differences sheets and readings do not explain.
//
// Method: for each film every growth curve, time of induction and scatter of sheets is weighed as
// for a test (growthbelief.go), once for each size of the scatter between sessions; what they sum
// to is how well that size explains the film (its marginal likelihood), and films multiply. The
// usual scatter is believed beforehand as for a test, so that few sessions move it little: it
// shrinks what they say, and many outweigh it.
//
// Source: A. Gelman and others, Bayesian Data Analysis, 3rd ed. 2013, ch. 5 (from memory).
// Checked against a closed form, and by testdata/ownsessions.py (numpy).

import (
	"math"
	"slices"
	"time"
)

// SessionSheet is a sheet of a session. Times of one film are at one temperature.
type SessionSheet struct {
	Sheet
	Reading float64 // standard deviation that its readings leave of the gradient
	Session string
}

// OwnSessions is what sessions tell of the scatter between them, as a fraction of the gradient.
type OwnSessions struct {
	Value    float64 `json:"value"`
	Low      float64 `json:"low"` // 90 %
	High     float64 `json:"high"`
	Sessions int     `json:"sessions"`
	Films    int     `json:"films"`

	believed []weighted
}

// leastComparisons is how often a session must have been compared with another of its film for
// them to take the place of the usual scatter: three sessions of one film, or two of two (our own rule).
const leastComparisons = 2

// The sizes of scatter that are weighed: a fine grid, and then as many as a test's where the
// weight is.
const (
	ownReach   = 3.5 // times usualSpread, either way
	ownFine    = 29
	ownCoarse  = 9
	ownLittle  = 1e-3 // of the greatest: where the coarse grid ends
	mostSheets = 60   // of one film: the first
)

// ScatterOfSessions is the scatter between the sessions of films, each film in a list of its own;
// nil where they are too few.
func ScatterOfSessions(films [][]SessionSheet) *OwnSessions {
	var own OwnSessions
	var sets []filmSheets
	for _, list := range films {
		f := newFilmSheets(list)
		if f.sessions < 2 {
			continue
		}
		own.Sessions += f.sessions
		own.Films++
		sets = append(sets, f)
	}
	if own.Sessions-own.Films < leastComparisons {
		return nil
	}
	fine := explained(sets, -ownReach, ownReach, ownFine)
	most := 0.0
	for _, s := range fine {
		most = max(most, s.weight)
	}
	first, last := ownFine, 0
	sum := 0.0
	for i, s := range fine {
		if s.weight > ownLittle*most {
			first, last = min(first, i), i
		}
		sum += s.weight
		own.Value += s.weight * s.value
	}
	own.Value /= sum
	own.Low, own.High = weightedQuantile(fine, sum*(1-confidence)/2), weightedQuantile(fine, sum*(1+confidence)/2)
	z := func(i int) float64 { return ownReach * (2*float64(i)/(ownFine-1) - 1) }
	own.believed = explained(sets, z(first), z(last), ownCoarse)
	return &own
}

// explained are sizes of scatter, evenly spaced in the logarithm, each weighed by what was
// believed of it and by how well it explains the films.
func explained(sets []filmSheets, from, to float64, n int) []weighted {
	var sizes []weighted
	logs := make([]float64, n)
	for i := range n {
		z := from + (to-from)*float64(i)/float64(n-1)
		sizes = append(sizes, weighted{value: usualSessions * math.Exp(usualSpread*z), weight: 1})
		logs[i] = -z * z / 2
	}
	for _, s := range sets {
		for i, l := range s.evidence(sizes) {
			logs[i] += l
		}
	}
	most := slices.Max(logs)
	for i := range sizes {
		sizes[i].weight = math.Exp(logs[i] - most)
	}
	return sizes
}

// filmSheets are the sheets of one film, ready to be weighed.
type filmSheets struct {
	measured []measuredSheet
	fitted   func(minutes float64) float64
	sessions int
}

func newFilmSheets(list []SessionSheet) filmSheets {
	var f filmSheets
	var sheets []Sheet
	numbers := map[string]int{}
	logs := 0.0
	for _, s := range list[:min(len(list), mostSheets)] {
		if !(s.Gradient > 0 && s.Time > 0) {
			continue
		}
		if _, known := numbers[s.Session]; !known {
			numbers[s.Session] = len(numbers)
		}
		sheets = append(sheets, s.Sheet)
		logs += math.Log(s.Gradient)
		f.measured = append(f.measured, measuredSheet{minutes(s.Time), s.Gradient, s.Reading, numbers[s.Session]})
	}
	f.sessions = len(numbers)
	level := math.Exp(logs / float64(max(1, len(sheets))))
	f.fitted = func(float64) float64 { return level } // of one developing time, and where no growth can be fitted
	if g, err := FitGrowth(sheets, false); err == nil {
		f.fitted = func(m float64) float64 { return g.At(time.Duration(m * float64(time.Minute))) }
	}
	return f
}

// evidence is how well each scatter between sessions explains the sheets: the logarithm of what
// all curves and scatters of sheets sum to.
func (f filmSheets) evidence(sizes []weighted) []float64 {
	w := newWeigher(f.measured, f.fitted, priorFor(f.measured, false), Errors{}.sheets(), sizes)
	all := w.over(w.prior.curvatures(-3.5, 3.5))
	most := all.heaviest()
	at := map[float64]int{}
	for i, s := range sizes {
		at[s.value] = i
	}
	sums := make([]float64, len(sizes))
	for _, c := range all {
		sums[at[c.sessions]] += math.Exp(c.weight - most)
	}
	for i := range sums {
		sums[i] = math.Log(sums[i])
	}
	return sums
}

// SessionSheets are the sheets whose gradients were read, as those of a session.
func (out Results) SessionSheets(session string) (list []SessionSheet) {
	for _, m := range out.measured {
		list = append(list, SessionSheet{Sheet{fromMinutes(m.minutes), m.gradient}, m.reading, session})
	}
	return list
}
