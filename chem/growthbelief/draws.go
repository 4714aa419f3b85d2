package growthbelief

// The films among which evidence decides: a fixed set of evenly spread points, weighed by importance. The first
// set is spread as the prior is. Where evidence leaves few of them standing, a second is spread as those are, a
// fifth of it still as the prior, so that no film is forgotten (T. Hesterberg, Technometrics 37 (1995) 185-194).

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/wetside/chem"
)

const (
	draws      = 8192
	parameters = 6
	enough     = 1000 // films that count
	rounds     = 4    // sets at most
	asPrior    = 5    // every fifth film is the prior's
	widened    = 1.25 // times the spread of what stood
)

// bases of the points' coordinates; the last is for the session that comes.
var bases = [parameters + 1]int{2, 3, 5, 7, 11, 13, 17}

// point is a film's parameters as deviations from the middle of the prior.
type point [parameters]float64

// Belief is what is believed.
type Belief struct {
	films     []film
	weight    []float64 // adding up to 1
	Effective float64   // how many films count: under 100 the answer is coarse
}

// Believe is what evidence makes of a prior.
func Believe(prior Prior, e Evidence) *Belief {
	b := &Belief{films: make([]film, draws), weight: make([]float64, draws)}
	points := make([]point, draws)
	var near *proposal
	for range rounds {
		for i, u := range units() {
			points[i] = near.place(i, u)
			b.films[i] = prior.film(points[i], u[parameters])
			b.weight[i] = b.films[i].logLikelihood(&e) + near.logRatio(points[i])
		}
		if b.normalise(); b.Effective >= enough {
			break
		}
		near = proposalFrom(points, b.weight)
	}
	b.drop()
	return b
}

// drop leaves out the films that count for nothing.
func (b *Belief) drop() {
	const nothing = 1e-9 / draws
	n := 0
	for i, w := range b.weight {
		if w > nothing {
			b.films[n], b.weight[n] = b.films[i], w
			n++
		}
	}
	b.films, b.weight = b.films[:n], b.weight[:n]
}

// units are the evenly spread points, as standard normal numbers.
var units = sync.OnceValue(func() [][parameters + 1]float64 {
	list := make([][parameters + 1]float64, draws)
	for i := range list {
		for d, base := range bases {
			list[i][d] = distuv.UnitNormal.Quantile(chem.RadicalInverse(i+1, base))
		}
	}
	return list
})

// film is the film at a point; session is what the next one's scatter is drawn by.
func (p *Prior) film(z point, session float64) film {
	of := func(s Spread, z float64) float64 { return s.Middle * math.Exp(s.Log*z) }
	f := film{
		limit: of(p.Limit, z[0]), rate: of(p.Rate, z[1]), coefficient: of(p.Coefficient, z[3]), sessions: of(p.Sessions, z[4]), sheets: of(p.Sheets, z[5]),
		induction: -p.Induction * math.Log(distuv.UnitNormal.Survival(z[2])),
	}
	f.next = f.sessions * session
	return f
}

// normalise turns logarithms of weights into weights.
func (b *Belief) normalise() {
	most := slices.Max(b.weight)
	if math.IsInf(most, -1) {
		most = 0 // no film explains it: none counts, and Effective says so
	}
	sum, squares := 0.0, 0.0
	for i, w := range b.weight {
		if b.weight[i] = math.Exp(w - most); math.IsNaN(b.weight[i]) {
			b.weight[i] = 0
		}
		sum += b.weight[i]
	}
	for i := range b.weight {
		b.weight[i] /= max(sum, math.SmallestNonzeroFloat64)
		squares += b.weight[i] * b.weight[i]
	}
	if b.Effective = 0; squares > 0 {
		b.Effective = 1 / squares
	}
}

// proposal is a normal density round what stood; nil is the prior itself.
type proposal struct {
	mean   point
	root   [parameters]point // lower triangle: root root' is the covariance
	logDet float64           // of the root
}

// proposalFrom is spread as weighed points are.
func proposalFrom(points []point, weight []float64) *proposal {
	var p proposal
	for i, z := range points {
		for d := range z {
			p.mean[d] += weight[i] * z[d]
		}
	}
	var cov [parameters]point
	for i, z := range points {
		for a := range z {
			for b := range a + 1 {
				cov[a][b] += weight[i] * (z[a] - p.mean[a]) * (z[b] - p.mean[b])
			}
		}
	}
	const floor = 1e-4 // where a single film stands nothing else tells the spread
	for a := range parameters {
		for b := range a + 1 {
			sum := cov[a][b] * widened * widened
			if a == b {
				sum += floor
			}
			for k := range b {
				sum -= p.root[a][k] * p.root[b][k]
			}
			if a == b {
				p.root[a][a] = math.Sqrt(math.Max(sum, floor/10))
				p.logDet += math.Log(p.root[a][a])
			} else {
				p.root[a][b] = sum / p.root[b][b]
			}
		}
	}
	return &p
}

// place is the i-th point of the set.
func (p *proposal) place(i int, u [parameters + 1]float64) (z point) {
	if p == nil || i%asPrior == 0 {
		return point(u[:parameters])
	}
	for a := range z {
		z[a] = p.mean[a]
		for b := range a + 1 {
			z[a] += p.root[a][b] * u[b]
		}
	}
	return z
}

// logRatio is the logarithm of the prior's density over that of the set.
func (p *proposal) logRatio(z point) float64 {
	if p == nil {
		return 0
	}
	prior, near := 0.0, -p.logDet
	var u point
	for a := range z {
		sum := z[a] - p.mean[a]
		for b := range a {
			sum -= p.root[a][b] * u[b]
		}
		u[a] = sum / p.root[a][a]
		prior -= z[a] * z[a] / 2
		near -= u[a] * u[a] / 2
	}
	const share = 1. / asPrior
	return -math.Log(share + (1-share)*math.Exp(near-prior))
}
