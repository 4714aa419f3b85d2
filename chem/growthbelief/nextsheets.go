package growthbelief

// Which test sheets to spend next: those after whose reading the time for a gradient is expected to be known best.
//
// Method: time and gradients are taken as jointly normal, with the covariance that the believed films have
// (M. Goldstein and D. Wooff, "Bayes Linear Statistics", 2007): what is expected after a sheet then needs no second
// simulation. TestNextSheetsByBruteForce compares with one.

import (
	"math"
	"slices"
	"time"

	"example.org/wetside/chem"
)

// Sheet is a test sheet to come.
type Sheet struct {
	Time        time.Duration
	Temperature chem.Celsius
}

// Gain is a sheet, and by how much of today's interval the interval of the time gets narrower with it.
type Gain struct {
	Sheet
	Gain float64
}

// Advice is sheets of one session, the one that says most first.
type Advice struct {
	Best   []Gain
	Usual  []Gain  // the series that would be exposed without any of this
	Doubt  float64 // of the time for the film, as a standard deviation of its logarithm
	Spread float64 // what sessions scatter it by, likewise
}

// Enough reports whether sessions scatter by more than what is in doubt: more sheets hardly help.
func (a Advice) Enough() bool { return a.Doubt < a.Spread }

const (
	readBy      = 0.022           // error of a gradient that is read by densities good to 0.02, over 1.30 log H
	candidates  = 15              // times to choose from
	widest      = 2.5             // times the time for the gradient, and that part of it
	longestTime = 45.0            // minutes: films that reach it later, or never, count as this
	leastTime   = 2 * time.Minute // shorter cannot be kept even
	steepest    = 3.0             // near the induction the gradient grows without measure
	unexposed   = 0.01            // gradient of a sheet that shows nothing
)

// NextSheets proposes n test sheets for the times that give some gradients at a temperature, the one that matters
// first, beside a usual series.
func (b *Belief) NextSheets(gradients []float64, at chem.Celsius, n int, usual []time.Duration) Advice {
	middle := b.TimeOfFilm(gradients[0], at).Middle
	var list []Sheet
	for i := range candidates {
		m := math.Min(middle, longestTime) * math.Pow(widest, 2*float64(i)/(candidates-1)-1)
		if t := byHand(m); t >= leastTime && (len(list) == 0 || t > list[len(list)-1].Time) {
			list = append(list, Sheet{t, at})
		}
	}
	out := Advice{}
	s := b.survey(gradients, at, list)
	out.Doubt, out.Spread = math.Sqrt(s.cov[0][0]), math.Sqrt(s.session)
	for range n {
		best := 0
		for i := range list {
			if s.after(i) < s.after(best) {
				best = i
			}
		}
		out.Best = append(out.Best, Gain{list[best], s.observe(best)})
	}
	list = list[:0:0]
	for _, t := range usual {
		list = append(list, Sheet{t, at})
	}
	s = b.survey(gradients, at, list)
	for i := range list {
		out.Usual = append(out.Usual, Gain{list[i], s.observe(i)})
	}
	return out
}

// byHand is a time as it is kept by hand: to 15 s from four minutes up, to 5 s below.
func byHand(m float64) time.Duration {
	whole := 5 * time.Second
	if m >= 4 {
		whole = 15 * time.Second
	}
	return time.Duration(m * float64(time.Minute)).Round(whole)
}

// survey is what sheets would say of times: the covariance of the logarithms of the times, in the first rows, and of
// the sheets' gradients.
type survey struct {
	cov     [][]float64
	uses    int       // times
	noise   []float64 // variance of each sheet's own
	session float64   // variance of the first time by what the next session does
	before  float64   // root of the mean variance of the times, scatter of sessions included
}

func (b *Belief) survey(gradients []float64, at chem.Celsius, list []Sheet) *survey {
	uses := len(gradients)
	n := uses + len(list)
	s := &survey{cov: make([][]float64, n), uses: uses, noise: make([]float64, len(list))}
	shared := make([]float64, n) // what one session moves each by
	rows, mean := make([][]float64, len(b.films)), make([]float64, n)
	for i := range b.films {
		f, w := &b.films[i], b.weight[i]
		if w == 0 {
			continue
		}
		rows[i] = f.foretold(gradients, at, list)
		for k, v := range rows[i] {
			mean[k] += w * v
		}
		for k, sheet := range list {
			read := readBy / math.Exp(rows[i][uses+k])
			s.noise[k] += w * (f.sheets*f.sheets + math.Min(read*read, 1))
			_, steep := f.after(sheet.Time, sheet.Temperature)
			shared[uses+k] += w * f.sessions * math.Min(steep, steepest)
		}
		s.session += w * f.next * f.next
	}
	for k := range n {
		s.cov[k] = make([]float64, n)
		for l := range n {
			s.cov[k][l] = shared[k] * shared[l]
			for i, row := range rows {
				if row != nil {
					s.cov[k][l] += b.weight[i] * (row[k] - mean[k]) * (row[l] - mean[l])
				}
			}
		}
	}
	s.before = s.spread()
	return s
}

// foretold is the logarithms of the times for gradients, and of what sheets have.
func (f *film) foretold(gradients []float64, at chem.Celsius, list []Sheet) []float64 {
	row := make([]float64, 0, len(gradients)+len(list))
	for _, g := range gradients {
		row = append(row, math.Log(math.Min(f.time(g, 0, at), longestTime)))
	}
	for _, sheet := range list {
		row = append(row, math.Max(f.logGradient(sheet.Time, sheet.Temperature), math.Log(unexposed)))
	}
	return row
}

// spread is the root of the mean variance of the times in the next session.
func (s *survey) spread() float64 {
	sum := 0.0
	for k := range s.uses {
		sum += math.Max(s.cov[k][k], 0) / float64(s.uses)
	}
	return math.Sqrt(sum + s.session)
}

// after is the sum of the variances of the times once sheet i is read.
func (s *survey) after(i int) (sum float64) {
	c := s.uses + i
	for k := range s.uses {
		sum += s.cov[k][k] - s.cov[k][c]*s.cov[k][c]/(s.cov[c][c]+s.noise[i])
	}
	return sum
}

// observe takes sheet i as read, and returns what was gained.
func (s *survey) observe(i int) float64 {
	was, c := s.spread(), s.uses+i
	row, total := slices.Clone(s.cov[c]), s.cov[c][c]+s.noise[i]
	for k := range s.cov {
		for l := range s.cov {
			s.cov[k][l] -= row[k] * row[l] / total
		}
	}
	return (was - s.spread()) / s.before
}
